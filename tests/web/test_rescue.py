"""When something of the app cannot start: the server answers, or it is said plainly and there are three ways on."""

import json

import pytest
from playwright.sync_api import expect

from tests.web.conftest import ENGINE, go
from tests.web.owned import own
from tests.web.pages import LEAVE_MEMORY, OLD_MEMORY, headline
from tests.web.test_offline import GONE, READY, answered, fetch_copy

ONLINE = "Works online only"
#: What a browser may lack or refuse, as a script before every other.
LACKING = {
    "workers": "delete window.Worker",
    "a worker that starts": "window.Worker = class { constructor() { throw new DOMException('no'); } }",
    **{
        store: f"Object.defineProperty(window, '{store}', {{ get() {{ throw new DOMException('no'); }} }})"
        for store in ("indexedDB", "localStorage")
    },
    "Cache and service workers": "delete window.caches; delete Navigator.prototype.serviceWorker",
}


#: Counts how often the engine could not start.
FAILURES = """
addEventListener("engine", ({ detail }) => {
  const root = document.documentElement;
  if (detail.startsWith("failed")) root.dataset.failures = Number(root.dataset.failures ?? 0) + 1;
});
"""


#: Puts into every copy what a new one does not have.
MARK = """
async () => {
  for (const name of await caches.keys()) await (await caches.open(name)).put("/marked", new Response());
}
"""


@pytest.mark.parametrize("what", LACKING)
def test_without_it_the_server_answers(visit, what):
    page = visit()
    page.add_init_script(LACKING[what])
    go(page, "/c/fit?size=30&hole=H7&shaft=k6")
    page.fill("#size", "80")
    answered(page, headline("fit", {"size": "80", "hole": "H7", "shaft": "k6"}))
    expect(page.locator("#standing")).to_have_text(ONLINE)


def test_an_engine_that_cannot_start_is_told_while_the_server_answers(visit, watch):
    watch.allow(r"console: ")
    page = visit(copy=True)
    page.add_init_script(LACKING["workers"])
    go(page, "/")
    expect(page.locator("#standing")).to_have_text(READY, timeout=ENGINE)
    go(page, "/c/fit")
    page.fill("#size", "80")
    answered(page, headline("fit", {"size": "80"}))
    expect(page.locator("#standing")).to_have_text(ONLINE)


def test_with_no_engine_and_no_server_there_are_three_ways_on(own_server, profile, watch, tmp_path):
    watch.allow(GONE)
    own_server.start()
    page = profile(own_server.address).new_page()
    fetch_copy(page)
    go(page, "/shop")
    own(page, "saw", "Band", kerf="2.7 mm")
    page.evaluate("""async () => {
      for (const name of await caches.keys()) {
        const copy = await caches.open(name);
        for (const one of await copy.keys()) if (one.url.endsWith(".wasm")) await copy.delete(one);
      }
    }""")
    own_server.stop()
    page.add_init_script(FAILURES)
    page.goto("/c/fit?size=47")
    # Started for the question, and once more when the page is idle: both are over before the server is back.
    expect(page.locator("html[data-failures='2']")).to_be_attached(timeout=ENGINE)
    page.evaluate("fetch('/healthz').catch(() => {})")
    stuck = page.get_by_role("alert")
    expect(stuck).to_contain_text("What you typed is kept.", timeout=ENGINE)
    expect(page.locator("#size")).to_have_value("47")
    stuck.get_by_role("button", name="Fetch the offline copy anew").click()
    expect(stuck).to_contain_text("That needs the network")
    with page.expect_download() as coming:
        stuck.get_by_role("button", name="Copy my data out").click()
    coming.value.save_as(tmp_path / "copy.json")
    assert [one["name"] for one in json.loads((tmp_path / "copy.json").read_text("utf-8"))["data"]["shop"]] == ["Band"]
    own_server.start()
    stuck.get_by_role("button", name="Fetch the offline copy anew").click()
    expect(page.locator("#standing")).to_have_text(READY, timeout=ENGINE)
    expect(page.get_by_role("alert")).to_have_count(0)
    answered(page, headline("fit", {"size": "47"}))
    go(page, "/shop")
    expect(page.locator("#own-saw .owned")).to_contain_text("Band")


@pytest.mark.parametrize("script", ["main.js", "calculation.js"])
def test_an_app_whose_scripts_do_not_come_says_so(page, watch, script):
    watch.allow(r"console: Failed to load resource", "exception: .*calculation.js")
    page.clock.install()
    page.route(f"**/scripts/{script}", lambda route: route.abort())
    page.goto("/c/fit")
    page.clock.fast_forward(15_000)
    expect(page.get_by_role("alert")).to_contain_text("The app has not started on this device.")
    page.unroute(f"**/scripts/{script}")
    page.get_by_role("button", name="Try again").click()
    expect(page.locator("html[data-opened]")).to_be_attached(timeout=ENGINE)
    expect(page.get_by_role("alert")).to_have_count(0)


def test_the_copy_is_fetched_anew_from_the_shop_and_what_is_mine_stays(own_server, profile, watch):
    watch.allow(GONE)
    own_server.start()
    page = profile(own_server.address).new_page()
    fetch_copy(page)
    go(page, "/shop")
    own(page, "saw", "Band", kerf="2.7 mm")
    page.evaluate(LEAVE_MEMORY)
    page.evaluate(MARK)
    with page.expect_navigation():
        page.get_by_role("button", name="Fetch the copy anew").click()
    expect(page.locator("#standing")).to_have_text(READY, timeout=ENGINE)
    assert page.evaluate("caches.match('/marked').then((one) => one === undefined)")
    assert page.evaluate(OLD_MEMORY) is False
    expect(page.locator("#own-saw .owned")).to_contain_text("Band")
