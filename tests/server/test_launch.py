"""Set-up and start, on copies of the launcher that install from the vendored wheels and never see a network."""

import ast
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
import tomllib
import urllib.request
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from server import __main__ as serving
from server import launch

REPO = Path(__file__).parents[2]
WHEELS = REPO / "web" / "vendor" / "wheels"
PROJECT = tomllib.loads((REPO / "pyproject.toml").read_text("utf-8"))["project"]
PINS = (*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["test"])
SEGNO, TYPING = (next(pin for pin in PINS if pin.startswith(name)) for name in ("segno", "typing_extensions"))

PYPROJECT = """
[project]
dependencies = ["{pin}"]
[project.optional-dependencies]
test = ["{extra}"]
"""
# Stands in for the real commands: set up, then show what is there.
MAIN = """
import sys
from server import launch

def show(arguments):
    launch.prepare("server", arguments, arguments)
    import segno
    print("in", sys.prefix, "with", segno.__version__)
    return 0

launch.run(show)
"""


def environment(**more):
    """Without pip's settings of this machine, and with nowhere to go but the vendored wheels."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PIP_", "SWARFBOOK_"))}
    offline = {
        "PIP_CONFIG_FILE": os.devnull,
        "PIP_NO_INDEX": "1",
        "PIP_FIND_LINKS": WHEELS.as_uri(),
        "PIP_RETRIES": "0",
    }
    return {**kept, **offline, **more}


def begin(clone, *arguments, **more):
    command = [sys.executable, "-m", "server", *arguments]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "encoding": "utf-8"}
    return subprocess.Popen(command, cwd=clone, env=environment(**more), **pipes)


def end(process):
    out, err = process.communicate(timeout=120)
    return process.returncode, out, err


def start(clone, *arguments, **more):
    return end(begin(clone, *arguments, **more))


def pin(clone, requirement, extra=TYPING):
    (clone / "pyproject.toml").write_text(PYPROJECT.format(pin=requirement, extra=extra))


def answer_of(clone):
    return f"in {clone / '.venv'} with {SEGNO.partition('==')[2]}\n"


@pytest.fixture(scope="module")
def first_starts(tmp_path_factory):
    """A fresh clone, and what two starts at the same moment made of it."""
    clone = tmp_path_factory.mktemp("first") / "clone"
    (clone / "server").mkdir(parents=True)
    for name in ("__init__.py", "launch.py"):
        shutil.copy(REPO / "server" / name, clone / "server")
    (clone / "server" / "__main__.py").write_text(MAIN)
    pin(clone, SEGNO)
    both = [begin(clone), begin(clone)]
    return clone, [end(process) for process in both]


@pytest.fixture
def clone(first_starts, tmp_path):
    """A clone of its own for each test, already set up."""
    return shutil.copytree(first_starts[0], tmp_path / "clone", symlinks=True)


def test_two_first_starts_at_once_both_succeed_and_one_installs(first_starts):
    clone, results = first_starts
    for code, out, err in results:
        assert (code, err) == (0, "")
        assert out.endswith(answer_of(clone))
    assert sum(out.count("installing 1 packages") for _, out, _ in results) == 1


def test_the_next_start_says_nothing_and_asks_pip_for_nothing(clone):
    assert start(clone, PIP_FIND_LINKS="file:///nowhere") == (0, answer_of(clone), "")


def test_extras_are_installed_when_they_are_asked_for_and_leave_the_rest_ready(clone):
    code, out, err = start(clone, "test")
    assert (code, err) == (0, "")
    assert "installing 2 packages" in out
    assert start(clone, "test") == start(clone) == (0, answer_of(clone), "")


def leave_half_made(clone):
    (clone / ".venv" / "ready").unlink()
    (clone / ".venv" / "unfinished").touch()


def lose_the_python(clone):
    for path in (clone / ".venv" / "bin").glob("python*"):
        path.unlink()
    (clone / ".venv" / "bin" / "python").symlink_to("/no/such/python")


@pytest.mark.parametrize("harm", [leave_half_made, lose_the_python])
def test_an_environment_that_cannot_be_used_is_made_anew(clone, harm):
    harm(clone)
    code, out, err = start(clone)
    assert (code, err) == (0, "")
    assert "making .venv" in out
    assert out.endswith(answer_of(clone))
    assert not (clone / ".venv" / "unfinished").exists()


def test_a_package_that_went_missing_is_put_back(clone):
    (packages,) = (clone / ".venv" / "lib").glob("*/site-packages")
    for path in packages.glob("segno*"):
        shutil.rmtree(path)
    code, out, err = start(clone)
    assert (code, err) == (0, "")
    assert "making .venv" not in out
    assert out.endswith(answer_of(clone))


def test_without_a_network_it_says_so_and_what_was_ready_stays_ready(clone):
    pin(clone, "flask==3.1.3")
    code, _, err = start(clone, PIP_NO_INDEX="0", PIP_INDEX_URL="http://127.0.0.1:9/")
    assert code == 2
    assert err == "Set-up needs the network once, and cannot reach it; connect and run the same command again.\n"
    pin(clone, SEGNO)
    assert start(clone) == (0, answer_of(clone), "")


def test_another_failure_of_pip_names_the_log(clone):
    pin(clone, "segno==0.0.0")
    code, _, err = start(clone)
    log = clone / ".venv" / "set-up.log"
    assert (code, err) == (2, f"pip could not install the packages; its reasons are at the end of {log}\n")
    assert "segno==0.0.0" in log.read_text("utf-8")


def test_a_python_without_venv_names_the_package_to_install(clone):
    shutil.rmtree(clone / ".venv")
    hide = "import runpy, sys; sys.modules['ensurepip'] = None; runpy.run_module('server', run_name='__main__')"
    command = [sys.executable, "-c", hide]
    result = subprocess.run(command, cwd=clone, env=environment(), capture_output=True, encoding="utf-8", timeout=60)
    assert (result.returncode, result.stdout, result.stderr.count("\n")) == (2, "", 1)
    assert "apt install python{}.{}-venv (or python3-venv)".format(*sys.version_info) in result.stderr


def test_an_environment_that_is_none_cannot_make_a_circle(clone):
    code, out, err = start(clone, SWARFBOOK_ENTERED="1")
    assert (code, out) == (2, "")
    assert err == "The Python of .venv does not start as it should: delete .venv and run the same command again.\n"


@pytest.mark.parametrize("version", [(3, 6, 9), (3, 10, 13)])
def test_an_old_python_is_told_its_version_and_the_one_needed(version):
    with pytest.raises(launch.Stop) as stop:
        launch.check_version(version)
    assert re.match(
        rf"Swarfbook needs Python 3\.11 or newer; this one is {'.'.join(map(str, version))} ", str(stop.value)
    )


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 14, 2), (4, 0, 0)])
def test_a_new_enough_python_goes_on(version):
    launch.check_version(version)
    assert f">={launch.OLDEST[0]}.{launch.OLDEST[1]}" == PROJECT["requires-python"]


@pytest.mark.parametrize(
    "name",
    [
        *("server/__init__.py", "server/__main__.py", "server/launch.py"),
        *("tests/__init__.py", "tests/__main__.py", "tests/chromium.py"),
    ],
)
def test_an_old_python_can_read_as_far_as_its_refusal(name):
    ast.parse((REPO / name).read_text("utf-8"), feature_version=(3, 6))


def test_every_pin_is_exact_and_named_once():
    assert launch.pins(["test"]) == sorted(PINS)
    inexact = [pin for pin in PINS if not re.fullmatch(r"[a-z0-9_]+==\d+(\.\d+)*(; sys_platform == '\w+')?", pin)]
    assert inexact == []
    names = [canonicalize_name(Requirement(pin).name) for pin in PINS]
    assert len(names) == len(set(names))


def test_nothing_unpinned_is_installed_and_nothing_asked_for_is_missing():
    wanted = [Requirement(pin) for pin in PINS]
    pinned = {canonicalize_name(one.name) for one in wanted if one.marker is None or one.marker.evaluate()}
    there = {canonicalize_name(one.name) for one in metadata.distributions(path=sys.path)}
    assert there - {"pip", "setuptools"} == pinned
    check = subprocess.run([sys.executable, "-m", "pip", "check"], capture_output=True, encoding="utf-8", timeout=60)
    assert (check.returncode, check.stderr) == (0, ""), check.stdout


def test_a_taken_port_is_named_and_another_suggested():
    with socket.create_server(("127.0.0.1", 0)) as holder:
        port = str(holder.getsockname()[1])
        code, out, err = start(REPO, "--port", port)
    assert (code, out) == (2, "")
    assert err == f"Port {port} is taken: stop what uses it, or choose another with --port.\n"


@pytest.mark.parametrize(
    ("arguments", "remedy"),
    [
        (["--port", "65536"], "65536 is not a port: 0 to 65535"),
        (["--port", "x"], "x is not a port: 0 to 65535"),
        (["--speed", "9"], "unrecognized arguments: --speed 9"),
        (["--host", "no such name"], "'no such name' is no address of this machine"),
        (["--host", "192.0.2.1"], "Cannot listen on 192.0.2.1: "),  # RFC 5737: nobody's address
    ],
)
def test_wrong_arguments_end_with_2_and_say_why(arguments, remedy):
    code, out, err = start(REPO, *arguments)
    assert (code, out) == (2, "")
    assert remedy in err
    assert "Traceback" not in err


@pytest.mark.parametrize(
    ("host", "shown"),
    [
        ("127.0.0.1", "http://127.0.0.1:8137"),
        ("::1", "http://[::1]:8137"),
        ("::", "http://[::1]:8137"),
        ("0.0.0.0", f"http://127.0.0.1:8137, from other machines at http://{serving.outward()}:8137"),
    ],
)
def test_the_address_shown_is_one_that_a_browser_opens(host, shown):
    assert serving.addresses(host, 8137) == shown


def test_it_serves_past_slow_clients_until_it_is_interrupted():
    process = begin(REPO, "--port", "0", PYTHONUNBUFFERED="1")
    slow = []
    try:
        line = process.stdout.readline()
        found = re.fullmatch(r"Swarfbook is open at (http://127\.0\.0\.1:(\d+))  \(Ctrl\+C stops it\)\n", line)
        assert found, line + process.stderr.read()
        for _ in range(2 * serving.WAITRESS["threads"]):
            slow.append(socket.create_connection(("127.0.0.1", int(found[2]))))
            slow[-1].sendall(b"GET /healthz HTTP/1.1\r\nHost: ")
        before = time.monotonic()
        with urllib.request.urlopen(found[1] + "/healthz", timeout=20) as response:
            assert response.status == 200
        assert time.monotonic() - before < serving.WAITRESS["channel_timeout"]
        process.send_signal(signal.SIGINT)
        assert end(process) == (0, "", "")
    finally:
        for one in slow:
            one.close()
        process.kill()
        process.wait()
