"""Mass and price of bar against stockholders' lists; every misprint met in such lists must not come out."""

import csv
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.callout import callout
from calc.model import Answer, InputError, Refused

NAME = "bar_mass"
with (Path(__file__).parents[1] / "data" / "published_bars.csv").open(encoding="utf-8", newline="") as file:
    PUBLISHED = list(csv.DictReader(file))
PRINTED = [row for row in PUBLISHED if row["mass_mark"] == "V2"]


def found(name: str, **typed: str) -> float:
    return answer(NAME, typed).value(name).number


def problem(**typed: str) -> InputError:
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (only,) = caught.value.problems
    return only


def test_the_lists_have_enough_rows_and_each_names_its_source():
    assert len(PRINTED) >= 20
    assert all(row["mass_source"] for row in PUBLISHED)


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row["nominal"])
def test_mass_for_each_metre_as_in_stockholders_lists(row):
    # half the last printed digit; the lists take 7850 kg/m³
    mass = found("mass_per_metre", size=f"{row['diameter [mm]']} mm")
    assert mass == pytest.approx(float(row["mass [kg/m]"]), abs=0.00051)


@pytest.mark.parametrize(
    ("diameter", "misprint"),
    [("75", 24.68), ("110", 71.846), ("32", 3.854)],
    ids=["75 mm: 34.68 with a digit wrong", "110 mm: the figure of 108 mm", "32 mm: the figure of 25 mm"],
)
def test_misprints_of_lists_do_not_come_out(diameter, misprint):
    assert found("mass_per_metre", size=f"{diameter} mm") != pytest.approx(misprint, abs=0.5)


SECTIONS = [
    # shape, size, second size, area in mm², where it comes from
    ("round", "20", "", 314.159, "pi/4 × 20², by hand"),
    ("square", "30", "", 900.0, "30², by hand"),
    ("hexagon", "30", "", 779.423, "0.866025 × 30², by hand"),
    ("tube", "50", "5", 706.858, "pi/4 × (50² - 40²), by hand"),
    ("flat", "50", "10", 500.0, "50 × 10, by hand"),
]


@pytest.mark.parametrize(("shape", "size", "second", "area", "why"), SECTIONS, ids=[one[0] for one in SECTIONS])
def test_sections(shape, size, second, area, why):
    answered = answer(NAME, {"shape": shape, "size": size, "thickness": second})
    assert answered.value("section_area").number == pytest.approx(area, abs=0.0005), why
    assert answered.value("mass_per_metre").number == pytest.approx(area * 0.00785, abs=0.00001), why


@pytest.mark.parametrize(("shape", "corners"), [("hexagon", 34.641), ("square", 42.426)])
def test_across_corners_from_across_flats(shape, corners):
    # 30 mm across flats: 1.1547 and 1.4142 times, geometry; half the last digit
    assert found("across_corners", shape=shape, size="30 mm") == pytest.approx(corners, abs=0.0005)


def test_round_bar_has_no_corners():
    assert "across_corners" not in {one.name for one in answer(NAME, {}).values}


# ------------------------------------------------------------------------------------------------- prices


def priced(**typed: str) -> Answer:
    return answer(NAME, {"density": "1000", "shape": "square", "size": "100", "length": "2 m", **typed})  # 20 kg


def test_price_by_mass_and_by_the_metre():
    assert priced(price_per_kg="3").value("price").number == 60
    assert priced(price_per_kg="", price_per_m="12.5").value("price").number == 25
    assert priced(price_per_kg="3", pieces="4").value("price").number == 240


def test_two_prices_are_never_chosen_between_in_silence():
    both = priced(price_per_kg="3", price_per_m="12.5")
    assert (both.value("price").number, both.value("price_by_mass").number) == (25, 60)
    assert both.verdict.level == "mind"
    assert "25.00 by the metre is taken, by mass it would be 60.00" in both.verdict.text


def test_no_price_is_said_and_a_free_bar_costs_nought():
    assert "no price given" in priced(price_per_kg="").verdict.text
    assert "price" not in {one.name for one in priced(price_per_kg="").values}
    assert priced(price_per_kg="0").value("price").number == 0


# ------------------------------------------------------------------------------------- refusals and cautions


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"shape": "tube"}, "thickness", "Give the wall"),
        ({"shape": "flat"}, "thickness", "Give the thickness"),
        ({"shape": "round", "thickness": "5"}, "thickness", "one size only"),
        ({"shape": "hexagon", "thickness": "5"}, "thickness", "one size only"),
        ({"shape": "tube", "size": "20", "thickness": "10"}, "thickness", "under 10.000 mm"),
        ({"shape": "flat", "size": "10", "thickness": "20"}, "thickness", "greater side"),
        ({"pieces": "0"}, "pieces", "from 1 to 10000"),
        ({"pieces": "2.5"}, "pieces", "whole number"),
        ({"pieces": "10001"}, "pieces", "from 1 to 10000"),
    ],
)
def test_what_cannot_be_is_refused(typed, field, said):
    refusal = problem(**typed)
    assert refusal.name == field
    assert said in str(refusal)


