"""Compression, ETags and conditional answers, for pages, JSON and files alike."""

import gzip
import hashlib

import brotli
import pytest

from calc import catalogue
from server import delivery
from server.assets import Assets
from server.delivery import Content, choose, compress

DECODED = {"br": brotli.decompress, "gzip": gzip.decompress}
URLS = ("/", "/shop", "/c/fit", "/c/fit?size=31", "/api", "/api/fit", "/part/sheet/fit",
        "/sw.js", "/vendor/manifest.json", "/vendor/idb-8.0.4/index.js")  # fmt: skip

sizeable = pytest.mark.parametrize("url", URLS)


@pytest.mark.parametrize(
    ("accepted", "chosen"),
    [
        ("", ""),
        ("identity", ""),
        ("gzip", "gzip"),
        ("gzip, deflate", "gzip"),
        ("gzip, deflate, br, zstd", "br"),
        ("GZip;q=1.0, BR;q=0.5", "br"),
        ("br;q=0, gzip", "gzip"),
        ("br;q=0", ""),
        ("*", "br"),
        ("*;q=0", ""),
        ("br;q=0, *;q=0.5", "gzip"),
        ("br;q=nonsense", ""),
        (";;q=,,br;=;", "br"),
        ("x" * 100_000, ""),
    ],
)
def test_the_encoding_is_one_that_the_client_takes(accepted, chosen):
    assert choose(accepted) == chosen


@sizeable
@pytest.mark.parametrize("encoding", delivery.ENCODINGS)
def test_compressed_is_smaller_and_the_same(client, url, encoding):
    plain = client.get(url)
    packed = client.get(url, headers={"Accept-Encoding": encoding})
    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == encoding
    assert int(packed.headers["Content-Length"]) == len(packed.data) < len(plain.data)
    assert DECODED[encoding](packed.data) == plain.data
    assert plain.headers["Vary"] == packed.headers["Vary"] == "Accept-Encoding"
    assert plain.content_type == packed.content_type


@sizeable
def test_the_tag_is_the_digest_and_is_strong_only_for_the_bytes_themselves(client, url):
    plain = client.get(url)
    packed = client.get(url, headers={"Accept-Encoding": "br"})
    digest = hashlib.sha256(plain.data).hexdigest()
    assert plain.headers["ETag"] == f'"{digest}"'
    assert packed.headers["ETag"] == f'W/"{digest}"'


@sizeable
@pytest.mark.parametrize("accepted", ["", "br", "gzip"])
def test_what_the_client_has_is_not_sent_again(client, url, accepted):
    headers = {"Accept-Encoding": accepted}
    first = client.get(url, headers=headers)
    tag = first.headers["ETag"]
    for known in (tag, f'"other", {tag}', "*"):
        reply = client.get(url, headers=headers | {"If-None-Match": known})
        assert (reply.status_code, reply.data) == (304, b"")
        for name in ("ETag", "Cache-Control", "Vary"):
            assert reply.headers[name] == first.headers[name]
        for name in ("Content-Type", "Content-Encoding", "Content-Length"):
            assert name not in reply.headers
    for known in ('"other"', "nonsense", f'"{tag[:-4]}"'):
        assert client.get(url, headers=headers | {"If-None-Match": known}).data == first.data


def test_another_answer_has_another_tag(client):
    tag = client.get("/api/fit?size=30").headers["ETag"]
    reply = client.get("/api/fit?size=31", headers={"If-None-Match": tag})
    assert reply.status_code == 200
    assert reply.headers["ETag"] != tag


@pytest.mark.parametrize("url", ["/c/nope", "/c/fit?size=x", "/api/fit?size=x", "/nope.js"])
def test_a_refusal_is_never_a_304(client, url):
    assert client.get(url, headers={"If-None-Match": "*"}).status_code in (404, 422)


@sizeable
def test_head_is_get_without_the_body(client, url):
    got, asked = client.get(url), client.head(url)
    assert asked.data == b""
    assert asked.status_code == got.status_code
    assert dict(asked.headers) == dict(got.headers)


@pytest.mark.parametrize("name", catalogue())
def test_pages_ask_again_each_time(client, name):
    for url in ("/", "/shop", f"/c/{name}", f"/api/{name}", f"/part/sheet/{name}"):
        assert client.get(url).headers["Cache-Control"] == "no-cache"


@pytest.mark.parametrize("url", ["/c/nope", "/nope", "/nope.js", "/api/nope", "/c/fit?size=x", "/api/fit?size=x"])
def test_refusals_are_not_kept(client, url):
    assert client.get(url).headers["Cache-Control"] == "no-store"


def test_short_and_packed_bodies_go_as_they_are(client):
    assert "Content-Encoding" not in client.get("/healthz", headers={"Accept-Encoding": "br, gzip"}).headers
    assert Content(b"\0" * 10_000, "image/png").encoded("gzip") is None
    assert Content(bytes(range(256)), "text/plain").encoded("br") is None
    noise = b"".join(hashlib.sha256(bytes([n])).digest() for n in range(200))
    assert Content(noise, "application/zip").encoded("gzip") is None


@pytest.mark.parametrize("encoding", delivery.ENCODINGS)
def test_equal_bodies_stay_equal_when_compressed(encoding):
    body = b"H7/k6 " * 1000
    assert compress(body, encoding) == compress(body, encoding)
    content = Content(body, "text/plain")
    assert content.encoded(encoding) is content.encoded(encoding)


def test_every_file_of_the_app_survives_compression(app):
    assets: Assets = app.extensions["assets"]
    for content in assets.needed_offline().values():
        for encoding, decoded in DECODED.items():
            packed = content.encoded(encoding)
            assert packed is None or (len(packed) < len(content.body) and decoded(packed) == content.body)
