"""Pass plan: what the page says for each cut, the dial, time and finish, and what is told with it."""

import math
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.callout import callout
from calc.model import Refused
from calc.pieces.pass_words import TENTH_ANGLE, Dial
from tests.calc.planned import NAME, column, cuts, number, plan, table

# ------------------------------------------------------------------------------------------------- sizes and dial


def test_the_aim_is_the_middle_of_the_limits():
    found = plan()  # 30 k5: +11/+2 µm, ISO 286-2:2010 table 8
    assert (found.value("size_max").number, found.value("size_min").number) == (30.011, 30.002)
    assert found.value("aim").number == 30.0065
    assert found.value("stop_reading").number == 30.0065
    assert number("aim", wanted="30") == 30
    assert [one.name for one in plan(wanted="30").values if one.name.startswith("size_")] == []


def test_the_default_plan():
    found = plan()
    assert cuts(found) == [
        "rough 1, then measure", "rough 2, then measure", "semi-finish, then measure", "finish, then measure",
        "face the shoulder",
    ]  # fmt: skip
    # by hand: 40 to 30.6065 in two, then 0.3 and 0.3 off the diameter
    assert column(found, "Cuts and dial", "Ø after, mm")[:4] == ["35.30", "30.61", "30.3065", "30.0065"]
    assert found.value("roughing_depth").number == pytest.approx((40 - 30.6065) / 4)
    assert found.value("next_diameter").number == pytest.approx(35.30325)
    assert found.verdict is not None
    assert found.verdict.level == "good"


@pytest.mark.parametrize(
    ("typed", "expected", "why"),
    [
        ({}, ["93.9", "187.9", "193.9", "199.9"], "on diameter, 0.05 mm a division: 4.69675/0.05 and so on, by hand"),
        ({"slide_counts": "radius"}, ["47.0", "93.9", "96.9", "99.9"], "on radius half as many"),
        ({"slide_division": "0.02 mm"}, ["234.8", "469.7", "484.7", "499.7"], "finer divisions, more of them"),
        ({"slide_division": "0.001 in"}, ["184.9", "369.8", "381.6", "393.4"], "thousandths, 25.4 µm"),
        ({"dial_at": "12.5"}, ["106.4", "200.4", "206.4", "212.4"], "from where the dial stands"),
        ({"turn_divisions": "80"}, ["1 turn + 13.9", "2 turns + 27.9", "2 turns + 33.9", "2 turns + 39.9"], "turns"),
    ],
)
def test_dial_readings_follow_from_the_diameters(typed, expected, why):
    assert column(plan(**typed), "Cuts and dial", "Divisions")[:4] == expected, why


def test_a_whole_turn_is_a_turn_and_nought():
    dial = Dial(Decimal("0.05"), True, Decimal(0), Decimal(40), Decimal(80), False)
    assert dial.said(Decimal(36)) == "1 turn + 0.0"
    assert dial.said(Decimal("36.05")) == "79.0"
    assert dial.said(Decimal("36.0001")) == "1 turn + 0.0"  # 79.998, which shows as 80.0


@settings(deadline=None, max_examples=60)
@given(
    st.decimals(Decimal(32), Decimal(60), places=2), st.decimals(Decimal("0.005"), Decimal("0.5"), places=3),
    st.booleans(), st.integers(0, 200),
)  # fmt: skip
def test_the_way_on_the_dial_is_what_comes_off(diameter, division, on_diameter, stands):
    counts = "diameter" if on_diameter else "radius"
    typed = {"diameter": f"{diameter}", "slide_division": f"{division}", "slide_counts": counts, "dial_at": f"{stands}"}
    found = plan(**typed, overhang="100 mm")
    way = (found.value("last_dial").number - stands) * float(division)
    assert way == pytest.approx((float(diameter) - 30.0065) / (1 if on_diameter else 2), abs=1e-6)


def test_a_dial_coarser_than_the_limits_is_told_and_a_way_out_given():
    assert any(f"topslide set {TENTH_ANGLE}°" in one for one in plan().cautions)
    assert not any("topslide set" in one for one in plan(wanted="30 h11").cautions)
    assert not any("topslide set" in one for one in plan(slide_division="0.002 mm").cautions)
    # geometry: set so, a travel along the topslide feeds its sine across
    assert math.sin(math.radians(TENTH_ANGLE)) == pytest.approx(0.1, abs=2e-5)


