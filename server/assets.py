"""The files of the app: those of web/, the archive of calc/, and what others wrote, each at its own address.

Everything is read once, when the app is made, so that one running server serves one version.
"""

import hashlib
import json
import re
from collections.abc import Callable, Mapping
from functools import cached_property
from pathlib import Path, PurePosixPath
from urllib.parse import urljoin

from flask import Blueprint, Response
from werkzeug.exceptions import NotFound

from server import delivery, engine, headers
from server.archive import archive, source_files
from server.delivery import Content
from server.engine import AlteredFile

TEXT = "text/plain; charset=utf-8"
#: Our own table: that of the operating system may call a script plain text, and the browser then refuses it.
TYPES = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".ico": "image/x-icon",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".mjs": "text/javascript; charset=utf-8",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": TEXT,
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".whl": "application/zip",
    ".woff2": "font/woff2",
    ".zip": "application/zip",
}
ARCHIVE = "calc.zip"
MAIN = "main"
IMPORTED = re.compile(r"""^import\b[^;"']*?["']([^"']+)["']""", re.MULTILINE)
WORKER = "sw.js"
WITHDRAW = "withdraw.js"  # takes the place of WORKER when the offline copy is to go from every device
MANIFEST = "manifest.webmanifest"
VENDORED = "/vendor/manifest.json"  # what others wrote, under which licences
#: In web/vendor for the reader, or to make the engine's archives of; the browser fetches none of them.
NOT_FETCHED = (
    "LICENSE",
    "package.json",
    "pyodide-lock.json",
    "python_stdlib.zip",
    "pyodide.asm.mjs",
    "pyodide.asm.wasm",
    "pyodide.mjs",
    ".whl",
)


class Assets:
    """What is under web/, calc/ and templates/ at the moment of starting, by address.

    `version` changes with any byte of it, vendored files and the engine's archives apart, whose addresses change.
    """

    def __init__(self, web: Path, calc: Path, templates: Path) -> None:
        files, sources, pages = _read(web), source_files(calc), _read(templates)
        made = engine.read(web)
        packed = archive(sources, made.compiled)
        self.version = fingerprint({"web": files, "calc": {**sources, ARCHIVE: packed}, "templates": pages})
        self.templates = {path: body.decode("utf-8") for path, body in pages.items()}
        self.worker, self.withdraw = files.pop(WORKER, None), files.pop(WITHDRAW, None)
        self.files = {path: Content(body, kind(path)) for path, body in files.items()}
        self.files[ARCHIVE] = Content(packed, TYPES[".zip"])
        self.vendor = _vendored(web / "vendor")
        archives = {name: Content(body, kind(name), packed=small) for name, (body, small) in made.archives.items()}
        self.engine = {engine.address(name, one.sha256): one for name, one in archives.items()}
        self.fixed = {**_at_root(self), VENDORED: self.vendor["manifest.json"]}

    @cached_property
    def modules(self) -> Mapping[str, tuple[str, ...]]:
        """For each script what a page needs that runs it after the first of all: fetched at once, not one by one."""
        scripts = [PurePosixPath(path).stem for path in self.files if path.startswith("scripts/")]
        return {name: self._imported(name) for name in scripts}

    def _imported(self, script: str) -> tuple[str, ...]:
        first, own = (self.address(f"scripts/{one}.js") for one in (MAIN, script))
        found = [own] if own != first else []
        coming = [first, *found]
        while coming:
            at = coming.pop(0)
            body = self.vendor.get(at.removeprefix("/vendor/")) or self.files.get(at.removeprefix(self.address("")))
            for named in IMPORTED.findall(body.body.decode("utf-8")) if body else ():
                other = urljoin(at, named)
                if other not in found:
                    found.append(other)
                    coming.append(other)
        return tuple(found)

    @cached_property
    def interpreter(self) -> str:
        """Where the engine's WebAssembly is served, "" when there is no engine."""
        return next((address for address in self.engine if address.endswith(".wasm")), "")

    def address(self, path: str) -> str:
        """Where the file `path` of web/ is served."""
        return f"/{path}" if path.startswith("vendor/") else f"/v/{self.version}/{path}"

    def needed_offline(self) -> Mapping[str, Content]:
        """Every file that the app needs without a network, by address."""
        own = {self.address(path): content for path, content in self.files.items()}
        others = {f"/vendor/{path}": content for path, content in self.vendor.items() if not path.endswith(NOT_FETCHED)}
        return {**self.fixed, **own, **others, **self.engine}


