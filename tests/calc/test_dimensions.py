"""Every formula of cutting, fed with quantities that carry units, comes out in the unit that it claims.

The factors between units are given their own units for that, so a formula that forgets one, or uses it the wrong way
round, shows. A revolution counts as the plain number one, an angle in degrees as a plain number.
"""

import inspect

import pint
import pytest

from calc.formulas import bars, chips, cutting, key_strength, keys, push_off, tool_life, turning, woodruff
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


# ------------------------------------------------------------------------------------------------------ push-off

LENGTH, PLACE, STEADY, MODULUS = (0.3, "m"), (120, "mm"), (10, "cm"), (205, "GPa")
STEPS = (((0.1, "m"), (30, "mm")), ((200, "mm"), (3.5, "cm")))
IN_OWN = {"m": 1000, "cm": 10, "mm": 1, "GPa": 1000, "N": 1, "kN": 1000}
BENDING = {
    "second_moment": ((D,), "mm^4"),
    "on_diameter": (((0.01, "mm"),), "mm"),
    "settled": (((0.01, "mm"), (1, "mm")), "mm"),
    "deflection": (("holding", (0.4, "kN"), LENGTH, PLACE, D, MODULUS), "mm"),
    "worst_place": (("holding", LENGTH), "mm"),
    "worst": (("holding", FORCE, LENGTH, D, MODULUS), "mm"),
    "alike": (("holding", FORCE, LENGTH, (0.02, "mm"), MODULUS), "mm"),
    "stepped": (("holding", FORCE, STEPS, PLACE, MODULUS, STEADY), "mm"),
    "stretches": (("holding", FORCE, STEPS, PLACE, MODULUS, STEADY), "mm"),
    "worst_stepped": (("holding", FORCE, STEPS, MODULUS, STEADY), "mm"),
    "profile": (("holding", FORCE, STEPS, MODULUS, 2), "mm"),
    "whole": ((STEPS,), "mm"),
}


def last_of(found):
    """The figure that counts of what a formula of push-off gives: the last of a pair, of a row, of a stretch."""
    while isinstance(found, tuple):
        found = found[-1]
    return getattr(found, "share", found)


def fed(given, holding, made):
    if given == "holding":
        return holding
    if isinstance(given, tuple) and isinstance(given[0], tuple):
        return tuple(fed(one, holding, made) for one in given)
    return made(*given) if isinstance(given, tuple) else given


def test_every_formula_of_push_off_is_checked():
    functions = {
        name for name, one in inspect.getmembers(push_off, inspect.isfunction)
        if one.__module__ == push_off.__name__ and not name.startswith("_")
    }  # fmt: skip
    assert functions == set(BENDING)


@pytest.mark.parametrize("holding", push_off.HOLDINGS)
@pytest.mark.parametrize("name", BENDING)
def test_a_formula_of_push_off_comes_out_in_the_unit_it_claims(name, holding, monkeypatch):
    given, unit = BENDING[name]
    monkeypatch.setattr(push_off, "ONE_MM", quantity(1.0, "mm"))
    found = last_of(getattr(push_off, name)(*(fed(one, holding, quantity) for one in given)))
    monkeypatch.undo()
    plain = getattr(push_off, name)(*(fed(one, holding, lambda number, own: number * IN_OWN[own]) for one in given))
    assert found.to(unit).magnitude == pytest.approx(last_of(plain), rel=1e-9, abs=1e-15)


# -------------------------------------------------------------------------------------- a turning cut and its chip


def test_a_pass_comes_out_in_the_units_it_claims(factors_with_units, monkeypatch):
    monkeypatch.setattr(turning.units, "settle", lambda length: length)  # compares lengths; makes decimals of figures
    constants = ForceConstants("classic", "C45E", quantity(2190, "MPa"), 0.139, "V1", ())
    one = turning.Pass(
        quantity(40, "mm"), quantity(2, "mm"), quantity(0.2, "mm"), quantity(180, "1/min"), 90, quantity(0.4, "mm"),
        constants, 1.2,
    )  # fmt: skip
    claimed = {"finished": "mm", "cutting_speed": "m/min", "feed_rate": "mm/min", "force": "N", "cutting_power": "kW",
               "torque": "N*m", "removal": "cm^3/min", "rt": "um", "ra": "um"}  # fmt: skip
    found = {name: getattr(one, name).to(unit).magnitude for name, unit in claimed.items()}
    push = [force.to("N").magnitude for force in one.push]
    monkeypatch.undo()
    plain = turning.Pass(40, 2, 0.2, 180, 90, 0.4, ForceConstants("", "", 2190, 0.139, "V1", ()), 1.2)
    assert found == pytest.approx({name: getattr(plain, name) for name in claimed})
    assert push == pytest.approx(plain.push)


