"""Preferred sizes: the series of ISO 3 computed anew, the fractions of an inch exact, nothing twice."""

from decimal import Decimal
from fractions import Fraction

import pytest

from calc.formulas import preferred
from calc.tables import table

ALL = preferred.between(Decimal(0), Decimal(600))
BY_TEXT = {one.text: one for one in ALL}
ROUNDING = 0.0127  # ISO 3 rounds by at most 1.26 %, as at 1.7 for 1.6788
MORE_ROUNDING = 0.033  # ISO 497 rounds further, 3.6 for 3.548 and 1.1 for 1.122 among the nearer ones


def listed(series: str) -> list[Decimal]:
    return [Decimal(f"{row.number('size'):g}") for row in table("preferred_sizes")
            if series in row.text("series").split(" + ")]  # fmt: skip


@pytest.mark.parametrize(("steps", "series"), [(20, ("R20",)), (40, ("R40", "R20"))])
def test_the_series_of_iso_3_are_the_roots_of_ten_rounded(steps, series):
    found = sorted(set().union(*(listed(one) for one in series)))
    roots = [10 ** (place / steps) for place in range(3 * steps) if 10 ** (place / steps) < 500.1]
    # 500 stands for 10^2.7, which is 501.2
    roots = [*roots, 10**2.7]
    assert len(found) == len(roots)
    for size, root in zip(found, roots, strict=True):
        assert abs(float(size) / root - 1) <= ROUNDING, (size, root)


@pytest.mark.parametrize(("steps", "series"), [(20, ("R'20",)), (40, ("R'40", "R'20"))])
def test_the_series_of_iso_497_are_near_the_same_roots(steps, series):
    found = sorted(set().union(*(listed(one) for one in series)))
    roots = [10 ** (place / steps) for place in range(3 * steps) if 10 ** (place / steps) < 502]
    assert len(found) == len(roots)
    for size, root in zip(found, roots, strict=True):
        assert abs(float(size) / root - 1) <= MORE_ROUNDING, (size, root)
        assert len(size.normalize().as_tuple().digits) <= 3


@pytest.mark.parametrize("size", [1.2, 3.5, 5.5, 6.5, 12, 14, 22, 35, 45, 60, 120, 140, 250, 300])
def test_sizes_of_the_design_list_come_first(size):
    """Shigley, Mechanical Engineering Design, table A-17: these are in its list of preferred millimetres."""
    assert BY_TEXT[f"{size:g} mm"].rank == 1


@pytest.mark.parametrize("size", [19, 24, 28, 38, 42, 48, 55, 65, 71, 75, 85, 95, 130, 170])
def test_diameters_of_shaft_ends_come_first(size):
    """ISO/R 775:1969, diameters of cylindrical shaft ends, from memory; IEC 60072-1 motors have most of them."""
    assert BY_TEXT[f"{size} mm"].rank == 1


def test_any_whole_millimetre_is_a_size_but_the_last_to_think_of():
    assert all(f"{size} mm" in BY_TEXT for size in range(1, 501))
    assert (BY_TEXT["33 mm"].rank, BY_TEXT["33 mm"].said) == (4, "whole millimetre")


@pytest.mark.parametrize(
    ("text", "millimetres", "rank"),
    [
        ("1 in", "25.4", 1), ("1 1/4 in", "31.75", 1), ("1 3/16 in", "30.1625", 3), ("3/4 in", "19.05", 1),
        ("7/8 in", "22.225", 2), ("31/32 in", "24.60625", 4), ("2 15/16 in", "74.6125", 3), ("1/32 in", "0.79375", 4),
        ("19 5/8 in", "498.475", 2),
    ],
)  # fmt: skip
def test_fractions_of_an_inch_are_exact(text, millimetres, rank):
    """1 in is 25.4 mm exactly since 1959."""
    assert (BY_TEXT[text].millimetres, BY_TEXT[text].rank, BY_TEXT[text].inch) == (Decimal(millimetres), rank, True)


def test_inch_sizes_are_thirty_seconds_below_an_inch_and_sixteenths_above():
    counts = [Fraction(one.millimetres) / Fraction("25.4") for one in ALL if one.inch]
    assert [count for count in counts if count <= 1] == [Fraction(part, 32) for part in range(1, 33)]
    above = [count for count in counts if count > 1]
    assert above == [Fraction(part, 16) for part in range(17, 17 + len(above))]
    assert above[-1] == Fraction(157, 8)  # 19 5/8 in, the last below 500 mm


def test_sizes_are_in_order_and_none_stands_twice():
    sizes = [one.millimetres for one in ALL]
    assert sizes == sorted(sizes)
    assert len({one.text for one in ALL}) == len(ALL)
    assert len({(one.millimetres, one.inch) for one in ALL}) == len(ALL)


def test_both_ends_of_the_range_belong_to_it():
    assert [one.text for one in preferred.between(Decimal(30), Decimal("30.1625"))] == ["30 mm", "1 3/16 in"]
    assert preferred.between(Decimal("30.001"), Decimal("30.1624")) == ()
    assert preferred.between(Decimal(501), Decimal(900)) == ()
