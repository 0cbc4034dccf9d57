"""Strength of keys: the worked examples of handbooks, the rules one by one, and what must be told or refused."""

import csv
import json
from math import pi, sqrt

import pytest

from calc import answer
from calc.callout import callout
from calc.formulas import key_notation, key_strength, woodruff
from calc.model import CalcError, Refused
from tests.calc.worked import DATA

NAME = "key_strength"
#: Steel everywhere, so that one yield strength counts.
STEEL = {"hub_material": "355 MPa", "shaft_material": "355 MPa", "key_material": "355 MPa"}


def number(found, name):
    return found.value(name).number


def strong(**typed):
    return answer(NAME, STEEL | typed)


with (DATA / "key_worked_examples.csv").open(encoding="utf-8", newline="") as _file:
    WORKED = {row["id"]: row for row in csv.DictReader(_file)}


def example(which):
    row = WORKED[which]
    return json.loads(row["inputs"]), float(row["expected"]), float(row["tolerance"])


def test_every_worked_example_is_used():
    assert set(WORKED) == {"6.03", "6.11", "6.35", "6.37", "6.38"}


# ------------------------------------------------------------------------------------------ worked examples


def test_torque_of_power_and_speed():
    # Shaft design problem, 20 kW at 200 rev/min, worked answer 955 N·m.
    given, expected, tolerance = example("6.03")
    found = strong(power=f"{given['P']} kW", speed=str(given["n"]), diameter="60", key="18x11x90")
    assert number(found, "torque") == pytest.approx(expected, abs=tolerance)


def test_torque_of_horsepower():
    # Faires, Design of Machine Elements, problem 471: 6300 lbf·in with the old 63000; the exact constant is 63025.
    given, expected, _ = example("6.11")
    found = strong(power=f"{given['hp']} hp", speed=str(given["n"]), diameter="60", key="18x11x90")
    inch_pounds = number(found, "torque") / (4.4482216152605 * 0.0254)
    assert inch_pounds == pytest.approx(expected * 63025 / 63000, rel=1e-5)


def test_shear_with_the_force_at_the_reduced_radius():
    # University problem sheet on shafts and keys: its 45 is the shaft of 50 less half the key of 10.
    given, expected, tolerance = example("6.35")
    found = strong(
        torque=str(given["T_Nm"]), shock=str(given["Ks"]), diameter="50", shaft_depth="5", ends="square",
        key=f"{given['w']} x 10 x {given['l']}",
    )  # fmt: skip
    assert number(found, "force_reduced") / (given["w"] * given["l"]) == pytest.approx(expected, abs=tolerance)
    assert any(cell.startswith(f"{expected:.1f} MPa") for cell in found.tables[0].rows[0])
    # The two radii differ by more than a tenth: both are shown.
    assert number(found, "shear_stress") == pytest.approx(expected * 45 / 50, abs=tolerance)


def test_pressure_by_method_c():
    # Recomputed from the formula of DIN 6892 method C: 14 x 9 key in 50 mm has 9 - 5.5 = 3.5 in the hub.
    given, expected, tolerance = example("6.37")
    found = strong(torque=str(given["T_Nm"]), shock=str(given["KA"]), diameter=str(given["d"]), key="14x9x50")
    assert number(found, "hub_height") == pytest.approx(given["h_tr"])
    assert number(found, "contact_length") == pytest.approx(given["l_tr"])
    assert number(found, "method_c_pressure") == pytest.approx(expected, abs=tolerance)
    assert number(found, "method_c_allowed") == pytest.approx(0.9 * 355)


def test_bearing_length_of_a_round_ended_key():
    # DIN 6892: the length less the width.
    given, expected, tolerance = example("6.38")
    assert given["l"] - key_strength.off_the_ends("round", given["b"]) == pytest.approx(expected, abs=tolerance)


# ------------------------------------------------------------------------------------------------- the rules


def test_heights_of_contact_are_not_half_the_key():
    # Geometry: 14 x 9 key in 50 mm: 25 - sqrt(625 - 49) = 1 from crown to edge; slot 5.5 (DIN 6885-1).
    found = strong(diameter="50", key="14x9x50")
    assert number(found, "hub_height") == pytest.approx(9 - 5.5)
    assert number(found, "shaft_height") == pytest.approx(5.5 - 1)


