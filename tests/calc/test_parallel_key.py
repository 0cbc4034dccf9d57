"""Parallel keys against print: all 26 metric sizes, every printed S and T, and the traps of the datum of a depth."""

import csv
import itertools
from decimal import Decimal
from fractions import Fraction
from math import sqrt

import pytest

from calc import answer
from calc.callout import callout
from calc.formulas import keys
from calc.model import Refused
from tests.calc.worked import DATA

NAME = "parallel_key"


def rows(name):
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def number(found, name):
    return found.value(name).number


METRIC = rows("published_keys_metric")
INCH = rows("published_keyseat_depths_inch")


def test_all_sizes_are_there():
    assert len(METRIC) == 26
    assert len(INCH) == 30


@pytest.mark.parametrize("row", METRIC, ids=lambda row: row["key_width [mm]"])
def test_every_metric_size_at_both_ends_of_its_step(row):
    # DIN 6885-1:1968, sheet 1; width limits JIS B 1301:1996.
    read = {key.split(" ")[0]: value for key, value in row.items()}
    just_over = Decimal(read["over"]) + Decimal("0.001")
    for shaft in (just_over, Decimal(read["up_to"])):
        for fit in ("free", "normal", "close"):
            found = answer(NAME, {"diameter": str(shaft), "fit_class": fit})
            for one in ("key_width", "key_height", "shaft_depth", "hub_depth"):
                assert number(found, one) == pytest.approx(float(read[one]), abs=1e-9), row["source"]
            upper = float(read["depth_upper"])
            t, far = float(read["shaft_depth"]), float(shaft) - float(read["shaft_depth"])
            assert number(found, "shaft_depth_max") == pytest.approx(t + upper, abs=1e-9)
            assert number(found, "bottom_to_far_side_max") == pytest.approx(far, abs=1e-9)
            assert number(found, "bottom_to_far_side_min") == pytest.approx(far - upper, abs=1e-9)
            assert number(found, "hub_across") == pytest.approx(float(shaft) + float(read["hub_depth"]), abs=1e-9)
            if not read["free_shaft_upper"]:
                continue
            half = read["normal_hub_half"]
            limits = {
                "free": [read[f"free_{one}"] for one in ("shaft_upper", "shaft_lower", "hub_upper", "hub_lower")],
                "normal": [read["normal_shaft_upper"], read["normal_shaft_lower"], half, f"-{half}"],
                "close": [read["close_upper"], read["close_lower"]] * 2,
            }[fit]
            slots = ("shaft_slot_max", "shaft_slot_min", "hub_slot_max", "hub_slot_min")
            for one, micrometres in zip(slots, limits, strict=True):
                expected = float(read["key_width"]) + float(micrometres) / 1000
                assert number(found, one) == pytest.approx(expected, abs=1e-9), (fit, one)


@pytest.mark.parametrize("row", INCH, ids=lambda row: row["shaft [in]"])
@pytest.mark.parametrize(("section", "column"), [("square", "square"), ("rectangular", "flat")])
def test_every_printed_s_and_t_of_asme(row, section, column):
    # Machinery's Handbook Pocket Companion, keys, table 1 (ASME B17.1-1967); half the last printed digit.
    found = answer(NAME, {"diameter": f"{row['shaft [in]']} in", "system": "asme", "section": section})
    assert number(found, "bottom_to_far_side") / 25.4 == pytest.approx(float(row[f"{column}_shaft [in]"]), abs=5.1e-4)
    assert number(found, "hub_across") / 25.4 == pytest.approx(float(row[f"{column}_hub [in]"]), abs=5.1e-4)
    assert number(found, "key_width") == pytest.approx(float(Fraction(row["key_width [in]"])) * 25.4)


@pytest.mark.parametrize(
    ("shaft", "name", "expected"),
    [
        # Berger, catalogue of standard parts, page 2078; Flender, gear unit catalogue MD 10.1:2015, page 15/3.
        ("25", "bottom_to_far_side", 21), ("35", "bottom_to_far_side", 30),
        ("22", "key_width", 6), ("58", "shaft_depth", 6), ("60", "hub_depth", 4.4), ("100", "shaft_depth", 10),
        ("480", "hub_depth", 19.5),
        # Geometry: 25 - sqrt(625 - 49) = 1 for a 14 wide slot in 50, so 5.5 from the crown is 4.5 from the edge.
        ("50", "corner_depth", 4.5),
    ],
)  # fmt: skip
def test_printed_figures(shaft, name, expected):
    assert number(answer(NAME, {"diameter": shaft}), name) == pytest.approx(expected, abs=1e-9)


