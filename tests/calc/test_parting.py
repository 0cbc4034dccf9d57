"""Parting off: share of the turning speed, published feeds, force, reach, and every refusal."""

import math

import pytest

from calc import answer
from calc.callout import callout
from calc.model import Refused

NAME = "parting"


def found(name, **typed):
    return answer(NAME, typed).value(name).number


def refusal(**typed):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (only,) = caught.value.problems
    return only


def test_half_of_the_turning_speed():
    # course slides: parting at 0.5 to 0.6 of turning; half of the 24.4 m/min for 1045 on 40 mm are 97 rev/min: 90
    assert found("spindle_speed") == 90
    assert found("cutting_speed") == pytest.approx(math.pi * 40 * 90 / 1000)
    assert "up to 0.6" in " ".join(answer(NAME, {}).assumptions)


def test_published_feeds():
    # course slides: HSS 0.051 to 0.127, carbide 0.076 to 0.152 mm/rev in steel
    assert found("feed") == pytest.approx((0.051 + 0.127) / 2)
    assert found("feed", tool_material="cobalt hss") == pytest.approx((0.051 + 0.127) / 2)
    for carbide in ("brazed carbide", "coated carbide"):
        assert found("feed", tool_material=carbide) == pytest.approx((0.076 + 0.152) / 2)
    assert found("feed", fed="power") == 0.08
    assert found("feed", fed="power", feeds="0.1 0.2") == 0.1  # over the middle, within what is published
    assert "a millimetre in" in answer(NAME, {}).verdict.text
    assert "0.080 mm/rev" in answer(NAME, {"fed": "power"}).verdict.text


def test_feeds_for_steel_are_only_a_start_elsewhere():
    assert any("for steel only" in one for one in answer(NAME, {"material": "CZ121"}).assumptions)
    assert not any("for steel only" in one for one in answer(NAME, {}).assumptions)


def test_force_by_hand():
    # C45E, classic: 2190/0.089^0.139 N/mm² on 3 x 0.089 mm², 1.2 for HSS speeds, 1.3 for the crowded blade
    force = 2190 * 0.089**-0.139 * 3 * 0.089 * 1.2 * 1.3
    assert found("cutting_force") == pytest.approx(force)
    assert found("torque") == pytest.approx(force * 0.020)
    assert found("motor_needed") == pytest.approx(force * found("cutting_speed") / 60000 / 0.75)
    said = " ".join(answer(NAME, {}).assumptions)
    assert "1.3 times for a blade that is crowded on both sides, from memory" in said


def test_time_and_reach():
    # by hand: 20 mm and 2 mm of run-in at 0.089 · 90 mm/min
    assert found("time") == pytest.approx(22 / (0.089 * 90))
    assert (found("reach"), found("slenderness")) == (21, 7)
    assert found("reach", bore="20 mm") == 11
    assert found("time", bore="20 mm") == pytest.approx((10 + 4) / (0.089 * 90))


def test_speed_on_the_way_in():
    assert found("speed_half") == pytest.approx(found("cutting_speed") / 2)
    assert found("speed_inside") == 0
    typed = {"mode": "constant", "speeds": "10 to 2000 stepless"}
    assert found("speed_half", **typed) == pytest.approx(found("cutting_speed", **typed))
    assert found("time", **typed) < found("time", speeds="10 to 2000 stepless")


def test_a_slender_blade_is_minded_and_a_weak_motor_stops():
    assert answer(NAME, {}).verdict.level == "good"
    assert "will wander" in answer(NAME, {"blade": "2 mm"}).verdict.text
    stopped = answer(NAME, {"motor_power": "0.1 kW"}).verdict
    assert (stopped.level, "narrower blade" in stopped.text) == ("stop", True)
    assert "cutting_force" in {one.name for one in answer(NAME, {}).values}
    assert "cutting_force" not in {one.name for one in answer(NAME, {"material": "acetal"}).values}


def test_cautions():
    said = answer(NAME, {}).cautions
    assert "fall or fly" in said[0]
    assert "never part between centres" in said[0]
    assert "slows" in said[2]
    assert any("behind the headstock" in one for one in said)
    assert "gains" in answer(NAME, {"mode": "constant", "speeds": "10 to 2000 stepless"}).cautions[2]


def test_every_refusal():
    assert refusal(bore="40 mm").name == "bore"
    assert refusal(mode="constant").name == "mode"
    assert refusal(speeds="1000 2000").name == "speeds"
    assert refusal(chuck_speed="20 rev/min").name == "chuck_speed"
    assert refusal(fed="power", feeds="0.2 0.4").name == "feeds"


@pytest.mark.parametrize(
    ("text", "typed"),
    [("40 part off", {"diameter": "40"}), ("part off 1in", {"diameter": "1in"}), ("30 parting", {"diameter": "30"}),
     ("40 part off EN8", {"diameter": "40", "material": "EN8"})],
)  # fmt: skip
def test_as_it_is_asked_for(text, typed):
    assert callout(text)[0] == (NAME, typed)


@pytest.mark.parametrize(
    ("material", "steel"),
    [("C45", True), ("EN1A", True), ("EN24T", True), ("416", True), ("316", False), ("GG25", False), ("CZ121", False)],
)
def test_feeds_are_said_to_be_for_steel_where_it_is_none(material, steel):
    # course slides: one feed for steel; ISO 513 counts free-cutting, hardened and martensitic steel among steel
    said = any("published for steel only" in one for one in answer(NAME, {"material": material}).assumptions)
    assert said is not steel
