"""Python sources to compiled ones, by the vendored Python in a browser, and the zips that the engine starts from.

Everything comes out the same each time: members sorted and without a time, no path of this machine in them, hashing
without chance. Compiled files are of the unchecked kind, since their sources are not beside them, and without the
places of each instruction within its line, which only tracebacks would show: a third of the size. Nor have they what
modules and functions say of themselves; classes keep it, since a dataclass without is given one at each start.
"""

import base64
import hashlib
import io
import json
import threading
import zipfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from os import PathLike
from pathlib import Path

from playwright.sync_api import Browser, Page

from server.archive import source_files, stored
from server.assets import kind
from server.engine import SOURCES
from tests.engine.interpreter import leaner
from tests.engine.left_out import is_left_out

REPO = Path(__file__).parents[2]
VENDOR = REPO / "web" / "vendor"
INTERPRETER = ("pyodide.asm.wasm", "pyodide.asm.mjs", "pyodide.mjs")

BOOT = """
async (home) => {
  const { loadPyodide } = await import(`${home}pyodide.mjs`);
  const env = { PYTHONHASHSEED: "0", PYTHONNODEBUGRANGES: "1" };
  globalThis.python = await loadPyodide({ indexURL: new URL(home, location.href).href, env });
}
"""
#: [[path, source in base64], ...] as JSON -> the compiled files in base64, in that order, as JSON.
COMPILE = """
import ast, base64, json
from importlib._bootstrap_external import _code_to_hash_pyc
from importlib.util import source_hash

def undocumented(tree):
    for node in ast.walk(tree):
        told = isinstance(node, (ast.Module, ast.FunctionDef, ast.AsyncFunctionDef))
        if told and ast.get_docstring(node, clean=False) is not None:
            said = node.body.pop(0)
            if not (node.body or isinstance(node, ast.Module)):
                node.body = [ast.copy_location(ast.Pass(), said)]
    return tree

def compiled(path, source):
    tree = undocumented(ast.parse(source, path))
    code = compile(tree, path, "exec", dont_inherit=True, optimize=0)
    return bytes(_code_to_hash_pyc(code, source_hash(source), False))

def work(given):
    files = [(path, base64.b64decode(source)) for path, source in json.loads(given)]
    return json.dumps([base64.b64encode(compiled(*one)).decode() for one in files])

work
"""


class _Vendored(SimpleHTTPRequestHandler):
    """The vendored files and an empty page."""

    def do_GET(self) -> None:
        if self.path == "/":
            self.send_response(200)
            self.send_header("Content-Type", "text/html")
            self.end_headers()
            self.wfile.write(b"<!doctype html><title>Making</title>")
        else:
            super().do_GET()

    def guess_type(self, path: str | PathLike[str]) -> str:
        return kind(str(path))

    def log_message(self, *_: object) -> None:
        """Nothing to tell."""


@contextmanager
def python(browser: Browser) -> Iterator[Page]:
    """A page in which the vendored Pyodide, as published, is up and can compile."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Vendored, directory=str(VENDOR)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    page = browser.new_page()
    try:
        page.goto(f"http://127.0.0.1:{server.server_address[1]}/")
        page.evaluate(BOOT, f"/{pyodide()}/")
        page.evaluate("(text) => { globalThis.work = python.runPython(text); }", COMPILE)
        yield page
    finally:
        page.close()
        server.shutdown()
        server.server_close()


def compiled(page: Page, sources: Mapping[str, bytes]) -> dict[str, bytes]:
    """Compiled files by path, `a/b.pyc` for `a/b.py`; what is no Python stays as it is."""
    scripts = sorted(path for path in sources if path.endswith(".py"))
    given = json.dumps([[path, base64.b64encode(sources[path]).decode()] for path in scripts])
    made = json.loads(page.evaluate("(given) => work(given)", given))
    files = {path: body for path, body in sources.items() if not path.endswith(".py")}
    return files | {f"{path}c": base64.b64decode(one) for path, one in zip(scripts, made, strict=True)}


def stdlib(page: Page) -> bytes:
    """The standard library's archive."""
    return stored(compiled(page, _taken([VENDOR / pyodide() / "python_stdlib.zip"])))


def packages(page: Page) -> bytes:
    """The archive of what the calculations are built on, with the licences."""
    return stored(compiled(page, _taken(wheels())))


def calculations(page: Page, calc: Path = REPO / "calc", *, only: Mapping[str, str] | None = None) -> bytes:
    """The compiled calculations, with the SHA-256 of the source that each was made of; `only` those whose source has
    that SHA-256 when given.
    """
    sources = {f"calc/{path}": body for path, body in source_files(calc).items() if path.endswith(".py")}
    hashes = {path: hashlib.sha256(body).hexdigest() for path, body in sources.items()}
    wanted = {path: one for path, one in hashes.items() if only is None or only.get(path) == one}
    made = compiled(page, {path: sources[path] for path in wanted})
    return stored({**made, SOURCES: json.dumps(wanted, indent=1, sort_keys=True).encode()})


def interpreter() -> dict[str, bytes]:
    """The interpreter, and its script with the loader, by name."""
    wasm, script, loader = ((VENDOR / pyodide() / name).read_bytes() for name in INTERPRETER)
    made, own = leaner(wasm, script.decode("utf-8"), loader.decode("utf-8"))
    return {"pyodide.asm.wasm": made, "pyodide.mjs": own.encode()}


def pyodide() -> str:
    """The folder of the vendored Pyodide."""
    (folder,) = VENDOR.glob("pyodide-*")
    return folder.name


def wheels() -> list[Path]:
    return sorted((VENDOR / "wheels").glob("*.whl"))


def _taken(archives: list[Path]) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for one in archives:
        with zipfile.ZipFile(io.BytesIO(one.read_bytes())) as packed:
            names = [name for name in packed.namelist() if not name.endswith("/") and not is_left_out(name)]
            found |= {name: packed.read(name) for name in names}
    return found
