"""Facing: published times and power, the speed on the way in, both kinds of spindle, and every refusal."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.callout import callout
from calc.formulas import cutting, inward
from calc.formulas.inward import Inward
from calc.model import Refused
from tests.calc.test_dimensions import UNITS, quantity

NAME = "facing"
STEPLESS = {"mode": "constant", "speeds": "10 to 2000 stepless"}


def found(name, **typed):
    return answer(NAME, typed).value(name).number


def refusal(**typed):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (only,) = caught.value.problems
    return only


def test_published_time_and_power_at_one_spindle_speed():
    # Youssef and El-Hofy, Machining Technology, problem 5.1, recomputed: 450 to 150 mm, 50 rev/min, 0.3 mm/rev, 10 min
    assert Inward(450, 150, 0.3, 50, 50).time_in_cut == pytest.approx(10.0, abs=0.01)
    # the same problem: 2.5 mm deep at 1550 N/mm² take 1.36954 kW at the outside
    force = cutting.cutting_force(1550, 2.5 * 0.3)
    assert cutting.cutting_power(force, Inward(450, 150, 0.3, 50, 50).cutting_speed) == pytest.approx(
        1.36954, abs=0.0014
    )


def test_time_at_constant_cutting_speed():
    # recomputed from pi (Do² - Di²)/(4000 vc f): 100 to 40 mm at 100 m/min and 0.2 mm/rev take 0.33 min, no cap met
    first = cutting.spindle_speed(100, 100)
    assert Inward(100, 40, 0.2, first, 1e6).time_in_cut == pytest.approx(0.33, abs=0.001)


def test_the_time_is_the_sum_of_many_small_steps():
    # by summing the turns ring by ring; the cap is met at 26.5 mm on the way from 40 to 0
    cut = Inward(40, 0, 0.2, 1193.66, 1800)
    rings = 20_000
    width = 20 / rings
    summed = math.fsum(width / (0.2 * cut.turns_at(2 * (place + 0.5) * width)) for place in range(rings))
    assert cut.time_in_cut == pytest.approx(summed, rel=1e-6)
    assert cut.turns_over == pytest.approx(40 * 1193.66 / 1800)


def test_speed_falls_to_nothing_at_one_spindle_speed_and_holds_to_the_cap_otherwise():
    fixed, gaining = Inward(40, 0, 0.2, 500, 500), Inward(40, 0, 0.2, 500, 1800)
    assert fixed.speed_at(20) == pytest.approx(fixed.cutting_speed / 2)
    assert fixed.speed_at(0) == gaining.speed_at(0) == 0
    assert gaining.speed_at(20) == pytest.approx(gaining.cutting_speed)
    assert gaining.speed_at(gaining.turns_over / 2) == pytest.approx(gaining.cutting_speed / 2)
    assert (fixed.constant, gaining.constant) == (False, True)


def test_times_come_out_in_minutes(monkeypatch):
    given = quantity(40, "mm"), quantity(10, "mm"), quantity(0.2, "mm"), quantity(500, "1/min")
    assert inward.fixed_time(*given).to("min").magnitude == pytest.approx(inward.fixed_time(40, 10, 0.2, 500))
    monkeypatch.setattr(cutting, "MM_PER_M", UNITS.Quantity(cutting.MM_PER_M, "mm/m"))
    assert Inward(*given, given[3]).cutting_speed.to("m/min").magnitude == pytest.approx(math.pi * 40 * 500 / 1000)


def test_equal_cuts_within_the_depth():
    assert (found("cuts"), found("each")) == (2, 0.75)
    assert (found("cuts", allowance="3 mm"), found("each", allowance="3 mm")) == (3, 1)
    assert found("time") == pytest.approx(2 * found("time_each"))


def test_step_feed_and_time_by_hand():
    # course slides: 21 to 27 m/min for 1045 with HSS, the middle 24.4 on 40 mm is 194 rev/min: the step 180.
    # Feed half the nose radius of 0.4; 20 mm and 2 run-in and 0.4 past the centre at 36 mm/min
    assert (found("spindle_speed"), found("feed")) == (180, 0.2)
    assert found("time_each") == pytest.approx(22.4 / 36)
    assert found("time_each", bore="10 mm") == pytest.approx((15 + 4) / 36)


def test_constant_speed_is_capped_by_chuck_and_drive():
    one = answer(NAME, STEPLESS)
    assert one.value("spindle_inside").number == 1800
    assert found("spindle_inside", **STEPLESS, chuck_speed="2500 rev/min") == 2000
    assert found("spindle_inside", **STEPLESS, chuck_speed="600 rev/min") == 600
    assert one.value("cap_diameter").number == pytest.approx(40 * one.value("spindle_speed").number / 1800)
    assert "spindle gains towards the centre" in one.cautions[1]
    assert "slows towards the centre" in answer(NAME, {}).cautions[1]
    assert any("At one spindle speed each cut would take" in said for said in one.assumptions)


def test_constant_speed_is_never_slower():
    assert found("time", **STEPLESS) < found("time", speeds="10 to 2000 stepless")


def test_the_way_in_stands_in_a_table():
    table = answer(NAME, {}).tables[0]
    assert [row[0] for row in table.rows] == ["40.00 mm", "30.00 mm", "20.00 mm", "10.00 mm", "0.00 mm"]
    assert {row[1] for row in table.rows} == {"180 rev/min"}
    assert table.rows[-1][2] == "0.0 m/min"
    gaining = answer(NAME, STEPLESS).tables[0]
    assert any(row[1] == "1800 rev/min" and row[2] != "0.0 m/min" for row in gaining.rows)


def test_a_bar_that_sticks_out_behind_the_headstock_is_told():
    assert any("behind the headstock" in one for one in answer(NAME, {}).cautions)


def test_cautions_of_the_material():
    assert any("wash hands" in one for one in answer(NAME, {"material": "CZ121"}).cautions)
    assert not any("wash hands" in one for one in answer(NAME, {}).cautions)


def test_the_motor_decides():
    assert answer(NAME, {}).verdict.level == "good"
    needed = found("motor_needed")
    assert answer(NAME, {"motor_power": f"{needed * 1.1:.4f} kW"}).verdict.level == "mind"
    assert answer(NAME, {"motor_power": f"{needed * 0.9:.4f} kW"}).verdict.level == "stop"
    plastic = answer(NAME, {"material": "acetal"})
    assert plastic.verdict.level == "mind"
    assert "motor_needed" not in {value.name for value in plastic.values}


def test_the_slowest_step_is_taken_within_what_is_published():
    one = answer(NAME, {"diameter": "180 mm"})  # 45 rev/min give 25.4 m/min: over 24.4, under the 27.4 published
    assert one.value("spindle_speed").number == 45
    assert any("The slowest speed there is" in said for said in one.assumptions)
    assert not any("The slowest speed there is" in said for said in answer(NAME, {}).assumptions)
    assert refusal(diameter="250 mm").name == "speeds"


def test_every_refusal():
    assert refusal(bore="40 mm").name == "bore"
    assert refusal(mode="constant").name == "mode"
    assert refusal(chuck_speed="20 rev/min").name == "chuck_speed"
    assert refusal(nose_radius="0.01 mm").name == "nose_radius"
    assert refusal(material="EN30B").name == "material"


@settings(deadline=None, max_examples=60)
@given(st.floats(5, 300), st.floats(0, 0.95), st.floats(20, 300), st.floats(1, 20))
def test_a_gaining_spindle_is_never_slower_and_never_over_its_cap(outside, share, first, gain):
    fixed, gaining = (Inward(outside, outside * share, 0.1, first, first * one) for one in (1, gain))
    assert gaining.time_in_cut <= fixed.time_in_cut * (1 + 1e-9)
    assert gaining.turns_at(outside * share) <= gaining.cap * (1 + 1e-9)


@pytest.mark.parametrize(
    ("text", "typed"),
    [("40 face", {"diameter": "40"}), ("face 60mm", {"diameter": "60mm"}),
     ("40 face EN8", {"diameter": "40", "material": "EN8"})],
)  # fmt: skip
def test_as_it_is_asked_for(text, typed):
    assert callout(text)[0] == (NAME, typed)
