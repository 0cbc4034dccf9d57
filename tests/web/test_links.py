"""Links: those that say what cannot be taken, and what a link of ours carries."""

import re
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import expect

from calc import catalogue
from tests.web import pages
from tests.web.conftest import go
from tests.web.pages import headline


@pytest.fixture(params=["rendered for the link", "out of the copy"])
def opened(request, page, watch):
    """A function that opens a link: as the server renders it, and as the offline copy does, made for the defaults."""
    watch.allow(pages.STATUS)

    def open_it(address):
        if request.param == "out of the copy":
            usual = page.request.get(urlsplit(address).path)
            page.route(re.compile(re.escape(address)), lambda route: route.fulfill(response=usual))
        go(page, address)
        return page

    return open_it


def test_a_field_given_twice_is_refused_until_it_is_typed_in(opened):
    page = opened("/c/fit?size=31&hole=H7&size=32")
    expect(page.locator("#size-problem")).to_contain_text("more than once in the address")
    expect(page.locator("#size")).to_have_value("31")
    page.locator("#hole").fill("H8")
    expect(page).to_have_url(re.compile("size=31&hole=H8&shaft=k6&size=32"))
    expect(page.locator("#size-problem")).to_contain_text("more than once in the address")
    page.locator("#size").fill("33")
    expect(page.locator("#answer .headline")).to_have_text(headline("fit", {"size": "33", "hole": "H8"}))
    expect(page).to_have_url(re.compile("size=33&hole=H8&shaft=k6$"))


@pytest.mark.parametrize(
    ("name", "field", "other", "text"),
    [("cut_length", "parting", "pieces", "2"), ("bar_mass", "shape", "pieces", "2")],
)
def test_an_unknown_choice_is_refused_and_kept_whatever_else_is_typed(opened, name, field, other, text):
    """Both as buttons to choose by and as a list."""
    page = opened(f"/c/{name}?{field}=neither+%3Cb%3E")
    problem = page.locator(f"#{field}-problem")
    expect(problem).to_contain_text("neither <b>")
    expect(page.locator("#answer .headline")).to_have_text(headline(name, {field: "neither <b>"}))
    page.locator(f"#{other}").fill(text)
    expect(page).to_have_url(re.compile(f"{other}={text}"))
    assert parse_qs(urlsplit(page.url).query)[field] == ["neither <b>"]
    expect(problem).to_contain_text("neither <b>")
    chosen = page.locator(f"[data-field={field}]")
    expect(chosen.locator("option:checked, label:has(:checked)")).to_have_text("neither <b>")
    if chosen.locator("select").count():
        chosen.locator("select").select_option(index=1)
    else:
        chosen.locator("label").nth(1).click()
    expect(problem).to_have_text("")
    expect(page.locator("#answer .headline .figure")).not_to_have_count(0)


def test_a_choice_in_other_words_is_that_choice(opened):
    page = opened("/c/cut_length?parting=Parting+tool+in+the+lathe")
    expect(page.locator("#answer .headline")).to_have_text(headline("cut_length", {"parting": "part off"}))
    expect(page.locator("[data-field=parting] label:has(:checked)")).to_have_text("parting tool in the lathe")


def test_a_link_carries_what_is_typed_and_every_default_but_not_what_is_left_out(page):
    go(page, "/c/bar_mass")
    page.locator("#size").fill("50")
    expect(page).to_have_url(re.compile("size=50"))
    carried = parse_qs(urlsplit(page.url).query, keep_blank_values=True)
    aside = {one.name for one in catalogue()["bar_mass"].inputs if one.optional and not one.default and not one.of}
    assert aside
    assert set(carried) == {one.name for one in catalogue()["bar_mass"].inputs} - aside
    answered = page.locator("#answer").inner_html()
    page.reload()
    expect(page.locator("html[data-opened]")).to_be_attached()
    assert page.locator("#answer").inner_html() == answered
    page.get_by_text("More that may be known").click()
    page.locator("#density").fill("8000")
    expect(page).to_have_url(re.compile("density=8000"))
    expect(page.locator("#answer .headline")).to_have_text(headline("bar_mass", {"size": "50", "density": "8000"}))
