"""`python -m tests.web.other_server`: the app as it will be, or as it never should.

`--set PATH=TEXT` serves another version, in which that file of web/ or templates/ has TEXT in front;
`--spoil ADDRESS` answers one address with a byte too many, as a broken proxy or a half-copied release would;
`--lose ADDRESS` does not have it, `--cut ADDRESS` breaks off in the middle of it; `--withdraw` takes the copy back.
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
HOW = ("spoil", "lose", "cut")


def broken(app, address, how):
    """`app`, but what it answers at `address` is lost, cut short or spoilt by one byte."""

    def answer(environ, start):
        if environ["PATH_INFO"] != address:
            return app(environ, start)
        environ["HTTP_ACCEPT_ENCODING"] = ""

        def started(status, headers, exc_info=None):
            left_out = ("etag",) if how == "cut" else ("content-length", "etag")
            kept = [(name, text) for name, text in headers if name.lower() not in left_out]
            return start("404 Not Found" if how == "lose" else status, kept, exc_info)

        whole = b"".join(app(environ, started))
        return [{"spoil": whole + b" ", "cut": whole[: len(whole) // 2], "lose": b"lost"}[how]]

    return answer


def main(arguments):
    parser = argparse.ArgumentParser()
    parser.add_argument("--port", type=int, default=0)
    parser.add_argument("--set", action="append", default=[])
    for how in HOW:
        parser.add_argument(f"--{how}")
    parser.add_argument("--withdraw", action="store_true")
    options = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as folder, listen("127.0.0.1", options.port) as listener:
        places = {"web": Path(folder, "web"), "templates": Path(folder, "templates")}
        shutil.copytree(REPO / "web", places["web"])
        shutil.copytree(REPO / "server" / "templates", places["templates"])
        for setting in options.set:
            path, _, text = setting.partition("=")
            changed = Path(folder, path)
            changed.write_text(text + changed.read_text("utf-8"), "utf-8")
        app = create_app(**places, withdrawn=options.withdraw)
        for how in HOW:
            if getattr(options, how):
                app = broken(app, getattr(options, how), how)
        server = waitress.create_server(app, sockets=[listener], **WAITRESS)
        print(f"open at http://127.0.0.1:{listener.getsockname()[1]}  ", flush=True)
        server.run()


if __name__ == "__main__":
    main(sys.argv[1:])
