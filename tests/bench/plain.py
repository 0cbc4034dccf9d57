"""`python -m tests.bench.plain --port N`: what is compared with, under the same waitress and with the same headers.

`/empty` is the emptiest JSON view that Flask has, in an app that has nothing else; `/bare` a page that starts Pyodide
as published, in a module worker, and does nothing with it.
"""

import argparse
import json
import logging
from collections.abc import Callable
from typing import Any

import waitress
from flask import Flask, Response, jsonify

from server.__main__ import WAITRESS, listen
from server.app import REPO, create_app

PAGE = '<!doctype html><html lang="en"><title>Bare</title><script src="/bare.js" defer></script><body></body></html>'
SCRIPT = """
new Worker("/bare-worker.js", { type: "module" }).onmessage = ({ data }) => {
  performance.mark("up");
  document.title = `It says ${data}`;
};
"""
UP = "It says 42"
WORKER = """
import { loadPyodide } from "/vendor/LOADER";
const pyodide = await loadPyodide({ indexURL: new URL("/vendor/HOME", location.href).href });
postMessage(pyodide.runPython("str(6 * 7)"));
"""


def empty() -> Flask:
    """Nothing but an empty JSON view."""
    app = Flask("empty", static_folder=None)

    @app.get("/empty")
    def view() -> Response:
        return jsonify({})

    return app


def bare() -> Flask:
    """The app's own delivery of the vendored files, with the bare page beside it."""
    app = create_app()
    listed = json.loads((REPO / "web" / "vendor" / "manifest.json").read_text("utf-8"))
    loader = next(one["path"] for one in listed if one["path"].endswith("/pyodide.mjs"))
    worker = WORKER.replace("LOADER", loader).replace("HOME", loader.removesuffix("pyodide.mjs"))
    pages = {"/bare": (PAGE, "text/html"), "/bare.js": (SCRIPT, "text/javascript"),
             "/bare-worker.js": (worker, "text/javascript")}  # fmt: skip
    for address, (text, kind) in pages.items():
        app.add_url_rule(address, address, lambda text=text, kind=kind: Response(text, content_type=kind))
    return app


def both() -> Callable[..., Any]:
    """`/empty` goes to the empty app without having passed through the other."""
    own, other = empty(), bare()
    return lambda environ, start: (own if environ["PATH_INFO"] == "/empty" else other)(environ, start)


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--port", type=int, default=0)
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)  # as in the server
    with listen("127.0.0.1", parser.parse_args().port) as listener:
        server = waitress.create_server(both(), sockets=[listener], **WAITRESS)
        print(f"open at http://127.0.0.1:{listener.getsockname()[1]} ", flush=True)
        server.run()


if __name__ == "__main__":
    main()
