"""What the measurements share: the server, the page to compare with, the browser, a profile with the offline copy."""

import contextlib
import json
import re
import subprocess
import sys
import tempfile
import urllib.request
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path
from time import monotonic, sleep
from typing import IO, Any
from urllib.parse import quote

from playwright.sync_api import BrowserContext, Playwright, expect, sync_playwright

from server.launch import REPO
from tests import chromium
from tests.bench import plain
from tests.web.conftest import ARGUMENTS, PHONE

PATIENCE = 60_000  # ms for anything that the browser is waited for
LEAST = 3  # samples that are taken however long they take
#: Nothing but this machine can be reached, whatever the browser has in mind.
CLOSED = (*ARGUMENTS, "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1")


class Process:
    """A server of ours in a process of its own, which complains into `said`; started again, it keeps its port."""

    def __init__(self, said: IO[str], *command: str) -> None:
        self._said = said
        self._command = command
        self._running: subprocess.Popen[str] | None = None
        self.port = 0

    def start(self) -> None:
        """Start it unless it runs, and return when it can be asked."""
        if self._running is not None:
            return
        command = [sys.executable, "-m", *self._command, "--port", str(self.port)]
        self._running = subprocess.Popen(command, cwd=REPO, stdout=subprocess.PIPE, stderr=self._said, text=True)
        assert self._running.stdout is not None
        for line in self._running.stdout:
            if found := re.search(r"open at http://127\.0\.0\.1:(\d+)", line):
                self.port = int(found[1])
                return
        self._said.seek(0)
        raise RuntimeError(f"{' '.join(self._command)} ended before it was open: {self._said.read()}")

    def stop(self) -> None:
        if self._running is None:
            return
        self._running.terminate()
        self._running.communicate(timeout=20)
        self._running = None

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def memory(self) -> float:
        """MB of the machine's memory that it holds at this moment."""
        assert self._running is not None
        said = subprocess.run(["ps", "-o", "rss=", "-p", str(self._running.pid)], capture_output=True, check=True)
        return int(said.stdout) / 1000


class Unattended:
    """A browser with nothing attached to it: a page that is watched starts later, waits in front of each worker and
    tells of each request. It answers on `port`.
    """

    def __init__(self, playwright: Playwright, port: int) -> None:
        self._playwright = playwright
        self._port = port

    def open(self, address: str) -> None:
        """Open a page and return at once."""
        self._asked(f"new?{quote(address, safe='')}", "PUT")

    def wait(self, title: str) -> None:
        """Return when the title of a page has `title` in it, looked at seldom; TimeoutError when it never has."""
        for _ in range(PATIENCE // 1000):
            sleep(1)
            if any(title in one["title"] for one in json.loads(self._asked("list"))):
                return
        raise TimeoutError(f"no page was ever titled {title!r}")

    def says(self, address: str, *expressions: str) -> list[Any]:
        """What the page at an address that begins so says to each of them. From here on something is attached."""
        browser = self._playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{self._port}")
        (page,) = (one for one in browser.contexts[0].pages if one.url.startswith(address))
        return [page.evaluate(one) for one in expressions]

    def close(self) -> None:
        browser = self._playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{self._port}")
        browser.new_browser_cdp_session().send("Browser.close")

    def _asked(self, what: str, method: str = "GET") -> str:
        request = urllib.request.Request(f"http://127.0.0.1:{self._port}/json/{what}", method=method)
        with urllib.request.urlopen(request, timeout=PATIENCE / 1000) as reply:
            return reply.read().decode()


class Kit(contextlib.ExitStack):
    """Made when first asked for, put away at the end."""

    def __init__(self, quick: bool) -> None:
        super().__init__()
        self.quick = quick

    def samples(self, few: int, many: int) -> int:
        """How many to take: few in a short run."""
        return few if self.quick else many

    def patience(self, seconds: float) -> float:
        """How many seconds a group may take: after that it makes do with the samples that it has."""
        return seconds / 4 if self.quick else seconds

    @cached_property
    def server(self) -> Process:
        """`python -m server`, running."""
        return self._running("server")

    @cached_property
    def second(self) -> Process:
        """Another `python -m server` beside the first."""
        return self._running("server")

    @cached_property
    def plain(self) -> Process:
        """What is compared with, running: an empty JSON view, and Pyodide as published on a bare page."""
        return self._running("tests.bench.plain")

    def _running(self, *command: str) -> Process:
        said = tempfile.TemporaryFile("w+")  # noqa: SIM115  closed with the kit
        process = Process(self.enter_context(said), *command)
        self.callback(process.stop)
        process.start()
        return process

    @cached_property
    def executable(self) -> str | None:
        return chromium.find(whole=True) or None

    @cached_property
    def playwright(self) -> Playwright:
        return self.enter_context(sync_playwright())

    @cached_property
    def profile(self) -> Path:
        """A profile of the browser in which the offline copy of `server` is whole and the bare page has been opened."""
        folder = Path(self.enter_context(tempfile.TemporaryDirectory(ignore_cleanup_errors=True)))
        with self.opened(folder) as context:
            page = context.new_page()
            page.goto(f"{self.server.address}/")
            page.get_by_text("Ready offline").wait_for()
            page.goto(f"{self.plain.address}/bare")
            expect(page).to_have_title(plain.UP, timeout=PATIENCE)
        return folder

    @contextlib.contextmanager
    def unattended(self, profile: Path) -> Iterator[Unattended]:
        """The browser started anew, with that profile and no Playwright in it."""
        told = profile / "DevToolsActivePort"
        told.unlink(missing_ok=True)
        command = (
            self.executable or self.playwright.chromium.executable_path,
            "--headless=new",
            "--no-sandbox",
            *CLOSED,
            f"--user-data-dir={profile}",
            f"--window-size={PHONE['width']},{PHONE['height']}",
            "--remote-debugging-port=0",
            "about:blank",
        )
        process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            end = monotonic() + PATIENCE / 1000
            while not (told.exists() and told.read_text("utf-8").strip()):
                if monotonic() > end or process.poll() is not None:
                    raise RuntimeError("the browser did not open")
                sleep(0.05)
            browser = Unattended(self.playwright, int(told.read_text("utf-8").split()[0]))
            yield browser
            browser.close()
            process.wait(PATIENCE / 1000)
        finally:
            process.kill()
            process.wait()

    @contextlib.contextmanager
    def opened(self, profile: Path | None = None, script: str = "", *switches: str) -> Iterator[BrowserContext]:
        """The browser started anew, with that profile or an empty one; `script` runs first in every page."""
        with contextlib.ExitStack() as stack:
            folder = profile or stack.enter_context(tempfile.TemporaryDirectory(ignore_cleanup_errors=True))
            options: dict[str, Any] = {
                "executable_path": self.executable,
                "args": (*CLOSED, *switches),
                "viewport": PHONE,
            }
            context = self.playwright.chromium.launch_persistent_context(folder, **options)
            stack.callback(context.close)
            context.set_default_timeout(PATIENCE)
            if script:
                context.add_init_script(script)
            yield context
