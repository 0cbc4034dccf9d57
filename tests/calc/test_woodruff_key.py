"""Woodruff keys against print: the 22 printed rows of ASME B17.2, the contact heights of metric keys, the datums."""

import csv
from fractions import Fraction
from math import sqrt

import pytest

from calc import answer
from calc.callout import callout
from calc.formulas import woodruff
from calc.model import CalcError, Refused
from tests.calc.worked import DATA

NAME = "woodruff_key"


def rows(name):
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def number(found, name):
    return found.value(name).number


INCH, METRIC = rows("published_woodruff_inch"), rows("published_woodruff_metric")


def test_all_printed_rows_are_there():
    assert (len(INCH), len(METRIC)) == (22, 16)
    assert len(woodruff.known()) == 54


@pytest.mark.parametrize("row", INCH, ids=lambda row: f"{row['key_width [in]']} x {row['diameter [in]']}")
def test_every_printed_row_of_asme(row):
    # Shigley, table 7-7, and Machinery's Handbook, 31st edition, page 2557; depths at the edge of the slot.
    found = answer(NAME, {"key": f"{row['key_width [in]']} x {row['diameter [in]']} in", "diameter": ""})
    for name, column in (
        ("edge_depth", "shaft_depth [in]"), ("hub_edge_depth", "hub_depth [in]"), ("key_height_max", "height_max [in]"),
        ("key_height_min", "height_min [in]"),
    ):  # fmt: skip
        assert number(found, name) / 25.4 == pytest.approx(float(row[column]), abs=1e-9), name
    # Both depths +0.005, -0 in.
    assert number(found, "edge_depth_max") - number(found, "edge_depth_min") == pytest.approx(0.005 * 25.4)


@pytest.mark.parametrize("row", METRIC, ids=lambda row: row["key"])
def test_contact_heights_and_lengths_of_metric_keys(row):
    # Contact heights are those of a depth from the crown, on the biggest shaft that the key is for.
    found = answer(NAME, {"key": row["key"], "diameter": row["shaft [mm]"]})
    height = number(found, "key_height") - number(found, "edge_depth")
    assert height == pytest.approx(float(row["contact_height [mm]"]), abs=float(row["tolerance [mm]"]))
    one = woodruff.read(row["key"])
    assert one.shafts["torque"][1] == float(row["shaft [mm]"])
    assert woodruff.chord(one.disc, one.height) == pytest.approx(float(row["length [mm]"]), abs=0.09)


@pytest.mark.parametrize(
    ("key", "name", "expected"),
    [
        # Shigley, table 7-7, and Mott, Machine Elements in Mechanical Design, table 11-3.
        ("810", "edge_depth", 0.417), ("1210", "edge_depth", 0.3545), ("204", "edge_depth", 0.1668),
        ("204", "hub_edge_depth", 0.0372), ("1628", "edge_depth", 0.683), ("2428", "hub_edge_depth", 0.381),
        # Technical college page on milling: 608 is 3/16 by 1.
        ("608", "key_width", 3 / 16), ("608", "key_diameter", 1),
        # Machinery's Handbook, 31st edition, page 2557: width +0.001, diameter -0.010.
        ("608", "key_width_max", 0.1885), ("608", "key_diameter_min", 0.99),
    ],
)  # fmt: skip
def test_printed_figures_of_numbers(key, name, expected):
    assert number(answer(NAME, {"key": key, "diameter": ""}), name) / 25.4 == pytest.approx(expected, abs=2e-6)


