"""Three limits that the standard prints: an engine that has just started says them, or it is not used."""

from calc import units
from calc.formulas import iso286

#: ISO 286-2:2010, limits of holes H and of shafts g and u.
PRINTED = (
    ("30 mm", "H7", "30.000 mm to 30.021 mm"),
    ("41.5 mm", "g6", "41.475 mm to 41.491 mm"),
    ("1 1/16 in", "u6", "1.06439 in to 1.06490 in"),
)


class Wrong(Exception):
    """The engine computes otherwise than the standard prints: something in its memory or its files is not right."""


def prove() -> None:
    """Say the printed limits anew, and not as remembered by a memory that was kept; Wrong when one differs."""
    iso286.of_range.cache_clear()
    for typed, written, printed in PRINTED:
        said = limits(typed, written)
        if said != printed:
            raise Wrong(f"{typed} {written} is {printed} and not {said}")


def limits(typed: str, written: str) -> str:
    """The limits of a size as typed with a tolerance class as written, in the unit of the size."""
    number, unit = units.read(typed, "length")
    size = units.to_own(number, unit, "length")
    wanted = iso286.read_hole(written) if written[0].isupper() else iso286.read_shaft(written)
    found = iso286.deviations(size, wanted)
    ends = (size + float(found.lower) / 1000, size + float(found.upper) / 1000)
    return " to ".join(units.show(one, "length", unit=unit) for one in ends)
