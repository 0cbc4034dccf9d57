"""What befalls an offline copy: another version, an older one, a broken line, no room, eviction. The app works on.

Each test says what went wrong in its name, and ends with an answer on the screen. Nothing waits for time to pass.
"""

import re

import pytest
from playwright.sync_api import expect

from tests.web.conftest import ENGINE, go
from tests.web.pages import LEAVE_MEMORY, OLD_MEMORY, UPDATE, headline
from tests.web.test_offline import GONE, READY, answered, fetch_copy

ANOTHER = "templates/bench.html={# another version #}"
FILE = "/vendor/manifest.json"
#: The first word to take over goes astray.
ASTRAY = """
const say = ServiceWorker.prototype.postMessage;
let lost = false;
ServiceWorker.prototype.postMessage = function (message, ...others) {
  if (message.take && !lost) lost = true;
  else say.call(this, message, ...others);
};
"""
#: So does every other.
HELD_BACK = ASTRAY.replace("message.take && !lost", "message.take")
NAMES_OF_COPIES = "caches.keys().then((all) => all.filter((one) => /^swarfbook-[0-9a-f]{12}$/.test(one)))"


def standing(page, text):
    expect(page.locator("#standing")).to_have_text(text, timeout=ENGINE)


def still_answers(page, size="80"):
    """The page in front takes another size and shows its answer."""
    if "/c/fit" not in page.url:
        go(page, "/c/fit")
    page.fill("#size", size)
    answered(page, headline("fit", {"size": size}))


@pytest.fixture
def whole(own_server, profile, watch):
    """A page of a browser whose copy is whole, its server running."""
    watch.allow(GONE)
    own_server.start()
    page = profile(own_server.address).new_page()
    fetch_copy(page)
    return page


def test_an_address_that_is_not_in_the_copy_is_told_plainly(whole, own_server):
    own_server.stop()
    whole.goto("/c/cuckoo_clock")
    expect(whole.locator("h1")).to_have_text("Not here without a network")
    whole.click("main a")
    expect(whole.locator("#callout")).to_be_visible()
    still_answers(whole)


def test_a_server_that_was_rolled_back_is_followed_on_a_tap(own_server, profile, watch):
    watch.allow(GONE)
    own_server.start("--set", ANOTHER)
    page = profile(own_server.address).new_page()
    fetch_copy(page)
    newer = page.locator("#version").inner_text()
    own_server.stop()
    own_server.start()
    page.evaluate(UPDATE)
    page.click("#offer button", timeout=ENGINE)
    expect(page.locator("#version")).not_to_have_text(newer, timeout=ENGINE)
    standing(page, READY)
    assert len(page.evaluate(NAMES_OF_COPIES)) == 1
    still_answers(page)


@pytest.mark.parametrize("how", ["--lose", "--cut", "--spoil"])
def test_an_update_that_cannot_be_fetched_whole_leaves_the_old_version_whole(whole, own_server, watch, how):
    watch.allow(r"console: ")
    old = whole.locator("#version").inner_text()
    own_server.stop()
    own_server.start("--set", ANOTHER, how, "/manifest.webmanifest")
    whole.evaluate(UPDATE)
    whole.evaluate(
        "navigator.serviceWorker.getRegistration().then((one) => new Promise((over) => {"
        " const coming = one.installing; if (!coming) over();"
        " else coming.onstatechange = () => coming.state === 'redundant' && over(); }))"
    )
    standing(whole, READY)
    expect(whole.locator("#offer")).to_be_hidden()
    own_server.stop()
    still_answers(whole)
    expect(whole.locator("#version")).to_have_text(old)


def test_a_first_copy_that_broke_off_is_finished_on_the_next_visit(own_server, profile, watch):
    watch.allow(r"console: ")
    own_server.start("--cut", FILE)
    page = profile(own_server.address).new_page()
    go(page, "/")
    standing(page, "Offline copy not fetched")
    still_answers(page)
    own_server.stop()
    own_server.start()
    fetch_copy(page)


def test_a_full_device_is_told_so_and_works_online(own_server, profile, watch):
    watch.allow(r"console: ")
    own_server.start()
    page = profile(own_server.address).new_page()
    devtools = page.context.new_cdp_session(page)
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": own_server.address, "quotaSize": 300_000})
    go(page, "/")
    standing(page, "No room for an offline copy")
    assert page.evaluate(NAMES_OF_COPIES) == []
    still_answers(page)


