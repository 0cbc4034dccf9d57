"""What a turning cut is chosen by: published speeds, steps of the gearbox, feeds, and what one pass does."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import steps
from calc.formulas import cutting, turning, work_materials
from calc.formulas.cutting import ForceConstants
from calc.formulas.turning import FINISH, ROUGH, Pass
from calc.model import InputError
from calc.shop import LATHE, TOOL_MATERIALS

SPEEDS = LATHE.pick("speeds")[0].read(LATHE.pick("speeds")[0].default)
FEEDS = LATHE.pick("feeds")[0].read(LATHE.pick("feeds")[0].default)
read_speeds = steps.reader("spindle_speed", 1, 30_000, "speed")
read_feeds = steps.reader("feed", 0.001, 10, "feed")


def wanted(name, tool="hss", cut=ROUGH):
    return turning.wanted_speed(work_materials.read(name), tool, cut)


# ------------------------------------------------------------------------------------------- published speeds


@pytest.mark.parametrize(
    ("name", "tool", "cut", "taken", "spread", "feeds", "source"),
    [
        ("EN8", "hss", ROUGH, 24.35, (21.3, 27.4), (0.13, 0.38), "course slides, unit 8: 70 to 90 ft/min for 1045"),
        ("EN8", "hss", FINISH, 24.35, (21.3, 27.4), (0.05, 0.13), "the same slides part the feeds, not the speed"),
        ("EN8", "brazed carbide", ROUGH, 60, (60, 60), (None, None), "Carvill, Data Handbook, page 191"),
        ("EN8", "brazed carbide", FINISH, 135, (90, 180), (None, None), "Carvill, p 191"),
        ("EN9", "hss", FINISH, 19.8, (19.8, 19.8), (0.076, 0.127), "lathe manual, table 7.1: 65 ft/min, high carbon"),
        ("416", "hss", ROUGH, 13.7, (9.1, 18.3), (0.381, 1.016), "T.O. 1-1A-9, table 2-8: 30 to 60 ft/min for 416"),
        ("CZ121", "coated carbide", ROUGH, 198.1, (152.4, 243.8), (0.2, 0.51), "course slides: brass, uncoated"),
    ],
)  # fmt: skip
def test_published_speeds_and_feeds_are_taken_in_the_middle(name, tool, cut, taken, spread, feeds, source):
    found = wanted(name, tool, cut)
    assert found.speed == pytest.approx(taken), source
    assert (found.low, found.high) == spread, source
    assert (found.feed_low, found.feed_high) == feeds, source


def test_a_hardened_steel_with_hss_takes_the_low_end_of_the_softer_one_and_says_so():
    # no HSS row for hardened alloy steel; alloy steel that is not hardened: lathe manual 45 ft/min, slides 60 to 80
    found = wanted("EN24T")
    assert (found.speed, found.low, found.high) == (13.7, 13.7, 24.4)
    assert "that for alloy steel that is not hardened is taken" in found.remarks[0]
    assert "low end" in found.remarks[1]


def test_a_free_cutting_steel_takes_the_middle_of_the_plain_one():
    found = wanted("EN1A")
    assert (found.speed, found.low, found.high) == (pytest.approx(34.7), 24.4, 45)
    assert found.remarks == (
        "No speed for free-cutting steel is published here; that for low-carbon steel is taken.",
        "The middle of the published speeds is taken.",
    )


def test_coated_carbide_is_from_memory_taken_low_and_said_so():
    found = wanted("EN8", "coated carbide")
    assert (found.speed, found.low, found.high) == (150, 150, 240)
    assert any("from memory" in one for one in found.remarks)
    assert any("low end" in one for one in found.remarks)


def test_a_tool_without_figures_of_its_own_takes_those_of_a_like_one_and_says_so():
    # cobalt HSS in grey iron: HSS; brazed carbide in stainless: the carbide of T.O. 1-1A-9, 150 to 200 ft/min, low end
    cobalt, brazed = wanted("GG25", "cobalt hss"), wanted("304", "brazed carbide")
    assert "that for HSS is taken" in cobalt.remarks[0]
    assert (brazed.speed, brazed.high) == (45.7, 61)
    assert "that for carbide is taken" in brazed.remarks[0]


def test_figures_that_differ_by_far_are_said_to():
    # plastics with HSS: a handout prints 9 to 120, the course slides 61 to 121.9
    found = wanted("acetal")
    assert (found.low, found.high) == (9, 121.9)
    assert any("differs by far" in one for one in found.remarks)


def test_without_figures_the_tool_or_the_material_is_refused():
    with pytest.raises(InputError, match="Choose cobalt HSS or coated carbide") as problem:
        wanted("Ti-6Al-4V")
    assert problem.value.name == "tool_material"
    for tool in TOOL_MATERIALS:
        with pytest.raises(InputError, match="softer state") as problem:
            wanted("EN30B", tool)
        assert problem.value.name == "material"


def test_every_material_and_tool_is_answered_or_refused_with_a_spread_in_order():
    for one in work_materials.materials().values():
        found = work_materials.Found(one, one.name, "same", "", ())
        for tool in TOOL_MATERIALS:
            for cut in (ROUGH, FINISH):
                try:
                    taken = turning.wanted_speed(found, tool, cut)
                except InputError:
                    continue
                assert 0 < taken.low <= taken.speed <= taken.high
                assert taken.published
                assert all(sentence.endswith(".") and "_" not in sentence for sentence in taken.remarks)
                assert taken.feed_low is None or 0 < taken.feed_low <= taken.feed_high


# ------------------------------------------------------------------------------------------- steps and feeds


def test_the_step_is_the_one_at_or_below_on_the_uncut_diameter():
    # 24.35 m/min on 40 mm is 193.8 rev/min
    assert turning.step_below(24.35, 40, SPEEDS, 1800) == 180
    assert turning.step_below(cutting.cutting_speed(180, 40), 40, SPEEDS, 1800) == 180
    assert turning.step_below(24.35, 40, read_speeds("40 to 2000 stepless"), 1800) == 193


def test_the_chuck_limits_the_speed():
    assert turning.step_below(150, 10, SPEEDS, 1800) == 1400
    assert turning.step_below(150, 10, read_speeds("40 to 2000 stepless"), 1800) == 1800
    with pytest.raises(InputError, match="above what the chuck stands") as problem:
        turning.step_below(150, 10, SPEEDS, 40)
    assert problem.value.name == "chuck_speed"


def test_a_gearbox_that_cannot_turn_slowly_enough_is_refused():
    with pytest.raises(InputError, match=r"45 rev/min, gives 42.4 m/min on Ø 300.000 mm") as problem:
        turning.step_below(24.35, 300, SPEEDS, 1800)
    assert problem.value.name == "speeds"


@given(st.floats(5, 400), st.floats(3, 250), st.floats(45, 3000), st.booleans())
def test_the_speed_never_exceeds_the_wanted_one_or_the_chucks(speed, diameter, chuck, stepless):
    lathe = read_speeds("40 to 2000 stepless") if stepless else SPEEDS
    try:
        found = turning.step_below(speed, diameter, lathe, chuck)
    except InputError:
        assert cutting.spindle_speed(speed, diameter) < lathe.lowest
        return
    assert found <= chuck * (1 + 1e-11)
    assert cutting.cutting_speed(found, diameter) <= speed * (1 + 1e-11)
    assert stepless or found in lathe.values


@pytest.mark.parametrize(
    ("cut", "radius", "feed"),
    [
        (ROUGH, 0.4, 0.2), (ROUGH, 0.8, 0.315), (ROUGH, 0.2, 0.1),  # half the nose radius; slides: at most 0.38
        (FINISH, 0.4, 0.1), (FINISH, 0.8, 0.125), (FINISH, 0.1, 0.05),  # a quarter; slides: 0.05 to 0.13
    ],
)  # fmt: skip
def test_the_feed_suits_the_nose_radius_and_the_published_feeds(cut, radius, feed):
    assert turning.feed_below(wanted("EN8", cut=cut), radius, FEEDS, cut) == feed


def test_the_window_of_the_chip_breaker_and_the_nose_arc_limit_the_feed():
    window = steps.window("feed", 0.001, 10)
    found = wanted("EN8", "coated carbide")
    assert turning.feed_below(found, 0.8, FEEDS, ROUGH, window("0.1 to 0.25")) == 0.25
    assert turning.feed_below(found, 0.2, FEEDS, ROUGH, window("0.3 to 0.6")) == 0.16  # 0.8 r
    # a quarter of 0.4 mm would leave the window at its lower end: the first feed inside it
    finish = wanted("EN8", "coated carbide", FINISH)
    assert turning.feed_below(finish, 0.4, FEEDS, FINISH, window("0.15 to 0.25")) == 0.16
    assert turning.feed_below(finish, 0.4, FEEDS, FINISH, window("0.5 to 0.6")) == 0.315


def test_a_stepless_feed_is_cut_to_a_micrometre_and_the_finest_is_taken_where_none_is_fine_enough():
    assert turning.step_of_feed(0.12345, 0.4, read_feeds("0.02 to 0.4 stepless")) == 0.123
    assert turning.step_of_feed(0.01, 0.4, FEEDS) == 0.04
    with pytest.raises(InputError, match=r"hone a radius of 0.05 mm or more") as problem:
        turning.step_of_feed(0.008, 0.01, FEEDS)
    assert problem.value.name == "nose_radius"


# -------------------------------------------------------------------------------------------------- one pass

C45E = ForceConstants("classic", "C45E", 2190, 0.139, "V1", ("leuven-production",))


def test_a_pass_is_the_formulas_of_cutting_together():
    # kc1.1 2190 and mc 0.139 of C45E: KU Leuven, Production technology, 2024
    one = Pass(40, 2, 0.2, 180, 90, 0.4, C45E, 1.2)
    assert (one.finished, one.feed_rate) == (36, 36)
    assert one.cutting_speed == pytest.approx(math.pi * 40 * 180 / 1000)
    assert one.force == pytest.approx(2190 * 0.2**-0.139 * 0.4 * 1.2)
    assert one.cutting_power == pytest.approx(one.force * one.cutting_speed / 60000)
    assert one.torque == pytest.approx(9549.3 * one.cutting_power / 180, rel=1e-5)
    assert one.rt == pytest.approx(12.5)
    assert one.ra == pytest.approx(12.5 * 0.2566, rel=1e-4)
    assert one.push == pytest.approx((one.force / 4, one.force / 2))


def test_the_removal_is_the_true_volume():
    # an examination problem: 20 to 19 mm at 200 mm/min, 6124.1 mm³/min with the mean diameter (the key rounds to 6100)
    one = Pass(20, 0.5, 0.2, 1000, 90, 0.4, None)
    assert one.removal * 1000 == pytest.approx(6124.1, abs=6.1)
    assert one.removal == pytest.approx(math.pi * (20**2 - 19**2) / 4 * 200 / 1000)


def test_an_edge_that_slants_makes_the_chip_thinner_and_wider():
    one = Pass(40, 2, 0.2, 180, 45, 0.4, C45E)
    assert one.chip.thickness == pytest.approx(0.2 * math.sin(math.pi / 4))
    # not kc1.1 ap f^(1 - mc), which holds at 90 degrees only
    assert one.force == pytest.approx(2190 * 2 * 0.2**0.861 * math.sin(math.pi / 4) ** -0.139)


def test_where_the_nose_cuts_or_the_edge_slants_all_of_the_force_may_push_off():
    for one in (Pass(40, 0.3, 0.1, 180, 90, 0.4, C45E), Pass(40, 2, 0.2, 180, 45, 0.4, C45E)):
        assert one.push == (0.25 * one.force, one.force)


def test_without_constants_nothing_rests_on_a_force():
    one = Pass(40, 2, 0.2, 180, 90, 0.4, None)
    assert [one.load, one.force, one.cutting_power, one.torque, one.push] == [None] * 5
    assert one.removal > 0


def test_the_low_speeds_of_hss_take_more_force_and_the_answer_says_from_memory():
    assert [turning.correction(tool)[0] for tool in TOOL_MATERIALS] == [1.2, 1.2, 1.0, 1.0]
    assert "from memory" in turning.correction("hss")[1]


@given(st.floats(0.02, 0.5), st.floats(0.02, 0.5), st.floats(0.1, 3))
def test_more_feed_never_lowers_rt(one, other, radius):
    low, high = (Pass(40, 2, feed, 180, 90, radius, None) for feed in sorted((one, other)))
    assert low.rt <= high.rt
    assert low.ra <= high.ra


def test_hardened_steel_over_what_is_published_starts_at_the_low_end_and_says_so():
    # 34CrNiMo6 hardened and tempered: 1000 MPa at least, about 300 HB; EN24T 850 MPa, within what is published
    hard = turning.wanted_speed(work_materials.read("34CrNiMo6"), "cobalt hss", turning.ROUGH)
    assert hard.speed == hard.low < hard.high
    assert any("Nothing is published over 300 HB" in one for one in hard.remarks)
    within = turning.wanted_speed(work_materials.read("EN24T"), "cobalt hss", turning.ROUGH)
    assert within.speed > within.low
    assert not any("300 HB" in one for one in within.remarks)