def test_a_number_is_width_and_diameter():
    for one in woodruff.known():
        if one.system == "asme":
            digits = int(one.name)
            assert one.width / 25.4 == pytest.approx(digits // 100 / 32)
            assert one.disc / 25.4 == pytest.approx(digits % 100 / 8)
            assert float(Fraction(one.row.text("key_width_fraction"))) * 25.4 == pytest.approx(one.width)


def test_depths_of_asme_follow_one_rule_but_for_the_biggest():
    # Found by fitting the printed rows: least height less half the width; half the width and 0.006.
    for one in woodruff.known():
        if one.system == "asme":
            off = (one.depth - (one.least_height - one.width / 2)) / 25.4
            assert off == pytest.approx(0.003 if one.name in ("1628", "2428") else 0, abs=1.5e-4), one.name
            assert one.hub_depth / 25.4 == pytest.approx(one.width / 25.4 / 2 + 0.006, abs=1.5e-4), one.name


def test_the_datum_of_each_standard():
    # Geometry: 5 wide in 18: 9 - sqrt(81 - 6.25); 3/16 wide in 1 in: (1 - sqrt(1 - 9/256)) / 2.
    metric = answer(NAME, {"key": "5x6.5x16", "diameter": "18"})
    assert number(metric, "crown_depth") == 4.5
    assert number(metric, "edge_depth") == pytest.approx(4.5 - (9 - sqrt(81 - 6.25)))
    assert number(metric, "hub_crown_depth") == 2.3
    inch = answer(NAME, {"key": "608", "diameter": "1 in"})
    assert number(inch, "edge_depth") / 25.4 == pytest.approx(0.3393)
    assert number(inch, "crown_depth") / 25.4 == pytest.approx(0.3393 + (1 - sqrt(1 - 9 / 256)) / 2)
    assert number(inch, "hub_edge_depth") / 25.4 == pytest.approx(0.0997)
    for one in (*metric.values, *inch.values):
        if "epth" in one.label:
            assert "crown" in one.label or "edge" in one.label, one.label


def test_what_is_measured():
    # By hand: 18 - 4.5 = 13.5 to the far side, limits turned round; the key 6.5 on top of it is 20.
    found = answer(NAME, {})
    assert number(found, "bottom_to_far_side") == 13.5
    assert number(found, "bottom_to_far_side_min") == pytest.approx(13.3)
    assert number(found, "over_key") == 20
    assert number(found, "hub_across") == pytest.approx(20.3)
    # ISO 286-2 for 3 to 6 mm: N9 0 to -30 µm, JS9 plus and minus 15; P9 -12 to -42.
    assert number(found, "shaft_slot_min") == pytest.approx(4.97)
    assert number(found, "hub_slot_max") == pytest.approx(5.015)
    assert number(answer(NAME, {"fit_class": "close"}), "shaft_slot_max") == pytest.approx(4.988)
    least = answer(NAME, {"key": "608", "diameter": "1 in"})
    assert number(least, "over_key") - number(least, "over_key_min") == pytest.approx(0.010 * 25.4)


def test_no_limits_where_iso_286_has_none():
    # ISO 286-1: N has no grades above 8 for sizes up to 1 mm.
    found = answer(NAME, {"key": "1x1.4x4", "diameter": "4"})
    assert "shaft_slot_max" not in [one.name for one in found.values]
    assert number(found, "hub_slot_max") == pytest.approx(1.0125)
    assert any("no N9" in one for one in found.assumptions)


def test_the_slot_is_as_long_as_its_chord():
    # Geometry: a disc of 16, 4.5 deep: 2 sqrt(4.5 x 11.5).
    found = answer(NAME, {})
    assert number(found, "slot_length") == pytest.approx(2 * sqrt(4.5 * 11.5))
    assert number(found, "from_shoulder") == 8
    assert number(found, "cutter_diameter") == 16


@pytest.mark.parametrize(
    ("shaft", "duty", "name"),
    [("16", "torque", "4x7.5x19"), ("16.1", "torque", "5x6.5x16"), ("18", "torque", "5x6.5x16"),
     ("18", "location", "3x6.5x16"), ("18.1", "location", "4x6.5x16"), ("38", "torque", "10x13x32")],
)  # fmt: skip
def test_a_shaft_chooses_its_metric_key(shaft, duty, name):
    # ISO 3912: over the first, up to and including the second; for torque and for location they differ.
    found = answer(NAME, {"key": "", "diameter": shaft, "duty": duty})
    one = woodruff.read(name)
    assert (number(found, "key_width"), number(found, "key_diameter")) == (one.width, one.disc)
    assert found.verdict.level == "good"


def test_bigger_shafts_never_get_a_smaller_key_to_carry_torque():
    widths = [woodruff.for_shaft(tenth / 10, "torque").width for tenth in range(31, 381)]
    assert widths == sorted(widths)


def test_a_key_for_another_shaft_is_told():
    assert "gives this shaft the 6 × 9 × 22 mm key" in answer(NAME, {"diameter": "24"}).verdict.text
    assert "no Woodruff key" in answer(NAME, {"diameter": "60"}).verdict.text
    # Shigley, table 7-8: 3/16 keys for 9/16 to 2 in, both ends in.
    assert answer(NAME, {"key": "608", "diameter": "2 in"}).verdict.level == "good"
    assert answer(NAME, {"key": "608", "diameter": "2.001 in"}).verdict.level == "mind"
    assert any("3/32 to 1/4 in" in cell for row in answer(NAME, {}).tables[0].rows for cell in row)


def test_what_is_unconfirmed_is_told():
    def told(**typed):
        return " ".join(answer(NAME, typed).assumptions)

    assert "depth in the hub is from memory" in told(key="8x11x28", diameter="30")
    assert "depth in the hub is from memory" not in told()
    assert "0.1 mm more" in told(key="6x10x25", diameter="28")
    assert "reads 2.9 mm" in told(key="2.5x3.7x10", diameter="8")
    assert "computed by the rule" in told(key="609", diameter="")
    assert "computed by the rule" not in told(key="608", diameter="")
    assert "seen in one place" in told(key="1628", diameter="")
    assert "touch the bottom" in told(key="2428", diameter="")
    assert "edge of the slot: from memory" in told(key="608", diameter="")
    assert "unconfirmed for Woodruff" in told()


def test_it_leads_to_its_strength():
    found = answer(NAME, {"key": "608", "diameter": "1 in"})
    after = next(one for one in found.following if one.name == "key_strength")
    strength = answer("key_strength", dict(after.typed))
    assert any("ASME B17.2" in one for one in strength.assumptions)
    assert any("8.84 mm deep from the crown" in one for one in strength.assumptions)


# ------------------------------------------------------------------------------------- notation and refusals


@pytest.mark.parametrize(
    ("text", "name"),
    [("608", "608"), ("No. 608", "608"), ("no 608", "608"), ("#608", "608"), ("3/16 x 1", "608"),
     ("3/16 x 1 in", "608"), ('3/16 × 1"', "608"), ("5x6.5", "5x6.5x16"), ("5 × 6,5 × 16", "5x6.5x16"),
     ("5x6.5x16 mm", "5x6.5x16")],
)  # fmt: skip
def test_a_key_is_read_as_it_is_written(text, name):
    assert woodruff.read(text).name == name


@pytest.mark.parametrize(
    ("text", "said"),
    [("612", "last two digits"), ("5x6", "no such key"), ("3/16 x 3", "no such key"), ("half moon", "such as 608"),
     ("5x6.5x19", "no such key")],
)  # fmt: skip
def test_what_is_no_key_is_refused(text, said):
    with pytest.raises(CalcError, match=said):
        woodruff.read(text)


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"key": "", "diameter": ""}, "key", "diameter of the shaft"),
        ({"key": "", "diameter": "40"}, "diameter", "over 3 up to 38 mm"),
        ({"key": "", "diameter": "41", "duty": "location"}, "diameter", "up to 40 mm"),
        ({"key": "10x13x32", "diameter": "18"}, "diameter", "half as wide"),
        ({"key": "610", "diameter": "18"}, "diameter", "middle"),
    ],
)
def test_what_cannot_be_answered_is_refused(typed, field, said):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (problem,) = caught.value.problems
    assert problem.name == field
    assert said in str(problem)


@pytest.mark.parametrize("text", ["woodruff 608", "Woodruff 608", "woodruff key 5x6.5", "woodruff 608 on 25.4"])
def test_it_is_found_as_a_turner_writes_it(text):
    name, typed = callout(text)[0]
    assert name == NAME
    assert typed["key"] in ("608", "5x6.5")
