"""A Chromium for the tests: one that is there, else Playwright's own, else the distribution's.

Most tests use one without windows where there is one, since its pages open in half the time. What only a whole browser
knows, such as whether the app can be installed, is asked of one.
"""

import os
import shutil
import sys

from server.launch import Stop, command_output, say

VARIABLE = "SWARFBOOK_BROWSER"
WHOLE = "SWARFBOOK_WHOLE_BROWSER"
WINDOWLESS = "chromium-headless-shell"
NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
)
OPEN_AND_CLOSE = """
import sys
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    playwright.chromium.launch(executable_path=sys.argv[1] or None).close()
"""


def find(whole: bool = False) -> str:
    """Return the path of a browser that really opens, fetching one if need be; empty for Playwright's own.

    The variables name one: WHOLE for a whole browser, VARIABLE for the rest, and for both if it alone is there.
    """
    for variable in (WHOLE, VARIABLE) if whole else (VARIABLE,):
        named = os.environ.get(variable)
        if named:
            if opens(named):
                return named
            raise Stop(f"{variable} names {named}, which does not open as a Chromium does.")
    names = NAMES if whole else (WINDOWLESS, *NAMES)
    found = there(*names)
    if found is not None:
        return found
    say("No Chromium or Chrome here: fetching one for the tests")
    command_output([sys.executable, "-m", "playwright", "install", "chromium"])
    if opens(""):
        return ""
    if hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get"):
        say("Installing the distribution's Chromium")
        command_output(["apt-get", "update"])
        for package in (WINDOWLESS, "chromium"):
            command_output(["apt-get", "install", "-y", package], DEBIAN_FRONTEND="noninteractive")
        found = there(*names)
        if found is not None:
            return found
    raise Stop(f"The tests need Chromium or Chrome: install one, or give its path in {VARIABLE}, and run them again.")


def there(*names: str) -> "str | None":
    """Return the first of the names that opens, or Playwright's own if it was fetched before."""
    for name in names:
        path = shutil.which(name)
        if path and opens(path):
            return path
    return "" if opens("") else None


def opens(path: str) -> bool:
    return command_output([sys.executable, "-c", OPEN_AND_CLOSE, path]).returncode == 0
