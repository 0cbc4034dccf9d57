"""A size that is wanted, as it stands on a drawing: "30.01", "30 k5", "30 ±0.02", "30 +0.015 +0.002", "1 3/16 in h6".

Sizes are Decimal mm, since limits are compared. With limits one aims at their middle. Classes are those of ISO 286-1
for shafts; whoever turns an outside makes a shaft.
"""

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from calc import units
from calc.formulas import iso286
from calc.model import CalcError

#: How it is written, roughly, for finding it in a call-out.
PATTERN = r"(?:[Øø⌀] ?)?[\d.,/ ]*\d(?: ?(?:mm|in|\"))?(?: ?[a-z]{1,2} ?\d{1,2})?"
LOWEST, HIGHEST = Decimal("0.5"), Decimal(1000)  # mm
MEASURED_PATTERN = r"[\d.,/ ]*\d(?: ?(?:mm|in|\"))?"
COMMON = ("30 k5", "30", "30 h6", "28 h6", "35 ±0.02", "30 +0.015 +0.002", "1 3/16 in")

_CLASS = re.compile(r"(?P<size>.*?[\d\"a-z])\s*(?<![a-z])(?P<letter>[A-Za-z]{1,2}) ?(?P<grade>\d{1,2})")
_EVEN = re.compile(r"(?P<size>.+?) ?(?:±|\+ ?/? ?-) ?(?P<half>[^-+±]+)")
_TWO = re.compile(r"(?P<size>[^-+]+?) ?(?P<one>[-+] ?[\d.,]+[^-+/]*?)[ /]+(?P<other>[-+]? ?[\d.,]+[^-+]*)")
_GRAIN = Decimal("1e-9")


@dataclass(frozen=True)
class Wanted:
    """A wanted size in mm. Without limits `lower` and `upper` are None. `remarks` are sentences about its limits."""

    nominal: Decimal
    lower: Decimal | None = None
    upper: Decimal | None = None
    shaft: str = ""
    remarks: tuple[str, ...] = ()

    @property
    def aim(self) -> Decimal:
        """What to aim at: the middle of the limits, or the size itself."""
        return self.nominal if self.lower is None or self.upper is None else (self.lower + self.upper) / 2

    @property
    def width(self) -> Decimal | None:
        """How far apart the limits are in mm; None without limits."""
        return None if self.lower is None or self.upper is None else self.upper - self.lower

    def holds(self, size: Decimal) -> bool:
        """Whether `size` in mm lies within the limits; without limits only the very size does."""
        return (self.nominal if self.lower is None else self.lower) <= size <= (self.upper or self.nominal)


def read(text: str) -> Wanted:
    """The size as typed, already tidied. CalcError with a sentence for the user."""
    if match := _EVEN.fullmatch(text):
        size, unit = _size(match["size"])
        half = _deviation(match["half"], unit)
        return _within(size, -half, half)
    if match := _TWO.fullmatch(text):
        size, unit = _size(match["size"])
        ends = sorted(_deviation(match[one].replace(" ", ""), unit) for one in ("one", "other"))
        if ends[0] == ends[1]:
            raise CalcError("Both deviations are the same. Give an upper and a lower one, such as 30 +0.015 +0.002.")
        return _within(size, ends[0], ends[1])
    if match := _CLASS.fullmatch(text):
        wanted = iso286.read_shaft(match["letter"] + match["grade"])
        size, _ = _size(match["size"])
        limits = iso286.deviations(float(size), wanted)
        said = iso286.confirmation(limits.mark, f"{wanted} at this size")
        remarks = tuple(one for one in (said, limits.note) if one)
        found = _within(size, limits.lower / 1000, limits.upper / 1000)
        return Wanted(found.nominal, found.lower, found.upper, str(wanted), remarks)
    return Wanted(_size(text)[0])


def read_measured(text: str) -> Decimal | None:
    """A reading in mm, or None for "not yet". CalcError with a sentence for the user."""
    return None if re.fullmatch(r"not yet|none|no|[-–]", text, re.IGNORECASE) else _size(text)[0]


def _size(text: str) -> tuple[Decimal, str]:
    """The size in mm, and the unit that it was typed in."""
    number, unit = units.read(text, "length")
    size = units.convert(number, unit, "millimetre").quantize(_GRAIN, rounding=ROUND_HALF_EVEN)
    if not LOWEST <= size <= HIGHEST:
        raise CalcError(f"Give a size from {LOWEST} to {HIGHEST} mm, with or without its limits, such as 30 k5.")
    return size, unit


def _deviation(text: str, unit: str) -> Decimal:
    """A deviation in mm, in `unit` when it has none of its own."""
    number, own = units.read_bare(text, "length")
    found = units.convert(number, own or unit, "millimetre")
    if abs(found) > 5:
        raise CalcError("Give deviations of at most 5 mm, such as 30 +0.015 +0.002.")
    return found.quantize(_GRAIN, rounding=ROUND_HALF_EVEN)


def _within(size: Decimal, lower: Decimal, upper: Decimal) -> Wanted:
    if size + lower <= 0:
        raise CalcError("The lower limit is not above 0. Check the size and its deviations.")
    if lower >= upper:
        raise CalcError("The limits must lie apart. Give a tolerance above 0, such as 30 ±0.02.")
    return Wanted(size, size + lower, size + upper)
