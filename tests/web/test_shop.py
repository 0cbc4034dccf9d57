"""What is mine: kept on the device, taken by calculations, carried by links as figures."""

import re
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import expect

from calc.model import CalcError
from calc.owned import said
from calc.run import answer, convert
from calc.shop import LATHE, SAW, SHOP
from tests.web.conftest import go, settled
from tests.web.owned import HOSTILE, edit, fold, names, own, step_aside
from tests.web.test_accessibility import unfold, violations

GENERIC = said(SAW, {})


def cut(kerf, **others):
    """What the page of cut_length shows large for that kerf."""
    found = answer("cut_length", {"kerf": kerf, **others})
    return [found.value(one).text.split(" ")[0] for one in found.main]


def shows(page, figures):
    for figure in figures:
        expect(page.locator("#answer")).to_contain_text(figure)


def query(page):
    return {name: texts[0] for name, texts in parse_qs(urlsplit(page.url).query, keep_blank_values=True).items()}


# ------------------------------------------------------------------------------------------------ in the Shop


def test_a_lathe_that_is_mine_is_still_there_after_a_reload(page):
    go(page, "/shop")
    section = page.locator("#own-lathe")
    expect(section.locator(".owned")).to_contain_text("Generic")
    own(page, "lathe", "By the window", speeds="45 63 90", motor_power="2 hp")
    page.reload()
    expect(section.locator(".owned li").first).to_contain_text("By the window")
    expect(section.locator(".owned li").first).to_contain_text(
        said(LATHE, {"speeds": "45 63 90", "motor_power": "2 hp"})
    )
    expect(section.get_by_role("radio").first).to_be_checked()
    edit(page, "lathe", "By the window")
    expect(section.locator("#speeds")).to_have_value("45 63 90")
    expect(section.locator("#feeds")).to_have_value(LATHE.pick("feeds")[0].default)


def test_what_is_wrong_is_told_as_a_calculation_tells_it_and_the_last_good_one_stands(page):
    go(page, "/shop")
    own(page, "lathe", "Old", speeds="45 63")
    section = edit(page, "lathe", "Old")
    section.locator("#speeds").fill("63 45")
    with pytest.raises(CalcError) as refusal:
        convert(LATHE.pick("speeds")[0], "63 45")
    expect(section.locator("#speeds-problem")).to_have_text(str(refusal.value))
    expect(section.locator("[data-state]")).to_have_text(re.compile("^Not kept yet"))
    section.get_by_role("button", name="Done").click()
    expect(section.locator("form")).to_be_visible()
    page.reload()
    expect(section.locator(".owned")).to_contain_text("45 to 63 rev/min")


def test_a_thing_has_to_have_a_name(page):
    go(page, "/shop")
    own(page, "saw", "Band")
    section = edit(page, "saw", "Band")
    section.get_by_label("Name").fill("  ")
    expect(section.locator("#saw_name-problem")).to_have_text("Give it a name.")
    section.get_by_label("Name").fill("Band, coarse")
    expect(section.locator(".owned")).to_contain_text("Band, coarse")
    expect(section.locator("#saw_name-problem")).to_have_text("")


def test_a_name_is_text_and_keeps_nothing_that_does_not_show(page):
    go(page, "/shop")
    section = own(page, "saw", "Band", kerf="1 mm")
    edit(page, "saw", "Band").get_by_label("Name").fill(f"\u202e{HOSTILE}")
    expect(section.locator(".owned b").first).to_have_text(HOSTILE)
    expect(section.locator(".owned img")).to_have_count(0)


def test_changes_are_undone_and_what_was_just_added_goes(page):
    go(page, "/shop")
    own(page, "saw", "Band", kerf="1 mm")
    section = edit(page, "saw", "Band")
    section.locator("#kerf").fill("3 mm")
    expect(section.locator(".owned")).to_contain_text("kerf 3 mm")
    section.get_by_role("button", name="Undo changes").click()
    expect(section.locator(".owned")).to_contain_text("kerf 1 mm")
    section.get_by_role("button", name="Add another saw").click()
    expect(section.locator(".owned li")).to_have_count(3)
    section.get_by_role("button", name="Undo changes").click()
    expect(section.locator(".owned li")).to_have_count(2)


def test_what_is_removed_comes_back_by_a_touch_and_is_in_use_again(page):
    go(page, "/shop")
    own(page, "saw", "Band", kerf="1 mm")
    own(page, "saw", "Disc", kerf="3 mm")
    section = page.locator("#own-saw")
    section.get_by_role("radio", name="Disc").check()
    edit(page, "saw", "Disc").get_by_role("button", name="Remove").click()
    expect(section.locator(".owned")).not_to_contain_text("Disc")
    expect(section.get_by_role("radio", name="Band")).to_be_checked()
    section.get_by_role("button", name="Undo", exact=True).click()
    expect(section.get_by_role("radio", name="Disc")).to_be_checked()
    page.reload()
    expect(section.get_by_role("radio", name="Disc")).to_be_checked()