# -------------------------------------------------------------------------- polishing, springs, shoulder, time, speeds


def test_polishing_is_left_on_and_comes_last():
    found = plan(polish="10 µm")
    assert found.value("stop_reading").number == pytest.approx(30.0165)
    assert cuts(found)[-1] == "polish"
    assert column(found, "Cuts and dial", "Ø after, mm")[-1] == "30.0065"
    assert any("Emery never by hand against turning work" in one for one in found.cautions)  # the stricter line
    assert any("emery" in title for title in found.sources.values())
    assert not any("Emery" in one for one in plan().cautions)


def test_spring_passes_are_taken_at_the_same_reading():
    found = plan(spring="two")
    assert cuts(found)[3:6] == ["finish", "spring pass 1", "spring pass 2, then measure"]
    assert len(set(column(found, "Cuts and dial", "Divisions")[3:6])) == 1
    assert any("spring pass rubs" in one for one in plan(spring="one", material="316").cautions)
    assert not any("spring pass rubs" in one for one in found.cautions)


def test_the_shoulder_is_left_short_and_faced_last():
    found = plan(shoulder="0.3 mm")
    assert table(found, "Cuts and dial").rows[-1] == ("face the shoulder", "–", "0.300 topslide", "6.0")
    assert "faced last" in found.picture
    without = plan(shoulder="0")
    assert cuts(without)[-1] == "finish, then measure"
    assert "faced last" not in without.picture


def test_the_whole_time_is_cutting_and_handling_of_every_cut():
    found = plan(handling="2 min")
    each = [float(one) for one in column(found, "Depth, speed, feed, time", "min")]
    assert found.value("cutting_time").number == pytest.approx(sum(each), abs=0.03)
    assert found.value("handling_time").number == pytest.approx(2 * len(each))
    assert found.value("total_time").number == pytest.approx(found.value("cutting_time").number + 2 * len(each))
    assert f"{found.value('cutting_time').text} cutting" in (found.verdict.text if found.verdict else "")


def test_first_cut_by_hand():
    # 41.8 + 2 mm at 180 rev/min and 0.2 mm/rev; 180 is the step below 1000 × 24.35/(pi × 40) = 193.8
    assert column(plan(), "Depth, speed, feed, time", "rev/min")[0] == "180"
    assert column(plan(), "Depth, speed, feed, time", "min")[0] == f"{43.8 / (180 * 0.2):.2f}"


def test_the_motor_is_kept_for_a_worn_edge():
    # sharp, no cut asks for more than the motor over 1.3
    for power in ("0.3 kW", "0.6 kW", "1.5 kW"):
        asked = number("power", motor_power=power)
        assert asked <= float(power.split()[0]) / 1.3


def test_own_speed_and_feeds():
    found = plan(material="EN30B", speed_wanted="15 m/min", rough_feed="0.15", finish_feed="0.07")
    assert set(column(found, "Depth, speed, feed, time", "mm/rev")) == {"0.125", "0.063"}
    assert float(column(found, "What each cut asks", "m/min")[0]) <= 15
    assert "Cutting speed as given." in found.assumptions


# -------------------------------------------------------------------------------------------------------- what is told


def test_too_many_cuts_say_what_to_change():
    for typed, said in (({"holding": "chuck"}, "the bar gives way"), ({"motor_power": "0.05 kW"}, "the motor holds")):
        verdict = plan(**typed).verdict
        assert verdict is not None
        assert verdict.level == "mind"
        assert said in verdict.text
    window = {"depth_window": "0.05 to 0.25", "tool_material": "coated carbide", "motor_power": "5 kW"}
    verdict = plan(**window).verdict
    assert verdict is not None
    assert "the chip allows no more" in verdict.text


def test_a_finish_that_the_bar_spoils_is_told():
    slender = {"diameter": "31", "overhang": "400 mm", "holding": "centres", "length": "300 mm", "rough_feed": "0.1"}
    verdict = plan(**slender).verdict
    assert verdict is not None
    assert verdict.level == "mind"
    assert "uneven and the limits are 9 µm apart" in verdict.text


def test_cuts_below_the_chip_breakers_window_are_told():
    insert = {"tool_material": "coated carbide", "depth_window": "0.5 to 3", "feed_window": "0.1 to 0.3"}
    assert any("semi-finish and finish cuts are shallower" in one for one in plan(**insert).cautions)
    assert not any("shallower" in one for one in plan().cautions)