def test_bs46_is_another_key_on_the_same_shaft_and_its_depth_is_from_the_crown():
    # BS 46-1:1958, square keys, through one extract; ASME B17.1-1967 table 1.
    british = answer(NAME, {"diameter": "1 1/8 in", "system": "bs46"})
    american = answer(NAME, {"diameter": "1 1/8 in", "system": "asme"})
    assert number(british, "key_width") == pytest.approx(0.3125 * 25.4)
    assert number(american, "key_width") == pytest.approx(0.25 * 25.4)
    assert number(british, "shaft_depth_min") / 25.4 == pytest.approx(0.177)
    assert number(british, "shaft_depth_max") / 25.4 == pytest.approx(0.183)
    assert any("crown is inferred" in one for one in british.assumptions)


def test_steps_are_over_up_to_and_including():
    # DIN 6885-1: 22 takes 6 x 6, above it 8 x 7; ASME B17.1: 1 1/4 in takes 1/4, above it 5/16.
    assert str(keys.key_for("metric", "usual", 22.0)) == "6 × 6 mm"
    assert str(keys.key_for("metric", "usual", 22.1)) == "8 × 7 mm"
    assert str(keys.key_for("asme", "usual", 31.75)) == "1/4 × 1/4 in"
    assert str(keys.key_for("asme", "usual", 31.751)) == "5/16 × 5/16 in"
    assert str(keys.key_for("bs46", "usual", 25.4)) == "1/4 × 1/4 in"
    assert str(keys.key_for("bs46", "usual", 25.401)) == "5/16 × 5/16 in"


def test_a_bigger_shaft_never_gets_a_smaller_metric_key():
    found = [keys.key_for("metric", "usual", tenth / 10) for tenth in range(61, 5001)]
    for part in ("width", "height"):
        sizes = [getattr(one, part) for one in found]
        assert sizes == sorted(sizes)
    # Each is taken up to its own shaft and no further: the next one is wider, with a slot at least as deep.
    taken = []
    for end in dict.fromkeys(one.up_to for one in found[:-1]):
        taken += [answer(NAME, {"diameter": f"{shaft:g}"}) for shaft in (end, end + 0.001) if shaft <= 500]
    for one, other in itertools.pairwise(taken):
        for name in ("key_width", "key_height", "shaft_depth", "hub_depth"):
            assert number(one, name) <= number(other, name)
    assert len({number(one, "key_width") for one in taken}) == 26


def test_asme_depth_is_from_the_edge_half_the_key():
    # ASME B17.1-1967: keyseat depth at the side is H/2; 1 in shaft, 1/4 key.
    found = answer(NAME, {"diameter": "1 in", "system": "asme"})
    assert number(found, "corner_depth") / 25.4 == pytest.approx(0.125)
    assert number(found, "shaft_depth") / 25.4 == pytest.approx(0.125 + (1 - sqrt(1 - 0.0625)) / 2)


def test_a_slot_cut_before_grinding_is_deeper_by_half_the_allowance():
    # By hand: 28 finished with 0.4 to grind: 4 + 0.2 from the rough crown, 28.4 - 4.2 = 24.2 to the far side.
    found = answer(NAME, {"grinding_allowance": "0.4"})
    assert number(found, "cut_depth") == pytest.approx(4.2)
    assert number(found, "cut_far_side") == pytest.approx(24.2)
    assert number(found, "bottom_to_far_side") == pytest.approx(24)
    assert "cut_depth" in found.main


def test_the_measured_diameter_counts_for_the_far_side_and_the_key_stays_that_of_the_hub():
    found = answer(NAME, {"diameter": "22.2", "actual_diameter": "21.95"})
    assert number(found, "key_width") == 8
    assert number(found, "bottom_to_far_side") == pytest.approx(17.95)
    assert "another step" in found.verdict.text


