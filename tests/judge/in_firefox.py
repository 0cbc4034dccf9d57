"""With no network, in Firefox: one visit online, then the server is gone and the browser was closed.

Run by `python3 -m tests.judge firefox`; what is expected is what tests/web expects of Chromium. An error on the
console, an uncaught exception or a breach of the content security policy fails the test in which it comes up.
"""

import json
import os
import shutil
import signal
import sys
import urllib.error
import urllib.request
from urllib.parse import parse_qs, urlsplit

import pytest
from selenium import webdriver
from selenium.common.exceptions import JavascriptException, StaleElementReferenceException
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.firefox.service import Service
from selenium.webdriver.support.ui import WebDriverWait

from calc import sheet
from calc.owned import shop_json
from tests.judge.firefox import DRIVER, VARIABLE
from tests.web.conftest import Server
from tests.web.pages import CALCULATIONS, another, headline, link, shown

PATIENCE = 90  # s; from nothing to the first answer of the engine, on a machine that does other things
READY = "Ready offline"


class Firefox:
    """A window of a Firefox with that profile; `complaints` is what went wrong in it so far."""

    def __init__(self, profile, origin):
        options = webdriver.FirefoxOptions()
        options.binary_location = os.environ[VARIABLE]
        options.add_argument("-headless")
        options.add_argument("-profile")
        options.add_argument(str(profile))
        options.enable_bidi = True
        options.page_load_strategy = "eager"
        self.driver = webdriver.Firefox(options, Service(os.environ[DRIVER], log_output=os.devnull))
        self.process = self.driver.capabilities["moz:processID"]
        self.complaints = []
        self.origin = origin
        self.driver.script.add_console_message_handler(self._hear)
        self.driver.script.add_javascript_error_handler(self._hear)

    def _hear(self, said):
        if said.level == "error":
            self.complaints.append(said.text)

    def until(self, what, holds):
        """Wait until `holds()`; `what` is said if it never does."""
        leaving = [StaleElementReferenceException, JavascriptException]  # the page was just being left
        waiting = WebDriverWait(self.driver, PATIENCE, 0.05, leaving)
        return waiting.until(lambda _: holds(), what)

    def ask(self, script, *given):
        return self.driver.execute_script(script, *given)

    def go(self, address):
        """Open an address and wait until the page's script has wired it up."""
        self.driver.get(self.origin + address)
        self.opened()

    def opened(self):
        self.until("the page is not wired up", lambda: self.ask("return 'opened' in document.documentElement.dataset"))

    def reload(self):
        """As a person does; the driver's own way goes past the offline copy."""
        self.ask("document.documentElement.dataset.before = 'yes'; location.reload()")
        self.until("it is not loaded", lambda: self.ask("return !('before' in document.documentElement.dataset)"))
        self.opened()

    def one(self, css):
        """The element, once it is there and visible."""
        return self.until(f"no {css} to be seen", lambda: self.seen(css))

    def seen(self, css):
        return next((one for one in self.driver.find_elements(By.CSS_SELECTOR, css) if one.is_displayed()), None)

    def text(self, css):
        """The whole text of the first such element, hidden parts included; None where there is none."""
        return self.ask("return document.querySelector(arguments[0])?.textContent", css)

    def says(self, css, text):
        self.until(f"{css} does not say {text!r}", lambda: self.text(css) == text)

    def value(self, css):
        return self.ask("return document.querySelector(arguments[0]).value", css)

    def fill(self, css, text):
        """Type into a field in the place of what is in it."""
        field = self.one(css)
        field.send_keys(Keys.COMMAND if sys.platform == "darwin" else Keys.CONTROL, "a")
        field.send_keys(text or Keys.DELETE)

    def click(self, css):
        self.one(css).click()

    def answers(self, name, typed):
        """Wait until the answer that is asked for is there, whoever computed it."""
        self.says("#answer .headline", headline(name, typed))
        self.until(
            "the answer stays hidden", lambda: not self.ask("return 'stale' in document.documentElement.dataset")
        )
        assert self.seen("#answer .headline")

    def own(self, sort, name, **typed):
        """Enter a thing of that sort in Shop and wait until it is kept."""
        self.click(f"#own-{sort} [data-do=add]")
        self.fill(f"#{sort}_name", name)
        for field, text in typed.items():
            self.fill(f"#own-{sort} #{field}", text)
        self.click(f"#own-{sort} [data-do=done]")
        self.until("the form stays open", lambda: not self.seen(f"#own-{sort} form"))
        self.until("it is not in the list", lambda: name in self.text(f"#own-{sort} .owned"))

    def close(self):
        self.driver.quit()

    def kill(self):
        """End the browser as a flat battery does."""
        os.kill(self.process, signal.SIGKILL)
        self.driver.service.stop()


