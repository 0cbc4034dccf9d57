"""What a gearbox gives: a list of speeds or feeds, or any within a range.

Typed as on the machine's plate, "45 63 90 125", or as a range, "40 to 2000 stepless". A unit that stands once counts
for the whole list. Nothing is put in order or left out on the quiet: a list that is not rising is refused.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from calc import kinds, units
from calc.model import CalcError

MOST = 40  # entries of a list; the longest gearboxes have 36 speeds
LONGEST = 200  # characters

_STEPLESS = re.compile(r"\b(?:stepless|infinitely|variable)\b[:, ]*", re.IGNORECASE)
_NUMBER = r"\d+(?:[.,]\d*)?|[.,]\d+"
_UNIT = r"[^\d\s.,;+-][^\d,;]*?"
_RANGE = re.compile(
    rf"(?:from )?(?P<low>{_NUMBER}) ?(?P<unit>{_UNIT})??(?: to |[ ]?(?:-|\.\.\.?|…)[ ]?)(?P<high>(?:{_NUMBER}).*)",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Steps:
    """Speeds or feeds in the own unit of `kind`, rising. Of a stepless range `values` are its two ends."""

    values: tuple[float, ...]
    kind: str
    stepless: bool = False

    def __str__(self) -> str:
        """In a line: "45 to 2000 rev/min in 12 steps", "40 to 2000 rev/min stepless" or "63 rev/min"."""
        symbol = kinds.SYMBOLS[kinds.KINDS[self.kind].own]
        ends = " to ".join(units.plain(end) for end in dict.fromkeys((self.lowest, self.highest)))
        how = "stepless" if self.stepless else f"in {len(self.values)} steps" if len(self.values) > 1 else ""
        return " ".join(part for part in (ends, symbol, how) if part)

    @property
    def lowest(self) -> float:
        return self.values[0]

    @property
    def highest(self) -> float:
        return self.values[-1]

    def at_or_below(self, wanted: float) -> float | None:
        """The greatest one that is not above `wanted`; None when all are above it."""
        limit = units.settle(wanted)
        if limit < units.settle(self.lowest):
            return None
        if self.stepless:
            return min(wanted, self.highest)
        return max(one for one in self.values if units.settle(one) <= limit)

    def at_or_above(self, wanted: float) -> float | None:
        """The least one that is not below `wanted`; None when all are below it."""
        limit = units.settle(wanted)
        if limit > units.settle(self.highest):
            return None
        if self.stepless:
            return max(wanted, self.lowest)
        return min(one for one in self.values if units.settle(one) >= limit)

    def nearest(self, wanted: float) -> float:
        """The one whose ratio to `wanted` (over 0) is nearest to 1, the lower of two equally near."""
        below, above = self.at_or_below(wanted), self.at_or_above(wanted)
        if below is None or above is None:
            return self.lowest if below is None else self.highest
        return below if units.settle(wanted) ** 2 <= units.settle(below) * units.settle(above) else above

    def slower(self, one: float) -> float | None:
        """The next step below one of the steps; of a stepless range, and of the lowest step, None."""
        lower = [each for each in self.values if units.settle(each) < units.settle(one)]
        return max(lower) if lower and not self.stepless else None


def reader(kind: str, low: float, high: float, what: str) -> Callable[[str], Steps]:
    """A reader for `Notation.read`: a list or a stepless range of that kind, each figure from `low` to `high`.

    `low` and `high` are in the kind's own unit; `what` names one entry in messages ("speed"). The reader raises
    CalcError with a sentence for the user.
    """

    def read(text: str) -> Steps:
        clean = units.tidy(text)
        bare = _STEPLESS.sub("", clean).strip(" ,;:")
        stepless = bare != clean.strip(" ,;:")
        span = _RANGE.fullmatch(bare)
        if span:
            ends = _figures([f"{span['low']} {span['unit'] or ''}", span["high"]], kind, low, high, what)
            if ends[0] >= ends[1]:
                raise CalcError(
                    f"The range ends at or below where it begins. Give the lower end first: {_range(kind)}."
                )
            return Steps(ends, kind, stepless=True)
        if stepless:
            raise CalcError(f"Give the two ends of the stepless range: {_range(kind)}.")
        return Steps(_rising(_figures(_pieces(bare), kind, low, high, what), kind, what), kind)

    return read


def window(kind: str, low: float, high: float) -> Callable[[str], Steps]:
    """A reader for a range only, such as the feeds that a chip breaker is made for."""
    both = reader(kind, low, high, "figure")

    def read(text: str) -> Steps:
        found = both(text)
        if not found.stepless:
            raise CalcError(f"Give both ends of the range: {_range(kind)}.")
        return found

    return read


def _pieces(text: str) -> list[str]:
    """The entries of a list, parted by spaces, semicolons, or commas with a space after them."""
    pieces = [one.strip() for one in re.split(r";|, ?(?= )|,(?=[^\d])| (?=[\d.])", text)]
    pieces = [one.strip(" ,") for one in pieces if one.strip(" ,")]
    # "45,63,90" is a list, "0,05" is a number.
    return [part for one in pieces for part in (one.split(",") if one.count(",") > 1 else [one])]


def _figures(pieces: list[str], kind: str, low: float, high: float, what: str) -> tuple[float, ...]:
    if not pieces:
        raise CalcError(f"Give at least one {what}, or a range: {_range(kind)}.")
    if len(pieces) > MOST:
        raise CalcError(f"That is {len(pieces)} entries; give at most {MOST}.")
    read: list[tuple[Decimal, str | None]] = []
    for place, piece in enumerate(pieces, 1):
        try:
            read.append(units.read_bare(piece, kind))
        except CalcError as problem:
            raise CalcError(
                f"Entry {place}, “{piece[:16].strip()}”: {problem} Part the entries by spaces."
            ) from problem
    typed = dict.fromkeys(unit for _, unit in read if unit)
    own = kinds.KINDS[kind].own
    usual = next(iter(typed)) if len(typed) == 1 else own
    found = []
    for place, (number, unit) in enumerate(read, 1):
        one = units.to_own(number, unit or usual, kind)
        if not low <= one <= high:
            ends = f"{units.plain(low)} to {units.plain(high)} {kinds.SYMBOLS[own]}".strip()
            raise CalcError(f"Entry {place}, “{pieces[place - 1][:16].strip()}”: give values from {ends}.")
        found.append(one)
    return tuple(found)


def _rising(figures: tuple[float, ...], kind: str, what: str) -> tuple[float, ...]:
    for before, after in pairwise(figures):
        if after == before:
            raise CalcError(f"{_plain(after, kind)} stands twice. Give each {what} once.")
        if after < before:
            said = f"{_plain(after, kind)} comes after {_plain(before, kind)}"
            raise CalcError(f"{said}. Give them in order, from the lowest to the highest.")
    return figures


def _plain(number: float, kind: str) -> str:
    return f"{units.plain(number)} {kinds.SYMBOLS[kinds.KINDS[kind].own]}".strip()


def _range(kind: str) -> str:
    examples = {"spindle_speed": "40 to 2000 stepless", "feed": "0.05 to 0.4"}
    return examples.get(kind, "0.5 to 2")
