"""The formulas of holes and threads, fed with quantities that carry units, come out in the unit that they claim."""

import pytest

from calc.formulas import cutting, holes, threads
from tests.calc.test_dimensions import FACTORS, FORCE, UNITS, D, N, quantity

PILOT, FEED, RATE, PITCH = (12, "mm"), (0.2, "mm"), (190, "mm/min"), (1.5, "mm")
FORMULAS = {
    (holes, "lip_torque"): ((FORCE, D, PILOT), "N*m"),
    (holes, "lip_thrust"): ((FORCE, (118, ""), (0.5, "")), "N"),
    (holes, "torque_power"): (((12, "N*m"), N), "kW"),
    (holes, "annulus_removal"): ((D, PILOT, RATE), "cm^3/min"),
    (threads, "nut_minor"): ((D, PITCH), "mm"),
    (threads, "screw_minor"): ((D, PITCH), "mm"),
    (threads, "engagement"): ((D, (38.5, "mm"), PITCH), ""),
}
#: Fits to measured figures, good only in mm and mm/rev.
EMPIRICAL = ("measured_torque", "measured_thrust")


@pytest.mark.parametrize(("where", "name"), FORMULAS, ids=[name for _, name in FORMULAS])
def test_a_formula_comes_out_in_the_unit_it_claims(where, name, monkeypatch):
    given, unit = FORMULAS[where, name]
    for factor, own in FACTORS.items():
        monkeypatch.setattr(cutting, factor, UNITS.Quantity(getattr(cutting, factor), own))
    found = getattr(where, name)(*(quantity(*one) for one in given))
    in_unit = found.to(unit or "dimensionless").magnitude
    monkeypatch.undo()
    assert in_unit == pytest.approx(getattr(where, name)(*(number for number, _ in given)), rel=1e-12)


def test_the_chip_of_a_lip_is_made_of_lengths_and_an_area():
    found = holes.lip_chip(quantity(12, "mm"), quantity(6, "mm"), quantity(0.2, "mm"), 118)
    assert (str(found.thickness.units), str(found.area.units)) == ("millimeter", "millimeter ** 2")


@pytest.mark.parametrize("name", EMPIRICAL)
def test_a_fit_says_in_which_units_it_holds(name):
    assert "a fit, in mm and mm/rev only" in (getattr(holes, name).__doc__ or "")
