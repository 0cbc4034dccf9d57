"""Interference fits against printed and independently recomputed examples; each says from where in tests/data."""

import math

import pytest

from calc.formulas import bearings, joining
from calc.formulas import interference as lame
from calc.formulas.interference import Elastic
from tests.calc.worked import bearing_example, worked

POISSON = 0.3  # where an example has one material throughout, Poisson's ratio falls out of the result


def joint(d, do, Eo, Ei, no=POISSON, ni=POISSON, di=0.0):
    return {"d": d, "outside": do, "hub": Elastic(Eo, no), "shaft": Elastic(Ei, ni), "bore": di}


FORMULAS = {
    "fit_p": lambda delta_d, **sizes: lame.pressure(delta_d, **joint(**sizes)),
    "fit_delta": lambda p, **sizes: lame.interference_for(p, **joint(**sizes)),
    "sleeve_p_from_growth": lambda dD, d, do, E, nu: lame.pressure_from_growth(dD, d, do, Elastic(E, nu)),
    "shaft_hoop_bore": lambda p, d, di: lame.shaft_bore_hoop(p, d, di),
    "fit_force": lambda **given: lame.axial_force(given["p"], given["d"], given["l"], given["mu"]),
    "smooth": lambda U_um, RzA, RzI, k: lame.smoothed(U_um, RzA, RzI, k),
}


@pytest.mark.parametrize(("formula", "inputs", "expected", "tolerance", "source"), worked("interference"))
def test_worked_examples(formula, inputs, expected, tolerance, source):
    assert FORMULAS[formula](**inputs) == pytest.approx(expected, abs=tolerance), source


def test_every_worked_example_is_tried():
    assert len(worked("interference")) == 12


def test_the_general_formula_meets_the_short_one():
    # Shigley, Mechanical Engineering Design, eq. 7-40: one material, solid shaft, p = E I (do² - d²) / (2 d do²).
    steel = Elastic(207000, 0.3)
    short = 207000 * 0.03 * (70**2 - 40**2) / (2 * 40 * 70**2)
    assert lame.pressure(0.03, 40, 70, steel, steel) == pytest.approx(short, rel=1e-12)


def test_stresses_by_the_equations():
    # Shigley, eq. 7-44 to 7-47, by hand at p = 50, d = 50, do = 100, di = 25.
    assert lame.hub_hoop(50, 50, 100) == pytest.approx(50 * 12500 / 7500)
    assert lame.shaft_hoop(50, 50) == -50
    assert lame.shaft_hoop(50, 50, 25) == pytest.approx(-50 * 3125 / 1875)
    assert lame.shaft_bore_hoop(50, 50, 25) == pytest.approx(-2 * 50 * 2500 / 1875)
    hoop = 50 * 12500 / 7500
    assert lame.hub_equivalent(50, 50, 100) == pytest.approx(math.sqrt(hoop**2 + 50 * hoop + 50**2))


def test_torque_is_the_axial_force_at_half_the_diameter():
    # Shigley, eq. 7-48 and 7-49: T = F d / 2.
    assert lame.torque(50, 50, 40, 0.12) == pytest.approx(lame.axial_force(50, 50, 40, 0.12) * 0.050 / 2)


def test_axial_force_and_torque_share_the_joint():
    force = lame.axial_force(50, 50, 40, 0.12)
    moment = lame.torque(50, 50, 40, 0.12)
    assert lame.holds(0.7 * force, 0.7 * moment, 50, 50, 40, 0.12)
    assert not lame.holds(0.72 * force, 0.72 * moment, 50, 50, 40, 0.12)


def test_interference_and_pressure_are_inverse():
    sizes = joint(60, 95, 101500, 193000, 0.26, 0.3, 20)
    assert lame.interference_for(lame.pressure(0.04, **sizes), **sizes) == pytest.approx(0.04, rel=1e-12)


@pytest.mark.parametrize(("d", "do", "di"), [(50, 50, 0), (50, 40, 0), (50, 80, 50), (50, 80, -1)])
def test_a_joint_without_walls_is_a_slip_of_ours(d, do, di):
    with pytest.raises(ValueError, match="joint needs"):
        lame.pressure(0.02, **joint(d, do, 207000, 207000, di=di))


def test_pressing_in_a_6208():
    # NTN table 17.4.1 and equation 17.1, NSK for the effective interference; tolerances are half the printed digits.
    given, expected, source = bearing_example("press-in")
    bearing = bearings.read_bearing(given["bearing"])
    bore = given["bore [mm]"]
    left = joining.effective(given["interference [µm]"], bore, ground=given["finish"] == "ground")
    raceway = joining.inner_raceway(bearing)
    steel = Elastic(given["youngs_modulus [MPa]"], 0.3)
    p = lame.pressure(left / 1000, bore, raceway, steel, steel)
    force = lame.axial_force(p, bore, bearing.width, given["friction [1]"])
    assert left == pytest.approx(expected["effective_interference [µm]"], abs=0.005), source
    assert raceway == pytest.approx(expected["groove_diameter [mm]"], abs=0.05), source
    assert bore / raceway == pytest.approx(expected["ring_ratio [1]"], abs=0.0005), source
    assert p == pytest.approx(expected["pressure [MPa]"], abs=0.05), source
    assert force / 1000 == pytest.approx(expected["press_force [kN]"], abs=0.005), source


def test_the_raceway_of_a_roller_bearing():
    # NTN table 17.4.1: 1.05 (3 d + D) / 4; NU 206, 30 × 62 mm: 39.9 mm by hand.
    assert joining.inner_raceway(bearings.read_bearing("NU 206")) == pytest.approx(1.05 * (90 + 62) / 4)


def test_turned_seats_lose_more_than_ground_ones():
    # NSK: d / (d + 3) turned against d / (d + 2) ground; by hand for 20 mm and 13 µm: 11.3 and 11.8.
    assert joining.effective(13, 20, ground=True) == pytest.approx(11.8, abs=0.05)
    assert joining.effective(13, 20, ground=False) == pytest.approx(11.3, abs=0.05)


def test_heating_a_20_mm_ring_for_21_micrometres():
    # NSK and NTN, heating formula dT = I / (alpha d) with 12.5 ppm; exact.
    given, expected, source = bearing_example("heating")
    rise = lame.heating(given["interference [µm]"] / 1000, given["bore [mm]"], given["alpha [1e-6/K]"] * 1e-6)
    assert rise == pytest.approx(expected["temperature_rise [K]"], abs=1e-9), source
    assert rise + joining.RING_MARGIN == pytest.approx(expected["with_margin_min [K]"], abs=1e-9), source
    assert 20 + rise + joining.RING_MARGIN > joining.BEARING_HOTTEST


def test_heating_for_48_micrometres_at_90_mm():
    # Exact 42.7 K by the makers' formula; their chart reads about 40.
    assert lame.heating(0.048, 90, 12.5e-6) == pytest.approx(42.7, abs=0.05)