@pytest.fixture(scope="module")
def been_here(tmp_path_factory):
    """A profile that has visited once, until the copy was whole, and the server it visited, stopped."""
    server = Server().start()
    profile = tmp_path_factory.mktemp("firefox") / "profile"
    profile.mkdir()
    firefox = Firefox(profile, server.address)
    try:
        firefox.go("/")
        firefox.says("#standing", READY)
        assert firefox.complaints == []
    finally:
        firefox.close()
        server.stop()
    return profile, server


@pytest.fixture
def again(been_here, tmp_path):
    """A function that opens the browser with that profile; called again, with what the last one left in it."""
    visited, server = been_here
    profile = tmp_path / "profile"
    shutil.copytree(visited, profile, ignore=shutil.ignore_patterns("lock", ".parentlock"))
    opened = []

    def make():
        opened.append(Firefox(profile, server.address))
        return opened[-1]

    yield make
    for one in opened:
        one.close()
    assert [text for one in opened for text in one.complaints] == []


@pytest.fixture
def server(been_here):
    """The server that was visited, to be started again."""
    _, server = been_here
    yield server
    server.stop()


@pytest.fixture
def offline(again, server):
    """A window that finds no server any more."""
    with pytest.raises(urllib.error.URLError):
        urllib.request.urlopen(f"{server.address}/healthz")
    return again()


def test_what_goes_wrong_on_a_page_is_heard(again):
    page = again()
    page.go("/")
    page.ask("setTimeout(() => { throw new Error('heard') })")
    page.ask("const one = document.createElement('script'); one.textContent = '1'; document.body.append(one)")
    page.until("neither is heard", lambda: len(page.complaints) == 2)
    assert any("heard" in text for text in page.complaints)
    assert any("Content-Security-Policy" in text for text in page.complaints)
    page.complaints.clear()


def test_every_page_opens_and_every_calculation_answers(offline):
    for name in CALCULATIONS:
        typed = another(name)
        offline.go(link(name, typed))
        offline.answers(name, typed)
    offline.go("/shop")
    offline.until("the copy is not whole", lambda: "whole" in offline.text("#copy-state"))


def test_what_is_typed_is_answered_and_what_is_wrong_is_told(offline):
    offline.go("/c/fit")
    offline.fill("#size", "80")
    offline.answers("fit", {"size": "80"})
    offline.fill("#size", "minus thirty")
    offline.one("#size-problem")
    offline.fill("#size", "52,5")
    offline.answers("fit", {"size": "52,5"})


def test_the_call_out_line_leads_to_the_page_and_the_link_becomes_a_code(offline):
    offline.go("/")
    offline.fill("#callout", "6206")
    offline.says("#meanings", shown(sheet.callout_sheet("6206")))
    offline.fill("#callout", "30 H7/k6")
    offline.says("#meanings", shown(sheet.callout_sheet("30 H7/k6")))
    offline.click(".first-meaning > a")
    offline.answers("fit", {"size": "30", "hole": "H7", "shaft": "k6"})
    offline.click("[data-do=code]")
    offline.one("dialog svg")