def test_ends_take_their_share_of_the_length():
    for ends, expected in (("round", 36), ("mixed", 43), ("square", 50)):
        assert number(strong(diameter="50", key="14x9x50", ends=ends), "contact_length") == expected
    assert number(strong(diameter="50", key="B14x9x50"), "contact_length") == 50
    assert number(strong(diameter="50", key="A14x9x50", ends="square"), "contact_length") == 36
    assert number(strong(diameter="50", key="AB 14x9x50"), "contact_length") == 43


def test_no_more_than_so_many_diameters_count():
    # DIN 6892: 1.3 times the shaft.
    found = strong(diameter="50", key="B14x9x100")
    assert number(found, "contact_length") == pytest.approx(65)
    assert any("1.3 times the shaft" in one for one in found.assumptions)
    assert not any("1.3 times the shaft" in one for one in strong(diameter="50", key="B14x9x65").assumptions)


def test_only_what_lies_in_the_hub_counts():
    found = strong(diameter="50", key="B14x9x60", hub_length="40")
    assert number(found, "contact_length") == 40
    assert any("inside the hub" in one for one in found.assumptions)


def test_force_at_both_radii():
    # By hand: 2 x 300 000 / 50 = 12 000 N; at 50 - 9/2 = 45.5 mm 13 187 N.
    found = strong(torque="300", shock="1", diameter="50", key="14x9x50")
    assert number(found, "force") == pytest.approx(12_000)
    assert number(found, "force_reduced") == pytest.approx(600_000 / 45.5)
    assert number(found, "safety") / number(found, "safety_reduced") == pytest.approx(50 / 45.5)
    assert number(found, "torque_carried") / number(found, "torque_carried_reduced") == pytest.approx(50 / 45.5)


def test_shear_yield_is_that_of_distortion_energy():
    # Shigley: 0.577 of the yield.
    found = strong(torque="300", shock="1", diameter="50", key="14x9x50")
    assert number(found, "shear_stress") == pytest.approx(12_000 / (14 * 36))
    assert number(found, "shear_safety") == pytest.approx(0.577 * 355 / number(found, "shear_stress"))


def test_the_weaker_of_two_that_touch_counts():
    found = answer(NAME, {"shaft_material": "600 MPa", "hub_material": "200 MPa", "key_material": "300 MPa"})
    assert number(found, "shaft_safety") == pytest.approx(300 / number(found, "shaft_stress"))
    assert number(found, "hub_safety") == pytest.approx(200 / number(found, "hub_stress"))
    assert number(found, "method_c_allowed") == pytest.approx(0.9 * 200)


def test_two_keys_carry_half_as_much_again():
    one, two = strong(), strong(count="two")
    assert number(two, "torque_carried") == pytest.approx(1.5 * number(one, "torque_carried"))
    assert any("three quarters" in said and "unconfirmed" in said for said in two.assumptions)


def test_a_chamfer_takes_height_in_hub_and_shaft():
    plain, cut = strong(), strong(chamfer="0.4")
    for name in ("hub_height", "shaft_height"):
        assert number(cut, name) == pytest.approx(number(plain, name) - 0.4)
    assert number(cut, "method_c_pressure") == pytest.approx(number(plain, "method_c_pressure"))


@pytest.mark.parametrize("typed", [{}, {"ends": "square"}, {"count": "two"}, {"diameter": "30", "chamfer": "0.3"}])
def test_the_least_length_has_just_the_safety_that_is_wanted(typed):
    length = number(strong(torque="60", **typed), "least_length")
    again = strong(torque="60", key=f"8 x 7 x {length:.9f}", **typed)
    assert number(again, "safety_reduced") == pytest.approx(1.5, rel=1e-6)