def test_old_keys_are_told_apart_and_two_standards_are_both_named():
    both = answer(NAME, {"diameter": "1 in", "measured_width": "6.35", "measured_height": "6.35"})
    assert both.verdict.level == "mind"
    assert "ASME B17.1" in both.verdict.text
    assert "BS 46-1" in both.verdict.text
    assert {row[0] for row in both.tables[0].rows} == {"ASME B17.1", "BS 46-1"}
    # 5/16 in is 7.94 mm: by its width alone it could be 8 x 7.
    wide = answer(NAME, {"diameter": "30 mm", "measured_width": "7.95"})
    assert {"DIN 6885-1", "BS 46-1"} <= {row[0] for row in wide.tables[0].rows}
    none = answer(NAME, {"measured_width": "7.3"})
    assert "special" in none.verdict.text
    mine = answer(NAME, {"measured_width": "7.98", "measured_height": "6.95"})
    assert mine.verdict.level == "good"


def test_unconfirmed_figures_are_left_out_or_told():
    assert "corner_radius_max" not in [one.name for one in answer(NAME, {"diameter": "250"}).values]
    assert any("unconfirmed" in one for one in answer(NAME, {"diameter": "250"}).assumptions)
    assert "shaft_slot_max" not in [one.name for one in answer(NAME, {"diameter": "1 in", "system": "asme"}).values]
    old = answer(NAME, {"measured_width": "9.525", "measured_height": "6.35"})
    assert any("unconfirmed" in row[1] for row in old.tables[0].rows)


def test_every_depth_says_where_it_is_measured_from():
    for one in answer(NAME, {"grinding_allowance": "0.3"}).values:
        if "epth" in one.label:
            assert "crown" in one.label or "edge" in one.label, one.label


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"diameter": "300", "system": "asme"}, "diameter", "up to 279.400 mm"),
        ({"diameter": "200", "system": "bs46"}, "diameter", "over 6.350 mm"),
        ({"section": "square"}, "section", "no square key"),
        ({"diameter": "9", "system": "asme", "section": "rectangular"}, "section", "no rectangular key"),
        ({"diameter": "1 1/8 in", "system": "bs46", "section": "rectangular"}, "section", "could not be found"),
        ({"measured_height": "7"}, "measured_width", "as well"),
        ({"actual_diameter": "31"}, "actual_diameter", "5 %"),
    ],
)
def test_what_cannot_be_answered_is_refused(typed, field, said):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (problem,) = caught.value.problems
    assert problem.name == field
    assert said in str(problem)


def test_it_is_found_as_a_turner_writes_it():
    assert callout("key 28")[0] == (NAME, {"diameter": "28"})
    assert callout("key 28 close")[0] == (NAME, {"diameter": "28", "fit_class": "close"})


@pytest.mark.parametrize("shaft", ["6.5", "28", "150", "480"])
def test_the_slot_of_every_key_can_be_milled_next(shaft):
    found = answer(NAME, {"diameter": shaft, "grinding_allowance": "0.3"})
    milled = answer("keyway_cut", next(one for one in found.following if one.name == "keyway_cut").typed)
    for one in ("key_width", "key_height", "cut_depth", "shaft_slot_max"):
        assert number(milled, one) == number(found, one)


def test_it_leads_to_the_strength_of_the_key_in_a_length_that_is_made():
    # DIN 6885-1: 28 mm takes 8 x 7; the first length of the series from 1.25 x 28 = 35 on is 36, past the end 400.
    after = {one.name: one.typed for one in answer(NAME, {}).following}
    assert after["key_strength"]["key"] == "8 x 7 x 36 mm"
    assert answer("key_strength", after["key_strength"]).verdict.level == "good"
    big = {one.name: one.typed for one in answer(NAME, {"diameter": "480"}).following}
    assert big["key_strength"]["key"] == "100 x 50 x 400 mm"
    inch = {one.name: one.typed for one in answer(NAME, {"diameter": "1 in", "system": "asme"}).following}
    assert inch["key_strength"]["key"] == "6.35 x 6.35 x 31.75 mm"