def kind(path: str) -> str:
    """The media type of a file by its ending, plain text for one that has none; LookupError for an unknown one."""
    suffix = PurePosixPath(path).suffix
    if suffix and suffix not in TYPES:
        raise LookupError(f"{path}: there is no media type for {suffix} in the table of server/assets.py")
    return TYPES.get(suffix, TEXT)


def fingerprint(groups: Mapping[str, Mapping[str, bytes]]) -> str:
    """Twelve hex digits that change with any name or byte in `groups` of files."""
    digest = hashlib.sha256()
    for group, files in groups.items():
        for path in sorted(files):
            digest.update(f"{group}/{path}\n{len(files[path])}\n".encode())
            digest.update(files[path])
    return digest.hexdigest()[:12]


def _read(root: Path) -> dict[str, bytes]:
    """Every file under `root` by path, hidden, vendored and the engine's apart."""
    paths = (path for path in sorted(root.rglob("*")) if path.is_file() and not path.name.startswith("."))
    named = ((path.relative_to(root).as_posix(), path) for path in paths)
    return {name: path.read_bytes() for name, path in named if not name.startswith(("vendor/", "engine/"))}


def _vendored(root: Path) -> dict[str, Content]:
    manifest = (root / "manifest.json").read_bytes()
    files = {"manifest.json": Content(manifest, TYPES[".json"])}
    for entry in json.loads(manifest):
        path = entry["path"]
        content = Content((root / path).read_bytes(), kind(path))
        if content.sha256 != entry["sha256"]:
            raise AlteredFile(f"web/vendor/{path} is not the published file that web/vendor/manifest.json names.")
        files[path] = content
    return files


def _at_root(assets: Assets) -> dict[str, Content]:
    """The few files that browsers look for at a fixed address, whatever the version."""
    found: dict[str, Content] = {}
    if MANIFEST in assets.files:
        manifest = json.loads(assets.files[MANIFEST].body)
        for holder in (manifest, *manifest.get("shortcuts", ())):
            for picture in (*holder.get("icons", ()), *holder.get("screenshots", ())):
                picture["src"] = assets.address(picture["src"].lstrip("/"))
        body = json.dumps(manifest, ensure_ascii=False, separators=(",", ":")).encode()
        found[f"/{MANIFEST}"] = Content(body, TYPES[".webmanifest"])
    if "icons/favicon.ico" in assets.files:
        found["/favicon.ico"] = assets.files["icons/favicon.ico"]
    return found


def routes(assets: Assets) -> Blueprint:
    """The addresses of the files. A file that is not there is a plain 404, never a page."""
    files = Blueprint("assets", __name__)

    @files.get("/v/<version>/<path:path>")
    def own(version: str, path: str) -> Response:
        if version != assets.version:
            raise NotFound("That version of the file is not served here any more. Reload the page.")
        return _send(assets.files, path)

    @files.get("/vendor/<path:path>")
    def vendor(path: str) -> Response:
        return _send(assets.vendor, path)

    @files.get(f"/{engine.FOLDER}/<path:path>")
    def archives(path: str) -> Response:
        return _send(assets.engine, f"/{engine.FOLDER}/{path}")

    for address, content in assets.fixed.items():
        files.add_url_rule(address, address.strip("/").translate({ord("."): "_", ord("/"): "_"}), _fixed(content))
    return files


def _send(files: Mapping[str, Content], path: str) -> Response:
    if path not in files:
        raise NotFound("There is no such file.")
    return delivery.respond(files[path], headers.FOR_EVER)


def _fixed(content: Content) -> Callable[[], Response]:
    return lambda: delivery.respond(content, headers.ASK_AGAIN)
