"""From a fresh clone to a running server or a test run, with the standard library alone.

`python3 -m server` and `python3 -m tests` come here first. `.venv` at the top of the tree is made, or
repaired, with the exact versions that pyproject.toml pins, and the command goes on inside it. What stands in
the way is said in one line, and the command ends with 2.

An old Python has to be able to read this file, to be told that it is too old: nothing here is newer than the
syntax of 3.6, and what is newer in the library is imported after the version is known.
"""

import contextlib
import hashlib
import importlib.util
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Callable, Iterator, NoReturn, Sequence

REPO = Path(__file__).resolve().parent.parent
VENV = REPO / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
STAMP = VENV / "ready"  # fingerprints of what is wholly installed
UNFINISHED = VENV / "unfinished"  # there while packages are being put in: found later, it tells of an interruption
LOG = VENV / "set-up.log"
LOCK = REPO / ".venv.lock"

OLDEST = (3, 11)
ENTERED = "SWARFBOOK_ENTERED"  # set across the step into .venv, so that a .venv that is none cannot make a circle
NO_NETWORK = re.compile(
    "connection (broken|error)|max retries exceeded|name resolution|getaddrinfo failed|connection refused"
    "|network is unreachable|no route to host|(failed to|could not|cannot) (connect|establish)|timed out|proxyerror",
    re.IGNORECASE,
)


class Stop(Exception):
    """What the user can put right, in one line."""


def say(text: str) -> None:
    print(text, flush=True)


def run(job: "Callable[[list[str]], int]") -> NoReturn:
    """Do a job with the arguments of the command line, and leave with its exit code."""
    try:
        sys.exit(job(sys.argv[1:]))
    except Stop as stop:
        print(stop, file=sys.stderr)
        sys.exit(2)
    except KeyboardInterrupt:
        sys.exit(130)


def check_version(version: "tuple[int, ...]") -> None:
    """Refuse a Python that is older than pyproject.toml allows."""
    if version < OLDEST:
        found = ".".join(str(part) for part in version)
        raise Stop(f"Swarfbook needs Python {OLDEST[0]}.{OLDEST[1]} or newer; this one is {found} ({sys.executable}).")


def pins(extras: "Sequence[str]") -> "list[str]":
    """Return the requirements of pyproject.toml with those of the extras, sorted."""
    import tomllib

    project = tomllib.loads((REPO / "pyproject.toml").read_text("utf-8"))["project"]
    optional = [pin for extra in extras for pin in project["optional-dependencies"][extra]]
    return sorted(project["dependencies"] + optional)


def fingerprint(extras: "Sequence[str]") -> str:
    """Return what changes as soon as another set of packages, or another Python, is wanted."""
    wanted = ["python {}.{}".format(*sys.version_info), *pins(extras)]
    return hashlib.sha256("\n".join(wanted).encode()).hexdigest()


def ready(extras: "Sequence[str]") -> bool:
    """Tell without starting it whether .venv holds everything."""
    try:
        return PYTHON.exists() and (VENV / "pyvenv.cfg").exists() and fingerprint(extras) in STAMP.read_text().split()
    except FileNotFoundError:
        return False


def inside() -> bool:
    return VENV.exists() and VENV.samefile(sys.prefix)


def installed(extras: "Sequence[str]") -> bool:
    """Tell from inside .venv whether every pinned version is there; those for other systems are not asked for."""
    from importlib import metadata

    for pin in pins(extras):
        requirement, _, marker = pin.partition(";")
        name, _, version = requirement.strip().partition("==")
        try:
            if not marker and metadata.version(name) != version:
                return False
        except metadata.PackageNotFoundError:
            return False
    return True