def test_a_heavy_piece_and_a_long_one_bring_their_caution():
    def cautions(**typed: str) -> str:
        return " ".join(answer(NAME, typed).cautions)

    assert "lifting gear" not in cautions()
    assert "lifting gear" in cautions(size="50", length="1.1 m")  # 15.4 kg/m: over 16 kg
    assert "lifting gear" not in cautions(size="50", length="1 m", pieces="10")  # each piece is lifted by itself
    assert "swing" in cautions(size="10", length="3 m")
    assert "swing" not in cautions(size="10", length="2999 mm")


def test_what_was_assumed_is_said():
    assert any("Sharp corners" in one for one in answer(NAME, {"shape": "hexagon"}).assumptions)
    assert any("7850 kg/m³" in one for one in answer(NAME, {}).assumptions)
    assert any("from memory" in one for one in answer(NAME, {"material": "EN1A"}).assumptions)
    assert not any("EN1A" in one for one in answer(NAME, {"material": "EN1A", "density": "8500"}).assumptions)
    assert any("1045 is not in the tables" in one for one in answer(NAME, {"material": "AISI 1045"}).assumptions)


# density in kg/m³ of what is bought by that name, half the last digit of the mass
DENSITIES = [
    ("EN8", 7850, "stockholders' lists of round steel bar"),
    ("316", 8000, "EN 10088-1:2014 annex A, 1.4401"),
    ("brass", 8470, "EN 12167:2016, CW614N"),
    ("CZ121", 8470, "EN 12167:2016, CW614N"),
    ("6082-T6", 2700, "aluminium stockholders' sheets"),
    ("carbon steel", 7850, "the metal alone, table of expansion"),
    ("PTFE", 2190, "plastics stockholders' sheets"),
]


@pytest.mark.parametrize(("material", "density", "source"), DENSITIES, ids=[one[0] for one in DENSITIES])
def test_mass_by_material(material, density, source):
    # 100 mm square, 1 m: a hundredth of a cubic metre
    weighed = found("mass", shape="square", size="100", length="1 m", material=material)
    assert weighed == pytest.approx(density / 100, abs=0.005), source


def test_another_state_of_another_density_is_told_and_one_of_the_same_is_not():
    def said(material):
        return " ".join(answer(NAME, {"material": material}).assumptions)

    assert "may also be" not in said("EN8")
    assert "Taken: Phosphor bronze PB102. bronze may also be of another density: Bronze SAE 660." in said("bronze")


def test_an_unknown_material_says_what_to_type():
    refusal = problem(material="unobtainium")
    assert refusal.name == "material"
    assert "EN8" in str(refusal)


@settings(deadline=None, max_examples=60)
@given(st.integers(1, 500), st.integers(1, 6000), st.integers(1, 50))
def test_mass_grows_with_size_and_is_shared_by_the_pieces(size, length, pieces):
    typed = {"size": f"{size}", "length": f"{length}", "pieces": f"{pieces}"}
    assert found("mass", **typed) == pytest.approx(pieces * found("mass_each", **typed), rel=1e-6, abs=1e-7)
    assert found("mass_per_metre", size=f"{size + 1}") > found("mass_per_metre", size=f"{size}")


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("40mm bar 1m EN8", {"size": "40mm", "length": "1m", "material": "EN8"}),
        ("40MM BAR 1M EN8", {"size": "40MM", "length": "1M", "material": "EN8"}),
        ("40mm bar EN8 cold drawn 1m", {"size": "40mm", "material": "EN8 cold drawn", "length": "1m"}),
        ("EN8 40mm bar 1m", {"material": "EN8", "size": "40mm", "length": "1m"}),
        ("40 EN8 bar", {"size": "40", "material": "EN8"}),
        ("2m of 40mm bar", {"length": "2m", "size": "40mm"}),
        ("2m of 40mm EN8", {"length": "2m", "size": "40mm", "material": "EN8"}),
        ("30 AF hex 316 500mm", {"size": "30", "material": "316", "length": "500mm", "shape": "hexagon"}),
        ("50×10 Flat 6082-T6", {"size": "50", "thickness": "10", "material": "6082-T6", "shape": "flat"}),
        ("40 bar", {"size": "40"}),
        ("1 1/2in bar 12 ft", {"size": "1 1/2in", "length": "12 ft"}),
        ("30 hex", {"size": "30", "shape": "hexagon"}),
        ("50 x 10 flat 1m", {"size": "50", "thickness": "10", "length": "1m", "shape": "flat"}),
        ("50x5 tube", {"size": "50", "thickness": "5", "shape": "tube"}),
    ],
)
def test_as_it_is_asked_for(text, typed):
    assert callout(text)[0] == (NAME, typed)