def test_the_next_length_is_of_the_series():
    # DIN 6885-1: ... 18, 20, 22, 25 ...; an 8 x 7 key is made from 18 to 90 mm.
    found = answer(NAME, {})
    assert number(found, "least_length") == pytest.approx(20.99, abs=0.01)
    assert number(found, "listed_length") == 22
    assert number(answer(NAME, {"torque": "1"}), "listed_length") == 18


def test_no_length_helps_past_what_counts():
    found = strong(torque="2000")
    assert found.verdict.level == "stop"
    assert "least_length" not in [one.name for one in found.values]
    assert "bigger shaft" in found.verdict.text
    # 8 x 7 in 28 mm, 1.3 x 28 = 36.4 of contact at most.
    short = strong(torque="120", key="8x7x12")
    # By hand: 180 000 x 2 / 24.5 / (3 x 355 / 1.5) = 20.7 of contact, 28.7 with its ends, 32 in the series.
    assert "32 mm long" in short.verdict.text
    assert number(short, "listed_length") == 32


def test_safety_never_falls_with_length_and_never_rises_with_torque():
    by_length = [number(strong(key=f"8x7x{length}"), "safety") for length in range(9, 91)]
    assert by_length == sorted(by_length)
    by_torque = [number(strong(torque=str(torque)), "safety") for torque in (1, 5, 20, 80, 320, 1280)]
    assert by_torque == sorted(by_torque, reverse=True)


def test_the_verdict_has_three_levels():
    # 8 x 7 x 40 in 28 mm, yield 355, safety 1.5: 318 N·m at the surface, 278 at the reduced radius, without shock.
    assert strong(torque="270", shock="1").verdict.level == "good"
    # 32 of the 40 mm count: 32 x 300 / 278 + 8 = 42.5 mm, and 45 mm is the next length of DIN 6885-1.
    between = strong(torque="300", shock="1")
    assert between.verdict.level == "mind"
    assert between.verdict.text.endswith("at the reduced radius, wanted 1.50; it takes one 45 mm long.")
    assert strong(torque="320", shock="1").verdict.level == "stop"
    # Safety 1 leaves a tenth that method C does not allow: 0.9 x 355 x 1344 = 429.4 N·m against 417.5.
    close = strong(torque="415", shock="1", safety="1", diameter="28", chamfer="0")
    assert close.verdict.level == "good"


def test_method_c_can_be_the_one_that_says_no():
    # Weak shaft, strong hub and key: method C takes the weakest of the three for the hub as well.
    found = answer(
        NAME, {"shaft_material": "200 MPa", "hub_material": "800 MPa", "key_material": "800 MPa", "torque": "250",
               "shock": "1", "safety": "1"},
    )  # fmt: skip
    assert found.verdict.level == "mind"
    assert "method C" in found.verdict.text


def test_iron_wants_a_third_more_and_that_is_told():
    found = answer(NAME, {})
    assert "wanted 2.00" in found.verdict.text
    assert any("a third more safety" in one and "from memory" in one for one in found.assumptions)


def test_a_woodruff_key_bears_along_its_chord():
    # Geometry: 5 x 6.5 x 16 in 18 mm, slot 4.5 (ISO 3912): edge 9 - sqrt(81 - 6.25) below the crown.
    f = 9 - sqrt(81 - 6.25)
    y = 4.5 - f
    chord = 2 * sqrt(y * (16 - y))
    found = strong(diameter="18", key="5x6.5x16", ends="woodruff", torque="20", shock="1")
    force = 40_000 / 18
    assert number(found, "contact_length") == pytest.approx(chord)
    assert number(found, "hub_stress") == pytest.approx(force / (2 * chord))
    assert number(found, "shear_stress") == pytest.approx(force / (5 * chord))
    assert number(found, "shaft_stress") == pytest.approx(force / key_strength.segment_area(16, y))
    assert "least_length" not in [one.name for one in found.values]
    by_number = strong(diameter="25.4", key="4.7625 x 11.1252 x 25.4 mm", ends="woodruff")
    assert any("ASME B17.2" in one for one in by_number.assumptions)


