"""The files of the app: at addresses that name their version, with types of our own table, never a page instead."""

import hashlib
import io
import json
import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from calc import answer_json, catalogue, units
from server import archive, assets, engine
from server.app import create_app
from server.assets import AlteredFile, Assets

REPO = Path(__file__).parents[2]
WEB, CALC, TEMPLATES = REPO / "web", REPO / "calc", REPO / "server" / "templates"
FOR_EVER = "public, max-age=31536000, immutable"
MANIFEST = json.loads((WEB / "vendor" / "manifest.json").read_text("utf-8"))
OWN = sorted(
    path.relative_to(WEB).as_posix()
    for path in WEB.rglob("*")
    if path.is_file()
    and not {WEB / "vendor", WEB / "engine"} & set(path.parents)
    and path.name not in ("sw.js", "withdraw.js")
)
#: text/javascript by RFC 9239, application/wasm by the WebAssembly Web API, application/manifest+json by the Web
#: Application Manifest, image/svg+xml by SVG 1.1 appendix P, the others by the IANA register of media types; a
#: wheel is a zip archive (PEP 427).
TYPES = {
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "mjs": "text/javascript; charset=utf-8",
    "wasm": "application/wasm",
    "whl": "application/zip",
    "zip": "application/zip",
    "json": "application/json",
    "svg": "image/svg+xml",
    "png": "image/png",
    "webmanifest": "application/manifest+json",
    "LICENSE": "text/plain; charset=utf-8",
}


@pytest.fixture(scope="session")
def files(app) -> Assets:
    return app.extensions["assets"]


def small(folder):
    """A tree of our own shape that holds next to nothing."""
    for path, text in {
        "web/scripts/main.js": "1",
        "web/sw.js": "2",
        "web/vendor/manifest.json": "[]",
        "calc/__init__.py": "",
        "calc/tables/one.csv": "a",
        "templates/bench.html": "b",
    }.items():
        place = folder / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(text, "utf-8")
    return folder


def read(folder):
    return Assets(folder / "web", folder / "calc", folder / "templates")


@pytest.mark.parametrize("path", OWN)
def test_own_files_are_served_for_ever_under_their_version(client, files, path):
    reply = client.get(f"/v/{files.version}/{path}")
    assert reply.status_code == 200
    assert reply.data == (WEB / path).read_bytes()
    assert reply.headers["Cache-Control"] == FOR_EVER
    assert reply.content_type == TYPES[path.rsplit(".", 1)[1]]


@pytest.mark.parametrize("entry", MANIFEST, ids=lambda entry: entry["path"])
def test_vendored_files_are_those_of_the_manifest(client, entry):
    reply = client.get(f"/vendor/{entry['path']}")
    assert reply.status_code == 200
    assert hashlib.sha256(reply.data).hexdigest() == entry["sha256"]
    assert reply.headers["Cache-Control"] == FOR_EVER
    assert reply.content_type == TYPES[re.split(r"[./]", entry["path"])[-1]]


def test_the_list_of_vendored_files_is_served_and_asks_again(client):
    reply = client.get("/vendor/manifest.json")
    assert reply.json == MANIFEST
    assert reply.headers["Cache-Control"] == "no-cache"


def test_the_app_manifest_points_at_icons_that_are_there(client):
    reply = client.get("/manifest.webmanifest")
    assert (reply.status_code, reply.content_type) == (200, "application/manifest+json")
    assert reply.headers["Cache-Control"] == "no-cache"
    manifest = json.loads(reply.data)
    assert manifest["icons"]
    for icon in manifest["icons"]:
        picture = client.get(icon["src"])
        assert (picture.status_code, picture.content_type) == (200, icon["type"])


