"""The offline copy: every address that the app needs, as it is served, and a worker that changes with any of them."""

import hashlib
import json
import re
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import pytest

from calc import catalogue
from server import offline
from server.app import create_app
from tests.server.markup import Page

REPO = Path(__file__).parents[2]
FIRST_LINE = re.compile(r"self\.OFFLINE = (\{.*\});")


def listed(client):
    reply = client.get("/sw.js")
    assert reply.status_code == 200
    return json.loads(FIRST_LINE.fullmatch(reply.text.split("\n", 1)[0])[1])


@pytest.fixture(scope="module")
def copy(app):
    return listed(app.test_client())


def test_the_worker_is_ours_behind_one_line(client):
    reply = client.get("/sw.js")
    assert reply.content_type == "text/javascript; charset=utf-8"
    assert reply.headers["Cache-Control"] == "no-cache"
    assert reply.data.split(b"\n", 1)[1] == (REPO / "web" / "sw.js").read_bytes()


def test_a_withdrawn_copy_is_a_worker_that_lists_nothing():
    reply = create_app(withdrawn=True).test_client().get("/sw.js")
    assert (reply.status_code, reply.headers["Cache-Control"]) == (200, "no-cache")
    assert reply.data == (REPO / "web" / "withdraw.js").read_bytes()


def test_every_file_of_the_list_is_served_as_the_list_says(client, copy):
    for one in copy["files"]:
        assert set(one) == {"url", "sha256", "bytes"}
        reply = client.get(one["url"])
        assert reply.status_code == 200, one
        assert (hashlib.sha256(reply.data).hexdigest(), len(reply.data)) == (one["sha256"], one["bytes"]), one


def test_every_page_is_in_it_and_nothing_twice(copy):
    urls = [one["url"] for one in copy["files"]]
    assert len(urls) == len(set(urls))
    assert {"/", "/shop", "/not-here", "/manifest.webmanifest", *(f"/c/{name}" for name in catalogue())} <= set(urls)
    assert "/sw.js" not in urls
    assert not [url for url in urls if url.endswith(("LICENSE", "package.json"))]


def test_all_of_the_app_and_of_the_engine_is_in_it(app, copy):
    urls = {one["url"] for one in copy["files"]}
    version = app.extensions["assets"].version
    web = REPO / "web"
    own = {path.relative_to(web).as_posix() for path in web.rglob("*") if path.is_file()}
    apart = ("vendor/", "engine/", "sw.js", "withdraw.js")
    own = {path for path in own if not path.startswith(apart)} | {"calc.zip"}
    assert {f"/v/{version}/{path}" for path in own} <= urls
    (idb,) = (web / "vendor").glob("idb-*")
    assert {url for url in urls if url.startswith("/vendor/")} == {
        "/vendor/manifest.json", f"/vendor/{idb.name}/index.js"
    }  # fmt: skip
    made = {url.rsplit("/", 1)[1] for url in urls if url.startswith("/engine/")}
    assert made == {"stdlib.zip", "packages.zip", "pyodide.mjs", "pyodide.asm.wasm"}


def test_whatever_pages_styles_and_scripts_ask_for_is_in_it(client, copy):
    """What a file names is fetched by the browser; without a network it has to be in the copy."""
    urls = {one["url"] for one in copy["files"]}
    wanted = {}
    for one in copy["files"]:
        url = one["url"]
        if "/pyodide." in url:
            continue
        reply = client.get(url)
        named = []
        if reply.mimetype == "text/html":
            for each in Page(reply.text).elements:
                if each.name in ("link", "script", "img"):
                    named += [each.attributes.get("href") or each.attributes.get("src")]
        elif reply.mimetype == "text/css":
            named = re.findall(r"(?:url\(|@import )[\"']?([^\"')]+)", reply.text)
        elif reply.mimetype == "text/javascript":
            named = re.findall(r"^(?:import|export)\b[^;\"']*?\bfrom\s*[\"']([^\"']+)", reply.text, re.MULTILINE)
            named += re.findall(r"^import\s*[\"']([^\"']+)", reply.text, re.MULTILINE)
            named += re.findall(r"\bimport\(\s*[\"']([^\"']+)", reply.text)
            named += re.findall(r"new URL\(\s*[\"']([^\"']+)[\"'], import\.meta\.url", reply.text)
        for name in named:
            if not name.startswith(("data:", "#")):
                wanted.setdefault(urlsplit(urljoin(f"http://x{url}", name)).path, url)
    assert len(wanted) > 10
    assert {url: by for url, by in wanted.items() if url not in urls} == {}


def test_the_version_follows_from_the_list_alone(copy):
    files = tuple(offline.Listed(**one) for one in copy["files"])
    assert re.fullmatch("[0-9a-f]{12}", copy["version"])
    assert offline.version(files) == copy["version"]
    assert offline.version(files[:-1]) != copy["version"]
    assert offline.version((offline.Listed("/", "0" * 64, 1), *files[1:])) != copy["version"]


def test_two_servers_of_the_same_files_serve_the_same_worker(client):
    assert create_app().test_client().get("/sw.js").data == client.get("/sw.js").data


def test_a_page_that_changes_changes_the_worker(copy, tmp_path):
    for template in (REPO / "server" / "templates").iterdir():
        text = template.read_text("utf-8")
        (tmp_path / template.name).write_text(text.replace("<h1>Shop</h1>", "<h1>Shop.</h1>"), "utf-8")
    other = listed(create_app(templates=tmp_path).test_client())
    assert other["version"] != copy["version"]


def test_there_is_no_half_a_copy(tmp_path, caplog):
    for template in (REPO / "server" / "templates").iterdir():
        (tmp_path / template.name).write_bytes(template.read_bytes())
    (tmp_path / "shop.html").write_text("{{ what_nobody_gives }}")
    client = create_app(templates=tmp_path).test_client()
    for _ in range(2):
        reply = client.get("/sw.js")
        assert (reply.status_code, reply.content_type) == (500, "text/plain; charset=utf-8")
        assert "OFFLINE" not in reply.text
    assert "/shop answers 500" in caplog.text
    assert client.get("/").status_code == 200