def test_of_prices_there_is_one_list(page):
    go(page, "/shop")
    section = own(page, "prices", "Mine", hourly_rate="60")
    expect(section.locator("[data-do=add]")).to_be_hidden()
    expect(section.get_by_role("radio")).to_have_count(2)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_is_found_in_a_form_that_is_open(visit, scheme):
    """axe-core and our own measure of contrast, on the form of every sort, one with a mistake in it."""
    page = visit(color_scheme=scheme, reduced_motion="reduce")
    go(page, "/shop")
    for sort in SHOP:
        own(page, sort, "Mine")
        edit(page, sort, "Mine")
    page.locator("#kerf").fill("wide")
    expect(page.locator("#kerf-problem")).not_to_be_empty()
    unfold(page)
    assert violations(page) == []
    go(page, "/c/cut_length")
    fold(page, "saw").locator("summary").click()
    expect(page.get_by_label("Saw to work with")).to_be_visible()
    assert violations(page) == []


# ----------------------------------------------------------------------------------------- in a calculation


def test_a_calculation_takes_what_is_in_use_and_its_link_has_figures_but_no_name(page, visit):
    go(page, "/shop")
    own(page, "saw", "Band", kerf="2.7 mm")
    go(page, "/c/cut_length")
    expect(names(page, "saw")).to_have_text("Band")
    expect(fold(page, "saw").locator(".thing-said")).to_contain_text("kerf 2.7 mm")
    assert fold(page, "saw").get_attribute("open") is None
    shows(page, cut("2.7 mm"))
    page.locator("#finished_length").fill("200 mm")
    expect(page).to_have_url(re.compile("finished_length=200"))
    shows(page, cut("2.7 mm", finished_length="200 mm"))
    assert query(page)["kerf"] == "2.7 mm"
    assert "Band" not in page.url

    other = visit()
    go(other, "/shop")
    own(other, "saw", "Disc", kerf="9 mm")
    go(other, page.url)
    settled(other)
    shows(other, cut("2.7 mm", finished_length="200 mm"))
    expect(other.locator("#kerf")).to_have_value("2.7 mm")
    expect(names(other, "saw")).to_have_text("as in the link")
    go(other, "/c/cut_length")
    expect(names(other, "saw")).to_have_text("Disc")
    expect(other.locator("#kerf")).to_have_value("9 mm")


def test_another_is_picked_on_the_page_and_is_then_in_use(page):
    go(page, "/shop")
    own(page, "saw", "Band", kerf="1 mm")
    own(page, "saw", "Disc", kerf="3 mm")
    go(page, "/c/cut_length")
    expect(names(page, "saw")).to_have_text("Band")
    fold(page, "saw").locator("summary").click()
    pick = page.get_by_label("Saw to work with")
    pick.select_option("Disc")
    shows(page, cut("3 mm"))
    pick.select_option("generic")
    expect(fold(page, "saw").locator(".thing-said")).to_have_text(GENERIC)
    shows(page, cut("1.5 mm"))
    pick.select_option("Disc")
    expect(names(page, "saw")).to_have_text("Disc")
    go(page, "/shop")
    expect(page.locator("#own-saw").get_by_role("radio", name="Disc")).to_be_checked()


def test_figures_typed_on_the_page_stay_there_and_say_so(page):
    go(page, "/shop")
    own(page, "saw", "Band", kerf="1 mm")
    go(page, "/c/cut_length")
    fold(page, "saw").locator("summary").click()
    page.locator("#kerf").fill("4 mm")
    expect(names(page, "saw")).to_have_text("typed here")
    shows(page, cut("4 mm"))
    go(page, "/c/cut_length")
    expect(page.locator("#kerf")).to_have_value("4 mm")
    expect(names(page, "saw")).to_have_text("typed here")
    go(page, "/shop")
    expect(page.locator("#own-saw .owned")).to_contain_text("kerf 1 mm")


def test_a_draft_follows_the_shop(page):
    go(page, "/shop")
    own(page, "saw", "Band", kerf="1 mm")
    go(page, "/c/cut_length")
    page.locator("#finished_length").fill("222 mm")
    expect(page).to_have_url(re.compile("finished_length=222"))
    go(page, "/shop")
    edit(page, "saw", "Band").locator("#kerf").fill("2 mm")
    expect(page.locator("#own-saw .owned")).to_contain_text("kerf 2 mm")
    go(page, "/c/cut_length")
    expect(page.locator("#finished_length")).to_have_value("222 mm")
    shows(page, cut("2 mm", finished_length="222 mm"))


