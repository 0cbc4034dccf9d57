"""`python3 -m tests.engine [--only calc]`: make what the browser's Python starts from, out of what is vendored.

After a change of web/vendor, or of what tests/engine/left_out.py names: all of it. After changes of calc/: with
`--only calc`; until then what was changed goes to the browser as source and starts a little slower.
"""

import argparse
import hashlib
import json

from server.launch import prepare, run, say


def engine(arguments: "list[str]") -> int:
    parser = argparse.ArgumentParser("python3 -m tests.engine", description="Make the engine's archives.")
    parser.add_argument("--only", choices=["calc"], help="only the compiled calculations")
    only = parser.parse_args(arguments).only
    prepare("tests.engine", arguments, ["test"])

    from playwright.sync_api import sync_playwright

    from tests import chromium
    from tests.engine import make

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium.find() or None)
        with make.python(browser) as page:
            archives = {"calc.zip": make.calculations(page)}
            if not only:
                archives |= {"packages.zip": make.packages(page), "stdlib.zip": make.stdlib(page), **make.interpreter()}
        browser.close()
    write(archives, keep=bool(only))
    return 0


def write(archives: "dict[str, bytes]", *, keep: bool) -> None:
    """Put them, packed, into web/engine; `keep` the others there."""
    from server.engine import FOLDER, packed
    from tests.engine import make

    folder = make.REPO / "web" / FOLDER
    folder.mkdir(exist_ok=True)
    home = f"vendor/{make.pyodide()}"
    known = json.loads((folder / "manifest.json").read_text("utf-8")) if keep else []
    entries = {one["path"]: one for one in known}
    made_of = {
        "calc.zip": ["calc"],
        "packages.zip": [f"vendor/wheels/{one.name}" for one in make.wheels()],
        "stdlib.zip": [f"{home}/python_stdlib.zip"],
        "pyodide.asm.wasm": [f"{home}/{name}" for name in make.INTERPRETER],
        "pyodide.mjs": [f"{home}/{name}" for name in make.INTERPRETER],
    }
    if not keep:
        for old in folder.glob("*.br"):
            old.unlink()
    for name, body in archives.items():
        say(f"packing {name}")
        path = f"{name}.br"
        small = packed(body)
        (folder / path).write_bytes(small)
        entries[path] = {
            "path": path,
            "sha256": hashlib.sha256(small).hexdigest(),
            "bytes": len(small),
            "of": name,
            "of_sha256": hashlib.sha256(body).hexdigest(),
            "of_bytes": len(body),
            "made_of": made_of[name],
        }
    listed = [entries[path] for path in sorted(entries)]
    (folder / "manifest.json").write_text(json.dumps(listed, indent=2) + "\n", "utf-8")
    script = make.REPO / "web" / "scripts" / "engine_files.js"
    script.write_text(addresses(listed, home), "utf-8")
    for one in listed:
        say(f"{one['path']}: {one['bytes']:,} bytes")


def addresses(listed: "list[dict[str, str]]", home: str) -> str:
    """The script that tells the worker where its files are."""
    from server.engine import address
    from tests.engine.make import REPO

    where = {one["of"]: address(one["of"], one["of_sha256"]) for one in listed}
    lock = json.loads((REPO / "web" / home / "pyodide-lock.json").read_text("utf-8"))
    return f"""\
/** Where the engine's files are, as `python3 -m tests.engine` left them; it writes this file. */

export const HOME = "/{home}/";
export const STDLIB = "{where["stdlib.zip"]}";
export const PACKAGES = "{where["packages.zip"]}";
export const INTERPRETER = "{where["pyodide.asm.wasm"]}";
export const SCRIPT = "{where["pyodide.mjs"]}"; // the interpreter's own, and Pyodide's loader
/** Pyodide's own list of packages, without any: what is needed is in PACKAGES. */
export const LOCK = {json.dumps({"info": lock["info"], "packages": {}})};
"""


if __name__ == "__main__":
    run(engine)
