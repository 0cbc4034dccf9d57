"""`python3 -m tests`: set up if need be, then check format, lint and types, and run every test.

Arguments are pytest's own, and with any of them pytest alone is run: `python3 -m tests -k thermal`.
"""

import os
import subprocess
import sys

from server.launch import REPO, prepare, run
from tests import chromium

CHECKS = (("ruff", "format", "--check"), ("ruff", "check"), ("mypy",))


def test(arguments: "list[str]") -> int:
    prepare("tests", arguments, ["test"])
    whole, browser = chromium.find(whole=True), chromium.find()
    os.environ.update({chromium.WHOLE: whole, chromium.VARIABLE: browser})
    for check in () if arguments else CHECKS:
        code = subprocess.call([sys.executable, "-m", *check], cwd=str(REPO))
        if code:
            return code
    shared = arguments or ["-n", str(min(os.cpu_count() or 1, 4)), "--dist", "loadgroup"]
    return subprocess.call([sys.executable, "-m", "pytest", *shared], cwd=None if arguments else str(REPO))


if __name__ == "__main__":
    run(test)
