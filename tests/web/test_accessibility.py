"""For who does not see the screen, does not touch it, or sees it in bad light: axe-core, contrast, keyboard, speech."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from calc import sheet
from tests.web import pages
from tests.web.conftest import go, settled

(AXE,) = (Path(__file__).parents[1] / "vendor").glob("axe-core-*/axe.min.js")
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
#: Rules that are off by default, or belong to a level above: 48 px are measured elsewhere, 7:1 is our own bar.
MORE = ("target-size", "color-contrast-enhanced")
RUN = """
(settings) => axe.run(document, settings).then(({ violations, passes, inapplicable, incomplete }) => ({
  ran: [...violations, ...passes, ...inapplicable, ...incomplete].map((one) => one.id),
  wrong: violations.map((one) => `${one.id}, ${one.help}: ${one.nodes.map((node) => node.target).join(", ")}`),
}))
"""
PROBES = Path(__file__).with_name("probes.js").read_text("utf-8")
CONTRAST = f"() => ({PROBES}).contrast(7)"
RINGED = f"() => ({PROBES}).ringed(document.activeElement)"


def violations(page):
    """What axe-core and our own measure of contrast find on the page as it stands."""
    page.evaluate(AXE.read_text("utf-8"))
    settings = {"runOnly": {"type": "tag", "values": TAGS}, "rules": {name: {"enabled": True} for name in MORE}}
    said = page.evaluate(RUN, settings)
    assert set(MORE) <= set(said["ran"])
    return said["wrong"] + page.evaluate(CONTRAST)


def unfold(page):
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    page.evaluate("for (const one of document.querySelectorAll('.help')) one.hidden = false")


@pytest.mark.parametrize("address", pages.ALL)
def test_nothing_is_found_on_any_page(visit, watch, address):
    watch.allow(pages.STATUS)
    page = visit(reduced_motion="reduce")
    go(page, address)
    unfold(page)
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        assert violations(page) == [], scheme


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_light_chosen_by_hand_is_as_good_as_that_of_the_system(visit, scheme):
    page = visit(color_scheme="dark" if scheme == "light" else "light")
    page.add_init_script(f"localStorage.setItem('light', '{scheme}')")
    go(page, "/c/fit?size=30")
    unfold(page)
    brightness = page.locator("body").evaluate("(one) => getComputedStyle(one).backgroundColor")
    assert (sum(int(part) for part in brightness.strip("rgb()").split(",")) > 384) == (scheme == "light")
    assert violations(page) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_is_found_in_what_opens_and_what_goes_wrong(visit, scheme):
    page = visit(color_scheme=scheme, reduced_motion="reduce")
    go(page, "/c/fit")
    page.locator("#size").fill("minus thirty")
    expect(page.locator("#size-problem")).to_be_visible()
    assert violations(page) == []
    page.locator("#size").fill("30")
    settled(page)
    page.get_by_role("button", name="Pin").click()
    expect(page.get_by_role("button", name="Pinned")).to_be_visible()
    page.get_by_role("button", name="QR code").click()
    expect(page.locator("dialog svg")).to_be_visible()
    assert violations(page) == []
    go(page, "/")
    expect(page.locator("#pinned a")).to_be_visible()
    assert violations(page) == []


#: The controls of the page in the order of the document: of radio buttons the chosen one, of what is folded nothing.
CONTROLS = """
() => [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")]
  .filter((one) => one.checkVisibility({ visibilityProperty: true }) && !one.disabled)
  .filter((one) => one.type !== "radio" || one.checked)
  .map((one, place) => (one.dataset.place = String(place)))
"""


@pytest.mark.parametrize("name", pages.CALCULATIONS)
def test_tab_reaches_every_control_in_order_and_back(page, name):
    go(page, f"/c/{name}")
    settled(page)
    places = page.evaluate(CONTROLS)
    assert len(places) > 10
    for key, expected in (("Tab", places), ("Shift+Tab", places[-2::-1])):
        reached = []
        for _ in expected:
            page.keyboard.press(key)
            reached.append(page.evaluate("document.activeElement.dataset.place"))
        assert reached == expected, key


def test_what_has_the_focus_is_ringed(page):
    """Every control that Tab reaches shows it: an outline, or the ring of the cell that it stands in."""
    go(page, "/c/fit")
    unringed = []
    for _ in page.evaluate(CONTROLS):
        page.keyboard.press("Tab")
        unringed += page.evaluate(RINGED)
    assert unringed == []


def test_enter_moves_on_from_field_to_field(page):
    go(page, "/c/fit")
    page.locator("#size").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#hole")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#shaft")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#inputs :focus")).to_have_count(0)
    assert page.url.endswith("/c/fit")


def test_the_code_is_opened_and_closed_by_keyboard(page):
    go(page, "/c/fit")
    button = page.get_by_role("button", name="QR code")
    button.focus()
    page.keyboard.press("Enter")
    expect(page.locator("dialog#code svg")).to_be_visible()
    assert page.evaluate("document.activeElement.closest('dialog') !== null")
    page.keyboard.press("Escape")
    expect(page.locator("dialog#code")).to_be_hidden()
    expect(button).to_be_focused()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Close").press("Enter")
    expect(page.locator("dialog#code")).to_be_hidden()
    expect(button).to_be_focused()


def test_help_opens_and_closes_by_keyboard(page):
    go(page, "/c/fit")
    ask = page.get_by_role("button", name="About", exact=False).first
    ask.press("Enter")
    expect(ask).to_have_attribute("aria-expanded", "true")
    expect(page.locator(f"#{ask.get_attribute('aria-controls')}")).to_be_visible()
    ask.press(" ")
    expect(ask).to_have_attribute("aria-expanded", "false")


def test_the_skip_link_leads_to_the_content_and_leaves_it_as_it_is(page):
    go(page, "/c/fit")
    page.locator("#size").fill("31")
    settled(page)
    page.evaluate("document.querySelector('main').dataset.same = 'yes'")
    page.locator(".skip").press("Enter")
    expect(page.locator("main[data-same]")).to_be_focused()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('main') !== null")
    expect(page.locator("#size")).to_have_value("31")


def test_the_answer_is_spoken_once_typing_has_come_to_rest(page):
    go(page, "/c/fit")
    spoken = page.locator("#spoken[aria-live=polite]")
    expect(spoken).to_have_text("")
    page.locator("#size").press("End")
    page.locator("#size").press_sequentially("5")
    expect(spoken).to_have_text(sheet.parts("fit", {"size": "305"})["spoken"])
    page.locator("#size").fill("-30")
    expect(spoken).to_contain_text("No answer.")


def test_the_meaning_of_a_call_out_is_spoken_too(page):
    go(page, "/")
    page.get_by_label("As on the drawing").press_sequentially("30 H7/k6")
    expect(page.locator("#spoken")).to_contain_text("Hole, upper limit 30.021 mm")


def test_going_to_another_page_moves_the_focus_and_the_title_there(page):
    go(page, "/")
    page.locator("a[href='/c/fit']").press("Enter")
    expect(page.locator("main[data-page=calculation]")).to_be_focused()
    expect(page).to_have_title(sheet.preview("fit", {})[0] + " · Swarfbook")
    page.get_by_role("navigation", name="Places").get_by_role("link", name="Shop").press("Enter")
    expect(page.locator("main[data-page=shop]")).to_be_focused()
    expect(page).to_have_title("Shop · Swarfbook")
    expect(page.locator(".top [aria-current=page]")).to_have_text("Shop")