def prepare(module: str, arguments: "Sequence[str]", extras: "Sequence[str]" = ()) -> None:
    """Return inside .venv with everything in place: from elsewhere, set it up and start `module` again in there."""
    check_version(sys.version_info[:3])
    entered = os.environ.pop(ENTERED, None)
    if entered and not inside():
        raise Stop("The Python of .venv does not start as it should: delete .venv and run the same command again.")
    complete = installed if inside() else ready
    if not complete(extras):
        try:
            with alone():
                if not complete(extras):
                    set_up(extras)
        except OSError as error:
            raise Stop(f"Set-up cannot write to {error.filename or REPO}: {error.strerror}.") from error
    if inside():
        return
    command = [str(PYTHON), "-m", module, *arguments]
    os.environ[ENTERED] = "1"
    if os.name == "nt":
        sys.exit(subprocess.call(command))
    os.execv(command[0], command)


@contextlib.contextmanager
def alone() -> "Iterator[None]":
    """Hold the set-up lock; the system lets go of it when the process ends, however it ends."""
    with LOCK.open("a") as handle:
        if sys.platform == "win32":
            import msvcrt

            def take(wait: bool) -> None:
                msvcrt.locking(handle.fileno(), msvcrt.LK_LOCK if wait else msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            def take(wait: bool) -> None:
                fcntl.flock(handle, fcntl.LOCK_EX if wait else fcntl.LOCK_EX | fcntl.LOCK_NB)

        try:
            take(False)
        except OSError:
            say("Another start is setting up; waiting for it.")
            take(True)
        yield


def set_up(extras: "Sequence[str]") -> None:
    """Make .venv if there is none that can be used, and put the pinned packages into it."""
    if not inside() and not usable():
        if not all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
            raise Stop(
                "This Python cannot make environments. On Debian or Ubuntu: apt install python{}.{}-venv"
                " (or python3-venv); then run the same command again.".format(*sys.version_info)
            )
        say("Setting up, once: making .venv")
        made = command_output([sys.executable, "-m", "venv", "--clear", str(VENV)])
        if made.returncode:
            raise Stop(f"Cannot make .venv: {(made.stdout.strip().splitlines() or ['no reason given'])[-1]}")
    wanted = pins(extras)
    say(f"Setting up, once: installing {len(wanted)} packages; what pip says goes to {LOG.relative_to(REPO)}")
    UNFINISHED.touch()
    LOG.unlink(missing_ok=True)
    os.environ.setdefault("PIP_RETRIES", "2")
    pip = [str(PYTHON), "-m", "pip", "install", "--no-deps", "--no-input", "--disable-pip-version-check"]
    result = command_output([*pip, "--log", str(LOG), *wanted])
    with LOG.open("a", encoding="utf-8") as log:
        log.write(result.stdout)
    if result.returncode:
        if NO_NETWORK.search(LOG.read_text("utf-8")):
            UNFINISHED.unlink()  # pip fetches everything before it installs anything
            raise Stop("Set-up needs the network once, and cannot reach it; connect and run the same command again.")
        raise Stop(f"pip could not install the packages; its reasons are at the end of {LOG}")
    part = STAMP.with_suffix(".part")
    part.write_text("\n".join({fingerprint(extras), fingerprint(())}))
    part.replace(STAMP)
    UNFINISHED.unlink()
    say("Set-up is done; the next start needs no network.")


def usable() -> bool:
    """Tell whether .venv was not left half-made, starts, is of this Python's version, and has pip."""
    if UNFINISHED.exists() or not PYTHON.exists():
        return False
    asked = "import sys, pip; print(sys.prefix != sys.base_prefix, *sys.version_info[:2])"
    answer = command_output([str(PYTHON), "-c", asked])
    return answer.stdout.split() == ["True", *(str(part) for part in sys.version_info[:2])]


def command_output(command: "Sequence[str]", **environment: str) -> "subprocess.CompletedProcess[str]":
    """Run a command quietly; one that does not even start has failed, with the reason for its output."""
    try:
        return subprocess.run(
            command,
            env={**os.environ, **environment},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
        )
    except OSError as error:
        return subprocess.CompletedProcess(command, 127, str(error))
