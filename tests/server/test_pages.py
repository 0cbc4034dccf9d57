"""What a link opens: the answer is in the page, in its title and in its description, before any script runs."""

import re
from urllib.parse import urlencode

import pytest

from calc import answer, catalogue, sheet
from calc.callout import callout
from calc.model import Choice, Notation, Number, Refused
from calc.run import longest
from calc.shop import SHOP
from calc.units import LONGEST, offered
from server.app import create_app
from tests.server.markup import Page

CALCULATIONS = tuple(catalogue())
PLACES = ("/", "/shop", "/?text=30+H7/k6", *(f"/c/{name}" for name in CALCULATIONS))
#: Ways out of text, of a text area, of an attribute in either quote, of a comment and of a script.
HOSTILE = "</p></textarea>\"'><script>alert(1)</script><img src=x onerror=alert(1)><!--"

every = pytest.mark.parametrize("name", CALCULATIONS)


def opened(client, url, status=200):
    reply = client.get(url)
    assert reply.status_code == status, reply.text
    assert reply.content_type == "text/html; charset=utf-8"
    return Page(reply.text)


def link(name, **typed):
    return f"/c/{name}?{urlencode(typed)}"


@pytest.mark.parametrize("url", [*PLACES, "/c/fit?size=x", "/nowhere"])
def test_pages_are_whole_and_carry_nothing_inline(client, url):
    page = Page(client.get(url).text)
    assert (page.unclosed, page.stray) == ([], [])
    for one in page.elements:
        assert "style" not in one.attributes
        assert not [name for name in one.attributes if name.startswith("on")]
        assert one.name != "style"
        assert one.name != "script" or (one.attributes["src"] and not one.text)
    ids = [one.attributes["id"] for one in page.elements if "id" in one.attributes]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("url", PLACES)
def test_whatever_a_page_names_is_there(client, url):
    page = opened(client, url)
    named = {one.attributes[key] for one in page.elements for key in ("href", "src", "action")
             if one.attributes.get(key)}  # fmt: skip
    assert len(named) > 5
    for address in sorted(named):
        if not address.startswith("#"):
            assert client.get(address).status_code == 200, address
        else:
            assert address[1:] in {one.attributes.get("id") for one in page.elements}


@pytest.mark.parametrize("url", PLACES)
def test_the_same_page_is_the_same_bytes(client, url):
    first = client.get(url).data
    assert client.get(url).data == first
    assert create_app().test_client().get(url, headers={"Host": "elsewhere:1"}).data == first


@every
def test_the_answer_is_in_the_page_and_in_what_a_preview_shows(client, name):
    page = opened(client, f"/c/{name}")
    found = answer(name, {})
    headline = page.one("section", id="answer").text
    for value in (found.value(main) for main in found.main):
        assert value.label in headline
        assert value.text.replace(" ", "") in headline.replace(" ", "")
    if found.verdict:
        assert found.verdict.text in headline
    detail = page.one("div", id="detail").text
    assert all(value.label in detail for value in found.values)
    assert all(source in detail for source in found.sources.values())
    title, spoken = sheet.preview(name, {})
    assert page.title.startswith(title)
    assert page.meta("og:title") == title
    assert page.meta("og:description") == page.meta("description")
    assert page.meta("description") == f"{catalogue()[name].question} {spoken}"


def test_a_link_is_answered_for_what_it_carries(client):
    """30 k6 is 30 +0.015 / +0.002: ISO 286-2:2010, table of the shaft deviations k."""
    page = opened(client, link("fit", size="30 mm", hole="", shaft="k6"))
    assert "30.015" in page.title + page.meta("description")
    assert "30.015" in page.one("section", id="answer").text
    assert "30.002" in page.one("section", id="answer").text
    assert "Hole" not in page.one("section", id="answer").text