def test_what_was_typed_survives_reload_back_and_closing(offline, again):
    def asked():
        return parse_qs(urlsplit(offline.driver.current_url).query).get("size")

    offline.go("/c/fit")
    offline.fill("#size", "52,5")
    offline.answers("fit", {"size": "52,5"})
    offline.until("the address does not follow", lambda: asked() == ["52,5"])
    offline.reload()
    offline.answers("fit", {"size": "52,5"})
    offline.click("a.wordmark")
    offline.one("#callout")
    offline.driver.back()
    offline.until("the size is gone", lambda: offline.seen("#size") and offline.value("#size") == "52,5")
    offline.close()
    later = again()
    later.go("/c/fit")
    later.until("the size is gone", lambda: later.value("#size") == "52,5")
    later.answers("fit", {"size": "52,5"})


def test_what_is_mine_is_checked_kept_and_taken(offline, again):
    offline.go("/shop")
    offline.own("saw", "Band", kerf="2.7 mm")
    offline.click("#own-saw .owned button")
    offline.fill("#own-saw #kerf", "5 kN")
    offline.says("#kerf-problem", json.loads(shop_json("saw", {"kerf": "5 kN"}))["problems"][0]["message"])
    offline.close()
    later = again()
    later.go("/c/cut_length")
    later.answers("cut_length", {"kerf": "2.7 mm"})
    later.says("#fold-saw [data-thing-name]", "Band")


def test_what_is_said_to_be_kept_outlives_a_browser_that_was_killed(offline, again):
    offline.go("/shop")
    offline.own("saw", "Band", kerf="2.7 mm")
    offline.kill()
    later = again()
    later.go("/c/cut_length")
    later.answers("cut_length", {"kerf": "2.7 mm"})
    later.says("#fold-saw [data-thing-name]", "Band")


def test_a_link_never_shows_the_answer_to_something_else(offline):
    """The page out of the copy was made for its defaults; they stay hidden until the asked answer is there."""
    asked = {"size": "80", "hole": "", "shaft": "f7"}
    offline.driver.get(offline.origin + link("fit", asked))
    assert offline.ask("return 'stale' in document.documentElement.dataset")
    first = "document.querySelector('#answer .headline > *')"
    assert offline.ask(f"return getComputedStyle({first}).visibility") == "hidden"
    offline.answers("fit", asked)


def test_a_new_version_is_taken_on_a_tap_and_not_before(again, server):
    server.start("--set", "templates/bench.html={# another version #}")
    page = again()
    page.go("/c/fit")
    old = page.text("#version")
    page.one("#offer button")
    page.reload()
    assert page.text("#version") == old
    page.one("#offer button")
    page.fill("#size", "47")
    page.click("#offer button")
    page.until("the version stays", lambda: page.text("#version") not in (old, None))
    page.says("#standing", READY)
    page.until("the size is gone", lambda: page.value("#size") == "47")
    page.answers("fit", {"size": "47"})


def test_an_update_with_one_wrong_byte_leaves_the_old_version_whole(again, server):
    server.start("--set", "templates/bench.html={# another version #}", "--spoil", "/manifest.webmanifest")
    page = again()
    page.go("/c/fit")
    old = page.text("#version")
    page.ask("return navigator.serviceWorker.getRegistration().then((one) => one.update()).catch(() => {})")
    page.until(
        "it does not give up",
        lambda: page.ask("return navigator.serviceWorker.getRegistration().then((one) => !one.installing)"),
    )
    assert not page.seen("#offer")
    server.stop()
    page.reload()
    page.fill("#size", "80")
    page.answers("fit", {"size": "80"})
    assert page.text("#version") == old


def test_a_withdrawn_copy_goes_and_what_was_typed_stays(again, server):
    server.start("--withdraw")
    page = again()
    page.go("/c/fit")
    page.fill("#size", "47")
    page.answers("fit", {"size": "47"})
    page.says("#standing", "Works online only")
    assert page.ask("return caches.keys()") == []
    page.go("/c/fit")
    assert page.value("#size") == "47"
    page.answers("fit", {"size": "47"})
