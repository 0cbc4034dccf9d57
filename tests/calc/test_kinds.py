"""Speeds, feeds, power, torque, mass and money as they are typed and shown.

Exact factors: the inch and the pound of 1959 (25.4 mm, 0.45359237 kg), standard gravity 9.80665 m/s². What follows
from them is compared with the figures of NIST SP 811:2008, appendix B.8, to the digits printed there.
"""

import pytest

from calc import kinds, units
from calc.model import CalcError, Number
from calc.run import convert


def read(text, kind):
    return convert(Number("one", "One", kind, None, -1e9, 1e9, "One of them."), text)


@pytest.mark.parametrize(
    ("kind", "typed", "own"),
    [
        ("spindle_speed", "710", 710), ("spindle_speed", "710 rpm", 710), ("spindle_speed", "710 rev/min", 710),
        ("spindle_speed", "710 r/min", 710), ("spindle_speed", "710 1/min", 710), ("spindle_speed", "710 min-1", 710),
        ("cutting_speed", "30 m/min", 30), ("cutting_speed", "100 ft/min", 30.48), ("cutting_speed", "100 sfm", 30.48),
        ("cutting_speed", "30000 mm/min", 30), ("feed", "0.1 mm/rev", 0.1), ("feed", "4 thou/rev", 0.1016),
        ("feed", "0.004 in/rev", 0.1016), ("feed", "0.004 ipr", 0.1016), ("feed_rate", "120 mm/min", 120),
        ("feed_rate", "2 in/min", 50.8), ("power", "1500 W", 1.5), ("power", "1,5 kW", 1.5), ("torque", "12 Nm", 12),
        ("torque", "12 N·m", 12), ("torque", "12 N m", 12), ("angle", "90°", 90), ("angle", "90 deg", 90),
        ("angle", "90º", 90), ("mass", "2 lb", 0.90718474), ("mass", "500 g", 0.5), ("mass", "0.5 t", 500),
        ("density", "7.85 g/cm3", 7850), ("density", "7.85 kg/dm³", 7850), ("area", "2 in²", 1290.32),
        ("removal_rate", "1 in³/min", 16.387064), ("percentage", "20 %", 20), ("percentage", "20", 20),
        ("money", "12.50", 12.5), ("force", "10 lb", 44.482216153), ("time", "90 s", 1.5), ("time", "2 h", 120),
    ],
)  # fmt: skip
def test_as_they_are_typed(kind, typed, own):
    assert read(typed, kind) == own


@pytest.mark.parametrize(
    ("kind", "typed", "printed"),
    [
        ("power", "1 hp", 7.456999e-1),  # horsepower (550 ft·lbf/s), W
        ("torque", "1 lbf·ft", 1.355818),
        ("torque", "1 ft lb", 1.355818),
        ("density", "1 lb/in³", 2.767990e4),
        ("mass_per_length", "1 lb/ft", 1.488164),
        ("pressure", "1000 psi", 6.894757),
        ("force", "1 lbf", 4.448222),
    ],
)
def test_factors_of_the_special_publication(kind, typed, printed):
    """Seven figures are printed; half of the last one is allowed."""
    assert read(typed, kind) == pytest.approx(printed, rel=5e-7)


@pytest.mark.parametrize(
    ("number", "kind", "shown"),
    [(710.4, "spindle_speed", "710 rev/min"), (30.48, "cutting_speed", "30 m/min"), (0.0635, "feed", "0.064 mm/rev"),
     (1.5, "power", "1.50 kW"), (3.14, "money", "3.14"), (0.005, "money", "0.00"), (90.0, "angle", "90.0 °"),
     (20.0, "percentage", "20.0 %")],
)  # fmt: skip
def test_as_they_are_shown(number, kind, shown):
    assert units.show(number, kind) == shown


def test_metric_and_inch_stand_side_by_side():
    assert units.value("speed", "Speed", 30.48, "cutting_speed").also == "100 ft/min"
    assert units.value("feed", "Feed", 0.1016, "feed").also == "4.0 thou/rev"
    assert units.value("power", "Power", 0.745699872, "power").also == "1.00 hp"
    assert units.value("price", "Price", 12.5, "money").also == ""


@pytest.mark.parametrize(
    ("kind", "typed", "said"),
    [
        ("length", "5 min", "That is a time"), ("time", "5 m", "That is a length"),
        ("length", "90°", "That is an angle"), ("temperature", "90°", "That is an angle"),
        ("feed", "0.1 mm", "That is a length"), ("feed", "120 mm/min", "That is a cutting speed"),
        ("cutting_speed", "710 rpm", "That is a spindle speed"), ("mass", "12 N", "That is a force"),
        ("force", "5 kg", "That is a mass"), ("money", "£5", "Type an amount of money as a number"),
        ("money", "5 EUR", "The unit “EUR” is not known here"), ("money", "5 %", "That is a plain number"),
        ("torque", "5 N/m", "Type one number, not a sum or a list"),
    ],
)  # fmt: skip
def test_what_is_of_another_kind_is_named(kind, typed, said):
    with pytest.raises(CalcError) as caught:
        read(typed, kind)
    assert str(caught.value).startswith(said)


@pytest.mark.parametrize("kind", kinds.KINDS)
def test_a_kind_is_typed_and_shown_in_units_that_belong_to_it(kind):
    """A figure shown is a figure that can be typed back, in either unit; the ninth decimal is the last one kept."""
    want = kinds.KINDS[kind]
    for unit in {want.own, *want.offered, *(name for name, _ in want.shown)}:
        text = f"1 {kinds.SYMBOLS[unit]}"
        assert read(text, kind) == pytest.approx(float(units.convert(units.settle(1), unit, want.own)), abs=5.1e-10)
