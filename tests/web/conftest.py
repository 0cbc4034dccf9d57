"""A real server process, one browser for all tests, and pages that forgive nothing.

Every context that a test opens is watched: an error on the console, an uncaught exception, a breach of the content
security policy or a request to another origin fails the test at its end, unless the test said `watch.allow(...)`.
"""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import expect, sync_playwright

from tests import chromium

REPO = Path(__file__).parents[2]
PHONE = {"width": 390, "height": 844}
PATIENCE = 20_000  # ms; two busy cores share everything
ENGINE = 90_000  # ms; from nothing to the first answer of the engine, on a machine that does other things
ARGUMENTS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


class Server:
    """A server in a process of its own. It keeps its port when it is started again, so that links stay good."""

    def __init__(self):
        self.port = 0
        self._process = None

    def start(self, *other):
        """Start `python -m server`, or with arguments tests.web.other_server with them; returns when it answers."""
        module = "tests.web.other_server" if other else "server"
        command = [sys.executable, "-m", module, "--port", str(self.port), *other]
        self._process = subprocess.Popen(command, cwd=REPO, stdout=subprocess.PIPE, text=True)
        for line in self._process.stdout:
            found = re.search(r"open at http://127\.0\.0\.1:(\d+)", line)
            if found:
                self.port = int(found[1])
                return self
        self.stop()
        raise AssertionError(f"{' '.join(command[1:])} ended before it was open")

    def stop(self):
        """End the process and wait until it is gone."""
        if self._process:
            self._process.terminate()
            self._process.wait(timeout=20)
            self._process.stdout.close()
            self._process = None

    @property
    def address(self):
        return f"http://127.0.0.1:{self.port}"


class Watch:
    """What went wrong in the contexts of one test."""

    def __init__(self):
        self._complaints = []
        self._allowed = []

    def allow(self, *patterns):
        """Complaints that match one of these belong to the test."""
        self._allowed += patterns

    def over(self, context, origin):
        """Watch every page of `context`, which has business with `origin` only."""
        context.on("console", self._hear)
        context.on("weberror", lambda problem: self._complain(f"exception: {problem.error}"))
        context.on("request", lambda asked: self._check(asked.url, origin))
        context.add_init_script(
            "addEventListener('securitypolicyviolation', (one) =>"
            " console.error(`policy: ${one.violatedDirective} ${one.blockedURI} ${one.sourceFile}`))"
        )

    def _hear(self, said):
        if said.type == "error":
            self._complain(f"console: {said.text} {said.location['url']}")

    def _check(self, url, origin):
        if not url.startswith((f"{origin}/", "data:", "blob:")):
            self._complain(f"request to {url}")

    def _complain(self, text):
        self._complaints.append(text)

    @property
    def complaints(self):
        return [one for one in self._complaints if not any(re.search(pattern, one) for pattern in self._allowed)]


@pytest.fixture(scope="session")
def server():
    """The server as its owner starts it, running for all tests. Start a `Server()` of your own to stop one."""
    shared = Server().start()
    yield shared
    shared.stop()


@pytest.fixture
def own_server():
    """A server of the test's own, not started yet."""
    own = Server()
    yield own
    own.stop()


@pytest.fixture(scope="session")
def playwright():
    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def executable():
    """Path of the browser; None for Playwright's own."""
    return (os.environ.get(chromium.VARIABLE) or chromium.find()) or None


@pytest.fixture(scope="session")
def browser(playwright, executable):
    shared = playwright.chromium.launch(executable_path=executable, args=ARGUMENTS)
    yield shared
    shared.close()


@pytest.fixture
def watch():
    return Watch()


@pytest.fixture
def visit(browser, server, watch):
    """A function that opens a page in a context of its own: visit(), visit(color_scheme="dark"), visit(copy=True).

    Another browser than the one of all tests may be given first.

    Unless a `copy` is asked for, the window is one that knows no service worker (a private one, in some browsers):
    fetching the whole offline copy for every test would take longer than the tests.
    """
    contexts = []

    def make(other=None, *, copy=False, **options):
        given = {"base_url": server.address, "viewport": PHONE, **options}
        context = (other or browser).new_context(**given)
        context.set_default_timeout(PATIENCE)
        watch.over(context, given["base_url"])
        if not copy:
            context.add_init_script("delete Navigator.prototype.serviceWorker")
        contexts.append(context)
        return context.new_page()

    yield make
    for context in contexts:
        context.close()
    assert watch.complaints == []


@pytest.fixture
def page(visit):
    """A phone's page, not gone anywhere yet."""
    return visit()


@pytest.fixture
def profile(playwright, executable, watch, tmp_path):
    """A function that opens the browser with a profile that outlives it: close the context, call again, all is kept."""
    contexts = []

    def make(address, **options):
        context = playwright.chromium.launch_persistent_context(
            tmp_path / "profile",
            executable_path=executable,
            args=ARGUMENTS,
            base_url=address,
            viewport=PHONE,
            **options,
        )
        context.set_default_timeout(PATIENCE)
        watch.over(context, address)
        contexts.append(context)
        return context

    yield make
    for context in contexts:
        context.close()
    assert watch.complaints == []


def go(page, address):
    """Open an address and wait until the page's script has wired it up."""
    page.goto(address)
    expect(page.locator("html[data-opened]")).to_be_attached(timeout=ENGINE)  # offline it waits for the engine


def settled(page):
    """Wait until the answer that is asked for is there."""
    expect(page.locator("html:not([data-stale]) #answer .headline")).to_be_visible()
    expect(page.locator(".behind, [aria-busy]")).to_have_count(0)


def scripts(page, origin=""):
    """Where the server that `page` belongs to has the app's scripts: "/v/<version>/scripts/"."""
    return re.search(r'src="([^"]+)main\.js"', page.request.get(f"{origin}/shop").text())[1]
