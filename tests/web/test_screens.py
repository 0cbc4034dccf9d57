"""Every page on every size of screen: nothing sideways, nothing too small to touch or read, the answer in sight."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.web import pages
from tests.web.conftest import ARGUMENTS, go, settled

SIZES = {"phone": (390, 844), "desk": (1280, 800), "smallest": (320, 640), "small": (360, 740)}
KEYBOARD_UP = {"width": 390, "height": 480}
SCHEMES = ("light", "dark")

PROBES = Path(__file__).with_name("probes.js").read_text("utf-8")
#: What is wrong with the page as it lies, in words; [] when nothing is.
LOOK = f"() => ({PROBES}).look()"
#: With this field in focus: what of the answer and of the field cannot be seen, in words.
SEEN = f"(field) => ({PROBES}).seen(field)"


def unfold(page):
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    page.evaluate("for (const one of document.querySelectorAll('.help')) one.hidden = false")


def wrong_at(page, **sizes):
    found = {}
    for name, (width, height) in sizes.items():
        page.set_viewport_size({"width": width, "height": height})
        found |= {name: said} if (said := page.evaluate(LOOK)) else {}
    return found


@pytest.mark.parametrize("address", pages.ALL)
def test_nothing_is_sideways_or_too_small_on_any_screen(page, watch, address):
    watch.allow(pages.STATUS)
    go(page, address)
    unfold(page)
    for scheme in SCHEMES:
        page.emulate_media(color_scheme=scheme)
        assert wrong_at(page, **SIZES) == {}, scheme


def test_a_reading_in_inches_stands_as_large(visit):
    page = visit()
    page.add_init_script("localStorage.setItem('units', 'inch')")
    for name in pages.CALCULATIONS:
        go(page, f"/c/{name}")
        unfold(page)
        assert wrong_at(page, **SIZES) == {}, name


def test_what_opens_over_the_page_is_large_enough_too(page):
    go(page, "/c/fit")
    page.get_by_role("button", name="QR code").click()
    expect(page.locator("dialog svg")).to_be_visible()
    assert wrong_at(page, **SIZES) == {}
    page.keyboard.press("Escape")
    page.locator(".skip").focus()
    assert wrong_at(page, **SIZES) == {}


@pytest.mark.parametrize("name", pages.CALCULATIONS)
def test_the_answer_and_the_field_are_in_sight_with_the_keyboard_up(page, name):
    page.set_viewport_size(KEYBOARD_UP)
    go(page, f"/c/{name}")
    settled(page)
    unfold(page)
    found = {}
    fields = page.locator("#inputs :is(input, select, textarea):not(.beside, [hidden])")
    assert fields.count() > 1
    for downwards in (True, False):
        for place in range(fields.count()) if downwards else reversed(range(fields.count())):
            field = fields.nth(place)
            field.focus()
            if said := field.evaluate(SEEN):
                found[field.get_attribute("name")] = said
    assert found == {}


@pytest.fixture(scope="module")
def large_print(playwright, executable):
    """A browser whose reader has asked for text of twice the usual size."""
    browser = playwright.chromium.launch(
        executable_path=executable, args=(*ARGUMENTS, "--blink-settings=defaultFontSize=32")
    )
    yield browser
    browser.close()


@pytest.mark.parametrize("address", pages.ALL)
def test_twice_the_size_reflows(visit, watch, large_print, address):
    """WCAG 2.2, 1.4.4 and 1.4.10: text alone twice as large on a phone, the whole page twice as large at a desk."""
    watch.allow(pages.STATUS)
    page = visit(large_print)
    go(page, address)
    unfold(page)
    assert page.locator("html").evaluate("(one) => getComputedStyle(one).fontSize") == "32px"
    assert wrong_at(page, phone=SIZES["phone"]) == {}
    page = visit()
    go(page, address)
    unfold(page)
    assert wrong_at(page, desk=(640, 400)) == {}


def test_forced_colours_and_reduced_motion(visit, watch):
    watch.allow(pages.STATUS)
    page = visit(forced_colors="active", reduced_motion="reduce")
    for address in pages.ALL:
        go(page, address)
        expect(page.locator("main")).to_be_visible()
        unfold(page)
        assert page.evaluate(LOOK) == [], address
    go(page, "/c/fit?size=30")
    page.locator("#size").fill("31")
    expect(page.locator("#answer")).to_contain_text("31.025")  # ISO 286-1:2010 table 2: H7 of 30 to 50 mm is +25 µm
    assert page.evaluate("document.getAnimations().length") == 0


#: Fields that show a unit beside a text which says one itself.
UNITS_TWICE = """
[...document.querySelectorAll("#inputs .field:has(> :is(.unit, .fixed))")]
  .filter((field) => /\\d *[a-zµ]/.test(field.querySelector("input, textarea").value))
  .filter((field) => field.querySelector(".unit, .fixed").checkVisibility())
  .map((field) => field.dataset.field)
"""


@pytest.mark.parametrize("name", pages.CALCULATIONS)
def test_the_printed_sheet_has_the_working_and_no_controls(page, name):
    page.add_init_script("localStorage.setItem('sheet_name', 'Lathe 3')")
    go(page, f"/c/{name}")
    settled(page)
    page.pdf()
    page.emulate_media(media="print")
    expect(page.locator("button:visible, nav:visible, dialog:visible")).to_have_count(0)
    assert page.locator("#detail details").count() > 0
    expect(page.locator("#detail details:not([open])")).to_have_count(0)
    expect(page.locator("#fold-working .step").first).to_be_visible()
    expect(page.locator("#answer .figure").first).to_be_visible()
    expect(page.locator("#inputs input:visible").first).to_be_visible()
    assert page.evaluate(UNITS_TWICE) == []
    expect(page.locator(".sheet-line")).to_contain_text("Lathe 3")
    expect(page.locator(".sheet-line")).to_contain_text(f"/c/{name}")
