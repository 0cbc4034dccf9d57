"""The Shop as the server makes it: a form for each sort of thing, folds on a calculation's page, and the check."""

import json
import re

import pytest

from calc.model import Choice
from calc.owned import said, shop_json
from calc.shop import PRICES, SAW, SHOP
from tests.server.markup import Page

every = pytest.mark.parametrize("sort", SHOP)


@pytest.fixture(scope="session")
def shop(app):
    return Page(app.test_client().get("/shop").text)


def within(page, one):
    return [each for each in page.elements if one in each.inside]


@every
def test_a_sort_has_a_form_made_of_its_declaration(shop, sort):
    section = shop.one("section", id=f"own-{sort}")
    (form,) = [one for one in within(shop, section) if one.name == "form"]
    fields = [one for one in within(shop, form) if "data-field" in one.attributes]
    assert [one.attributes["data-field"] for one in fields] == [one.name for one in SHOP[sort].inputs]
    for field, one in zip(fields, SHOP[sort].inputs, strict=True):
        assert field.attributes["data-generic"] == (one.default or "")
        assert one.label in field.text
        assert one.help in field.text
        if isinstance(one, Choice):
            assert all(shown in field.text for shown in one.options.values())
    assert "hidden" in form.attributes
    assert shop.one("input", id=f"{sort}_name").attributes["maxlength"] == "40"


@every
def test_the_generic_one_stands_there_marked_as_such(shop, sort):
    section = shop.one("section", id=f"own-{sort}")
    (owned,) = [one for one in within(shop, section) if one.attributes.get("class") == "owned"]
    assert " ".join(owned.text.split()) == f"Generic {said(SHOP[sort], {})}"
    (chosen,) = [one for one in within(shop, owned) if one.name == "input"]
    assert "checked" in chosen.attributes
    assert ("data-several" in section.attributes) == SHOP[sort].several


def test_a_field_takes_as_many_characters_as_its_declaration(shop):
    assert shop.one("textarea", id="speeds").attributes["maxlength"] == "200"
    assert shop.one("input", id="kerf").attributes["maxlength"] == "64"


@every
def test_the_check_is_that_of_the_engine_byte_for_byte(client, sort):
    assert client.get(f"/part/shop/{sort}").text == shop_json(sort, {})


def test_the_check_tells_every_problem(client):
    reply = client.get("/part/shop/saw", query_string={"kerf": "-1", "vice_length": "long"})
    assert reply.status_code == 200
    assert [one["name"] for one in json.loads(reply.text)["problems"]] == ["kerf", "vice_length"]


@pytest.mark.parametrize("sort", ["anvil", "lathe ", "../shop", "%3Cscript%3E"])
def test_a_sort_that_is_not_there(client, sort):
    reply = client.get(f"/part/shop/{sort}")
    assert reply.status_code == 404
    assert reply.content_type == "application/json"


# ------------------------------------------------------------------------------------- on a calculation's page


def test_what_shop_fills_is_folded_away_with_its_main_figures(client):
    page = Page(client.get("/c/cut_length").text)
    fold = page.one("details", id="fold-saw")
    assert "open" not in fold.attributes
    summary = next(one for one in within(page, fold) if one.name == "summary")
    assert " ".join(summary.text.split()) == f"Saw: generic {said(SAW, {})}"
    inside = [one.attributes["data-field"] for one in within(page, fold) if "data-field" in one.attributes]
    assert inside == ["kerf", "vice_length"]
    assert page.one("html").attributes["data-of"] == "saw:kerf,vice_length"


def test_figures_that_the_address_carries_stand_in_the_fold(client):
    page = Page(client.get("/c/cut_length", query_string={"kerf": "2.4 mm"}).text)
    summary = next(one for one in within(page, page.one("details", id="fold-saw")) if one.name == "summary")
    assert " ".join(summary.text.split()) == "Saw: as typed kerf 2.4 mm, least length that the vice holds 50 mm"
    assert page.one("input", id="kerf").attributes["value"] == "2.4 mm"


def test_a_fold_with_something_wrong_in_it_is_open(client):
    reply = client.get("/c/bar_mass", query_string={"price_per_kg": "dear"})
    assert reply.status_code == 422
    page = Page(reply.text)
    assert "open" in page.one("details", id="fold-prices").attributes
    assert page.one("p", id="price_per_kg-problem").text


def test_a_calculation_that_takes_nothing_of_shop_has_no_fold(client):
    page = Page(client.get("/c/fit").text)
    assert not [one for one in page.elements if "data-thing" in one.attributes]
    assert page.one("html").attributes["data-of"] == ""


def test_nothing_of_prices_is_in_a_currency(shop):
    section = shop.one("section", id="own-prices")
    assert not re.search(r"[£$€¥]", section.text)
    assert {one.kind for one in PRICES.inputs} == {"money", "percentage"}


def test_a_callout_takes_what_is_mine_from_the_address(client):
    reply = client.get("/part/callout", query_string={"text": "40 bar 1 m", "price_per_kg": "7", "speeds": "45 63"})
    assert "price_per_kg=7" in reply.text
    assert "speeds" not in reply.text
