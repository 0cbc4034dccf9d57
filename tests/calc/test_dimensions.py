"""Every formula of cutting, fed with quantities that carry units, comes out in the unit that it claims.

The factors between units are given their own units for that, so a formula that forgets one, or uses it the wrong way
round, shows. A revolution counts as the plain number one, an angle in degrees as a plain number.
"""

import inspect

import pint
import pytest

from calc.formulas import cutting
from calc.formulas.cutting import ForceConstants

UNITS = pint.UnitRegistry(cache_folder=None)
FACTORS = {
    "MM_PER_M": "mm/m", "MM3_PER_CM3": "mm^3/cm^3", "W_PER_KW": "W/kW", "S_PER_MIN": "s/min", "UM_PER_MM": "um/mm",
    "ONE_MM": "mm",
}  # fmt: skip
VC, N, D, MM, FORCE, KC, KW = (
    (120, "m/min"),
    (955, "1/min"),
    (40, "mm"),
    (2, "mm"),
    (1500, "N"),
    (2700, "MPa"),
    (3, "kW"),
)
FEED, RATE, ANGLE, SHARE = (0.2, "mm"), (190, "mm/min"), (75, ""), (0.75, "")

#: function: arguments with their units, and the unit of what it gives
FORMULAS = {
    "spindle_speed": ((VC, D), "1/min"),
    "cutting_speed": ((N, D), "m/min"),
    "diameter_at": ((VC, N), "mm"),
    "feed_rate": ((FEED, N), "mm/min"),
    "depth_of_cut": ((D, (36, "mm")), "mm"),
    "removal_rate": ((VC, MM, FEED), "cm^3/min"),
    "mean_diameter": ((D, MM), "mm"),
    "drill_removal_rate": ((D, RATE), "cm^3/min"),
    "cutting_force": ((KC, (0.4, "mm^2"), SHARE), "N"),
    "depth_for_force": ((FORCE, KC, FEED, SHARE), "mm"),
    "cutting_power": ((FORCE, VC), "kW"),
    "motor_power": ((KW, SHARE), "kW"),
    "force_at_power": ((KW, SHARE, VC), "N"),
    "speed_at_power": ((KW, SHARE, FORCE), "m/min"),
    "torque": ((FORCE, D), "N*m"),
    "roughness_rt": ((FEED, MM), "um"),
    "roughness_ra": ((FEED, MM), "um"),
    "feed_for_rt": (((6.25, "um"), MM), "mm"),
    "cutting_time": (((300, "mm"), RATE), "min"),
    "run_in": ((MM, ANGLE), "mm"),
    "facing_time": ((D, (0, "mm"), VC, FEED, (1400, "1/min")), "min"),
    "drill_point": ((D, (118, "")), "mm"),
    "drill_torque": ((FORCE, D), "N*m"),
    "drill_power": ((FORCE, VC), "kW"),
}  # fmt: skip
#: Of these no unit can be claimed: a count, and a function of an angle. `specific_force`, `chip` and `drill_chip` have
#: tests of their own below.
WITHOUT = {"passes", "sin_degrees", "specific_force", "chip", "drill_chip"}
#: Formulas that are fits to measured figures and hold only in the units they were fitted in.
EMPIRICAL = {"specific_force"}


def quantity(number, unit):
    return UNITS.Quantity(number, unit) if unit else number


@pytest.fixture
def factors_with_units(monkeypatch):
    for name, unit in FACTORS.items():
        monkeypatch.setattr(cutting, name, UNITS.Quantity(getattr(cutting, name), unit))


def test_every_formula_of_cutting_is_checked():
    functions = {
        name for name, one in inspect.getmembers(cutting, inspect.isfunction) if one.__module__ == cutting.__name__
    }
    assert functions == set(FORMULAS) | WITHOUT
    assert EMPIRICAL <= WITHOUT


@pytest.mark.parametrize("name", FORMULAS)
def test_a_formula_comes_out_in_the_unit_it_claims(name, factors_with_units, monkeypatch):
    given, unit = FORMULAS[name]
    found = getattr(cutting, name)(*(quantity(*one) for one in given))
    in_unit = found.to(unit).magnitude
    monkeypatch.undo()
    assert in_unit == pytest.approx(getattr(cutting, name)(*(number for number, _ in given)), rel=1e-12)


def test_the_section_of_a_chip_is_made_of_lengths_and_an_area(factors_with_units):
    found = cutting.chip(quantity(2, "mm"), quantity(0.2, "mm"), 75)
    assert (str(found.thickness.units), str(found.width.units)) == ("millimeter", "millimeter")
    assert str(found.area.units) == "millimeter ** 2"
    lip = cutting.drill_chip(quantity(10, "mm"), quantity(0.2, "mm"), 118)
    assert str(lip.area.units) == "millimeter ** 2"


def test_specific_force_takes_the_chip_as_a_share_of_the_chip_of_one_millimetre(factors_with_units):
    constants = ForceConstants("classic", "42CrMo4", quantity(2500, "MPa"), 0.26, "M", ())
    assert cutting.specific_force(constants, quantity(200, "um")).to("MPa").magnitude == pytest.approx(3799, abs=0.5)
