"""A measured shaft and what it goes into: expected figures come from outside the code, each case says from where."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.callout import callout
from calc.formulas import feel, iso286
from calc.model import Refused

NAME = "mating"
EXACT = {"doubt": "0.1 µm"}  # the least that can be stated; what a degree leaves in doubt comes on top
DEGREE = 2.0  # µm: 0.1 stated and 1 K of doubt on shaft and scale, both ways, for sizes up to 80 mm


def numbers(typed):
    return {one.name: one.number for one in answer(NAME, typed).values}


# ------------------------------------------------------------------------------------------- clearances


def test_a_warm_shaft_read_with_a_cool_micrometer():
    # By hand: 30.02 / (1 + 11.3e-6 × 18) = 30.01390 (Callister, table B.6); bore of 6206, class Normal, 0 / -10 µm
    # (ISO 492:2014 through GOST 520-2011), middle 29.995: 18.9 µm of interference. Tolerance: half the last digit.
    found = answer(NAME, {"shaft_reading": "30.02", "shaft_temperature": "38 °C", "bearing": "6206"})
    assert found.value("shaft_size").number == pytest.approx(30.01390, abs=0.000005)
    assert found.value("clearance_likely").number == pytest.approx(-18.9, abs=0.05)
    assert (found.value("bore_max").number, found.value("bore_min").number) == pytest.approx((30.0, 29.99))
    assert found.verdict.text.startswith("Press")
    taken_as_read = answer(NAME, {"shaft_reading": "30.02", "bearing": "6206"})
    # By hand: 11.3 ppm/K × 18 K × 30.02 mm = 6.1 µm tighter when its warmth is forgotten.
    apart = found.value("clearance_likely").number - taken_as_read.value("clearance_likely").number
    assert apart == pytest.approx(6.1, abs=0.05)


#: (bearing, shaft at the class's limits in mm, greatest and least interference in µm, source)
PUBLISHED = [
    ("6204", "k5", 20.011, 20.002, 21, 2, "SKF general catalogue, fit tables; Schaeffler HR 1: 20 k5, 2 to 21"),
    ("6212", "g6", 59.990, 59.971, 5, -29, "GB/T bearing fit table and SKF general catalogue: 50 to 80 g6"),
    ("6212", "h6", 60.000, 59.981, 15, -19, "GB/T bearing fit table and SKF general catalogue: 50 to 80 h6"),
    ("6212", "j6", 60.012, 59.993, 27, -7, "GB/T bearing fit table and SKF general catalogue: 50 to 80 j6"),
]


@pytest.mark.parametrize(("bearing", "shaft_class", "largest", "smallest", "most", "least", "source"), PUBLISHED)
def test_published_extremes(bearing, shaft_class, largest, smallest, most, least, source):
    """A shaft measured at either limit of its class, all but without doubt, meets the printed theoretical fit."""
    limits = iso286.deviations(float(bearing[-2:]) * 5, iso286.read_shaft(shaft_class))
    nominal = float(bearing[-2:]) * 5
    assert nominal + float(limits.upper) / 1000 == pytest.approx(largest), source
    assert nominal + float(limits.lower) / 1000 == pytest.approx(smallest), source
    tight = numbers({"shaft_reading": f"{largest}", "bearing": bearing, **EXACT})
    loose = numbers({"shaft_reading": f"{smallest}", "bearing": bearing, **EXACT})
    assert -tight["clearance_min"] == pytest.approx(most, abs=DEGREE), source
    assert -loose["clearance_max"] == pytest.approx(least, abs=DEGREE), source
    assert -tight["clearance_likely"] == pytest.approx(most - _half(bearing), abs=1e-6)


def _half(bearing):
    """Half the bore tolerance in µm: 10 at 20 mm, 15 at 60 mm (ISO 492:2014 through GOST 520-2011, class Normal)."""
    return {"6204": 5, "6212": 7.5}[bearing]


def test_the_ends_are_the_sum_and_the_probable_band_the_root_of_the_squares():
    # By hand: ±5 µm of bore and ±8 µm of reading: 13 µm at the worst, sqrt(25 + 64) = 9.43 probable. What a degree
    # leaves, 0.6 µm, adds 0.02 to the 8 in its square.
    found = numbers({"shaft_reading": "30.010", "bearing": "6206", "doubt": "8 µm"})
    assert found["clearance_likely"] == pytest.approx(-15)
    assert found["clearance_max"] - found["clearance_likely"] == pytest.approx(13, abs=0.05)
    assert found["clearance_likely"] - found["clearance_min"] == pytest.approx(13, abs=0.05)
    assert found["clearance_probable_max"] - found["clearance_likely"] == pytest.approx(9.43, abs=0.05)


def test_a_measured_bore_takes_the_place_of_the_tolerance():
    tabled = numbers({"shaft_reading": "30.010", "bearing": "6206", **EXACT})
    measured = numbers({"shaft_reading": "30.010", "bearing": "6206", "bore_reading": "29.998", **EXACT})
    assert measured["clearance_likely"] == pytest.approx(-12)
    assert measured["clearance_max"] - measured["clearance_min"] < tabled["clearance_max"] - tabled["clearance_min"]
    assert measured["bore_max"] - measured["bore_min"] < 0.002


def test_a_warm_hub_has_a_bore_that_will_shrink():
    # By hand: 50.000 / (1 + 23.6e-6 × 10) = 49.98820 (Callister, table B.6): 11.8 µm.
    cold = numbers({"into": "hub", "shaft_reading": "49.98", "bore_reading": "50.000"})
    warm = numbers({"into": "hub", "shaft_reading": "49.98", "bore_reading": "50.000", "bore_temperature": "30 °C",
                    "bore_material": "aluminium 6061"})  # fmt: skip
    assert cold["clearance_likely"] == pytest.approx(20)
    assert warm["clearance_likely"] == pytest.approx(20 - 11.8, abs=0.05)


def test_the_finer_class_of_bearing_has_the_narrower_bore():
    # ISO 492:2014 through GOST 520-2011, 18 to 30 mm: Normal 0 / -10, class 6 0 / -8, class 5 0 / -6.
    for typed, low in (({}, 29.990), ({"precision": "6"}, 29.992), ({"precision": "5"}, 29.994),
                       ({"bearing": "6206 P5"}, 29.994)):  # fmt: skip
        assert numbers({"shaft_reading": "30.01", **typed})["bore_min"] == pytest.approx(low), typed


def test_the_doubt_follows_the_instrument():
    doubts = [
        numbers({"shaft_reading": "30.01", "instrument": one})["shaft_doubt"]
        for one in ("micrometer 0.001", "micrometer 0.01", "digital caliper", "vernier caliper 0.02", "vernier caliper")
    ]
    assert doubts == sorted(doubts)
    # JCGM 100:2008, 5.1.2 by hand: 2 sqrt(16/3 + 1/12 + 1) = 5.07 µm, DIN 863-1 giving 4 µm; a degree of doubt on
    # shaft and scale, 0.48 µm, makes it 5.10.
    assert doubts[0] == pytest.approx(5.10, abs=0.005)


sizes = st.integers(min_value=29900, max_value=30100)


@settings(deadline=None)
@given(smaller=sizes, larger=sizes)
def test_a_larger_shaft_never_goes_on_more_easily(smaller, larger):
    smaller, larger = sorted((smaller, larger))
    at = [numbers({"shaft_reading": f"{one / 1000}"}) for one in (smaller, larger)]
    for name in ("clearance_likely", "clearance_max", "clearance_min"):
        assert at[0][name] >= at[1][name]
    words = [feel.WORDS.index(feel.feel(one["clearance_likely"], 30)) for one in at]
    assert words[0] <= words[1]


@settings(deadline=None)
@given(temperatures=st.tuples(*[st.integers(min_value=-20, max_value=150)] * 2))
def test_the_warmer_the_shaft_was_the_looser_it_will_be(temperatures):
    at = [
        numbers({"shaft_reading": "30.01", "shaft_temperature": f"{one} °C"})["clearance_likely"]
        for one in sorted(temperatures)
    ]
    assert at[0] <= at[1]


# --------------------------------------------------------------------------------------- what is wanted


def test_still_to_come_off_for_k5():
    # ISO 286-1:2010 tables 2 and 5: 30 k5 is +11 / +2 µm, middle 30.0065. By hand: 30.030 cold is 23.5 µm over it.
    found = numbers({"shaft_reading": "30.030", "wanted": "k5"})
    assert (found["wanted_max"], found["wanted_min"]) == pytest.approx((30.011, 30.002))
    assert found["to_remove"] == pytest.approx(23.5)
    assert found["stop_reading"] == pytest.approx(30.0065)


def test_the_reading_to_stop_at_is_that_of_the_warm_shaft():
    # By hand: 30.0065 × (1 + 11.3e-6 × 18) = 30.0126; half the last digit.
    found = numbers({"shaft_reading": "30.030", "shaft_temperature": "38 °C", "wanted": "k5"})
    assert found["stop_reading"] == pytest.approx(30.0126, abs=0.00005)


@pytest.mark.parametrize("wanted", ["k5", "h6", *feel.WORDS[:-1]])
@pytest.mark.parametrize("temperature", ["20", "38", "-5"])
def test_stopping_at_that_reading_leaves_nothing_to_come_off(wanted, temperature):
    typed = {"shaft_temperature": temperature, "wanted": wanted}
    stop_at = numbers({"shaft_reading": "30.5", **typed})["stop_reading"]
    after = numbers({"shaft_reading": f"{stop_at!r} mm", **typed})
    assert after["to_remove"] == pytest.approx(0, abs=1e-5)
    if wanted in feel.WORDS:
        assert feel.feel(after["clearance_likely"], 30) == wanted


def test_a_hub_can_be_wanted_so_tight_that_it_needs_heat():
    typed = {"into": "hub", "bore_reading": "30.000", "wanted": "heat"}
    stop_at = numbers({"shaft_reading": "30.5", **typed})["stop_reading"]
    found = numbers({"shaft_reading": f"{stop_at!r}", **typed})
    assert feel.feel(found["clearance_likely"], 30) == "heat"


LEVELS = [
    ({"shaft_reading": "30.030", "wanted": "k5"}, "mind", "Take off 24 µm more"),
    ({"shaft_reading": "30.0065", "wanted": "k5", "doubt": "1 µm"}, "good", "In k5, the doubt counted in"),
    ({"shaft_reading": "30.0105", "wanted": "k5", "doubt": "2 µm"}, "mind", "In k5 by the reading"),
    ({"shaft_reading": "30.001", "wanted": "k5", "doubt": "3 µm"}, "mind", "Looks 1.0 µm undersize"),
    ({"shaft_reading": "29.980", "wanted": "k5"}, "stop", "Undersize for k5 by 22 µm"),
    ({"shaft_reading": "30.014"}, "good", "Press, whichever way the doubt lies"),
    ({"shaft_reading": "30.004"}, "mind", "Most likely press"),
    ({"shaft_reading": "29.984", "bore_reading": "29.995", "doubt": "1 µm"}, "mind", "Slides"),
    ({"shaft_reading": "30.060"}, "stop", "Will not do"),
    ({"into": "hub", "shaft_reading": "29.980", "bore_reading": "29.990", "doubt": "1 µm"}, "good", "Slides"),
    ({"into": "hub", "shaft_reading": "30.045", "bore_reading": "30.000", "doubt": "1 µm"}, "mind", "Heat"),
    ({"into": "hub", "shaft_reading": "30.070", "bore_reading": "30.000"}, "stop", "Will not do"),
    ({"into": "hub", "shaft_reading": "30.055", "bore_reading": "30.000", "bore_material": "grey cast iron"}, "stop",
     "Wants heat"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "level", "text"), LEVELS)
def test_verdict(typed, level, text):
    # Limits of 30 k5: ISO 286-1:2010 tables 2 and 5. Words of the feel: common practice, no source.
    found = answer(NAME, typed).verdict
    assert found.text.startswith(text)
    assert found.level == level


def test_a_loose_ring_is_told_to_creep():
    assert "creep" in answer(NAME, {"shaft_reading": "29.970"}).verdict.text
    hub = {"into": "hub", "shaft_reading": "29.970", "bore_reading": "30.000"}
    assert "creep" not in answer(NAME, hub).verdict.text


def test_an_undersize_shaft_leads_to_what_it_once_was():
    found = answer(NAME, {"shaft_reading": "29.980", "wanted": "k5"})
    assert found.main == ("shaft_size", "wanted_min", "clearance_likely")
    assert {one.name: dict(one.typed) for one in found.following}["as_found"] == {"readings": "29.98 mm"}


# ---------------------------------------------------------------------------------------------- how sure


def test_the_table_says_which_way_the_doubt_lies():
    looser = answer(NAME, {"shaft_reading": "30.004", "doubt": "6 µm"})
    (table,) = looser.tables
    assert [row[0] for row in table.rows] == ["push by hand", "tap", "press"]
    assert "looser" in table.note
    assert "Measure the bore" not in table.note
    (table,) = answer(NAME, {"shaft_reading": "30.002", "doubt": "1 µm"}).tables
    assert "Measure the bore" in table.note


# ------------------------------------------------------------------------------------------ force and heat


def test_heating_a_20_mm_ring_is_refused_and_pressing_said():
    # NSK and NTN heating formula: 21 µm on 20 mm with 12.5 ppm/K is 84 K; with 20 K to spare 124 °C, over the 120 °C
    # of both. Measured bore, so that 21 µm is the likely interference; the doubt of a degree adds up to 1.3 µm, 5 K.
    found = answer(NAME, {"bearing": "6204", "shaft_reading": "20.021", "bore_reading": "20.000", **EXACT})
    assert found.value("clearance_likely").number == pytest.approx(-21)
    assert 84 < found.value("temperature_rise").number < 90
    assert "hub_temperature" not in [one.name for one in found.values]
    assert any("Do not heat it" in one and "120 °C" in one for one in found.cautions)


def test_a_sealed_bearing_has_the_lower_ceiling():
    # SKF: 80 °C for greased and sealed bearings; 120 °C else (NSK, NTN, NKE).
    typed = {"shaft_reading": "30.010"}
    open_one = answer(NAME, {**typed, "bearing": "6206"})
    assert 80 < open_one.value("hub_temperature").number < 120
    assert any("Never above 120 °C" in one for one in open_one.cautions)
    sealed = answer(NAME, {**typed, "bearing": "6206-2RS1"})
    assert "hub_temperature" not in [one.name for one in sealed.values]
    assert any("80 °C" in one and "sealed" in one for one in sealed.cautions)


def test_the_temperature_of_a_hub():
    # DIN 7190 from memory: T = T_amb + (U + d/1000) / (alpha d). By hand: (0.030 + 0.050) / (11.3e-6 × 50) = 141.6 K.
    # Less than 2 µm of doubt is left and makes it at most 3.6 K more.
    found = answer(NAME, {"into": "hub", "shaft_reading": "50.030", "bore_reading": "50.000", **EXACT})
    assert 161.6 < found.value("hub_temperature").number < 161.6 + 3.6


def test_pressure_and_force_in_a_hub():
    # Shigley, eq. 7-40: 0.05 mm on 50 mm in a hub of 100 mm, E 207 000: 77.6 MPa; eq. 7-48 with friction 0.10 and
    # 40 mm: 48 760 N. 1.6 µm of doubt left add up to 3 %.
    found = numbers({"into": "hub", "shaft_reading": "50.050", "bore_reading": "50.000", "hub_outside": "100",
                     "hub_length": "40", **EXACT})  # fmt: skip
    tight = -found["clearance_min"] / 50
    assert found["pressure"] / tight == pytest.approx(77.6, abs=0.05)
    assert found["press_force"] / tight == pytest.approx(48760, abs=30)
    # Shigley, eq. 7-46: hoop stress 5/3 of the pressure where the outside is twice the bore.
    assert found["hub_stress"] / found["pressure"] == pytest.approx(5 / 3, rel=1e-5)


def test_force_for_a_ring_is_near_that_of_the_maker():
    # NTN equation 17.1 for 6208 at 20.95 µm of effective interference, E 208 000, friction 0.12: 20.2 MPa, 5.47 kN.
    # Here the shaft is carbon steel, 207 000, so a quarter per cent less; what is printed has three digits.
    found = numbers({"bearing": "6208", "shaft_reading": "40.02095", "bore_reading": "40.000", **EXACT})
    tight = -found["clearance_min"] / 20.95
    assert found["pressure"] / tight == pytest.approx(20.2, rel=0.005)
    assert found["press_force"] / tight == pytest.approx(5470, rel=0.005)


def test_no_force_where_nothing_is_tight():
    names = [one.name for one in answer(NAME, {"shaft_reading": "29.97"}).values]
    assert not {"press_force", "pressure", "temperature_rise", "hub_temperature"} & set(names)


def test_no_force_where_the_parts_would_yield():
    found = answer(NAME, {"shaft_reading": "30.2"})
    assert not {"press_force", "hub_temperature"} & {one.name for one in found.values}
    assert any("would yield" in one for one in found.cautions)


def test_a_hub_of_unknown_size_gets_a_temperature_but_no_force():
    found = answer(NAME, {"into": "hub", "shaft_reading": "30.02", "bore_reading": "30.000"})
    assert "press_force" not in [one.name for one in found.values]
    assert any("outside diameter and length" in one for one in found.assumptions)
    assert found.value("hub_temperature").number > 20


def test_what_can_hurt_is_said():
    found = " ".join(answer(NAME, {"shaft_reading": "30.01"}).cautions)
    for word in ("gloves", "no open flame", "Guard", "rules of the shop", "never through the balls"):
        assert word in found


def test_no_ceiling_is_made_up_for_a_material_without_one():
    found = answer(NAME, {"into": "hub", "shaft_reading": "30.02", "bore_reading": "30.0", "bore_material": "brass"})
    assert any("No ceiling is known" in one for one in found.cautions)


# ------------------------------------------------------------------------------------------------ refusals


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"into": "hub"}, "bore_reading", "Give the bore of the hub"),
        ({"bearing": ""}, "bearing", "Give the bearing, such as 6206"),
        ({"bearing": "cheese"}, "bearing", "“cheese” is not a bearing"),
        ({"shaft_reading": "12"}, "shaft_reading", "Shaft and bore differ by 18.00 mm"),
        ({"bore_reading": "25.01"}, "bore_reading", "6206 has a bore of 30.000 mm"),
        ({"bearing": "32206", "precision": "5"}, "precision", "Metric taper rollers"),
        ({"into": "hub", "shaft_reading": "30", "bore_reading": "30", "hub_outside": "29"}, "hub_outside",
         "Give a diameter larger than the bore"),
        ({"wanted": "heat"}, "wanted", "A ring so tight"),
        ({"wanted": "H7"}, "wanted", "H7 is a hole class"),
        ({"wanted": "v6", "bearing": "6201", "shaft_reading": "12"}, "wanted", "v6 at 12 mm: ISO 286 gives v"),
        ({"into": "hub", "shaft_reading": "30.3", "bore_reading": "30.3", "wanted": "k6"}, "wanted", "The bore"),
        ({"bore_reading": "0.5"}, "bore_reading", "Give a value from 1 to 500 mm."),
        ({"doubt": "0"}, "doubt", "Give a value from 0.1 to 500 µm."),
        ({"shaft_temperature": "200 °C"}, "shaft_temperature", "Give a value from −20 to 150 °C."),
        ({"instrument": "ruler"}, "instrument", "“ruler” is not one of the choices"),
    ],
)  # fmt: skip
def test_says_which_input_is_wrong_and_what_to_do(typed, field, message):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (problem,) = caught.value.problems
    assert problem.name == field
    assert str(problem).startswith(message)


def test_a_hub_needs_no_bearing_and_a_measured_ring_neither():
    assert answer(NAME, {"into": "hub", "bearing": "", "shaft_reading": "30", "bore_reading": "30.01"}).verdict
    ring = answer(NAME, {"bearing": "", "shaft_reading": "30.01", "bore_reading": "29.996"})
    assert any("give the bearing's designation" in one for one in ring.assumptions)


def test_a_class_that_stands_from_memory_is_told():
    # Row marks of the ISO 286 tables: a figure marked M or F must be told; k5 at 30 mm is marked by two sources.
    assert not any("unconfirmed: it stands" in one for one in answer(NAME, {"wanted": "k5"}).assumptions)


def test_what_is_from_memory_or_practice_is_told():
    told = " ".join(answer(NAME, {"instrument": "digital caliper"}).assumptions)
    assert "common practice, no source" in told
    assert "size steps unconfirmed" in told
    assert "how far a coefficient may be off is from memory" in told
    assert "Poisson's ratio is from memory for carbon steel and bearing steel" in told


# ------------------------------------------------------------------------------------- links and call-outs


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("30.02 into 6206", {"shaft_reading": "30.02", "bearing": "6206"}),
        ("30.02 @ 38C into 6206", {"shaft_reading": "30.02", "shaft_temperature": "38C", "bearing": "6206"}),
        ("55.02 into NU 2311", {"shaft_reading": "55.02", "bearing": "NU 2311"}),
        ("30.02 into 30.00", {"shaft_reading": "30.02", "bore_reading": "30.00", "into": "hub"}),
    ],
)
def test_written_as_one_line(text, typed):
    assert callout(text)[0] == (NAME, typed)
    assert answer(NAME, typed).values


def test_a_reading_with_its_temperature_alone_is_a_correction():
    assert next(name for name, _ in callout("30.02 @ 38C")) == "thermal_correction"


def test_what_comes_next_carries_the_shaft():
    found = answer(NAME, {"shaft_reading": "30.03", "shaft_temperature": "38 °C", "wanted": "k5"})
    following = {one.name: dict(one.typed) for one in found.following}
    assert following["thermal_correction"] == {
        "reading": "30.03 mm", "part_temperature": "38 °C", "part_material": "carbon steel",
        "wanted_size": "30.0065 mm",
    }  # fmt: skip
    assert following["bearing_seat"] == {"bearing": "6206"}
    assert set(following) == {"thermal_correction", "bearing_seat", "as_found"}