def test_holding_brings_its_own_caution():
    assert any("Ease the tailstock centre" in one for one in plan().cautions)
    assert any("driving dog" in one for one in plan(holding="centres").cautions)
    assert plan(holding="chuck", overhang="60 mm").cautions[-1].startswith("The marks on the chuck")
    # a bar held in the chuck may stick out behind the headstock, one between centres cannot
    assert any("behind the headstock" in one for one in plan(holding="chuck", overhang="60 mm").cautions)
    assert not any("behind the headstock" in one for one in plan(holding="centres").cautions)


def test_a_finishing_cut_where_steel_builds_up_on_the_edge_is_told():
    # From memory of handbooks: 10 to 60 m/min in carbon steel; the default finishes at 24 m/min with HSS.
    (told,) = [one for one in plan().cautions if "builds up" in one]
    assert "Finishing at 24 m/min" in told
    assert "oil and more rake" in told
    assert not any("builds up" in one for one in plan(tool_material="coated carbide").cautions)
    assert not any("builds up" in one for one in plan(material="GG25").cautions)
    slow = plan(tool_material="brazed carbide", speed_wanted="50 m/min")
    assert any("faster step, with carbide over 80 m/min" in one for one in slow.cautions)


@pytest.mark.parametrize(
    ("material", "tool_material", "told"),
    [
        ("GG25", "hss", "dust of cast iron"),
        ("CZ121", "hss", "wash hands"),
        ("Ti-6Al-4V", "cobalt hss", "titanium chips"),
        ("PTFE", "hss", "do not smoke"),
    ],
)
def test_what_is_to_be_minded_of_the_material_is_told(material, tool_material, told):
    assert any(told in one for one in plan(material=material, tool_material=tool_material).cautions)


def test_what_is_from_memory_is_told():
    said = " ".join(plan().assumptions)
    assert "the radial force is from memory" in said
    assert "Young’s modulus" in said
    assert "common practice, no source" in said
    assert "none is published for this material" in " ".join(plan(material="6082").assumptions)
    assert "neither motor nor bar limits" in " ".join(plan(material="acetal").assumptions)
    assert "expansion 11.5 µm/(m·K), from memory" in " ".join(plan(part_temperature="30 °C").assumptions)


# ---------------------------------------------------------------------------------------- picture, refusals, call-outs


def test_the_picture_draws_every_stage_and_gathers_many_cuts():
    for name in ("rough 1", "rough 2", "semi-finish", "finish", "Ø 30.0065", "42.00 mm"):
        assert name in plan().picture
    again = plan(measured="30.62").picture
    assert "Ø 40.000" in again  # the bar is still there
    assert "Ø 30.620" in again
    many = plan(holding="chuck").picture
    assert "more alike" in many
    assert "rough 5<" not in many
    assert "finish, 2 spring passes" in plan(spring="two").picture


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"wanted": "40"}, "wanted", "must come off"),
        ({"wanted": "45 k6", "measured": "30"}, "wanted", "must come off"),
        ({"measured": "40.01"}, "measured", "more than the bar’s"),
        ({"length": "300 mm"}, "length", "free of the holding"),
        ({"finish": "0.03 mm"}, "finish", "only rubs"),
        ({"semi_finish": "0.03 mm"}, "semi_finish", "0 for no such cut"),
        ({"shoulder": "0.01 mm"}, "shoulder", "the least in-feed"),
        ({"shoulder": "1 mm", "length": "1 mm"}, "shoulder", "less than the length"),
        ({"depth_window": "0.01 to 0.05", "least_infeed": "0.1 mm"}, "least_infeed", "chip breaker is made for"),
        ({"material": "EN30B"}, "material", "No published turning speed"),
        ({"wanted": "30 K5"}, "wanted", "Type k5"),
        ({"speeds": "400 500"}, "speeds", "slowest speed"),
        ({"nose_radius": "0.01 mm"}, "nose_radius", "cuts a thread"),
        ({"overhang": "900 mm", "holding": "chuck"}, "overhang", "push the bar away"),
    ],
)
def test_what_does_not_go_together_is_refused_at_its_field(typed, field, message):
    with pytest.raises(Refused, match=message) as caught:
        plan(**typed)
    assert [one.name for one in caught.value.problems] == [field]


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("40 to 30 x 42", {"diameter": "40", "wanted": "30", "length": "42"}),
        ("40 to 30 k5 x 42", {"diameter": "40", "wanted": "30 k5", "length": "42"}),
        ("turn 40mm to 30k5 x 42 mm", {"diameter": "40mm", "wanted": "30k5", "length": "42 mm"}),
        ("1 1/4 in to 1 3/16 in h6 x 2 in", {"diameter": "1 1/4 in", "wanted": "1 3/16 in h6", "length": "2 in"}),
    ],
)
def test_as_a_turner_writes_it(text, typed):
    assert callout(text)[0] == (NAME, typed)
    assert answer(NAME, typed).tables


