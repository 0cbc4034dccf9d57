"""What the server refuses, how it says so, the headers that go with everything, and that no input breaks it."""

import random
import re
from urllib.parse import quote, urlencode

import pytest

from calc import catalogue
from calc.model import Choice
from server import headers, pages
from tests.server.markup import Page

CALCULATIONS = tuple(catalogue())
PLAIN, HTML, JSON = "text/plain; charset=utf-8", "text/html; charset=utf-8", "application/json"
PLACES = [
    ("/", HTML), ("/c/fit", HTML), ("/shop", HTML), ("/nowhere", HTML), ("/api", JSON), ("/api/fit", JSON),
    ("/part/sheet/fit", JSON), ("/part/qr", JSON), ("/part/nothing", JSON), ("/healthz", PLAIN), ("/sw.js", PLAIN),
    ("/v/0/x.js", PLAIN), ("/vendor/manifest.json", PLAIN), ("/manifest.webmanifest", PLAIN),
]  # fmt: skip
everywhere = pytest.mark.parametrize(("url", "kind"), PLACES, ids=[url for url, _ in PLACES])


def said(reply):
    """The reason that a refusal gives, whatever it is written in."""
    if reply.content_type == HTML:
        return Page(reply.text).one("main").text
    if reply.content_type == JSON:
        (problem,) = reply.json["problems"]
        assert problem["name"] == "request"
        return problem["message"]
    return reply.text


@everywhere
@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "PROPFIND"])
def test_only_get_and_head_are_answered(client, url, kind, method):
    reply = client.open(url, method=method)
    assert (reply.status_code, reply.content_type) == (405, kind)
    assert reply.headers["Allow"] == "GET, HEAD"
    assert "GET and HEAD" in said(reply)


@everywhere
def test_a_body_is_refused(client, url, kind):
    for reply in (client.get(url, data=b"x"), client.get(url, headers={"Transfer-Encoding": "chunked"})):
        assert (reply.status_code, reply.content_type) == (413, kind)
        assert "no body" in said(reply)


@everywhere
def test_a_long_query_is_refused(client, url, kind):
    longest = "x=" + "1" * (8 * 1024 - 2)
    assert client.get(f"{url}?{longest}").status_code != 414
    reply = client.get(f"{url}?{longest}1")
    assert (reply.status_code, reply.content_type) == (414, kind)
    assert "8192 bytes" in said(reply)


def test_a_long_path_is_refused(client):
    assert client.get("/" + "x" * 1023).status_code == 404
    reply = client.get("/" + "x" * 1024)
    assert (reply.status_code, reply.content_type) == (414, HTML)
    assert "1024 characters" in said(reply)


@pytest.mark.parametrize(
    ("url", "kind"), [("/", HTML), ("/c/fit", HTML), ("/api/fit", JSON), ("/part/sheet/fit", JSON)]
)
def test_too_many_inputs_are_refused(client, url, kind):
    assert client.get(f"{url}?{'&'.join(f'a{n}=1' for n in range(64))}").status_code in (200, 422)
    reply = client.get(f"{url}?{'&'.join(f'a{n}=1' for n in range(65))}")
    assert (reply.status_code, reply.content_type) == (400, kind)
    assert "more than 64 inputs" in said(reply)


#: Every sort of response that there is: status, address, method and headers.
RESPONSES = [
    (200, "/", "GET", {}),
    (200, "/", "HEAD", {}),
    (200, "/c/fit", "GET", {"Accept-Encoding": "br"}),
    (304, "/c/fit", "GET", {"If-None-Match": "*"}),
    (304, "/sw.js", "GET", {"If-None-Match": "*"}),
    (304, "/vendor/idb-8.0.4/index.js", "GET", {"If-None-Match": "*"}),
    (200, "/sw.js", "GET", {}),
    (200, "/manifest.webmanifest", "GET", {}),
    (200, "/vendor/pyodide-314.0.7/pyodide.mjs", "GET", {"Accept-Encoding": "gzip"}),
    (200, "/v/{version}/calc.zip", "GET", {}),
    (200, "/v/{version}/scripts/worker.js", "GET", {}),
    (200, "/healthz", "GET", {}),
    (200, "/api", "GET", {}),
    (200, "/part/callout?text=30", "GET", {}),
    (200, "/part/qr?link=x", "GET", {}),
    (422, "/part/qr", "GET", {}),
    (422, "/c/fit?size=x", "GET", {}),
    (422, "/api/fit?size=x", "GET", {}),
    (404, "/c/nope", "GET", {}),
    (404, "/nope", "GET", {}),
    (404, "/nope.js", "GET", {}),
    (404, "/api/nope", "GET", {}),
    (404, "/v/0/x.js", "GET", {}),
    (405, "/", "POST", {}),
    (405, "/", "OPTIONS", {}),
    (413, "/", "GET", {"Transfer-Encoding": "chunked"}),
    (414, "/?" + "x" * 9000, "GET", {}),
    (400, "/?" + "&" * 100, "GET", {}),
]


