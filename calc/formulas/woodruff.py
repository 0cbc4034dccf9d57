"""Woodruff keys of ASME B17.2 and ISO 3912, and the geometry of a disc let into a shaft. Lengths in mm.

ASME measures both depths at the edge of the slot, ISO 3912 (BS 4235-2, DIN 6888) from the crown. The first is from
memory; the second follows from the contact heights that handbooks list for these keys, which are those of the crown.
"""

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from math import sqrt

from calc import units
from calc.formulas.keys import sagitta
from calc.model import CalcError
from calc.tables import Row, table

NAMES = {"metric": "ISO 3912", "asme": "ASME B17.2"}
DUTIES = {"torque": "carry the torque", "location": "hold the place only"}
INCH = Decimal("25.4")
#: Limits of an ASME key, inch: width, and diameter of the disc (Machinery's Handbook, 31st edition, page 2557).
WIDTH_OVER, DISC_UNDER = Decimal("0.001"), Decimal("-0.010")
COMMON = ("5x6.5x16", "3x5x13", "6x9x22", "404", "608", "810", "1210")

_SIZE = r"(?:\d+[ -])?\d+ ?/ ?\d+|\d+(?:[.,]\d+)?"
_TIMES = r" ?[x×*X] ?"
#: Roughly how one is written: "608", "5x6.5", "5 x 6.5 x 16", "3/16 x 1 in".
PATTERN = rf"(?:(?:[Nn]o\.?|#) ?)?\d{{3,4}}|(?:{_SIZE}){_TIMES}(?:{_SIZE})(?:{_TIMES}(?:{_SIZE}))?(?: ?(?:mm|in|\"))?"
_NUMBER = re.compile(r"(?:no\.?|#)? ?(\d{3,4})", re.IGNORECASE)
_SIZES = re.compile(rf"({_SIZE}){_TIMES}({_SIZE})(?:{_TIMES}({_SIZE}))?(?: ?(mm|in|\"))?")

Span = tuple[float, float]


@dataclass(frozen=True)
class Woodruff:
    """One key and its slots. `height` is the greatest, `least_height` None where no limit is known.

    `depth` and `hub_depth` are measured from `datum`, "crown" or "edge", and may be deeper by their tolerance.
    `shafts` are those that the standard gives it to, over the first up to and including the second, for each duty.
    """

    system: str
    name: str
    width: float
    disc: float
    height: float
    least_height: float | None
    datum: str
    depth: float
    depth_tolerance: float
    hub_depth: float
    hub_tolerance: float
    shafts: dict[str, Span]
    row: Row

    def __str__(self) -> str:
        """As it is called: "5 × 6.5 × 16 mm" or "608 (3/16 × 1 in)"."""
        if self.system == "metric":
            return f"{self.width:g} × {self.height:g} × {self.disc:g} mm"
        return f"{self.name} ({self.row.text('key_width_fraction')} × {self.row.text('diameter_fraction')} in)"


@lru_cache(maxsize=1)
def known() -> tuple[Woodruff, ...]:
    """Every key of both standards, metric first, in the order of the tables."""
    return (*(_metric(row) for row in table("woodruff_metric")), *(_inch(row) for row in table("woodruff_inch")))


def read(text: str) -> Woodruff:
    """A key by number or by size, "608", "5x6.5", "5 x 6.5 x 16", "3/16 x 1 in". CalcError with what to type."""
    clean = units.tidy(text)
    if number := _NUMBER.fullmatch(clean):
        found = [one for one in known() if one.name == str(int(number[1]))]
        if not found:
            raise CalcError(
                f"No. {number[1]} is not in the table of ASME B17.2. Check the number: its last two digits are "
                "eighths of an inch of diameter, those before thirty-seconds of width."
            )
        return found[0]
    match = _SIZES.fullmatch(clean)
    if match is None:
        raise CalcError("Type the number or the size of the key, such as 608, 5x6.5 or 3/16 x 1 in.")
    first, second, third, unit = match.groups()
    inch = unit in ("in", '"') or (unit is None and any("/" in one for one in (first, second)))
    sizes = [_length(one, inch) for one in (first, second, third) if one]
    for one in known():
        if one.system == ("asme" if inch else "metric"):
            own = [one.width, one.disc] if inch else [one.width, one.height, one.disc]
            if len(sizes) <= len(own) and all(abs(a - b) < 0.01 for a, b in zip(sizes, own, strict=False)):
                return one
    how = "width x diameter as in 3/16 x 1 in" if inch else "width x height x diameter as in 5x6.5x16"
    raise CalcError(f"{NAMES['asme' if inch else 'metric']} has no such key. Check the sizes: {how}.")


def for_shaft(diameter: float, duty: str) -> Woodruff | None:
    """The metric key that ISO 3912 gives to a shaft; None past the ends of its table."""
    for one in known():
        low, high = one.shafts.get(duty, (0.0, 0.0))
        if low < diameter <= high:
            return one
    return None


def inch_widths(diameter: float) -> tuple[tuple[float, str], ...]:
    """Widths of inch keys for a shaft, each in mm and as "3/16" (Shigley, table 7-8, both ends of a step included)."""
    return tuple(
        (_mm(row, "key_width"), row.text("key_width_fraction"))
        for row in table("woodruff_inch_shafts")
        if _mm(row, "from") <= diameter <= _mm(row, "up_to")
    )


def alike(width: float, height: float, disc: float) -> Woodruff | None:
    """The standard key of those sizes; None for a special."""
    for one in known():
        if max(abs(one.width - width), abs(one.height - height), abs(one.disc - disc)) < 0.02:
            return one
    return None


def crown_depth(key: Woodruff, diameter: float) -> float:
    """Depth of the shaft slot from the crown."""
    return key.depth + (sagitta(diameter, key.width) if key.datum == "edge" else 0.0)


def hub_crown_depth(key: Woodruff, diameter: float) -> float:
    """Depth of the hub slot from the crown of the bore."""
    return key.hub_depth - (sagitta(diameter, key.width) if key.datum == "edge" else 0.0)


def chord(disc: float, height: float) -> float:
    """Length that a disc let in so deep leaves at the surface: of the slot, or of the key where it is sheared."""
    return 2 * sqrt(height * (disc - height))


def _length(text: str, inch: bool) -> float:
    number, unit = units.read(f"{text} in" if inch else f"{text} mm", "length")
    return units.to_own(number, unit, "length")


def _mm(row: Row, name: str) -> float:
    return float(Decimal(repr(row.number(name))) * INCH)


def _metric(row: Row) -> Woodruff:
    shafts = {
        duty: (row.number(f"{duty}_over"), row.number(f"{duty}_up_to"))
        for duty in DUTIES
        if row.has(f"{duty}_over") and row.has(f"{duty}_up_to")
    }
    return Woodruff(
        "metric", row.text("size"), row.number("key_width"), row.number("diameter"), row.number("key_height"), None,
        row.text("datum"), row.number("shaft_depth"), row.number("shaft_depth_upper"), row.number("hub_depth"),
        row.number("hub_depth_upper"), shafts, row,
    )  # fmt: skip


def _inch(row: Row) -> Woodruff:
    return Woodruff(
        "asme", row.text("number"), _mm(row, "key_width"), _mm(row, "diameter"), _mm(row, "height_max"),
        _mm(row, "height_min"), row.text("datum"), _mm(row, "shaft_depth"), _mm(row, "shaft_depth_upper"),
        _mm(row, "hub_depth"), _mm(row, "hub_depth_upper"), {}, row,
    )  # fmt: skip
