"""How a bar turned in steps is written: "42 x 30, 100 x 35, 38 x 30", each step as length x diameter, in mm or inches.

A diameter sign tells the two apart, so that "Ø30 x 42" is read as well. Parts are set apart by a comma and a space, a
semicolon, a plus or "and"; a comma without a space is a decimal comma, unless only a new step can follow it. A unit
that stands once in a step counts for both its figures. Lengths and diameters in mm.
"""

import re
from dataclasses import dataclass

from calc import units
from calc.model import CalcError

MOST = 12  # steps
SHORTEST, LONGEST = 0.1, 5000.0  # mm, of one step
THINNEST, THICKEST = 0.5, 1000.0  # mm, diameter
LONGEST_TEXT = 200  # characters
PATTERN = r"[Øø⌀]?\d[\w.,;+/×*Øø⌀\" ]*"

_PART = r"; ?|, +| ?\+ ?| and "
_TIMES = re.compile(r" ?[x×*] ?", re.IGNORECASE)
_CROWDED = re.compile(r"[\d.]+ ?[x×*] ?[\d.]+(?:,[\d.]+ ?[x×*] ?[\d.]+)+", re.IGNORECASE)
_ROUND = re.compile(r"^[Øø⌀∅φΦ] ?| ?\bdia(?:meter)?\.?$", re.IGNORECASE)
_EXAMPLE = "42 x 30, 100 x 35"


class Unreadable(CalcError):
    """The steps cannot be read; the message says which, why, and what to type."""


@dataclass(frozen=True)
class BarSteps:
    """(length, diameter) in mm of each step, from the chuck or the headstock centre on."""

    steps: tuple[tuple[float, float], ...]

    @property
    def thinnest(self) -> float:
        return min(diameter for _, diameter in self.steps)

    def __str__(self) -> str:
        """In a line: "42 mm of Ø 30, 100 mm of Ø 35"."""
        return ", ".join(f"{units.plain(length)} mm of Ø {units.plain(across)}" for length, across in self.steps)


def read(text: str) -> BarSteps:
    """The steps as written. Raises Unreadable with a sentence for the user."""
    clean = units.tidy(text)
    parts = [part.strip(" ,") for part in re.split(_PART, clean) if part.strip(" ,")]
    parts = [one for part in parts for one in (part.split(",") if _CROWDED.fullmatch(part) else [part])]
    if not parts:
        raise Unreadable(f"Type each step as length x diameter, such as {_EXAMPLE}.")
    if len(parts) > MOST:
        raise Unreadable(f"That is {len(parts)} steps; give at most {MOST}.")
    found, typed = [], set()
    for place, part in enumerate(parts, 1):
        try:
            step, unit = _step(part)
        except CalcError as problem:
            which = f"Step {place}, “{part[:24]}”: " if len(parts) > 1 else ""
            raise Unreadable(f"{which}{problem}") from problem
        found.append(step)
        typed.add(unit)
    if None in typed and typed - {None, "millimetre"}:
        raise Unreadable("Some steps have a unit and others none. Give each step its unit.")
    return BarSteps(tuple(found))


def _step(part: str) -> tuple[tuple[float, float], str | None]:
    """(length, diameter) in mm and the unit that was typed."""
    pieces = _TIMES.split(part)
    if len(pieces) > 2:
        raise Unreadable(f"Put a comma and a space, or a semicolon, between two steps, such as {_EXAMPLE}.")
    if len(pieces) < 2 or not all(pieces):
        raise Unreadable(f"Give a step its length and its diameter, such as {_EXAMPLE}.")
    marked = [bool(_ROUND.search(piece)) for piece in pieces]
    if all(marked):
        raise Unreadable("Both figures are marked as diameters. Give the length without the sign.")
    read = [units.read_bare(_ROUND.sub("", piece), "length") for piece in pieces]
    named = {unit for _, unit in read if unit}
    usual = named.pop() if len(named) == 1 else "millimetre"
    sizes = [units.to_own(number, unit or usual, "length") for number, unit in read]
    length, across = reversed(sizes) if marked[0] else sizes
    for size, low, high, what in ((length, SHORTEST, LONGEST, "length"), (across, THINNEST, THICKEST, "diameter")):
        if not low <= size <= high:
            raise Unreadable(f"Give a {what} from {units.plain(low)} to {units.plain(high)} mm.")
    return (length, across), usual if any(unit for _, unit in read) else None
