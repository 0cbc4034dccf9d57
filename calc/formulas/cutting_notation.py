"""How a list of pieces or bars is written: "6 x 312, 2 x 96" or "3 x 3000, 1 x 740", in mm or inches.

The count stands first. Parts are set apart by a comma and a space, a semicolon, a plus or "and"; a comma without a
space is a decimal comma. "312 x 6" could be meant either way and is refused unless a unit, a decimal or "off" tells.
Lengths become whole numbers of a nanometre, so that 1/64 in is exact.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from calc import units
from calc.model import CalcError

NM = 1_000_000  # nanometres in a millimetre
LONGEST_TEXT = 600  # characters of a list
LONGEST, SHORTEST = 100_000, 1  # mm that a piece or bar may be
LENGTHS, PIECES, BARS = 40, 2000, 9999  # different lengths in a list, pieces in all, bars of one length

_PART = r"; ?|, +| ?\+ ?| and "
_TIMES = r" ?(?:x|×|\*|\boff\b|@) ?"
_COUNT_FIRST = re.compile(rf"(?P<count>\d{{1,6}}){_TIMES}(?P<length>.+)", re.IGNORECASE)
_COUNT_LAST = re.compile(
    r"(?P<length>.+?) ?(?:x|×|\*) ?(?P<count>\d{1,6})(?P<off> ?(?:off|pcs|pieces))?", re.IGNORECASE
)
#: Roughly how a list is written, for call-outs; `read_pieces` and `read_bars` have the last word.
PATTERN = r"\d[\w.,;+/×*@\" ]*"


class Unreadable(CalcError):
    """The list cannot be read; the message says which part of it, why, and what to type."""


@dataclass(frozen=True)
class Listed:
    """(length in nm, how many or None for as many as are needed), each length once; `inch` when typed in inches."""

    parts: tuple[tuple[int, int | None], ...]
    inch: bool = False

    @property
    def count(self) -> int:
        return sum(count or 0 for _, count in self.parts)


def shown(length: int, inch: bool = False, unit: bool = True) -> str:
    """A length as it is marked out: "312.5 mm", "3.25 in"; without the unit when asked."""
    own = Decimal(length) / NM
    number = units.convert(own, "millimetre", "inch") if inch else own
    text = units.figure(number, 4 if inch else 3)
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{text} {'in' if inch else 'mm'}" if unit else text


def read_pieces(text: str) -> Listed:
    """The pieces wanted; a length alone is one piece. Raises Unreadable."""
    listed = _listed(text, "piece", lambda: 1)
    if listed.count > PIECES:
        raise Unreadable(f"That is {listed.count} pieces; give at most {PIECES} at a time.")
    return listed


def read_bars(text: str) -> Listed:
    """The bars there are; a length alone is as many bars as are needed, to be bought. Raises Unreadable."""
    return _listed(text, "bar", lambda: None)


def _listed(text: str, what: str, alone: Callable[[], int | None]) -> Listed:
    parts = [part.strip() for part in re.split(_PART, text) if part.strip()]
    example = "6 x 312, 2 x 96" if what == "piece" else "3 x 3000, 1 x 740"
    if not parts:
        raise Unreadable(f"Type the {what}s with their count first, such as {example}.")
    read = []
    for place, part in enumerate(parts, 1):
        try:
            read.append(_part(part, alone()))
        except CalcError as problem:
            which = f"Part {place}, “{part[:24]}”: " if len(parts) > 1 else ""
            raise Unreadable(f"{which}{problem}") from problem
    named = {unit for _, unit, _ in read if unit}
    if named - {"millimetre"}:
        for place, (_, unit, _) in enumerate(read, 1):
            if unit is None:
                raise Unreadable(
                    f"Part {place}, “{parts[place - 1][:24]}”, has no unit and another has one. Give each its unit."
                )
    found: dict[tuple[int, bool], int | None] = {}
    for length, _, count in read:
        key = (length, count is None)
        found[key] = None if count is None else (found.get(key) or 0) + count
    if len(found) > LENGTHS:
        raise Unreadable(f"That is {len(found)} different lengths; give at most {LENGTHS} at a time.")
    for (length, _), count in found.items():
        if count is not None and count > BARS:
            raise Unreadable(f"That is {count} of {shown(length)}; give at most {BARS}.")
    inch = bool(read) and all(unit == "inch" for _, unit, _ in read)
    return Listed(tuple((length, count) for (length, _), count in found.items()), inch)


def _part(part: str, alone: int | None) -> tuple[int, str | None, int | None]:
    """Length in nm, the unit that was typed, and the count."""
    if len(re.findall(r"[x×*@]|\boff\b", part, re.IGNORECASE)) > 1 and not re.search(r"off$", part, re.IGNORECASE):
        raise Unreadable("This has more than one count. Put a semicolon, or a comma and a space, between two parts.")
    if re.fullmatch(rf"\d+{_TIMES}", part, re.IGNORECASE):
        raise Unreadable("This count has no length behind it. Type it as 6 x 312.")
    last = _COUNT_LAST.fullmatch(part)
    first = _COUNT_FIRST.fullmatch(part)
    if last and (last["off"] or not last["length"].isdigit()) and not (first and not last["off"]):
        count, written = int(last["count"]), last["length"]
    elif first:
        count, written = int(first["count"]), first["length"]
    else:
        length, unit = _length(part)
        return length, unit, alone
    if count == 0:
        raise Unreadable("A count of 0 gives nothing. Leave that part out.")
    length, unit = _length(written)
    if first and not (last and last["off"]) and unit is None and written.isdigit() and count * NM > length:
        raise Unreadable(
            f"This reads as {count} of {shown(length)}. Put the count first, or the unit with the length: "
            f"{count} mm x {written}."
        )
    return length, unit, count


def _length(written: str) -> tuple[int, str | None]:
    number, unit = units.read_bare(written, "length")
    own = units.convert(number, unit or "millimetre", "millimetre")
    if not SHORTEST <= own <= LONGEST:
        raise Unreadable(f"Give a length from {SHORTEST} to {LONGEST} mm.")
    return int((own * NM).to_integral_value(ROUND_HALF_EVEN)), unit
