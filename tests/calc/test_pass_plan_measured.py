"""Pass plan, with the part at its own temperature and after a reading: the cuts that are left."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.calc.planned import column, cuts, plan

# ---------------------------------------------------------------------------------------------------- a warm part


def test_the_target_at_the_temperature_of_the_part():
    # 50 mm of steel 20 K warm reads 0.012 mm more (alpha 12e-6/K), by hand
    found = plan(diameter="60", wanted="50", material="EN8", part_temperature="40 °C")
    assert found.value("stop_reading").number == pytest.approx(50.012, abs=1e-9)
    assert found.value("aim").number == 50
    assert column(found, "Cuts and dial", "Ø after, mm")[-2] == "50.012"
    assert any("expansion 12 µm" in one for one in found.assumptions)
    assert not any("expansion" in one for one in plan().assumptions)


def test_a_reading_of_a_warm_part_is_judged_cold():
    # 30.0145 at 45 °C is 30.0059 at 20 °C (11.5e-6/K), inside 30 k5; the same reading at 20 °C is not
    warm = plan(measured="30.0145", part_temperature="45 °C")
    assert warm.verdict is not None
    assert "Within the limits" in warm.verdict.text
    cold = plan(measured="30.0145")
    assert cold.verdict is not None
    assert "Within" not in cold.verdict.text


def test_a_part_far_from_20_degrees_is_told():
    assert any("more than 30 K off" in one for one in plan(part_temperature="70 °C").cautions)


# ------------------------------------------------------------------------------------------------ after measuring


@settings(deadline=None, max_examples=40)
@given(st.integers(1, 3), st.integers(-60, 60))
def test_a_reading_gives_the_cuts_that_are_left(after, micrometres):
    """What was planned, measured as planned, goes on as planned; measured otherwise it still ends on the same size."""
    first = plan()
    diameters = ["40", "35.30325", "30.6065", "30.3065"]
    dials = [0.0, 93.935, 187.87, 193.87]
    again = plan(measured=diameters[after], dial_at=str(dials[after]))
    assert [re.sub(r" \d", "", one) for one in cuts(again)] == [re.sub(r" \d", "", one) for one in cuts(first)[after:]]
    assert again.value("last_dial").number == pytest.approx(first.value("last_dial").number, abs=1e-6)
    off = micrometres / 1000
    other = plan(measured=f"{float(diameters[after]) + off:.6f}", dial_at=str(dials[after]))
    # measured that much larger, the dial has to go that much further
    assert other.value("last_dial").number == pytest.approx(first.value("last_dial").number + off / 0.05, abs=1e-4)
    assert other.value("stop_reading").number == first.value("stop_reading").number


def test_the_next_reading_is_shown_to_its_last_figure():
    assert plan().value("next_diameter").text == "35.303 mm"  # roughing
    assert plan(measured="30.62").value("next_diameter").text == "30.3065 mm"
    assert plan(measured="30.62", wanted="30").value("next_diameter").text == "30.300 mm"


def test_after_the_semi_finishing_cut_only_the_finishing_one_is_left():
    found = plan(measured="30.31", dial_at="193.9")
    assert cuts(found) == ["finish, then measure", "face the shoulder"]
    assert found.value("next_dial").number == pytest.approx(193.9 + (30.31 - 30.0065) / 0.05)


@pytest.mark.parametrize(
    ("typed", "level", "said"),
    [
        ({"measured": "30.004"}, "good", "Within the limits, 2.5 µm below the aim: no more cuts. Face the shoulder."),
        ({"measured": "30.010", "shoulder": "0"}, "good", "Within the limits, 3.5 µm above the aim: no more cuts."),
        ({"measured": "30.02"}, "mind", "13.5 µm left on the diameter, less than this tool cuts"),
        ({"measured": "30.001"}, "stop", "Below the lower limit: 5.5 µm under the size aimed at"),
        ({"measured": "30", "wanted": "30"}, "good", "On the size aimed at"),
        ({"measured": "29.9", "wanted": "30"}, "stop", "Below the wanted size: 100.0 µm under"),
        ({"measured": "30.02", "polish": "20 µm"}, "mind", "6.5 µm below the size before polishing"),
        ({"measured": "30.05", "wanted": "30 h6"}, "good", "One finishing cut"),
        ({"measured": "29.99", "wanted": "30 h11"}, "good", "Within the limits"),
    ],
)
def test_where_the_reading_leaves_nothing_to_cut(typed, level, said):
    verdict = plan(**typed).verdict
    assert verdict is not None
    assert verdict.level == level
    assert said in verdict.text


def test_nothing_left_to_do_has_no_tables():
    found = plan(measured="30.004", shoulder="0")
    assert found.tables == ()
    assert found.main == ("left", "stop_reading")