@every
def test_there_is_a_field_for_each_input_and_no_other(client, name):
    page = opened(client, f"/c/{name}")
    holders = [one for one in page.elements if "data-field" in one.attributes]
    assert [one.attributes["data-field"] for one in holders] == [one.name for one in _in_order(name)]
    form = page.one("form", id="inputs")
    named = {one.attributes["name"] for one in page.elements if form in one.inside and "name" in one.attributes}
    assert named == {one.name for one in catalogue()[name].inputs}
    for one in catalogue()[name].inputs:
        (holder,) = [each for each in holders if each.attributes["data-field"] == one.name]
        assert one.label in holder.text
        assert one.help in holder.text
        if isinstance(one, Choice):
            assert all(shown in holder.text for shown in one.options.values())
        else:
            assert _stands_in(page, one) == (one.default or "")
        if isinstance(one, Number):
            assert all(unit in holder.text for unit in offered(one.kind))
        if isinstance(one, Notation):
            assert all(entry in holder.text for entry in one.common)


def _stands_in(page, one):
    """What the field of an input holds: a line, or a small sheet for a notation that is longer than one."""
    if isinstance(one, Notation) and longest(one) > LONGEST:
        return page.one("textarea", id=one.name).text
    return page.one("input", id=one.name).attributes["value"]


def _in_order(name):
    """What is left out, or stays as it is, stands after the rest, and what Shop fills after that, thing by thing."""
    order = ["", *SHOP]

    def place(one):
        return order.index(one.of), not one.of and (one.aside or (one.optional and not one.default))

    return sorted(catalogue()[name].inputs, key=place)


@pytest.mark.parametrize(
    ("typed", "folded", "status"),
    [
        ({}, True, 200),
        ({"diameter": "41 mm", "finish": "0.3 mm", "spring": "none", "polish": " 0 µm "}, True, 200),
        ({"finish": "0.4 mm"}, False, 200),
        ({"spring": "one"}, False, 200),
        ({"speed_wanted": "20"}, False, 200),
        ({"finish": ""}, False, 422),  # it is needed: the page says so
    ],
)
def test_what_mostly_stays_as_it_is_is_folded_away_until_it_says_something_else(client, typed, folded, status):
    page = opened(client, link("pass_plan", **typed), status)
    assert ("open" not in page.one("details", id="fold-aside").attributes) is folded


def test_what_is_wrong_is_told_under_the_name_of_its_field(client):
    with pytest.raises(Refused) as refusal:
        answer("parallel_key", {"diameter": "5 mm"})
    page = opened(client, link("parallel_key", diameter="5 mm"), 422)
    (told,) = [one for one in page.elements if one.attributes.get("href") == "#diameter"]
    assert told.text == f"Shaft diameter at the key: {refusal.value.problems[0]}"


def test_what_was_typed_stands_in_the_field_as_typed(client):
    page = opened(client, link("fit", size=" Ø30,0 ", shaft="k6"))
    assert page.one("input", id="size").attributes["value"] == " Ø30,0 "
    assert page.one("input", id="hole").attributes["value"] == "H7"
    assert page.one("html").attributes["data-rendered-for"] == "size=+%C3%9830%2C0+&shaft=k6"
    assert opened(client, "/c/fit").one("html").attributes["data-rendered-for"] == ""


@every
def test_a_choice_is_marked_by_its_key_or_by_its_words(client, name):
    for one in catalogue()[name].inputs:
        if isinstance(one, Choice):
            for key, shown in one.options.items():
                for typed in (key, shown, shown.upper()):
                    page = Page(client.get(link(name, **{one.name: typed})).text)
                    marked = [
                        each.attributes["value"]
                        for each in page.elements
                        if ("checked" in each.attributes or "selected" in each.attributes)
                        and any(holder.attributes.get("data-field") == one.name for holder in each.inside)
                    ]
                    assert marked == [key]


def test_every_problem_stands_beside_its_field(client):
    typed = {"size": "5000 mm", "hole": "Q99"}
    page = opened(client, link("fit", **typed), 422)
    with pytest.raises(Refused) as refusal:
        answer("fit", typed)
    assert [one.name for one in refusal.value.problems] == ["size", "hole"]
    for one in refusal.value.problems:
        assert page.one("p", id=f"{one.name}-problem").text == str(one)
        assert page.one("input", id=one.name).attributes["aria-invalid"] == "true"
        assert page.one("input", id=one.name).attributes["value"] == typed[one.name]
        assert str(one) in page.one("section", id="answer").text
    assert page.one("p", id="shaft-problem").text == ""
    assert page.one("div", id="detail").text == ""
    assert page.title.startswith("Limits and fit")


