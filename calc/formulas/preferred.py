"""Sizes that designers prefer: millimetres of the preferred numbers and shaft ends, and fractions of an inch.

A part without a drawing was once one of these. Ranks are ours: 1 the usual sizes, 2 the R20 series, 3 the R40
series, 4 any other whole millimetre; in inches 1 quarters, 2 eighths, 3 sixteenths, 4 thirty-seconds below 1 in.
"""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction
from functools import lru_cache
from operator import attrgetter

from calc.tables import table

INCH = Decimal("25.4")  # mm, exact since 1959
LARGEST = Decimal(500)  # mm, where the list ends
FINEST = ((1, 32), (20, 16))  # up to this many inches in these parts
PARTS = {1: ("whole inch", 1), 2: ("half inch", 1), 4: ("quarter inch", 1), 8: ("eighth of an inch", 2),
         16: ("sixteenth of an inch", 3), 32: ("thirty-second of an inch", 4)}  # fmt: skip


@dataclass(frozen=True)
class Size:
    """One preferred size in mm, as it is written, which list has it, and its rank (1 the most usual)."""

    millimetres: Decimal
    text: str
    said: str
    rank: int
    inch: bool
    source: tuple[str, ...] = ()


_millimetres, _order = attrgetter("millimetres"), attrgetter("millimetres", "rank")


def between(low: Decimal, high: Decimal) -> tuple[Size, ...]:
    """Every preferred size from `low` to `high` mm, both included, smallest first."""
    metric = _metric()
    first, last = bisect_left(metric, low, key=_millimetres), bisect_right(metric, high, key=_millimetres)
    return tuple(sorted((*metric[first:last], *_fractions(low, high)), key=_order))


@lru_cache(maxsize=1)
def _metric() -> tuple[Size, ...]:
    """Every size in millimetres, smallest first."""
    return tuple(sorted((*_listed(), *_whole()), key=_order))


@lru_cache(maxsize=1)
def _listed() -> tuple[Size, ...]:
    rows = table("preferred_sizes")
    return tuple(
        Size(Decimal(f"{row.number('size'):g}"), f"{row.number('size'):g} mm", row.text("series"),
             int(row.number("rank")), False, row.source)
        for row in rows
    )  # fmt: skip


@lru_cache(maxsize=1)
def _whole() -> tuple[Size, ...]:
    known = {one.millimetres for one in _listed()}
    return tuple(
        Size(Decimal(size), f"{size} mm", "whole millimetre", 4, False)
        for size in range(1, int(LARGEST) + 1)
        if Decimal(size) not in known
    )


def _fractions(low: Decimal, high: Decimal) -> list[Size]:
    """Fractions of an inch in the range, each in its lowest terms."""
    found = []
    start = Decimal(0)
    for inches, parts in FINEST:
        step = INCH / parts
        first = int((max(low, start) / step).to_integral_value(rounding=ROUND_CEILING))
        last = min(high, inches * INCH, LARGEST)
        for count in range(max(first, 1), int(last / step) + 1):
            if count * step > start:
                found.append(_fraction(Fraction(count, parts)))
        start = inches * INCH
    return found


def _fraction(size: Fraction) -> Size:
    said, rank = PARTS[size.denominator]
    whole, rest = divmod(size, 1)
    text = f"{whole} {rest} in" if whole and rest else f"{whole or rest} in"
    exact = INCH * size.numerator / size.denominator
    return Size(exact, text, said, rank, True)
