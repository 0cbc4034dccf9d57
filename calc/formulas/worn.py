"""What a worn place once was: every standard size and class that its least worn reading leaves open, ranked.

Wear only takes metal away. So a shaft was never smaller, and a bore never larger, than its least worn place is
now, and a class is out whose whole zone lies on the wrong side of it. What is left is ranked by what the least
worn place would have lost; a size or class that is less often met counts as if it had lost some more. Those
additions are ours, from common practice, and are told to the user.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from calc.formulas import iso286, preferred
from calc.formulas.bearings import LARGEST_BORE, bores
from calc.formulas.iso286 import Deviations, ToleranceClass
from calc.formulas.preferred import Size
from calc.tables import table

#: Classes with the micrometres that count as lost because they are less often met. Common practice, no source:
#: seats and running fits wear, press fits seldom do.
SEATS = {
    False: {"k5": 0, "k6": 1, "j6": 2, "j5": 3, "m5": 4, "m6": 5, "js6": 6, "js5": 7, "n5": 8, "n6": 9, "p6": 10,
            "r6": 11, "h5": 12, "h6": 13, "g6": 14, "g5": 15},
    True: {"H7": 0, "H8": 1, "H6": 2, "J7": 3, "JS7": 4, "K7": 5, "J6": 6, "JS6": 7, "K6": 8, "G7": 9, "M7": 10,
           "N7": 11, "P7": 12, "M6": 13, "N6": 14, "P6": 15},
}  # fmt: skip
PLAIN = {
    False: {"h6": 0, "h7": 1, "k6": 2, "g6": 3, "f7": 4, "js6": 5, "j6": 6, "h8": 10, "m6": 15, "h9": 15, "n6": 20,
            "p6": 25, "e8": 25, "s6": 30},
    True: {"H7": 0, "H8": 1, "H6": 2, "G7": 8, "F8": 10, "JS7": 10, "K7": 12, "H9": 15, "M7": 15, "N7": 20, "P7": 25},
}  # fmt: skip
#: Micrometres that count as lost for the other things that are less often met.
OTHER_LOAD = Decimal(25)  # a seat class for the load that a shaft or a housing seldom has
RARE_METRIC = {1: Decimal(0), 2: Decimal(10), 3: Decimal(25), 4: Decimal(40)}
RARE_INCH = {1: Decimal(10), 2: Decimal(20), 3: Decimal(40), 4: Decimal(80)}
INCH_BEARING = Decimal(60)
NO_BEARING = Decimal(200)  # a size that no metric bearing has, though a bearing sat there
#: How much wear is believed, on diameter: 2 % of the size, between these ends. Common practice, no source.
WEAR_SHARE, WEAR_LEAST, WEAR_MOST = Decimal("0.02"), Decimal("0.25"), Decimal(1)


@dataclass(frozen=True)
class Origin:
    """One size and class that the place may have been.

    `ring` says whether a metric bearing has this size, `seat` whether the class is that of a bearing seat; `lost` is
    what the least worn place has lost at least, `counted` the same with what rareness adds, both in µm.
    """

    size: Size
    one: ToleranceClass
    limits: Deviations
    ring: bool
    seat: bool
    lost: Decimal
    counted: Decimal

    @property
    def upper(self) -> Decimal:
        return self.size.millimetres + self.limits.upper / 1000

    @property
    def lower(self) -> Decimal:
        return self.size.millimetres + self.limits.lower / 1000

    def missing(self, reading: Decimal) -> tuple[Decimal, Decimal]:
        """What is missing at `reading` (mm), at most and at least, in µm; nought where nothing need be missing."""
        if self.one.hole:
            most, least = reading - self.lower, reading - self.upper
        else:
            most, least = self.upper - reading, self.lower - reading
        return max(most * 1000, Decimal(0)), max(least * 1000, Decimal(0))


def believed(reading: Decimal) -> Decimal:
    """The most wear that is believed at `reading`, both in mm on diameter."""
    return min(max(WEAR_SHARE * reading, WEAR_LEAST), WEAR_MOST)


def origins(least_worn: Decimal, doubt: Decimal, *, hole: bool, seat: bool, plain: bool) -> tuple[Origin, ...]:
    """Every origin left open by the least worn reading (mm, doubt in µm), the likeliest first.

    `seat` and `plain` say which of the two kinds of place to think of.
    """
    found: dict[tuple[Size, ToleranceClass], Origin] = {}
    rings = _outside_diameters() if hole else _bores()
    for size, rare in _sizes(least_worn, hole=hole, seat=seat, plain=plain):
        for one, is_seat, extra in _classes(size, hole=hole, seat=seat, plain=plain):
            try:
                limits = iso286.deviations(float(size.millimetres), one)
            except iso286.NotInStandard:
                continue
            lost = _lost(size, limits, least_worn, doubt, hole)
            if lost is None or lost > believed(least_worn) * 1000:
                continue
            ring = not size.inch and size.millimetres in rings
            origin = Origin(size, one, limits, ring, is_seat, lost, lost + rare + extra)
            known = found.get((size, one))
            if known is None or origin.counted < known.counted:
                found[size, one] = origin
    return tuple(sorted(found.values(), key=lambda origin: (origin.counted, origin.size.millimetres)))


def raised(reading: Decimal, most: Decimal, *, hole: bool) -> Size | None:
    """The usual size nearest to `reading` (mm) of which it would be raised metal, `most` mm of it; None if none is.

    A shaft that was punched or plated measures more than it was, a bore less.
    """
    low, high = (reading, reading + most) if hole else (reading - most, reading)
    near = [one for one in preferred.between(low, high) if one.millimetres != reading and one.rank == 1]
    return min(near, key=lambda one: abs(one.millimetres - reading), default=None)


def _lost(size: Size, limits: Deviations, least_worn: Decimal, doubt: Decimal, hole: bool) -> Decimal | None:
    """What the least worn place has lost at least, in µm; None where it lies beyond the zone that was there."""
    from_size = (least_worn - size.millimetres) * 1000
    past, lost = (limits.lower - from_size, from_size - limits.upper) if hole else (
        from_size - limits.upper, limits.lower - from_size)  # fmt: skip
    return None if past > doubt else max(lost, Decimal(0))


def _sizes(least_worn: Decimal, *, hole: bool, seat: bool, plain: bool) -> Iterator[tuple[Size, Decimal]]:
    """Sizes near the reading, and what their rareness adds. A tight class stands well off its size: 3 ‰ and 60 µm."""
    reach = believed(least_worn)
    margin = Decimal("0.003") * least_worn + Decimal("0.06")
    below, above = (reach, margin) if hole else (margin, reach)
    rings = _outside_diameters() if hole else _bores()
    for size in preferred.between(max(least_worn - below, Decimal(0)), least_worn + above):
        ring = not size.inch and size.millimetres in rings
        rare = (RARE_INCH if size.inch else RARE_METRIC)[size.rank]
        if seat and not plain:
            yield size, Decimal(0) if ring else rare + (INCH_BEARING if size.inch else NO_BEARING)
        else:
            yield size, Decimal(0) if seat and ring else rare


def _classes(size: Size, *, hole: bool, seat: bool, plain: bool) -> Iterator[tuple[ToleranceClass, bool, Decimal]]:
    read = iso286.read_hole if hole else iso286.read_shaft
    if seat:
        given = _seat_classes(size.millimetres, hole)
        for text, rare in SEATS[hole].items():
            if text in given:
                yield read(text), True, rare + (Decimal(0) if given[text] else OTHER_LOAD)
    if plain:
        for text, rare in PLAIN[hole].items():
            yield read(text), False, Decimal(rare)


@lru_cache(maxsize=64)
def _seat_classes(size: Decimal, hole: bool) -> dict[str, bool]:
    """The classes that any practice gives a seat of this size, and whether for the usual load."""
    member, usual = ("housing", "stationary") if hole else ("shaft", "rotating")
    found: dict[str, bool] = {}
    for row in table("bearing_seat_classes"):
        if row.text("member") == member and row.number("over") < float(size) <= row.number("up_to"):
            for text in (*row.text("class").split(), *row.text("alternative").split()):
                found[text] = found.get(text, False) or usual in row.text("load")
    return found


@lru_cache(maxsize=1)
def _bores() -> frozenset[Decimal]:
    return frozenset(Decimal(f"{one:g}") for one in bores() if one <= LARGEST_BORE)


@lru_cache(maxsize=1)
def _outside_diameters() -> frozenset[Decimal]:
    return frozenset(Decimal(f"{row.number('outside_diameter'):g}") for row in table("bearings"))