@pytest.mark.parametrize("depth", [2, 0.2])
def test_edge_and_chip_are_lengths_and_their_ratio_is_none(depth):
    lengths = {"mm": quantity(depth, "mm"), "cm": quantity(depth / 10, "cm")}
    edges = {unit: chips.engaged_edge(one, 75, quantity(0.4, "mm")) for unit, one in lengths.items()}
    assert edges["cm"].to("mm").magnitude == pytest.approx(chips.engaged_edge(depth, 75, 0.4))
    feed, edge = quantity(0.02, "cm"), edges["mm"]
    assert chips.mean_thickness(lengths["cm"], feed, edge).to("mm").magnitude == pytest.approx(
        chips.mean_thickness(depth, 0.2, chips.engaged_edge(depth, 75, 0.4))
    )
    ratio = chips.slenderness(lengths["cm"], feed, edge).to("").magnitude
    assert chips.feed_for_slenderness(lengths["cm"], edge, ratio).to("mm").magnitude == pytest.approx(0.2)
    thickness = chips.mean_thickness(lengths["cm"], feed, edge)
    assert chips.feed_for_thickness(lengths["cm"], edge, thickness).to("mm").magnitude == pytest.approx(0.2)


# ------------------------------------------------------------------------------------------------ keys and their sides

KEY_FACTORS = {"MM_PER_M": "mm/m", "W_PER_KW": "W/kW", "S_PER_MIN": "s/min"}
KEY_FORMULAS = {
    "torque_of": ((KW, N), "N*m"),
    "force": (((40, "N*m"), D), "N"),
    "reduced_diameter": ((D, MM), "mm"),
    "stress": ((FORCE, (96, "mm^2")), "MPa"),
}


@pytest.mark.parametrize("name", KEY_FORMULAS)
def test_a_formula_of_keys_comes_out_in_the_unit_it_claims(name, monkeypatch):
    for factor, unit in KEY_FACTORS.items():
        monkeypatch.setattr(key_strength, factor, UNITS.Quantity(getattr(key_strength, factor), unit))
    given, unit = KEY_FORMULAS[name]
    found = getattr(key_strength, name)(*(quantity(*one) for one in given)).to(unit).magnitude
    monkeypatch.undo()
    assert found == pytest.approx(getattr(key_strength, name)(*(number for number, _ in given)), rel=1e-12)


@pytest.mark.parametrize(("formula", "power"), [(woodruff.chord, 1), (key_strength.segment_area, 2)])
def test_the_segment_of_a_disc_grows_as_a_length_and_as_an_area(formula, power):
    # Roots and angles of figures take no units: what is three times as big in all must grow by that power of three.
    assert formula(48, 12.6) == pytest.approx(3**power * formula(16, 4.2))


# ---------------------------------------------------------------------------------------- bars, crowns, edges that wear

LIFE = (15, "min")
OTHERS = {
    (bars, "mass_per_metre"): (((1256, "mm^2"), (7850, "kg/m^3")), "kg/m"),
    (keys, "sagitta"): ((D, (12, "mm")), "mm"),
    (tool_life, "exponent"): ((VC, LIFE, (90, "m/min"), (60, "min")), ""),
    (tool_life, "constant"): ((VC, LIFE, (0.25, "")), "m/min"),
    (tool_life, "speed_for"): (((60, "min"), VC, LIFE, (0.25, "")), "m/min"),
    (tool_life, "life_at"): (((90, "m/min"), VC, LIFE, (0.25, "")), "min"),
}
OTHER_FACTORS = ((bars, "MM2_PER_M2", "mm^2/m^2"), (tool_life, "ONE_MINUTE", "min"))


@pytest.mark.parametrize(("module", "name"), OTHERS)
def test_the_other_formulas_come_out_in_the_unit_they_claim(module, name, monkeypatch):
    given, unit = OTHERS[module, name]
    plain = getattr(module, name)(*(number for number, _ in given))
    for owner, factor, of in OTHER_FACTORS:
        monkeypatch.setattr(owner, factor, UNITS.Quantity(getattr(owner, factor), of))
    if name == "sagitta":
        monkeypatch.setattr(keys, "sqrt", lambda squared: squared**0.5)
    found = getattr(module, name)(*(quantity(*one) for one in given))
    assert UNITS.Quantity(found).to(unit).magnitude == pytest.approx(plain, rel=1e-12)
