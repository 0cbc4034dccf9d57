"""How a key is written: width × height × length, "8x7x40", with the letter of its ends before it, "B 8 x 7 x 40"."""

import re
from dataclasses import dataclass

from calc import units
from calc.model import CalcError

#: The forms of DIN 6885-1 by the letters before the size; AB as makers' lists have it.
LETTERS = {"A": "round", "B": "square", "AB": "mixed"}
WIDTH, HEIGHT, LENGTH = (1, 110), (1, 60), (3, 700)  # mm that may be typed

_SIZE = r"(?:\d+[ -])?\d+ ?/ ?\d+|\d+(?:[.,]\d+)?|[.,]\d+"
_UNIT = r"(?: ?(?:mm|in|inch|\"|″))?"
_TIMES = r" ?[x×*X] ?"
#: Roughly: letters, three sizes, a unit after each or after the last.
PATTERN = rf"(?:(?:AB|A|B) ?)?(?:{_SIZE}){_UNIT}{_TIMES}(?:{_SIZE}){_UNIT}{_TIMES}(?:{_SIZE}){_UNIT}"
_KEY = re.compile(
    rf"(?:(?P<form>AB|A|B) ?)?(?P<b>{_SIZE})(?P<bu>{_UNIT}){_TIMES}(?P<h>{_SIZE})(?P<hu>{_UNIT}){_TIMES}"
    rf"(?P<l>{_SIZE})(?P<lu>{_UNIT})"
)


@dataclass(frozen=True)
class Typed:
    """A key as it was written: width, height and length in mm, and the ends that its letter names, None without.

    For a Woodruff key the third size is the diameter of its disc.
    """

    width: float
    height: float
    length: float
    ends: str | None

    def __str__(self) -> str:
        return f"{self.section[:-3]} × {self.length:.6g} mm"

    @property
    def section(self) -> str:
        """Width and height, as "8 × 7 mm"."""
        return f"{self.width:.6g} × {self.height:.6g} mm"


def read(text: str) -> Typed:
    """Width, height and length, in that order: "8x7x40", "A 8 x 7 x 40", "1/4 x 1/4 x 1 1/2 in".

    One unit at the end holds for all three; fractions without a unit are inches. CalcError with what to type.
    """
    match = _KEY.fullmatch(units.tidy(text)) if len(text) <= units.LONGEST else None
    if match is None:
        raise CalcError("Type width, height and length of the key, such as 8x7x40 or 1/4 x 1/4 x 1 1/2 in.")
    told = match["lu"] or ("in" if any("/" in match[one] for one in "bhl") else "mm")
    sizes = []
    for one, (least, most), what in (("b", WIDTH, "a width"), ("h", HEIGHT, "a height"), ("l", LENGTH, "a length")):
        number, unit = units.read(f"{match[one].strip()} {(match[f'{one}u'] or told).strip()}", "length")
        size = units.to_own(number, unit, "length")
        if not least <= size <= most:
            raise CalcError(f"Give {what} from {least} to {most} mm; the order is width, height, length.")
        sizes.append(size)
    return Typed(sizes[0], sizes[1], sizes[2], LETTERS.get(match["form"] or ""))
