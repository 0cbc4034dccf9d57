"""What means harm, typed into fields or sent in links: it stays text, and what is refused is not replaced."""

import pytest
from playwright.sync_api import expect

from calc import catalogue
from calc.model import Choice
from tests.web import pages
from tests.web.conftest import go
from tests.web.pages import headline

HOSTILE = "<img src=x onerror=alert(1)>"


@pytest.fixture
def unharmed(page, watch):
    """A page in which nothing of what was typed has run or become an element when the test ends."""
    watch.allow(pages.STATUS)
    opened = []
    page.on("dialog", lambda one: (opened.append(one.message), one.dismiss()))
    yield page
    assert opened == []
    assert page.locator("img").count() == 0


@pytest.mark.parametrize("name", pages.CALCULATIONS)
def test_hostile_text_in_any_field_is_text(unharmed, name):
    page = unharmed
    go(page, f"/c/{name}")
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    fields = page.locator("#inputs input:not([type=radio])").all()
    for field in fields:
        field.fill(HOSTILE)
    for field in fields:
        expect(page.locator(f"#{field.get_attribute('id')}-problem")).to_be_visible()
    assert page.locator("img").count() == 0
    page.get_by_role("button", name="QR code").click()
    expect(page.locator("dialog")).to_be_visible()
    expect(page.locator("#answer a").first).to_be_attached()
    go(page, pages.link(name, {one.name: HOSTILE for one in catalogue()[name].inputs}))
    expect(page.locator("#answer a")).to_have_count(len(catalogue()[name].inputs))


def test_a_choice_that_is_none_is_refused_and_not_replaced(unharmed):
    """The field cannot show what the link says; the answer must still be to what the link says."""
    page = unharmed
    name, field = next(
        (one.name, field) for one in catalogue().values() for field in one.inputs if isinstance(field, Choice)
    )
    go(page, pages.link(name, {field.name: "neither"}))
    expect(page.locator("#answer .headline")).to_have_text(headline(name, {field.name: "neither"}))
    expect(page.locator(f"#{field.name}-problem")).to_contain_text("neither")
