"""The warm part: expected figures come from outside the code, each case says from where."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.callout import callout
from calc.formulas.thermal import MATERIALS
from calc.model import Refused

NAME = "thermal_correction"
EVEN = {"instrument_temperature": "20 °C", "instrument_material": "gauge steel"}

CASES = [
    # (typed inputs, size at 20 °C in mm, tolerance in mm, where the figure and the tolerance come from)
    (
        {"reading": "500.035 mm", "part_temperature": "23.7 °C", "part_material": "low carbon steel", **EVEN},
        500.013, 0.0005,
        "National Physical Laboratory, guidance on length measurement: 11.7 ppm/°C; half the last printed digit",
    ),
    (
        {"reading": "1000 mm", "part_temperature": "21 °C", "part_material": "gauge steel", **EVEN},
        999.9885, 0.00001,
        "Swyt, J. Res. NIST 99 (1994) 31, section 1: 11.5 µm on 1 m for 1 °C; (alpha dT)² is 0.13 nm",
    ),
    (
        {"reading": "60 mm", "part_temperature": "45 °C", "part_material": "aluminium 6061", **EVEN},
        59.9646, 0.00005,
        "by hand: 60 / (1 + 23.6e-6 × 25) with the coefficient of Callister, table B.6; half the last digit",
    ),
    (
        {"reading": "50.0144 mm", "part_temperature": "45 °C", "part_material": "gauge steel", **EVEN},
        50.0, 0.0001,
        "by hand: 50 mm of 11.5 ppm/K, 25 K off, is 14.4 µm; half the last digit of the reading",
    ),
    (
        {"reading": "60 mm", "part_temperature": "38 °C", "part_material": "gauge steel",
         "instrument_temperature": "38 °C", "instrument_material": "gauge steel"},
        60.0, 1e-9,
        "principle: part and instrument of one material at one temperature need no correction",
    ),
    (
        {"reading": "30 mm", "part_temperature": "40 °C", "part_material": "stainless steel 304", **EVEN},
        29.98968, 0.000005,
        "by hand: 30 / (1 + 17.2e-6 × 20), Callister, table B.6; lists that swap the series would give 29.9941",
    ),
    (
        {"reading": "30 mm", "part_temperature": "40 °C", "part_material": "stainless steel 410", **EVEN},
        29.99406, 0.000005,
        "by hand: 30 / (1 + 9.9e-6 × 20), ASM for type 410; lists that swap the series would give 29.9897",
    ),
    (
        {"reading": "30 mm", "part_temperature": "20 °C", "part_material": "carbon steel",
         "instrument_temperature": "30 °C", "instrument_material": "gauge steel"},
        30.00345, 0.000005,
        "by hand: a micrometer 10 K warm spans 11.5e-6 × 10 × 30 mm = 3.45 µm more than it shows",
    ),
    (
        {"reading": "30 mm", "part_temperature": "0 °C", "part_material": "carbon steel", **EVEN},
        30.00678, 0.000005,
        "by hand: 30 / (1 - 11.3e-6 × 20), Callister, table B.6: a cold part grows",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "size", "tolerance", "source"), CASES)
def test_size_at_20_degrees(typed, size, tolerance, source):
    found = answer(NAME, typed)
    assert found.value("size_at_20").number == pytest.approx(size, abs=tolerance), source
    reading = float(typed["reading"].split()[0])
    assert found.value("correction").number == pytest.approx(1000 * (size - reading), abs=1000 * tolerance), source


def test_the_target_reading_of_a_warm_seat():
    # By hand: 30.002 × (1 + 11.3e-6 × 18) = 30.0081 (Callister, table B.6); half the last digit.
    found = answer(NAME, {"reading": "30.02", "part_temperature": "38 °C", "wanted_size": "30.002 mm"})
    assert found.value("target_reading").number == pytest.approx(30.0081, abs=0.00005)
    assert found.main == ("size_at_20", "target_reading")
    assert found.verdict.level == "mind"
    assert "30.008 mm" in found.verdict.text


warm = st.decimals(min_value=-20, max_value=150, places=1)
cool = st.decimals(min_value=-20, max_value=60, places=1)
sizes = st.decimals(min_value=1, max_value=300, places=3)
materials = st.sampled_from(sorted(MATERIALS))


@settings(deadline=None)
@given(size=sizes, part_temperature=warm, instrument_temperature=cool, part=materials, tool=materials)
def test_the_target_reading_corrected_back_is_the_wanted_size(
    size, part_temperature, instrument_temperature, part, tool
):
    typed = {
        "part_temperature": f"{part_temperature} °C", "part_material": part,
        "instrument_temperature": f"{instrument_temperature} °C", "instrument_material": tool,
    }  # fmt: skip
    target = answer(NAME, {"reading": f"{size} mm", "wanted_size": f"{size} mm", **typed}).value("target_reading")
    back = answer(NAME, {"reading": f"{target.number!r} mm", **typed}).value("size_at_20")
    # Tolerance: the reading is carried to a millionth of a micrometre, 1e-9 mm, and shrinks or grows by 1 % at most.
    assert back.number == pytest.approx(float(size), abs=3e-9)


@settings(deadline=None)
@given(colder=warm, warmer=warm, part=materials)
def test_the_warmer_the_part_the_smaller_it_will_be(colder, warmer, part):
    colder, warmer = sorted((colder, warmer))
    at = [
        answer(NAME, {"reading": "40", "part_temperature": f"{one}", "part_material": part}).value("size_at_20").number
        for one in (colder, warmer)
    ]
    assert at[0] >= at[1]


def test_at_20_degrees_nothing_is_corrected_and_nothing_waited_for():
    found = answer(NAME, {"reading": "30.02", "part_temperature": "20 °C"})
    assert found.value("size_at_20").number == 30.02
    assert found.value("correction").text == "0.0 µm"
    assert found.value("waiting_time_min").number == found.value("waiting_time_max").number == 0
    assert found.verdict.level == "good"


def test_doubt_of_a_degree_and_of_the_correction():
    # By hand: 50 mm of 11.3 ppm/K: 0.565 µm for a degree. Correction, JCGM 100:2008, 5.1.2: part
    # sqrt((25 × 1 ppm)² + (11.3 ppm × 1)²) × 50 mm = 1.372 µm, instrument at 20 °C 11.5 ppm × 50 mm = 0.575 µm.
    found = answer(NAME, {"reading": "50 mm", "part_temperature": "45 °C", **EVEN})
    assert found.value("micrometres_per_degree").number == pytest.approx(0.565, abs=0.0005)
    assert found.value("correction_doubt").number == pytest.approx((1.372**2 + 0.575**2) ** 0.5, abs=0.002)


def test_waiting_time_of_a_50_mm_bar():
    # By hand, lumped cooling (Çengel, chapter 4): 2 µm on 50 mm of 11.3 ppm/K is 3.54 K, from 25 K is
    # ln 7.06 = 1.955 time constants, each 7850 × 486 × 0.0125 / h = 47 690 / h s: 103.6 min at 15, 194.2 min at 8.
    found = answer(NAME, {"reading": "50 mm", "part_temperature": "45", "air_temperature": "20", "doubt": "2 µm"})
    assert found.value("waiting_time_min").number == pytest.approx(103.6, abs=0.1)
    assert found.value("waiting_time_max").number == pytest.approx(194.2, abs=0.2)
    assert any("estimate" in one for one in found.assumptions)
    assert "estimate" in found.value("waiting_time_min").label


def test_a_thicker_bar_and_a_closer_wish_wait_longer():
    def wait(**typed):
        return answer(NAME, {"part_temperature": "60", "part_material": "carbon steel", **typed})

    times = [wait(reading=size).value("waiting_time_max").number for size in ("10", "20", "40", "80")]
    assert times == sorted(times)
    assert len(set(times)) == 4
    times = [wait(doubt=f"{doubt} µm").value("waiting_time_max").number for doubt in (1, 2, 4, 8)]
    assert times == sorted(times, reverse=True)
    assert len(set(times)) == 4


def test_no_waiting_time_where_lumped_cooling_does_not_hold():
    # Biot number of a long bar, h d / (4 k): 15 × 0.5 / (4 × 16.2) = 0.116, over 0.1 (Çengel, chapter 4).
    found = answer(NAME, {"reading": "500 mm", "part_temperature": "60", "part_material": "stainless steel 304"})
    assert [one.name for one in found.values if "waiting" in one.name] == []
    assert any("No waiting time" in one and "0.12" in one for one in found.cautions)
    steel = answer(NAME, {"reading": "500 mm", "part_temperature": "60", "part_material": "carbon steel"})
    assert steel.value("waiting_time_max").number > 600


def test_warm_air_leaves_a_part_larger_after_the_wait():
    found = answer(NAME, {"reading": "50 mm", "part_temperature": "45", "air_temperature": "30 °C"})
    # By hand: 50 mm × 11.3 ppm/K × 10 K = 5.6 µm.
    assert any("5.6 µm above" in one for one in found.cautions)
    assert not any("settles" in one for one in answer(NAME, {"air_temperature": "21 °C"}).cautions)


@pytest.mark.parametrize("left_out", ["air_temperature", "doubt"])
def test_the_wait_can_be_left_out(left_out):
    found = answer(NAME, {left_out: ""})
    assert all("waiting" not in one.name for one in found.values)


@pytest.mark.parametrize(
    ("typed", "word"),
    [
        ({"part_temperature": "50.1 °C"}, "let it cool"),
        ({"part_temperature": "-10.1 °C"}, "let it come up"),
        ({"part_temperature": "60 °C"}, "burn"),
        ({"instrument_temperature": "51 °C"}, "instrument"),
    ],
)
def test_cautions_past_what_the_coefficients_hold_for(typed, word):
    assert any(word in one for one in answer(NAME, typed).cautions)


def test_no_caution_within_30_kelvin():
    assert answer(NAME, {"part_temperature": "50 °C"}).cautions == ()


def test_the_coefficients_doubt_is_told_and_its_being_from_memory():
    told = " ".join(answer(NAME, {"part_material": "brass"}).assumptions)
    assert "1.5 µm/(m·K)" in told
    assert "from memory" in told


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"part_temperature": "900 °C"}, "part_temperature", "Give a value from −20 to 150 °C."),
        ({"part_temperature": "400 °F"}, "part_temperature", "Give a value from −4 to 302 °F."),
        ({"instrument_temperature": "61"}, "instrument_temperature", "Give a value from −20 to 60 °C."),
        ({"reading": ""}, "reading", "Reading is needed. Give a value from 0.1 to 3150 mm."),
        ({"part_material": "cheese"}, "part_material", "“cheese” is not one of the choices"),
        ({"reading": "38 °C"}, "reading", "That is a temperature; this field wants a length"),
    ],
)
def test_says_which_input_is_wrong_and_what_to_do(typed, field, message):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (problem,) = caught.value.problems
    assert problem.name == field
    assert str(problem).startswith(message)


@pytest.mark.parametrize("text", ["30.02 @ 38C", "30.02 @ 38 °C", "30,02 at 38C", "1 3/16 in @ 100 F", "30.02mm@38"])
def test_written_with_its_temperature(text):
    name, typed = callout(text)[0]
    assert name == NAME
    assert set(typed) == {"reading", "part_temperature"}
    assert answer(name, typed).value("correction").number < 0


def test_what_comes_next_carries_the_reading_and_the_size():
    following = {one.name: one.typed for one in answer(NAME, {"reading": "30.02", "part_temperature": "38"}).following}
    assert following["mating"] == {
        "shaft_reading": "30.02 mm", "shaft_temperature": "38 °C", "shaft_material": "carbon steel", "bearing": "30 mm",
    }  # fmt: skip
    assert following["fit"] == {"size": "30 mm"}
    assert following["as_found"]["readings"].startswith("30.01389")