@pytest.mark.parametrize(
    "url",
    [
        "/v/{version}/scripts/none.js",
        "/v/{version}/",
        "/v/{version}/sw.js",
        "/v/{version}/withdraw.js",
        "/withdraw.js",
        "/v/{version}/vendor/manifest.json",
        "/v/{version}/../server/app.py",
        "/v/{version}/..%2fserver/app.py",
        "/v/{version}/%2e%2e/server/app.py",
        "/v/000000000000/scripts/main.js",
        "/v/000000000000/calc.zip",
        "/v/{version}",
        "/v",
        "/vendor",
        "/vendor/",
        "/vendor/none.mjs",
        "/vendor/../sw.js",
        "/engine",
        "/engine/manifest.json",
        "/engine/stdlib.zip",
        "/engine/stdlib.zip.br",
        "/engine/0123456789ab/stdlib.zip",
        "/vendor/pyodide-0.0.0/pyodide.mjs",
        "/scripts/main.js",
        "/sw.js.map",
        "/robots.txt",
        "/.git/config.txt",
    ],
)
def test_a_file_that_is_not_there_is_a_plain_404_and_never_a_page(client, files, url):
    reply = client.get(url.format(version=files.version))
    assert (reply.status_code, reply.content_type) == (404, "text/plain; charset=utf-8")
    assert reply.headers["Cache-Control"] == "no-store"
    assert "<" not in reply.text


def test_the_version_is_the_same_for_the_same_files(files, tmp_path):
    assert re.fullmatch("[0-9a-f]{12}", files.version)
    assert Assets(WEB, CALC, TEMPLATES).version == files.version
    assert read(small(tmp_path / "a")).version == read(small(tmp_path / "b")).version


@pytest.mark.parametrize(
    "path",
    [
        "web/scripts/main.js",
        "web/sw.js",
        "calc/__init__.py",
        "calc/tables/one.csv",
        "templates/bench.html",
        "web/new.css",
    ],
)
def test_the_version_changes_with_any_file(tmp_path, path):
    before = read(small(tmp_path)).version
    (tmp_path / path).write_text("another", "utf-8")
    after = read(tmp_path).version
    assert after != before
    (tmp_path / path).rename((tmp_path / path).with_name("x" + Path(path).name))
    assert read(tmp_path).version not in (before, after)


def test_the_version_leaves_out_what_is_not_served(tmp_path):
    before = read(small(tmp_path)).version
    (tmp_path / "calc" / "__pycache__").mkdir()
    (tmp_path / "calc" / "__pycache__" / "a.pyc").write_bytes(b"x")
    (tmp_path / "web" / ".hidden").write_text("x")
    assert read(tmp_path).version == before


def test_a_vendored_file_that_was_altered_stops_the_start(tmp_path):
    small(tmp_path)
    entry = {"path": "a-1/a.js", "sha256": hashlib.sha256(b"right").hexdigest()}
    (tmp_path / "web/vendor/a-1").mkdir()
    (tmp_path / "web/vendor/a-1/a.js").write_bytes(b"right")
    (tmp_path / "web/vendor/manifest.json").write_text(json.dumps([entry]))
    assert read(tmp_path).vendor["a-1/a.js"].body == b"right"
    (tmp_path / "web/vendor/a-1/a.js").write_bytes(b"wrong")
    with pytest.raises(AlteredFile, match=r"web/vendor/a-1/a\.js"):
        read(tmp_path)


def test_a_file_of_unknown_type_stops_the_start(tmp_path):
    (small(tmp_path) / "web" / "sheet.docx").write_text("x")
    with pytest.raises(LookupError, match=r"sheet\.docx.*\.docx"):
        read(tmp_path)


def test_the_app_serves_other_folders_when_told_to(tmp_path):
    small(tmp_path)
    client = create_app(web=tmp_path / "web", calc=tmp_path / "calc", templates=tmp_path / "templates").test_client()
    assert client.get("/").text == "b"
    assert client.get(f"/v/{read(tmp_path).version}/scripts/main.js").text == "1"
    assert client.get("/manifest.webmanifest").status_code == 404


