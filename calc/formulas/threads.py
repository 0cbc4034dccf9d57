"""Metric threads by their call-out, and the sizes of their crests: what to drill for a nut and turn for a screw.

Basic sizes by the profile of ISO 68-1 as ISO 724 uses it, mm: minor diameter of the nut D - 5/4 H, of the screw
D - 17/12 H, H = sqrt(3)/2 P. A drill cuts the minor diameter of the nut, so D - P suits.
"""

import math
import re
from dataclasses import dataclass

from calc import units
from calc.model import CalcError
from calc.tables import Row, table

PATTERN = (
    r"[Mm] ?\d{1,3}(?:[.,]\d+)?(?: ?[xX×*] ?\d{1,2}(?:[.,]\d+)?)?"
    r"(?: ?-? ?\d{1,2}[A-Ha-h](?:\d{1,2}[A-Ha-h])?)?(?: ?LH)?"
)
_CALLED = re.compile(
    r"M ?(?P<diameter>\d{1,3}(?:[.,]\d+)?)(?: ?[x×*] ?(?P<pitch>\d{1,2}(?:[.,]\d+)?))?"
    r"(?: ?-? ?(?P<grade>\d{1,2}[a-h](?:\d{1,2}[a-h])?))?(?P<left> ?LH)?",
    re.IGNORECASE,
)
COMMON = ("M6", "M8", "M10", "M12", "M16", "M20", "M20x1.5", "M30x1.5", "M12x1.25")
HEIGHT = math.sqrt(3) / 2  # of the sharp triangle, in pitches


class UnknownThread(CalcError):
    """Not a metric thread that can be read; the message says what to type."""


@dataclass(frozen=True)
class Thread:
    """A metric thread: mm. `row` is its line among the listed threads, None when it is not listed."""

    typed: str
    diameter: float
    pitch: float
    grade: str
    left: bool
    row: Row | None

    def __str__(self) -> str:
        return self.typed

    @property
    def name(self) -> str:
        """As it is called out, without grade."""
        if self.row is not None:
            return self.row.text("designation")
        return f"M{units.plain(self.diameter)}x{units.plain(self.pitch)}"

    @property
    def external(self) -> bool:
        """Whether the grade is one of a screw, in small letters."""
        return bool(self.grade) and self.grade == self.grade.lower()


def read(text: str) -> Thread:
    """The thread of that call-out; without a pitch the coarse one of its size. UnknownThread with what to type."""
    clean = units.tidy(text)
    match = _CALLED.fullmatch(clean)
    if match is None:
        raise UnknownThread(
            f"“{clean[:24]}” is not a metric thread. Type its size, and its pitch when it is fine: M20 or M20x1.5."
        )
    diameter = float(match["diameter"].replace(",", "."))
    rows = [row for row in table("tapping_drills") if row.number("diameter") == diameter]
    if match["pitch"] is None:
        coarse = [row for row in rows if row.text("series") == "coarse"]
        if not coarse:
            raise UnknownThread(
                f"M{units.plain(diameter)} has no coarse pitch in the list here. Type its pitch with it, as in M15x1."
            )
        (row,) = coarse
        return Thread(clean, diameter, row.number("pitch"), match["grade"] or "", bool(match["left"]), row)
    pitch = float(match["pitch"].replace(",", "."))
    if not 0.2 <= pitch <= 8 or not 1 <= diameter <= 300 or pitch > diameter / 4:
        raise UnknownThread(
            "Give a thread of 1 to 300 mm with a pitch of 0.2 to 8 mm, at most a quarter of its size: M20x1.5."
        )
    found = [row for row in rows if row.number("pitch") == pitch]
    return Thread(clean, diameter, pitch, match["grade"] or "", bool(match["left"]), found[0] if found else None)


def complete(started: str) -> tuple[str, ...]:
    """Listed threads that a beginning could become, at most eight."""
    key = units.tidy(started).replace(" ", "").replace("×", "x").casefold()
    names = [row.text("designation") for row in table("tapping_drills")]
    return tuple(name for name in names if name.casefold().startswith(key))[:8] if key else COMMON[:8]


def nut_minor(diameter: float, pitch: float) -> float:
    """Basic minor diameter of the nut in mm, the least that a hole for the tap may have."""
    return diameter - 5 / 4 * HEIGHT * pitch


def screw_minor(diameter: float, pitch: float) -> float:
    """Minor diameter of the screw in mm, with the rounded root of the basic design profile."""
    return diameter - 17 / 12 * HEIGHT * pitch


def engagement(diameter: float, drill: float, pitch: float) -> float:
    """Height of the nut's thread left by that hole, as a share of the screw's 17/24 H."""
    return (diameter - drill) / 2 / (17 / 24 * HEIGHT * pitch)


def limits(pitch: float) -> Row | None:
    """The row of tolerances of the crests for that pitch, None where it is not known here."""
    return next((row for row in table("thread_limits") if row.number("pitch") == pitch), None)
