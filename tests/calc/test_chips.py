"""Whether a chip breaks, strings, is too heavy or is not cut at all, and what to change first."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import steps
from calc.formulas import chips
from calc.formulas.chips import BREAKS, OVERLOADS, RUBS, STRINGS, SUITS
from calc.formulas.turning import BRAZED, COATED, COBALT, HSS, Pass
from calc.shop import LATHE, TOOL_MATERIALS

FEEDS = LATHE.pick("feeds")[0].read(LATHE.pick("feeds")[0].default)
feed_window, depth_window = steps.window("feed", 0.001, 10), steps.window("length", 0.01, 50)


def judge(depth, feed, *, angle=90, radius=0.4, group="P", tool=HSS, least=0.02, feeds=None, depths=None):
    cut = Pass(40, depth, feed, 180, angle, radius, None)
    return chips.judge(cut, group, tool, FEEDS, least, feeds and feed_window(feeds), depths and depth_window(depths))


# ------------------------------------------------------------------------------------------------------ geometry


def test_without_a_nose_worth_the_name_width_and_thickness_are_those_of_the_straight_edge():
    # h = f sin kappa, b = ap / sin kappa: KU Leuven, Production technology, 2024
    for angle in (45, 60, 90):
        edge = chips.engaged_edge(2, angle, 1e-9)
        assert edge == pytest.approx(2 / math.sin(math.radians(angle)))
        assert chips.mean_thickness(2, 0.2, edge) == pytest.approx(0.2 * math.sin(math.radians(angle)))


def test_a_shallow_cut_is_made_by_the_arc_of_the_nose():
    # a quarter circle of 0.4 mm for a depth of 0.4 mm; 60 degrees of it for half that
    assert chips.engaged_edge(0.4, 90, 0.4) == pytest.approx(math.pi / 2 * 0.4)
    assert chips.engaged_edge(0.2, 90, 0.4) == pytest.approx(math.pi / 3 * 0.4)
    assert chips.engaged_edge(2, 90, 0.4) == pytest.approx(math.pi / 2 * 0.4 + 1.6)


@given(st.floats(0.01, 5), st.floats(15, 100), st.floats(0.05, 2), st.floats(1.0001, 1.5))
def test_a_deeper_cut_has_more_edge_in_it(depth, angle, radius, more):
    assert chips.engaged_edge(depth * more, angle, radius) > chips.engaged_edge(depth, angle, radius)


def test_the_feeds_that_are_asked_for_give_what_they_are_asked_for():
    edge = chips.engaged_edge(3, 75, 0.4)
    assert chips.slenderness(3, chips.feed_for_slenderness(3, edge, 15), edge) == pytest.approx(15)
    assert chips.mean_thickness(3, chips.feed_for_thickness(3, edge, 0.02), edge) == pytest.approx(0.02)


def test_the_least_chip_is_a_share_of_the_radius_of_the_edge():
    # 0.2 to 0.4 of 5 to 15 µm (HSS), 5 to 10 (ground carbide), 25 to 60 (coated): from memory of handbooks
    assert chips.least_chip(HSS) == chips.least_chip(COBALT) == pytest.approx((0.001, 0.006))
    assert chips.least_chip(BRAZED) == pytest.approx((0.001, 0.004))
    assert chips.least_chip(COATED) == pytest.approx((0.005, 0.024))
    assert set(chips.EDGE_RADIUS) == set(TOOL_MATERIALS)


# ------------------------------------------------------------------------------------------------------ judgement


def test_a_chip_of_three_to_fifteen_breaks_in_steel():
    # KU Leuven, Production technology, 2024: width over thickness 3 to 15 in steel, 3 to 30 in iron
    found = judge(2, 0.2)
    assert (found.state, found.first) == (BREAKS, "")
    assert "within 3 to 15" in found.why


def test_a_ribbon_strings_and_wants_more_feed_first():
    found = judge(3, 0.2)
    assert found.state == STRINGS
    assert "over 15: a ribbon" in found.why
    assert found.first == "More feed, 0.250 mm/rev; then a smaller nose radius or a tighter chip breaker."


def test_iron_stands_a_wider_chip_than_steel():
    assert judge(3, 0.125).state == STRINGS
    assert judge(3, 0.125, group="K").state == BREAKS


def test_an_edge_that_slants_wants_more_feed_and_then_an_entering_angle_nearer_90():
    # the ISO angle, to the axis of the work: what American books call lead is 90 less it, and moves the other way
    found = judge(2, 0.2, angle=45)
    assert found.state == STRINGS
    assert found.first.endswith("; then an entering angle nearer 90°.")
    assert "lead angle" not in f"{found.why} {found.first}"


def test_little_depth_strings_and_wants_more_feed_and_then_more_depth():
    found = judge(0.2, 0.1)
    assert found.state == STRINGS
    assert found.first == "More feed, 0.125 mm/rev; then more depth, 0.27 mm."


def test_where_the_machine_has_no_coarser_feed_the_next_remedy_comes_first():
    assert judge(0.3, 0.4, radius=0.6).first == "More depth, 0.40 mm."
    assert judge(8, 0.3).first == "A smaller nose radius or a tighter chip breaker."


def test_a_thick_narrow_chip_is_heavy():
    found = judge(0.1, 0.315)
    assert found.state == OVERLOADS
    assert "under 3" in found.why
    assert found.first == "Less feed, 0.250 mm/rev."


def test_more_feed_than_the_nose_carries_overloads_it():
    found = judge(2, 0.4)
    assert (found.state, found.first) == (OVERLOADS, "Less feed, 0.315 mm/rev.")
    assert "0.8 of the nose radius" in found.why
    assert judge(2, 0.04, radius=0.02).first == "A larger nose radius."


def test_the_windows_of_the_chip_breaker_come_before_rules_of_thumb():
    assert judge(2, 0.2, feeds="0.05 to 0.15").first == "Less feed, 0.125 mm/rev."
    assert judge(2, 0.2, depths="0.2 to 1.5").first == "Less depth, 1.50 mm."
    finer = judge(2, 0.2, feeds="0.25 to 0.3")
    assert (finer.state, finer.first.split(";")[0]) == (STRINGS, "More feed, 0.250 mm/rev")
    shallow = judge(0.3, 0.1, depths="0.5 to 3")
    assert (shallow.state, "more depth, 0.50 mm" in shallow.first) == (STRINGS, True)
    assert judge(0.3, 0.1, depths="0.2 to 3").state == BREAKS


def test_less_than_the_least_in_feed_rubs():
    found = judge(0.02, 0.1, tool=COATED, least=0.05)
    assert (found.state, found.first) == (RUBS, "More depth, 0.050 mm or over.")


def test_a_chip_thinner_than_the_edge_can_take_rubs():
    # 0.05 mm deep at 0.05 mm/rev with a nose of 0.4: 12 µm on the average, and a coated edge wants up to 24
    found = judge(0.05, 0.05, tool=COATED)
    assert (found.state, found.first) == (RUBS, "More feed, 0.100 mm/rev.")
    assert judge(0.05, 0.05, tool=HSS).state != RUBS
    assert judge(0.02, 0.05, tool=COATED, radius=2, least=0.01).first == "More feed, 0.400 mm/rev."
    assert judge(0.02, 0.05, tool=COATED, radius=0.08, least=0.01).first == "A keener edge, or more depth."


def test_where_no_range_is_published_only_nose_and_windows_judge():
    found = judge(5, 0.2, group="N")
    assert found.state == SUITS
    assert "within" not in found.why


@pytest.mark.parametrize(
    ("speed", "stands"),
    [(5, "out"), (10, "in"), (20, "worst"), (22.6, "worst"), (40, "worst"), (60, "in"), (70, "near"), (80, "out")],
)
def test_the_range_of_the_built_up_edge(speed, stands):
    # carbon steel 10 to 60 m/min, worst 20 to 40, gone from 60 to 80 with carbide: from memory of handbooks
    assert chips.builds_up(speed, ("medium-carbon",)) == stands


def test_no_range_of_the_built_up_edge_is_known_for_other_materials():
    assert chips.builds_up(30, ("aluminium",)) is None
    assert chips.builds_up(30, ("austenitic",)) is None


@given(
    st.floats(0.02, 8), st.sampled_from(FEEDS.values), st.floats(15, 100), st.floats(0.1, 2), st.sampled_from("PMKNS")
)
def test_whatever_is_wrong_a_remedy_is_named(depth, feed, angle, radius, group):
    found = judge(depth, feed, angle=angle, radius=radius, group=group)
    assert found.why.endswith(".")
    assert (found.first == "") is (found.state in (BREAKS, SUITS))
    assert found.first == "" or found.first.endswith(".")
