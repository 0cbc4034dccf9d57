"""`python -m tests.web.other_server`: the app as it will be, or as it never should.

`--set PATH=TEXT` serves another version, in which that file of web/ or templates/ has TEXT in front;
`--spoil ADDRESS` answers one address with a byte too many, as a broken proxy or a half-copied release would.
"""

import argparse
import shutil
import sys
import tempfile
from pathlib import Path

import waitress

from server.__main__ import WAITRESS, listen
from server.app import create_app

REPO = Path(__file__).parents[2]


def spoilt(app, address):
    """`app`, but with one byte too many at `address`."""

    def answer(environ, start):
        if environ["PATH_INFO"] != address:
            return app(environ, start)
        environ["HTTP_ACCEPT_ENCODING"] = ""

        def started(status, headers, exc_info=None):
            kept = [(name, text) for name, text in headers if name.lower() not in ("content-length", "etag")]
            return start(status, kept, exc_info)

        return [b"".join(app(environ, started)) + b" "]

    return answer


def main(arguments):
    parser = argparse.ArgumentParser()
    parser.add_argument("--port", type=int, default=0)
    parser.add_argument("--set", action="append", default=[])
    parser.add_argument("--spoil")
    options = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as folder, listen("127.0.0.1", options.port) as listener:
        places = {"web": Path(folder, "web"), "templates": Path(folder, "templates")}
        shutil.copytree(REPO / "web", places["web"])
        shutil.copytree(REPO / "server" / "templates", places["templates"])
        for setting in options.set:
            path, _, text = setting.partition("=")
            changed = Path(folder, path)
            changed.write_text(text + changed.read_text("utf-8"), "utf-8")
        app = create_app(**places)
        if options.spoil:
            app = spoilt(app, options.spoil)
        server = waitress.create_server(app, sockets=[listener], **WAITRESS)
        print(f"open at http://127.0.0.1:{listener.getsockname()[1]}  ", flush=True)
        server.run()


if __name__ == "__main__":
    main(sys.argv[1:])
