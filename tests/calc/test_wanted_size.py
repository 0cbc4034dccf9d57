"""Wanted sizes as they stand on drawings, and readings: what is read, what is aimed at, what is refused."""

from decimal import Decimal

import pytest

from calc.formulas.wanted_size import read, read_measured
from calc.model import CalcError
from calc.units import tidy


@pytest.mark.parametrize(
    ("text", "nominal", "lower", "upper", "aim"),
    [
        ("30", "30", None, None, "30"),
        ("30,02 mm", "30.02", None, None, "30.02"),
        ("1 3/16 in", "30.1625", None, None, "30.1625"),
        # k5 over 18 to 30: +11/+2 µm; h6 over 18 to 30: 0/-13, over 30 to 50: 0/-16. ISO 286-2:2010, tables 8 and 9
        ("30 k5", "30", "30.002", "30.011", "30.0065"),
        ("Ø30k5", "30", "30.002", "30.011", "30.0065"),
        ("28 h6", "28", "27.987", "28", "27.9935"),
        ("1 3/16 in h6", "30.1625", "30.1465", "30.1625", "30.1545"),
        # written out, the middle by hand
        ("30 ±0.02", "30", "29.98", "30.02", "30"),
        ("30 +/- 0.02", "30", "29.98", "30.02", "30"),
        ("30 +0.015 +0.002", "30", "30.002", "30.015", "30.0085"),
        ("30 -0,02/-0,01", "30", "29.98", "29.99", "29.985"),
        ("30 +0.02/0", "30", "30", "30.02", "30.01"),
        ("30 +20 µm -5 µm", "30", "29.995", "30.02", "30.0075"),
        ("1.25 in +0.001 -0.001", "31.75", "31.7246", "31.7754", "31.75"),
    ],
)
def test_a_size_is_read_as_written(text, nominal, lower, upper, aim):
    found = read(tidy(text))
    assert found.nominal == Decimal(nominal)
    assert found.lower == (None if lower is None else Decimal(lower))
    assert found.upper == (None if upper is None else Decimal(upper))
    assert found.aim == Decimal(aim)


def test_limits_belong_to_what_they_hold():
    seat = read("30 k5")
    assert [seat.holds(Decimal(one)) for one in ("30.0019", "30.002", "30.011", "30.0111")] == [
        False,
        True,
        True,
        False,
    ]
    assert seat.width == Decimal("0.009")
    bare = read("30")
    assert bare.width is None
    assert [bare.holds(Decimal(one)) for one in ("29.999", "30", "30.001")] == [False, True, False]


def test_the_class_is_kept_for_what_comes_next():
    assert read("30 k5").shaft == "k5"
    assert read("30 ±0.02").shaft == ""


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("30 H7", "hole class; a shaft class has small letters. Type h7"),
        ("30 xx9", "no shaft class letter"),
        ("0.4", "from 0.5 to 1000 mm"),
        ("1001 k6", "from 0.5 to 1000 mm"),
        ("30 ±0", "must lie apart"),
        ("30 +0.01 +0.01", "Both deviations are the same"),
        ("30 +6 +1", "at most 5 mm"),
        ("2 -3 -1", "lower limit is not above 0"),
        ("20 t6", "ISO 286"),
        ("9**9", "one number"),
        ("thirty", "as a number"),
        ("30 k5 k6", "one number"),
    ],
)
def test_what_is_no_size_is_refused(text, message):
    with pytest.raises(CalcError, match=message):
        read(tidy(text))


def test_a_reading_or_not_yet():
    assert read_measured("30.62") == Decimal("30.62")
    assert read_measured("1 3/16 in") == Decimal("30.1625")
    assert read_measured("not yet") is None
    assert read_measured("Not yet") is None
    with pytest.raises(CalcError, match="Give a size from"):
        read_measured("0.1")
    with pytest.raises(CalcError, match="as a number"):
        read_measured("soon")