def test_a_link_that_says_nothing_of_the_saw_takes_mine_and_then_says_it(page):
    go(page, "/shop")
    own(page, "saw", "Band", kerf="2.7 mm")
    go(page, "/c/cut_length?finished_length=150+mm")
    shows(page, cut("2.7 mm", finished_length="150 mm"))
    assert query(page)["kerf"] == "2.7 mm"


def test_a_call_out_takes_my_prices(page):
    go(page, "/shop")
    own(page, "prices", "Mine", price_per_kg="7.25")
    go(page, "/")
    page.locator("#callout").fill("40 bar 1 m")
    link = page.locator("#meanings a[href*=bar_mass]").first
    expect(link).to_have_attribute("href", re.compile("price_per_kg=7.25"))
    link.click()
    expect(page.locator("#price_per_kg")).to_have_value("7.25")
    expect(names(page, "prices")).to_have_text("Mine")


# ------------------------------------------------------------------------------------------------ two windows


def test_two_windows_see_each_others_changes(page):
    go(page, "/shop")
    own(page, "saw", "Band", kerf="1 mm")
    other = page.context.new_page()
    go(other, "/c/cut_length")
    shows(other, cut("1 mm"))
    third = page.context.new_page()
    go(third, "/shop")
    edit(page, "saw", "Band").locator("#kerf").fill("3.3 mm")
    expect(third.locator("#own-saw .owned")).to_contain_text("kerf 3.3 mm")
    expect(other.locator("#kerf")).to_have_value("3.3 mm")
    shows(other, cut("3.3 mm"))


def test_a_form_that_is_open_takes_what_another_window_kept(page):
    go(page, "/shop")
    own(page, "saw", "Band", kerf="1 mm")
    other = page.context.new_page()
    go(other, "/shop")
    edit(other, "saw", "Band")
    edit(page, "saw", "Band").locator("#kerf").fill("3.3 mm")
    expect(other.locator("#kerf")).to_have_value("3.3 mm")
    expect(other.locator("#own-saw [data-state]")).to_have_text("Changed in another window.")
    page.locator("#own-saw").get_by_role("button", name="Remove").click()
    expect(other.locator("#own-saw form")).to_be_hidden()


# ------------------------------------------------------------------------------- storage refused, old and new


def test_where_storage_is_refused_it_holds_until_the_window_is_closed(page):
    page.add_init_script("IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); }")
    go(page, "/shop")
    expect(page.locator("#not-kept")).to_contain_text("storage is refused")
    own(page, "saw", "Band", kerf="2.7 mm")
    page.get_by_role("navigation", name="Places").get_by_role("link", name="Bench").click()
    page.locator("a[href='/c/cut_length']").click()
    expect(names(page, "saw")).to_have_text("Band")
    shows(page, cut("2.7 mm"))
    page.reload()
    expect(names(page, "saw")).to_have_text("generic")


PUT_VERSION_1 = """() => new Promise((done, failed) => {
  const asked = indexedDB.open("swarfbook", 1);
  asked.onupgradeneeded = () => {
    const db = asked.result;
    db.createObjectStore("drafts").put({ size: "77 mm", hole: "", shaft: "m6" }, "fit");
    db.createObjectStore("recent", { keyPath: "address" });
    const pinned = { address: "/c/fit?size=9", title: "Pinned before", said: "Nine.", at: 5 };
    db.createObjectStore("pinned", { keyPath: "address" }).put(pinned);
    db.createObjectStore("jobs", { keyPath: "id" });
  };
  asked.onsuccess = () => { asked.result.close(); done(); };
  asked.onerror = () => failed(asked.error);
})"""


def test_what_the_version_before_kept_is_still_there(page, watch):
    step_aside(page, watch)
    page.evaluate(PUT_VERSION_1)
    go(page, "/c/fit")
    expect(page.locator("#size")).to_have_value("77 mm")
    expect(page.locator("#shaft")).to_have_value("m6")
    go(page, "/")
    expect(page.locator("#pinned")).to_contain_text("Pinned before")
    go(page, "/shop")
    own(page, "saw", "Band")


def test_beside_what_a_newer_version_keeps_everything_works_and_nothing_is_lost(page, watch):
    step_aside(page, watch)
    page.evaluate(PUT_VERSION_1.replace('"swarfbook", 1', '"swarfbook", 99'))
    go(page, "/c/fit")
    page.locator("#size").fill("31")
    settled(page)
    go(page, "/shop")
    expect(page.locator("#not-kept")).to_contain_text("written by a newer version")