def test_the_archive_is_the_same_bytes_whenever_it_is_made(client, files, tmp_path):
    served = client.get(f"/v/{files.version}/calc.zip")
    assert (served.status_code, served.content_type) == (200, "application/zip")
    assert served.headers["Cache-Control"] == FOR_EVER
    shutil.copytree(CALC, tmp_path / "calc", copy_function=shutil.copyfile, ignore=shutil.ignore_patterns("*.pyc"))
    compiled = engine.read(WEB).compiled
    assert archive.archive(archive.source_files(tmp_path / "calc"), compiled) == served.data
    backwards = dict(reversed(archive.source_files(CALC).items()))
    assert archive.archive(backwards, dict(reversed(compiled.items()))) == served.data


def test_the_archive_holds_the_package_stored_and_nothing_else():
    with zipfile.ZipFile(io.BytesIO(archive.archive(archive.source_files(CALC)))) as packed:
        assert packed.testzip() is None
        entries = packed.infolist()
        names = [entry.filename for entry in entries]
        assert names == sorted(names)
        assert packed.read("calc/conversions.json").decode() == units.conversions()
        for entry in entries:
            assert entry.compress_type == zipfile.ZIP_STORED
            assert entry.date_time == (1980, 1, 1, 0, 0, 0)
            if entry.filename != "calc/conversions.json":
                assert packed.read(entry) == (REPO / entry.filename).read_bytes()
    names.remove("calc/conversions.json")
    expected = [path for path in CALC.rglob("*") if path.is_file() and "__pycache__" not in path.parts]
    assert names == sorted(path.relative_to(REPO).as_posix() for path in expected)


def test_a_source_that_is_still_the_same_goes_compiled_and_a_changed_one_as_it_is():
    files = {"a.py": b"A = 1\n", "b.py": b"B = 2\n", "c.csv": b"x\n"}
    compiled = {
        "calc/a.py": (hashlib.sha256(b"A = 1\n").hexdigest(), b"compiled a"),
        "calc/b.py": (hashlib.sha256(b"B = 1\n").hexdigest(), b"compiled b"),
        "calc/gone.py": (hashlib.sha256(b"").hexdigest(), b"compiled gone"),
    }
    with zipfile.ZipFile(io.BytesIO(archive.archive(files, compiled))) as packed:
        assert packed.namelist() == ["calc/a.pyc", "calc/b.py", "calc/c.csv", "calc/conversions.json"]
        assert (packed.read("calc/a.pyc"), packed.read("calc/b.py")) == (b"compiled a", b"B = 2\n")


def test_the_archive_answers_when_unpacked_on_its_own(tmp_path):
    """Sources, since the compiled ones are for another Python; pint is asked nothing."""
    with zipfile.ZipFile(io.BytesIO(archive.archive(archive.source_files(CALC)))) as packed:
        packed.extractall(tmp_path)
    script = (
        "import sys, calc, calc.sheet, calc.qr\n"
        "assert calc.__file__.startswith(sys.argv[1]), calc.__file__\n"
        "assert 'flask' not in sys.modules and 'server' not in sys.modules\n"
        "for name in calc.catalogue(): print(calc.answer_json(name, {}))\n"
        "assert 'pint' not in sys.modules\n"
    )
    told = subprocess.run(
        [sys.executable, "-W", "error", "-c", script, str(tmp_path)],
        cwd=tmp_path, capture_output=True, check=True, encoding="utf-8", env={"PYTHONUTF8": "1"},
    )  # fmt: skip
    assert told.stdout.splitlines() == [answer_json(name, {}) for name in catalogue()]


def test_types_are_ours_and_not_the_system_s(monkeypatch):
    import mimetypes

    monkeypatch.setattr(mimetypes, "guess_type", lambda *_: ("text/plain", None))
    assert {ending: assets.kind(f"x/{'y.' * (ending != 'LICENSE')}{ending}") for ending in TYPES} == TYPES
