"""`python3 -m tests` itself: what it runs, in which order, and what stops it."""

import os
import subprocess
import sys

import pytest

from server.launch import REPO
from tests import __main__ as command
from tests import chromium


@pytest.fixture
def run(monkeypatch):
    """Return a function that runs the command with one step failing, and gives its exit code and the steps begun."""
    monkeypatch.setattr(command, "prepare", lambda module, arguments, extras: None)
    monkeypatch.setattr(chromium, "find", lambda whole=False: "/a/whole/browser" if whole else "/a/browser")
    for variable in (chromium.WHOLE, chromium.VARIABLE):
        monkeypatch.setenv(variable, "")

    def go(arguments, failing=None):
        begun = []

        def call(line, cwd):
            assert line[:2] == [sys.executable, "-m"]
            assert os.environ[chromium.VARIABLE] == "/a/browser"
            assert os.environ[chromium.WHOLE] == "/a/whole/browser"
            begun.append(" ".join(line[2:]))
            return 3 if begun[-1] == failing else 0

        monkeypatch.setattr(subprocess, "call", call)
        return command.test(arguments), begun

    return go


#: The whole run is shared between processes; one that names tests is not.
WHOLE = f"pytest -n {min(os.cpu_count() or 1, 4)} --dist loadgroup"


def test_it_checks_format_lint_and_types_and_runs_pytest_last(run):
    assert run([]) == (0, ["ruff format --check", "ruff check", "mypy", WHOLE])


@pytest.mark.parametrize("place", range(4))
def test_it_stops_at_the_first_failure_with_its_code(run, place):
    steps = ["ruff format --check", "ruff check", "mypy", WHOLE]
    assert run([], steps[place]) == (3, steps[: place + 1])


def test_arguments_are_pytests_and_run_pytest_alone(run):
    assert run(["-k", "thermal", "tests/calc"], "pytest -k thermal tests/calc") == (3, ["pytest -k thermal tests/calc"])


def test_a_browser_that_is_none_is_refused():
    environment = {**os.environ, chromium.VARIABLE: sys.executable, chromium.WHOLE: ""}
    line = [sys.executable, "-m", "tests"]
    result = subprocess.run(line, cwd=REPO, env=environment, capture_output=True, encoding="utf-8", timeout=60)
    said = f"{chromium.VARIABLE} names {sys.executable}, which does not open as a Chromium does.\n"
    assert (result.returncode, result.stdout, result.stderr) == (2, "", said)