def test_an_input_given_twice_is_refused_with_the_other_problems(client):
    page = opened(client, "/c/fit?size=30&hole=Q99&size=31&size=32", 422)
    assert "more than once" in page.one("p", id="size-problem").text
    assert "more than once" not in page.one("p", id="hole-problem").text != ""


def test_an_input_that_does_not_exist_is_refused(client):
    page = opened(client, "/c/fit?size=30&sise=31", 422)
    assert "“sise”" in page.one("section", id="answer").text


def test_an_unknown_calculation_is_a_page_that_leads_back(client):
    page = opened(client, "/c/taper_of_a_horn", 404)
    assert "taper_of_a_horn" in page.one("main").text
    assert [one for one in page.all("a", href="/") if page.one("main") in one.inside]


@pytest.mark.parametrize("url", ["/jobs", "/c", "/c/", "/c/fit/", "/c/fit/x", "/index", "/shop/", "//c//fit"])
def test_other_addresses_are_a_404_page(client, url):
    assert "Bench" in opened(client, f"http://localhost{url}", 404).one("main").text


def test_the_bench_shows_every_calculation_by_subject(client):
    page = opened(client, "/")
    links = [one.attributes["href"] for one in page.all("a") if one.attributes["href"].startswith("/c/")]
    assert links == [f"/c/{name}" for name in CALCULATIONS]
    assert all(one.question in page.one("main").text for one in catalogue().values())


@pytest.mark.parametrize("text", ["30 H7/k6", "30 k", "1 3/16 in", "no such thing", ""])
def test_the_call_out_line_works_without_script(client, text):
    page = opened(client, f"/?{urlencode({'text': text})}")
    assert page.one("input", id="callout").attributes["value"] == text
    links = [one.attributes["href"] for one in page.all("a") if page.one("div", id="meanings") in one.inside]
    assert links == [sheet.link(name, typed) for name, typed in callout(text)]
    assert page.one("form", role="search").attributes["action"] == "/"


def _harmless(reply):
    """The hostile text shows as text; no element or attribute has come out of it."""
    page = Page(reply.text)
    assert "alert" not in "".join(one.text for one in page.all("script"))
    assert not page.all("img")
    assert not [one for one in page.elements if [name for name in one.attributes if name.startswith("on")]]
    assert (page.unclosed, page.stray) == ([], [])
    assert not re.search(r"<!--", reply.text)
    return page


@every
def test_hostile_text_in_any_field_stays_text(client, name):
    for one in catalogue()[name].inputs:
        reply = client.get(link(name, **{one.name: HOSTILE}))
        assert reply.status_code == 422
        page = _harmless(reply)
        if not isinstance(one, Choice):
            assert _stands_in(page, one) == HOSTILE
    _harmless(client.get(link(name, **{HOSTILE: HOSTILE})))
    _harmless(client.get(link(name, **{HOSTILE: HOSTILE}) + "&" + urlencode({HOSTILE: "again"})))
    _harmless(client.get(f"/c/{name}?size={HOSTILE}"))


def test_hostile_text_in_the_call_out_line_and_in_a_name_stays_text(client):
    page = _harmless(client.get(f"/?{urlencode({'text': HOSTILE})}"))
    assert page.one("input", id="callout").attributes["value"] == HOSTILE
    assert "<script>alert" in _harmless(client.get("/c/<script>alert(1)<")).one("main").text


@pytest.mark.parametrize(
    ("url", "own", "other"),
    [
        ("/", "bench", "shop"),
        ("/shop", "shop", "bench"),
        ("/c/fit", "calculation", "copies"),
        ("/not-here", "store", "form"),
    ],
)
def test_a_page_asks_at_once_for_what_it_runs_and_for_nothing_else(client, url, own, other):
    page = opened(client, url)
    asked = [one.attributes["href"] for one in page.elements if one.attributes.get("rel") == "modulepreload"]
    names = [address.rpartition("/")[2].removesuffix(".js") for address in asked]
    assert len(names) == len(set(names))
    assert {own, "engine", "offline", "index"} <= set(names)
    assert {other, "main"} & set(names) == set()