def test_what_was_evicted_is_fetched_again_and_proved(whole, own_server):
    (name,) = whole.evaluate(NAMES_OF_COPIES)
    whole.evaluate("(name) => caches.open(name).then((copy) => copy.delete('/c/fit'))", name)
    whole.reload()
    standing(whole, READY)
    whole.evaluate("(name) => caches.delete(name)", name)
    whole.reload()
    standing(whole, READY)
    own_server.stop()
    still_answers(whole)


def test_a_reload_past_every_cache_leaves_a_working_app(whole, own_server):
    devtools = whole.context.new_cdp_session(whole)
    with whole.expect_navigation():
        devtools.send("Page.reload", {"ignoreCache": True})
    expect(whole.locator("html[data-opened]")).to_be_attached(timeout=ENGINE)
    assert whole.evaluate("navigator.serviceWorker.controller") is None
    standing(whole, READY)
    still_answers(whole)
    own_server.stop()
    whole.reload()
    still_answers(whole, "52")


def test_every_window_saves_before_another_version_comes_and_is_loaded_once(whole, own_server):
    other = whole.context.new_page()
    go(other, "/c/fit")
    other.evaluate("sessionStorage.setItem('loads', '0')")
    other.add_init_script("sessionStorage.setItem('loads', Number(sessionStorage.getItem('loads')) + 1)")
    old = whole.locator("#version").inner_text()
    own_server.stop()
    own_server.start("--set", ANOTHER)
    whole.evaluate(UPDATE)
    expect(whole.locator("#offer button")).to_be_visible(timeout=ENGINE)
    other.fill("#size", "47")
    whole.click("#offer button")
    for page in (whole, other):
        expect(page.locator("#version")).not_to_have_text(old, timeout=ENGINE)
        standing(page, READY)
    answered(other, headline("fit", {"size": "47"}))
    assert other.evaluate("sessionStorage.getItem('loads')") == "1"


def test_where_the_browser_holds_another_version_back_it_comes_as_on_a_first_visit(whole, own_server):
    """But only while there is a server to come to."""
    whole.add_init_script(HELD_BACK)
    still_answers(whole, "47")
    other = whole.context.new_page()
    go(other, "/shop")
    copies = set(whole.evaluate(NAMES_OF_COPIES))
    old = whole.locator("#version").inner_text()
    own_server.stop()
    own_server.start("--set", ANOTHER)
    whole.evaluate(UPDATE)
    offered = whole.locator("#offer button")
    expect(offered).to_be_visible(timeout=ENGINE)
    own_server.stop()
    with whole.expect_event("requestfailed", lambda asked: asked.url.endswith("/healthz")):
        offered.click()
    expect(whole.locator("#version")).to_have_text(old)
    own_server.start("--set", ANOTHER)
    for page in (whole, other):
        expect(page.locator("#version")).not_to_have_text(old, timeout=ENGINE)
        standing(page, READY)
    expect(whole.locator("#size")).to_have_value("47")
    assert not copies & set(whole.evaluate(NAMES_OF_COPIES))
    own_server.stop()
    still_answers(whole, "48")


def test_a_withdrawn_copy_goes_and_what_was_typed_stays(whole, own_server):
    whole.add_init_script(ASTRAY)
    still_answers(whole, "47")
    expect(whole).to_have_url(re.compile("size=47"))
    whole.evaluate(LEAVE_MEMORY)
    own_server.stop()
    own_server.start("--withdraw")
    whole.evaluate(UPDATE)
    standing(whole, "Works online only")
    whole.goto("/c/fit")
    expect(whole.locator("#size")).to_have_value("47")
    answered(whole, headline("fit", {"size": "47"}))
    assert whole.evaluate(NAMES_OF_COPIES) == []
    assert whole.evaluate(OLD_MEMORY) is False
    own_server.stop()
    own_server.start()
    fetch_copy(whole)


def test_two_windows_of_two_versions_both_answer(whole, own_server):
    """One was loaded past every cache from a newer server, the other is still the old one out of the copy."""
    old = whole.locator("#version").inner_text()
    own_server.stop()
    own_server.start("--set", ANOTHER)
    other = whole.context.new_page()
    go(other, "/")
    devtools = other.context.new_cdp_session(other)
    with other.expect_navigation():
        devtools.send("Page.reload", {"ignoreCache": True})
    expect(other.locator("html[data-opened]")).to_be_attached(timeout=ENGINE)
    expect(other.locator("#version")).not_to_have_text(old)
    still_answers(other)
    still_answers(whole, "52")
    expect(whole.locator("#version")).to_have_text(old)
