"""Strengths belong to a section: what is listed is given, what is thicker than the list is refused."""

import pytest

from calc.formulas import strengths
from calc.model import CalcError, InputError


def found(text, section=None):
    return strengths.strength(strengths.read(text), "shaft_material", section)


@pytest.mark.parametrize(
    ("text", "section", "expected"),
    [
        # EN 10083-2:2006, C45E normalised: yield 340 to 16 mm, 305 to 100, 275 to 250, both ends of a step.
        ("C45", 16, 340), ("C45", 16.1, 305), ("C45", 100, 305), ("C45", 100.1, 275), ("C45", 250, 275),
        # EN 10083-3, 42CrMo4 hardened and tempered: 900, 750, 650, 550, 500.
        ("1.7225", 10, 900), ("1.7225", 28, 750), ("1.7225", 100, 650), ("1.7225", 150, 550),
        # BS 970, 080M40 bright cold drawn: 435 to 40 mm, 370 to 63; EN19 condition T: 665 to 102 mm.
        ("EN8 cold drawn", 40, 435), ("EN8 cold drawn", 63, 370), ("EN19T", 102, 665),
        # BS 970, 817M40 condition T: yield 680 to 150 mm, 650 to 250.
        ("EN24T", 150, 680), ("EN24T", 200, 650),
    ],
)  # fmt: skip
def test_strength_of_a_section(text, section, expected):
    one = found(text, section)
    assert one.figure == expected
    assert one.is_yield
    assert one.confirmed


@pytest.mark.parametrize(
    ("text", "section", "end"),
    [("EN8 cold drawn", 64, 63), ("C45", 251, 250), ("EN19T", 103, 102), ("S355J2", 41, 40), ("EN16T", 64, 63),
     ("EN3B", 17, 16)],
)  # fmt: skip
def test_thicker_bar_than_listed_is_refused(text, section, end):
    with pytest.raises(InputError, match=f"listed to {end} mm") as caught:
        found(text, section)
    assert caught.value.name == "shaft_material"


def test_thinner_bar_takes_the_thinnest_listed_and_says_so():
    one = found("EN8 cold drawn", 7)
    assert one.figure == 435
    assert "thinner is no weaker" in one.state
    assert "thinner" not in found("EN8 cold drawn", 17).state


def test_iron_has_no_yield_so_its_tensile_strength_counts_with_more_safety():
    # EN 1561: grade 250 has 250 MPa tensile strength; no proof stress is specified.
    one = found("GG25")
    assert (one.figure, one.is_yield) == (250, False)
    assert one.wanted == pytest.approx(4 / 3)
    assert any("wall" in said for said in one.remarks)
    assert found("C45").wanted == 1


def test_a_strength_may_be_typed_with_its_unit():
    assert found("355 MPa").figure == 355
    assert found("355 N/mm2").figure == 355
    assert found("50000 psi").figure == pytest.approx(344.74, abs=0.01)
    assert found("316").label.startswith("316 stainless")


def test_what_is_from_memory_is_not_confirmed():
    assert not found("EN16T").confirmed
    assert not found("1.6582", 28).confirmed


@pytest.mark.parametrize(
    ("text", "said"), [("2 MPa", "from 5 to 2500 MPa"), ("3000 MPa", "2500"), ("kryptonite", "Type")]
)
def test_what_is_no_strength_is_refused(text, said):
    with pytest.raises(CalcError, match=said):
        found(text)


def test_a_material_without_any_strength_is_refused():
    with pytest.raises(InputError, match="Type its yield strength"):
        found("16MnCr5")