def test_a_shoulder_is_not_said_to_be_left_square_by_a_slanting_edge():
    def told(**typed):
        return any("another tool" in one for one in plan(**typed).assumptions)

    assert told(entering_angle="75°")
    assert not told()
    assert not told(entering_angle="75°", shoulder="0")


def test_a_feed_past_the_arc_of_the_nose_and_a_speed_over_the_published_are_told_as_where_one_cut_is_asked():
    for typed, said in (
        # from memory: over 0.8 of the nose radius, here 0.32 mm/rev, the nose carries the whole chip
        ({"rough_feed": "0.35", "feeds": "0.1 0.2 0.35"}, "overloads"),
        ({"finish_feed": "0.35", "feeds": "0.1 0.2 0.35"}, "overloads"),
        # course slides: 21.3 to 27.4 m/min for 1045 with HSS
        ({"speed_wanted": "40"}, "faster than any published speed"),
    ):
        found = plan(**typed)
        assert found.verdict.level == "mind"
        assert said in found.verdict.text
        name = "rough" if "finish_feed" not in typed else "semi-finish"
        assert f"the {name} cut" in found.verdict.text.lower()
    assert plan(rough_feed="0.32", feeds="0.1 0.2 0.32").verdict.level == "good"
    assert plan(speed_wanted="27").verdict.level == "good"
    # nobody prints a speed for it, so none is over what is published
    assert plan(material="EN30B", speed_wanted="40").verdict.level != "stop"


@pytest.mark.parametrize("holding", ["chuck", "chuck and centre", "centres"])
@pytest.mark.parametrize(("length", "overhang"), [("5.2", "13.6"), ("79.7", "255.4"), ("12.3", "244.9")])
def test_lengths_that_do_not_add_up_to_their_last_figure_are_answered(length, overhang, holding):
    # 13.6 - 5.2 + 5.2 is a last figure less than 13.6 in the arithmetic of a computer
    assert plan(length=length, overhang=overhang, holding=holding, push_allowed="2000 µm").value("cuts").number == 5


# ------------------------------------------------------------------------------------------------ what comes next


def after(**typed):
    return {one.name: one.typed for one in plan(**typed).following}


@pytest.mark.parametrize(
    ("material", "expands"),
    [("EN8", "carbon steel"), ("316", "stainless steel 304"), ("416", "stainless steel 410"),
     ("6082-T6", "aluminium 6061"), ("GG25", "grey cast iron"), ("CZ121", "brass"), ("acetal", None), ("copper", None)],
)  # fmt: skip
def test_a_warm_part_goes_on_as_what_it_is_made_of(material, expands):
    warm = after(material=material, part_temperature="45").get("thermal_correction")
    assert (None if warm is None else warm["part_material"]) == expands
    # what is to be read now is worth the size aimed at, to the little that two tables of expansion differ by
    if warm is not None:
        worth = answer("thermal_correction", warm).value("size_at_20").number
        assert worth == pytest.approx(30.0065, abs=0.0015)


def test_a_finished_seat_goes_into_a_bearing_of_its_bore_as_it_was_measured():
    done = after(wanted="35 k5", measured="35.008", part_temperature="30")
    assert done["mating"]["shaft_reading"] == done["thermal_correction"]["reading"] == "35.008 mm"
    assert (done["mating"]["shaft_temperature"], done["mating"]["bearing"]) == ("30 °C", "35 mm")
    assert answer("mating", done["mating"]).values
    assert "mating" not in after(wanted="36.5", measured="36.5")


def test_no_push_is_asked_of_a_material_without_force():
    assert "push_off" not in after(material="acetal")
    assert "push_off" in after()
