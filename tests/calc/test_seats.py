"""A ring on its seat in figures: smoothing, pressure, force, heat, hollow shafts, clearance lost and left."""

from decimal import Decimal

import pytest

from calc.formulas import interference, seat_choice, seats
from calc.formulas.bearings import BALL, bore_limits, radial_clearance, read_bearing, read_bearing_or_bore
from calc.formulas.seat_fit import SeatFit
from tests.calc.worked import bearing_example


def test_smoothing_takes_the_seat_in_millimetres():
    """NSK: 13 µm on 20 mm leaves 13 × 20 / 22 = 11.8 ground, 13 × 20 / 23 = 11.3 turned. In metres it would be 0.13."""
    assert seats.effective(13, 20, "ground") == pytest.approx(11.8, abs=0.05)
    assert seats.effective(13, 20, "turned") == pytest.approx(11.3, abs=0.05)
    assert seats.effective(-5, 20, "ground") == 0.0


def test_press_in_example():
    typed, expected, source = bearing_example("press-in")
    bearing = read_bearing(typed["bearing"])
    effective = seats.effective(typed["interference [µm]"], typed["bore [mm]"], typed["finish"])
    raceway = seats.raceway(bearing, "inner")
    assert raceway is not None
    ratio = bearing.bore / raceway
    pressure = seats.pressure(effective, bearing.bore, ratio)
    force = seats.force(pressure, bearing.bore, bearing.width or 0, typed["friction [1]"])
    assert effective == pytest.approx(expected["effective_interference [µm]"], abs=0.005), source
    assert raceway == pytest.approx(expected["groove_diameter [mm]"], abs=0.05), source
    assert ratio == pytest.approx(expected["ring_ratio [1]"], abs=0.0005), source
    assert pressure == pytest.approx(expected["pressure [MPa]"], abs=0.05), source
    assert force / 1000 == pytest.approx(expected["press_force [kN]"], abs=0.005), source
    assert effective * seats.raceway_share(ratio) == pytest.approx(expected["raceway_growth [µm]"], abs=0.05), source


@pytest.mark.parametrize("hollow", [0.0, 0.4, 0.8])
def test_pressure_agrees_with_the_general_formula_of_two_cylinders(hollow):
    """Shigley, Mechanical Engineering Design, equation 7-39, which counts each part's stiffness by itself."""
    steel = interference.Elastic(seats.YOUNG, 0.3)
    expected = interference.pressure(0.02, 40, 50.4, steel, steel, 40 * hollow)
    assert seats.pressure(20, 40, 40 / 50.4, hollow) == pytest.approx(expected, rel=1e-9)


def test_pressure_on_an_outer_ring_is_that_in_a_thick_housing():
    """The same formula with a housing fifty times as large as the bearing, where its end no longer matters."""
    steel = interference.Elastic(seats.YOUNG, 0.3)
    expected = interference.pressure(0.02, 62, 62 * 50, steel, steel, 52.82)
    assert seats.pressure(20, 62, 52.82 / 62) == pytest.approx(expected, rel=1e-3)


def test_hoop_stress_is_that_of_a_thick_ring():
    """Shigley, equation 7-46."""
    assert seats.hoop(20, 40 / 50.4) == pytest.approx(interference.hub_hoop(20, 40, 50.4), rel=1e-9)


def test_press_force_agrees_with_the_other_maker():
    """Koyo prints 9.8 f 10³ I B (1 - k²) in N, I in mm, f 4 on and 6 off; NTN mu p pi d B with 0.12 and 0.18."""
    ratio = 40 / 50.4
    pressure = seats.pressure(20, 40, ratio)
    for friction, factor in ((seats.FRICTION_ON, 4), (seats.FRICTION_OFF, 6)):
        koyo = 9.8 * factor * 1e3 * 0.020 * 18 * (1 - ratio**2)
        assert seats.force(pressure, 40, 18, friction) == pytest.approx(koyo, rel=0.002)


def test_raceways_by_kind():
    """NTN table 17.4.1: ball 1.05 (4d + D)/5, 0.95 (d + 4D)/5; cylindrical roller 1.05 (3d + D)/4, 0.98 (d + 3D)/4."""
    assert seats.raceway(read_bearing("6208"), "inner") == pytest.approx(50.4)
    assert seats.raceway(read_bearing("6208"), "outer") == pytest.approx(0.95 * 360 / 5)
    assert seats.raceway(read_bearing("NU 2208"), "inner") == pytest.approx(1.05 * 200 / 4)
    assert seats.raceway(read_bearing("NU 2208"), "outer") == pytest.approx(0.98 * 280 / 4)
    assert seats.raceway(read_bearing("32208"), "inner") is None
    assert seats.raceway(read_bearing_or_bore("40 mm"), "inner") is None


def test_heating_example():
    typed, expected, source = bearing_example("heating")
    rise = seats.warming(typed["interference [µm]"], typed["bore [mm]"], typed["alpha [1e-6/K]"] * 1e-6)
    assert rise == pytest.approx(expected["temperature_rise [K]"], abs=0.5), source
    assert rise + seats.MARGIN[0] == pytest.approx(expected["with_margin_min [K]"], abs=0.5), source
    assert rise + seats.MARGIN[1] == pytest.approx(expected["with_margin_max [K]"], abs=0.5), source


def test_heating_is_exact_where_a_printed_chart_is_coarse():
    """48 µm at 90 mm: 48e-3 / (12.5e-6 × 90) = 42.7 K; charts are read as 40."""
    assert seats.warming(48, 90) == pytest.approx(42.7, abs=0.05)


