"""With no network: one visit online, then the server is gone and the browser was closed. Everything still answers.

Nothing here waits for time to pass: each step waits for what the page says.
"""

import json
import re

import pytest
from playwright.sync_api import expect

from calc import sheet
from calc.owned import shop_json
from tests.web.conftest import ENGINE, go, settled
from tests.web.owned import edit, own
from tests.web.pages import CALCULATIONS, LEAVE_MEMORY, OLD_MEMORY, UPDATE, another, headline, link, shown

#: What the browser says of itself when nobody answers.
GONE = (
    r"console: Failed to load resource: net::ERR_|console: .*(network error|Failed to fetch|error occurred when fetch)"
)
READY = "Ready offline"
#: Goes to an address as a link on the page does, which keeps the engine running.
FOLLOW = """
(address) => {
  const link = Object.assign(document.createElement("a"), { href: address });
  document.body.append(link);
  link.click();
  link.remove();
}
"""


def fetch_copy(page):
    """Visit online until the copy is whole."""
    go(page, "/")
    expect(page.locator("#standing")).to_have_text(READY, timeout=ENGINE)


def answered(page, text):
    """Wait until the headline is the asked one, whoever computed it."""
    expect(page.locator("#answer .headline")).to_have_text(text, timeout=ENGINE)
    settled(page)


@pytest.fixture
def offline(own_server, profile, watch):
    """A page of a browser that has been here once, was closed, and finds no server any more."""
    watch.allow(GONE)
    own_server.start()
    context = profile(own_server.address)
    fetch_copy(context.new_page())
    context.close()
    own_server.stop()
    return profile(own_server.address).new_page()


def test_every_page_opens_and_every_calculation_answers(offline):
    for name in CALCULATIONS:
        offline.goto(link(name, {}))  # its answer is in the page: no engine is waited for
        expect(offline.locator("#answer .headline")).to_have_text(headline(name, {}))
    go(offline, link("fit", another("fit")))
    for name in CALCULATIONS:
        typed = another(name)
        offline.evaluate(FOLLOW, link(name, typed))
        answered(offline, headline(name, typed))
    go(offline, "/shop")
    expect(offline.locator("#copy-state")).to_contain_text("whole")


def test_the_call_out_line_leads_to_the_page_and_the_link_becomes_a_code(offline):
    go(offline, "/")
    offline.fill("#callout", "30 H7/k6")
    expect(offline.locator(".first-meaning .headline")).to_be_visible(timeout=ENGINE)
    offline.click(".first-meaning > a")
    answered(offline, headline("fit", {"size": "30", "hole": "H7", "shaft": "k6"}))
    offline.click("[data-do=code]")
    expect(offline.locator("dialog svg")).to_be_visible()


def test_what_was_typed_survives_reload_back_and_closing(offline, profile, own_server):
    go(offline, "/c/fit")
    offline.fill("#size", "52,5")
    answered(offline, headline("fit", {"size": "52,5"}))
    expect(offline).to_have_url(re.compile("size=52%2C5"))
    offline.reload()
    answered(offline, headline("fit", {"size": "52,5"}))
    offline.click("a.wordmark")
    expect(offline.locator("#callout")).to_be_visible()
    offline.go_back()
    expect(offline.locator("#size")).to_have_value("52,5")
    offline.context.close()
    later = profile(own_server.address).new_page()
    go(later, "/c/fit")
    expect(later.locator("#size")).to_have_value("52,5")
    answered(later, headline("fit", {"size": "52,5"}))


def test_what_is_mine_is_checked_kept_and_taken(offline):
    go(offline, "/")
    offline.fill("#callout", "30 H7/k6")
    expect(offline.locator(".first-meaning .headline")).to_be_visible(timeout=ENGINE)
    go(offline, "/shop")
    own(offline, "saw", "Band", kerf="2.7 mm")
    edit(offline, "saw", "Band").locator("#kerf").fill("5 kN")
    said = json.loads(shop_json("saw", {"kerf": "5 kN"}))["problems"][0]["message"]
    expect(offline.locator("#kerf-problem")).to_have_text(said, timeout=ENGINE)
    go(offline, "/c/cut_length")
    answered(offline, headline("cut_length", {"kerf": "2.7 mm"}))
    expect(offline.locator("#fold-saw [data-thing-name]")).to_have_text("Band")


def test_a_link_never_shows_the_answer_to_something_else(offline):
    """The page out of the copy was made for its defaults; they stay hidden until the asked answer is there."""
    asked = {"size": "80", "hole": "", "shaft": "f7"}
    offline.goto(link("fit", asked), wait_until="domcontentloaded")
    first = "getComputedStyle(document.querySelector('#answer .headline > *')).visibility"
    assert offline.evaluate(f"'stale' in document.documentElement.dataset && {first} === 'hidden'")
    answered(offline, headline("fit", asked))


#: How often the interpreter was fetched here, and how often it was noted that the answer of the address is there.
COMPILED = "performance.getEntriesByType('resource').filter((one) => one.name.endsWith('.wasm')).length"
MARKED = "performance.getEntriesByName('answered').length"


def test_the_interpreter_is_compiled_once_by_the_page_that_waits_else_by_the_engine(offline):
    for size, refuse, by_engine in (
        ("81", "", 0),
        ("82", "WebAssembly.compileStreaming = async () => { throw new Error('not here'); }", 1),
    ):
        offline.add_init_script(refuse)
        offline.goto(link("fit", {"size": size}))
        answered(offline, headline("fit", {"size": size}))
        (engine,) = offline.workers
        assert (offline.evaluate(COMPILED), engine.evaluate(COMPILED)) == (1, by_engine)
        assert offline.evaluate(MARKED) == 1


def test_a_copy_with_one_wrong_byte_does_not_count_and_the_app_works_online(own_server, profile, watch):
    watch.allow(r"console: ")
    own_server.start("--spoil", "/vendor/manifest.json")
    page = profile(own_server.address).new_page()
    go(page, "/c/fit")
    expect(page.locator("#standing")).to_have_text("Offline copy not fetched", timeout=ENGINE)
    page.fill("#size", "80")
    answered(page, headline("fit", {"size": "80"}))
    assert page.evaluate("navigator.serviceWorker.controller") is None


def test_a_new_version_is_taken_on_a_tap_and_not_before(own_server, profile, watch):
    watch.allow(GONE)
    own_server.start()
    context = profile(own_server.address)
    page, other = context.new_page(), context.new_page()
    fetch_copy(page)
    go(other, "/c/fit")
    old = page.locator("#version").inner_text()
    own_server.stop()
    own_server.start("--set", "templates/bench.html={# another version #}")
    page.evaluate(UPDATE)
    expect(page.locator("#offer")).to_be_visible(timeout=ENGINE)
    page.reload()
    expect(page.locator("#version")).to_have_text(old)
    other.fill("#size", "80")
    answered(other, headline("fit", {"size": "80"}))
    expect(page.locator("#offer button")).to_be_visible(timeout=ENGINE)
    page.evaluate(LEAVE_MEMORY)
    page.click("#offer button")
    expect(page.locator("#version")).not_to_have_text(old)
    assert page.evaluate(OLD_MEMORY) is False
    expect(page.locator("#standing")).to_have_text(READY, timeout=ENGINE)
    expect(other.locator("#size")).to_have_value("80")


def test_the_call_out_shows_the_same_as_the_server_would(offline):
    go(offline, "/")
    offline.fill("#callout", "6206")
    wanted = shown(sheet.callout_sheet("6206"))
    expect(offline.locator("#meanings")).to_have_text(wanted, timeout=ENGINE)