def test_a_segment_of_half_the_circle_is_half_the_circle():
    assert key_strength.segment_area(16, 8) == pytest.approx(pi * 64 / 2)
    # A flat segment is two thirds of chord times height.
    assert key_strength.segment_area(16, 0.01) == pytest.approx(2 / 3 * 0.01 * woodruff.chord(16, 0.01), rel=1e-3)


# --------------------------------------------------------------------------------------------------- is told


def test_what_is_unconfirmed_is_told():
    assert any("method C" in one and "unconfirmed" in one for one in strong().assumptions)
    soft = answer(NAME, {"shaft_material": "EN16T"})
    assert any("EN16T" in one and "unconfirmed" in one for one in soft.assumptions)
    assert any("unconfirmed" in cell for cell in soft.tables[1].rows[0])


def test_key_steel_that_is_too_soft_is_told():
    # BS 4235-1: key steel of 550 MPa tensile strength at least; S235JR has 360.
    assert any("550 MPa" in one for one in answer(NAME, {"key_material": "S235JR"}).assumptions)
    assert not any("550 MPa" in one for one in answer(NAME, {}).assumptions)


def test_cautions_defer_to_codes_and_licensed_practice():
    cautions = " ".join(answer(NAME, {}).cautions)
    assert "code" in cautions
    assert "licensed engineer" in cautions
    assert "shaft itself is not" in cautions


def test_a_key_for_another_shaft_is_told():
    assert any("over 22.00 mm up to 30.00 mm" in one for one in strong(diameter="35").assumptions)
    assert not any("gives this key" in one for one in strong(diameter="30").assumptions)
    small = strong(diameter="10", key="2x2.6x7", ends="woodruff", torque="0.1")
    assert any("over 5 up to 6 mm" in one for one in small.assumptions)


def test_a_typed_torque_goes_before_power_and_the_other_is_shown():
    found = strong(torque="50")
    assert number(found, "torque") == 50
    assert any("39.8 N·m" in one for one in found.assumptions)
    assert not any("left aside" in one for one in strong(torque="50", power="").assumptions)


def test_inch_keys_are_known_by_their_sizes():
    # ASME B17.1: 1/4 key in 1 in, half of it below the edge.
    found = strong(diameter="1 in", key="1/4 x 1/4 x 1 1/2 in")
    assert number(found, "shaft_height") == pytest.approx(3.175)
    assert any("ASME B17.1" in one for one in found.assumptions)
    # BS 46-1: 5/16 key in 1 1/8 in; ASME has a 1/4 key there.
    assert any("BS 46-1" in one for one in strong(diameter="1 1/8 in", key="5/16x5/16x1 1/2").assumptions)


# ------------------------------------------------------------------------------------------------- notation


@pytest.mark.parametrize(
    ("text", "sizes", "ends"),
    [
        ("8x7x40", (8, 7, 40), None), ("8 x 7 x 40", (8, 7, 40), None), ("8×7×40", (8, 7, 40), None),
        ("8 × 7 × 40 mm", (8, 7, 40), None), ("A8x7x40", (8, 7, 40), "round"), ("B 8 x 7 x 40", (8, 7, 40), "square"),
        ("AB 8X7X40", (8, 7, 40), "mixed"), ("2,5x2,5x10", (2.5, 2.5, 10), None),
        ("1/4 x 1/4 x 1 1/2", (6.35, 6.35, 38.1), None), ("1/4 x 1/4 x 1-1/2 in", (6.35, 6.35, 38.1), None),
        ('1/4" x 3/16" x 2"', (6.35, 4.7625, 50.8), None), ("0.25 x 0.25 x 1.5 in", (6.35, 6.35, 38.1), None),
        ("1/4in x 1/4in x 40mm", (6.35, 6.35, 40), None),
    ],
)  # fmt: skip
def test_a_key_is_read_as_it_is_written(text, sizes, ends):
    found = key_notation.read(text)
    assert (found.width, found.height, found.length) == pytest.approx(sizes)
    assert found.ends == ends