def test_interference_lost_when_warm():
    typed, expected, source = bearing_example("temperature loss")
    found = seats.lost_by_warmth(typed["bore [mm]"], typed["temperature_difference [K]"])
    assert found == pytest.approx(expected["interference_lost [µm]"]), source


def test_the_load_formula_is_in_newtons_and_agrees_with_its_form_in_kilograms_force():
    """NSK prints 0.08 sqrt(d F / B) and 0.02 F / B for N, 0.25 and 0.2 for kgf (NTN); 1 kgf is 9.807 N."""
    newtons = 4000.0
    kilograms = newtons / 9.80665
    assert seats.lost_by_load(40, newtons, 18) == pytest.approx(0.25 * (40 * kilograms / 18) ** 0.5, rel=0.01)
    heavy = 60_000.0
    assert seats.lost_by_load(40, heavy, 18) == pytest.approx(0.2 * heavy / 9.80665 / 18, rel=0.03)


def test_the_greater_of_both_load_formulas_is_taken_at_any_load():
    """Makers switch at 0.2 C0 or 0.3 C0; the curves cross where F / B is 16 d."""
    crossing = 16 * 40 * 18.0
    assert seats.lost_by_load(40, crossing, 18) == pytest.approx(0.02 * crossing / 18)
    assert seats.lost_by_load(40, crossing / 4, 18) == pytest.approx(0.08 * (40 * crossing / 4 / 18) ** 0.5)
    assert seats.lost_by_load(40, crossing * 4, 18) == pytest.approx(0.02 * crossing * 4 / 18)


def test_clearance_lost_to_a_warm_inner_ring():
    """alpha dT De: 12.5e-6 × 10 × 68.4 mm = 8.55 µm for a 6208."""
    assert seats.lost_by_hot_ring(68.4, 10) == pytest.approx(8.55)


def test_hollow_shaft_example():
    typed, expected, source = bearing_example("hollow shaft")
    bearing = read_bearing(typed["bearing"])
    k, hollow = typed["k [1]"], typed["bore_ratio [1]"]
    d, outside = bearing.bore, bearing.outside_diameter
    assert outside is not None
    assert d / (k * (outside - d) + d) == pytest.approx(expected["ring_ratio [1]"], abs=0.005), source
    times = seats.hollow_need(bearing, hollow)
    assert times == pytest.approx(expected["interference_ratio [1]"], abs=0.05), source
    solid = SeatFit(bearing, "shaft", "Normal", seat_choice.read_class("k5"))
    mean = float(sum(solid.extremes)) / 2
    assert mean * times == pytest.approx(expected["mean_interference [µm]"], abs=0.5), source
    middle = sum(bore_limits(bearing)) / 2
    found = seat_choice.for_hollow(d, solid.seat_class, Decimal(middle), times)
    assert str(found) == expected["seat_class"], source
    chosen = SeatFit(bearing, "shaft", "Normal", seat_choice.read_class(str(found)))
    assert chosen.probable == (expected["probable_max [µm]"], expected["probable_min [µm]"]), source


def test_a_barely_hollow_shaft_keeps_its_class():
    assert str(seat_choice.for_hollow(40, seat_choice.read_class("k5"), Decimal(-6), 1.01)) == "k5"


def test_no_class_is_offered_past_the_tightest():
    assert seat_choice.for_hollow(40, seat_choice.read_class("r6"), Decimal(-6), 3.0) is None


def test_a_hollow_shaft_presses_less_and_spreads_the_raceway_less():
    assert seats.pressure(20, 40, 0.8, 0.5) < seats.pressure(20, 40, 0.8)
    assert seats.raceway_share(0.8, 0.5) < seats.raceway_share(0.8) == pytest.approx(0.8)


def test_clearance_after_mounting_example():
    typed, expected, source = bearing_example("mounted clearance")
    before = Decimal(str(typed["clearance_before [mm]"])) * 1000
    extreme = (1000 * typed["reduction_max [mm]"], 1000 * typed["reduction_min [mm]"])
    taken = 1000 * typed["reduction_taken [mm]"]
    (found,) = seats.remaining({"C": (before, before)}, extreme, (taken, taken))
    assert found.likely_min == found.likely_max == pytest.approx(1000 * expected["clearance_after [mm]"]), source
    assert (found.worst, found.best) == (pytest.approx(178 - 89), pytest.approx(178 - 64)), source


def test_clearance_left_can_be_less_than_nought():
    """6206 k5, CN: least 5 µm before, the tightest pair takes 21 × 30/32 × 30/38.22 = 15.5 µm of it."""
    fit = SeatFit(read_bearing("6206"), "shaft", "Normal", seat_choice.read_class("k5"))
    groups = radial_clearance(BALL, 30.0)
    left = {one.group: one for one in seats.remaining(groups, fit.lost(fit.extremes), fit.lost(fit.probable))}
    assert left["CN"].worst == pytest.approx(5 - 15.45, abs=0.05)
    assert left["CN"].likely_none
    assert not left["C3"].likely_none


def test_where_the_raceway_is_not_known_seventy_to_ninety_hundredths_are_lost():
    """NSK and NTN: 70 to 90 % of the effective interference."""
    fit = SeatFit(read_bearing_or_bore("30 mm"), "shaft", "Normal", seat_choice.read_class("k5"))
    most, least = fit.lost((Decimal(16), Decimal(16)))
    assert (most, least) == (pytest.approx(0.9 * 15), pytest.approx(0.7 * 15))
    assert fit.pressure(Decimal(16)) is fit.force(Decimal(16), 0.12) is None
