"""Markup is escaped by default, and the SVG primitives draw where they are told."""

import xml.etree.ElementTree as ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import draw
from calc.draw import Markup, tag

XML_TEXT = st.text(st.characters(exclude_categories=("Cs", "Cc", "Cn")), max_size=40)


@given(XML_TEXT, XML_TEXT)
def test_any_text_comes_back_as_text(inside, given_):
    element = ElementTree.fromstring(tag("p", inside, title=given_))
    assert ("".join(element.itertext()), element.get("title")) == (inside, given_)
    assert list(element) == []


def test_markup_is_kept_and_text_beside_it_is_escaped():
    assert tag("p", tag("b", "5 < 6"), " & ", None, "“7”") == "<p><b>5 &lt; 6</b> &amp; “7”</p>"


def test_attributes_turn_their_names_and_leave_out_none():
    assert tag("a", "x", class_="one", aria_label='say "two"', id=None, hidden="", viewBox="0 0 1 1") == (
        '<a class="one" aria-label="say &quot;two&quot;" hidden="" viewBox="0 0 1 1">x</a>'
    )


def test_an_empty_element_has_no_end():
    assert tag("br") == "<br>"
    assert tag("input", name="size") == '<input name="size">'


@pytest.mark.parametrize(
    ("number", "written"),
    [(1.0, "1"), (0.5, "0.5"), (1 / 3, "0.33"), (-0.0, "0"), (-0.001, "0"), (-1.5, "-1.5"), (120, "120"), (1e-9, "0")],
)
def test_coordinates_are_written_to_a_hundredth(number, written):
    assert tag("line", x1=number) == f'<line x1="{written}"></line>'


def test_a_picture_has_a_title_first_and_says_that_it_is_one():
    drawn = ElementTree.fromstring(draw.svg(340, 120.5, "Shaft & hole", draw.line(0, 1, 2, 3)))
    assert drawn.tag == "{http://www.w3.org/2000/svg}svg"
    assert (drawn.get("role"), drawn.get("viewBox"), drawn.get("class")) == ("img", "0 0 340 120.5", "picture")
    assert (drawn[0].tag.rpartition("}")[2], drawn[0].text) == ("title", "Shaft & hole")
    assert drawn[1].attrib == {"x1": "0", "y1": "1", "x2": "2", "y2": "3", "class": "line"}


def test_primitives():
    assert draw.box(1, 2, 3, 4, "hole") == '<rect x="1" y="2" width="3" height="4" class="hole"></rect>'
    assert draw.circle(1, 2, 3) == '<circle cx="1" cy="2" r="3" class="line"></circle>'
    assert draw.path((0, 0), (10, 5), closed=True, class_="thin") == '<path d="M0 0L10 5Z" class="thin"></path>'
    assert draw.label(1, 2, "Ø30 <k6>", "middle", "strong") == (
        '<text x="1" y="2" text-anchor="middle" class="strong">Ø30 &lt;k6&gt;</text>'
    )
    assert draw.group(draw.line(0, 0, 1, 1), class_="set") == f'<g class="set">{draw.line(0, 0, 1, 1)}</g>'


@pytest.mark.parametrize(
    "drawn",
    [
        draw.line(0, 0, 1, 1, 'a"<b'),
        draw.box(0, 0, 1, 1, 'a"<b'),
        draw.circle(0, 0, 1, 'a"<b'),
        draw.path((0, 0), (1, 1), class_='a"<b'),
        draw.label(0, 0, "x", "start", 'a"<b'),
    ],
)
def test_primitives_escape_their_class(drawn):
    assert ElementTree.fromstring(drawn).get("class") == 'a"<b'
    assert isinstance(draw.group(), Markup)


def points(path: str) -> list[tuple[float, float]]:
    d = ElementTree.fromstring(path).get("d", "")
    return [(float(x), float(y)) for x, y in (pair.split() for pair in d.strip("MZ").split("L"))]


@pytest.mark.parametrize("along", [(1, 0), (-1, 0), (0, 1), (0, -1)])
def test_an_arrow_head_has_its_point_where_it_is_told_and_opens_backwards(along):
    (x, y), *back = points(draw.arrow(50, 60, *along))
    assert (x, y) == (50, 60)
    for one in back:
        assert (one[0] - 50) * along[0] + (one[1] - 60) * along[1] == pytest.approx(-8)
    assert len({one for one in back}) == 2


@pytest.mark.parametrize(("bottom", "outside"), [(60, False), (25, True)])
def test_an_upright_dimension_turns_its_arrows_outwards_when_it_is_short(bottom, outside):
    parts = ElementTree.fromstring(draw.upright(100, 20, bottom, "42 mm"))
    line, upper, lower, label = list(parts)
    assert label.text == "42 mm"
    (_, tip), *back = points(ElementTree.tostring(upper, encoding="unicode"))
    assert tip == 20
    assert all((y < 20) == outside for _, y in back)
    (_, tip), *back = points(ElementTree.tostring(lower, encoding="unicode"))
    assert tip == bottom
    assert all((y > bottom) == outside for _, y in back)
    assert (float(line.get("y1", "")) < 20) == outside


def test_a_level_dimension_spans_its_width():
    parts = list(ElementTree.fromstring(draw.level(10, 50, 80, "80 mm")))
    assert (parts[0].get("x1"), parts[0].get("x2")) == ("10", "90")
    assert points(ElementTree.tostring(parts[1], encoding="unicode"))[0] == (10, 50)
    assert points(ElementTree.tostring(parts[2], encoding="unicode"))[0] == (90, 50)
    assert (parts[3].text, parts[3].get("text-anchor")) == ("80 mm", "middle")