@pytest.mark.parametrize(
    ("text", "said"),
    [("8x7", "width, height and length"), ("8x7x40x2", "8x7x40"), ("eight", "8x7x40"), ("C8x7x40", "8x7x40"),
     ("40x8x700.5", "a length from 3"), ("120x8x40", "a width from 1 to 110"), ("8x70x40", "a height from 1 to 60"),
     ("1/0x7x40", "0 below the line")],
)  # fmt: skip
def test_what_is_no_key_is_refused(text, said):
    with pytest.raises(CalcError, match=said):
        key_notation.read(text)


@pytest.mark.parametrize("text", ["8x7x40", "8 x 7 x 40", "8×7×40", "key 8x7x40", "8x7x40 key", "B8x7x40"])
def test_it_is_found_as_a_turner_writes_it(text):
    name, typed = callout(text)[0]
    assert name == NAME
    assert list(typed) == ["key"]


# ------------------------------------------------------------------------------------------------- refusals


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"power": "", "speed": ""}, "torque", "power and speed"),
        ({"power": ""}, "power", "torque alone"),
        ({"speed": ""}, "speed", "torque alone"),
        ({"diameter": "16"}, "diameter", "over half this shaft"),
        ({"diameter": "6"}, "diameter", "over half this shaft"),
        ({"key": "8x6x40"}, "shaft_depth", "No standard key"),
        ({"shaft_depth": "7"}, "shaft_depth", "no side"),
        ({"shaft_depth": "0.55"}, "shaft_depth", "no side"),
        ({"chamfer": "3"}, "chamfer", "whole side"),
        ({"key": "8x7x8"}, "key", "longer than it is wide"),
        ({"key": "5x9x16", "ends": "woodruff", "shaft_depth": "5"}, "key", "half its diameter"),
        ({"key": "5x6x16", "ends": "woodruff"}, "shaft_depth", "No standard key"),
        ({"shaft_material": "S355J2", "diameter": "60", "key": "18x11x60"}, "shaft_material", "listed to 40 mm"),
        ({"hub_material": "16MnCr5"}, "hub_material", "yield strength"),
        ({"key_material": "EN45"}, "key_material", "yield strength"),
    ],
)
def test_what_cannot_be_answered_is_refused(typed, field, said):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (problem,) = caught.value.problems
    assert problem.name == field
    assert said in str(problem)


# ------------------------------------------------------------------------------------------------ what comes next


@pytest.mark.parametrize(
    ("typed", "width", "height"),
    # ASME B17.1 has 1/4 for 1 in, square or 3/16 high; BS 46-1 has 5/16 for 1 1/8 in, where ASME has 1/4.
    [
        ({}, 8, 7),
        ({"diameter": "1 in", "key": "1/4 x 1/4 x 1 1/2 in", "ends": "square"}, 6.35, 6.35),
        ({"diameter": "1 in", "key": "1/4 x 3/16 x 1 1/2 in"}, 6.35, 4.7625),
        ({"diameter": "1 1/8 in", "key": "5/16 x 5/16 x 2 in"}, 7.9375, 7.9375),
    ],
)
def test_the_same_key_is_carried_over_with_its_standard(typed, width, height):
    after = {one.name: one.typed for one in answer("key_strength", typed).following}
    for name in ("parallel_key", "keyway_cut"):
        told = answer(name, after[name])
        assert (number(told, "key_width"), number(told, "key_height")) == pytest.approx((width, height))
    assert after["keyway_cut"]["key_form"] == typed.get("ends", "round")


def test_length_and_material_go_on_to_the_milling_of_the_slot():
    found = answer("key_strength", {"key": "8x7x45", "ends": "mixed", "shaft_material": "EN8 cold drawn"})
    after = {one.name: one.typed for one in found.following}["keyway_cut"]
    assert (after["key_length"], after["material"]) == ("45 mm", "EN8, bright cold drawn")
    assert "key_form" not in after
    typed = answer("key_strength", {"shaft_material": "355 MPa"}).following
    assert all("material" not in one.typed for one in typed)


def test_a_key_of_another_step_or_of_no_standard_is_not_said_to_be_milled_as_one():
    for typed in ({"diameter": "40"}, {"key": "9x7x40", "shaft_depth": "4"}):
        after = [one.name for one in answer("key_strength", typed).following]
        assert after == ["parallel_key", "fit"]