@pytest.mark.parametrize(("status", "url", "method", "sent"), RESPONSES)
def test_every_response_carries_the_security_headers(app, client, status, url, method, sent):
    reply = client.open(url.format(version=app.extensions["assets"].version), method=method, headers=sent)
    assert reply.status_code == status
    policy = dict(part.split(" ", 1) for part in reply.headers["Content-Security-Policy"].split("; "))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == "'self' 'wasm-unsafe-eval'"
    assert policy["style-src"] == policy["connect-src"] == policy["worker-src"] == policy["manifest-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert "unsafe-inline" not in str(policy)
    assert "'unsafe-eval'" not in str(policy)
    assert reply.headers["X-Content-Type-Options"] == "nosniff"
    assert reply.headers["Referrer-Policy"] == "no-referrer"
    assert reply.headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert reply.headers["Cross-Origin-Resource-Policy"] == "same-origin"
    allowed = reply.headers["Permissions-Policy"]
    assert "camera=()" in allowed
    assert "clipboard" not in allowed
    assert "web-share" not in allowed
    assert "Set-Cookie" not in reply.headers
    assert reply.headers["Cache-Control"]
    for name in headers.SECURITY:
        assert len(reply.headers.getlist(name)) == 1


@pytest.mark.parametrize(("url", "kind"), [("/c/fit", HTML), ("/api/fit", JSON), ("/part/sheet/fit", JSON)])
def test_a_bug_is_a_500_that_says_so_and_is_written_down(client, monkeypatch, caplog, url, kind):
    def broken(*_):
        raise ZeroDivisionError("a wheel with no teeth")

    for place in ("server.pages.sheet.parts", "server.parts.worked_out", "server.api.answered"):
        monkeypatch.setattr(place, broken)
    reply = client.get(f"{url}?size=31")
    assert (reply.status_code, reply.content_type) == (500, kind)
    assert "mistake in Swarfbook, not in what you typed" in said(reply)
    assert "wheel" not in reply.text
    assert reply.headers["Cache-Control"] == "no-store"
    assert reply.headers["Content-Security-Policy"] == headers.CONTENT_SECURITY_POLICY
    assert "a wheel with no teeth" in caplog.text
    assert "size=31" not in caplog.text


def test_a_bug_is_said_even_when_no_page_can_be_shown(client, monkeypatch, caplog):
    def broken(*_, **__):
        raise ZeroDivisionError("no page either")

    monkeypatch.setattr(pages, "page", broken)
    reply = client.get("/")
    assert (reply.status_code, reply.content_type) == (500, PLAIN)
    assert "mistake in Swarfbook" in reply.text
    assert reply.headers["X-Content-Type-Options"] == "nosniff"
    assert "no page either" in caplog.text


PIECES = (
    "", " ", "0", "30", "30 mm", "-1", "1e400", "1e-300", "9**9", "nan", "H7", "k6", "zz99", "6206", "1 3/16 in",
    "45 °C", "½", "３０", "\u00a0", "\u202e", "😀", "\0", "\x1b[31m", "<script>", "{{7*7}}", "{% x %}", "%", "%s",
    "../..", "'", '"', "\\", "\r\n", ";", "30;31;32", "å" * 70, "9" * 500,
)  # fmt: skip


def test_no_input_breaks_it(client):
    """300 addresses put together from what people and machines have been known to send; always the same ones."""
    chance = random.Random(286)
    seen = set()
    for _ in range(300):
        name = chance.choice((*CALCULATIONS, "nope", ""))
        path = chance.choice(("/c/{}", "/api/{}", "/part/sheet/{}", "/", "/part/callout", "/part/qr", "/{}")).format(
            name
        )
        known = [one.name for one in catalogue()[name].inputs] if name in CALCULATIONS else []
        pairs = []
        for _ in range(chance.randrange(6)):
            field = chance.choice((*known, *known, "text", "link", chance.choice(PIECES)))
            pairs.append((field, "".join(chance.choices(PIECES, k=chance.randrange(1, 4)))))
        query = urlencode(pairs)
        if chance.random() < 0.3:
            spot = chance.randrange(len(query) + 1)
            query = query[:spot] + chance.choice(("%", "%f", "%ff%fe", "&&", "=", ";", "+", "%00", "#")) + query[spot:]
        sent = {"Accept-Encoding": chance.choice(("", "br", "gzip", "*;q=x", quote(chance.choice(PIECES))))}
        reply = client.get(f"{path}?{query}", headers=sent)
        assert reply.status_code in (200, 404, 422), (path, query, reply.status_code)
        seen.add((path.split("/")[1], reply.status_code))
    assert {("c", 200), ("c", 422), ("c", 404), ("api", 422), ("part", 200), ("part", 422)} <= seen


@pytest.mark.parametrize("name", CALCULATIONS)
def test_every_choice_of_every_calculation_is_a_page(client, name):
    for one in catalogue()[name].inputs:
        for key in one.options if isinstance(one, Choice) else ():
            reply = client.get(f"/c/{name}?{urlencode({one.name: key})}")
            assert reply.status_code in (200, 422)


def test_raw_bytes_in_the_address_are_no_bug(client):
    for path in (b"/c/\xff\xfe", b"/\xc3\x28", b"/api/\x00", b"/v/\xf0\x9f"):
        environ = {"PATH_INFO": path.decode("latin-1"), "QUERY_STRING": b"size=\xff&\xfe=\x00".decode("latin-1")}
        reply = client.get("/", environ_overrides=environ)
        assert reply.status_code == 404
        assert not re.search(r"Traceback|Error", reply.text)
