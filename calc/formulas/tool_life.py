"""Taylor's equation of tool life: v T^n = C, v in m/min, T in min, C the speed for a life of one minute.

German and Indian texts write T = C v^-m with m = 1/n for the same: an exponent over 1 is theirs, not Taylor's n.
Exponents by class of tool as in KU Leuven, Production technology, 2024; constants from memory of Groover.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from calc.tables import matching, table

ONE_MINUTE = 1.0  # the life to which C belongs
SHORTEST, LONGEST = 0.1, 100_000.0  # min, past which the equation says nothing
ONE, TWO, CLASS = "one", "two", "class"  # what is known: a pair of speed and life, two pairs, the class of tool only


@dataclass(frozen=True)
class ToolClass:
    """Published spread for a class of tool; `usual` is None where no usual exponent is given."""

    tool: str
    exponent_min: float
    exponent_max: float
    usual: float | None


@dataclass(frozen=True)
class Known:
    """A pair of speed in m/min and life in min, with the exponent taken and its spread."""

    speed: float
    life: float
    n: float
    least: float
    most: float

    def spread(self, of: Callable[[float], float]) -> tuple[float, float]:
        """What a formula of n gives at the two ends of the spread, lower first."""
        ends = of(self.least), of(self.most)
        return min(ends), max(ends)


def exponent(speed_1: float, life_1: float, speed_2: float, life_2: float) -> float:
    """n from two pairs of speed and life; ValueError when the faster of two does not wear sooner."""
    if (speed_1 - speed_2) * (life_1 - life_2) >= 0:
        raise ValueError("the faster speed must have the shorter life")
    return math.log(speed_1 / speed_2) / math.log(life_2 / life_1)


def constant(speed: float, life: float, n: float) -> float:
    """C in m/min from one pair."""
    return speed * math.pow(life / ONE_MINUTE, n)


def speed_for(life: float, known_speed: float, known_life: float, n: float) -> float:
    """The speed in m/min at which the edge lasts `life` minutes."""
    return known_speed * math.pow(known_life / life, n)


def life_at(speed: float, known_speed: float, known_life: float, n: float) -> float:
    """Minutes that the edge lasts at `speed` m/min."""
    return known_life * math.pow(known_speed / speed, 1 / n)


def class_known(kind: ToolClass, work: str) -> Known | None:
    """The usual values of a class of tool in "steel" or in "other" work, a life of one minute; None where none are."""
    (row,) = matching("tool_life", tool=kind.tool)
    if not row.has(f"constant_{work}"):
        return None
    n = kind.usual or (kind.exponent_min + kind.exponent_max) / 2
    return Known(row.number(f"constant_{work}"), ONE_MINUTE, n, kind.exponent_min, kind.exponent_max)


def reach(base: Known) -> tuple[float, float]:
    """Speeds in m/min between which the equation says something: from the longest life to the shortest."""
    slow, fast = (speed_for(end, base.speed, base.life, base.n) for end in (LONGEST, SHORTEST))
    return slow, fast


def classes() -> dict[str, ToolClass]:
    """Every class of tool with its spread of exponents."""
    return {
        row.text("tool"): ToolClass(
            row.text("tool"), row.number("exponent_min"), row.number("exponent_max"),
            row.number("exponent_usual") if row.has("exponent_usual") else None,
        )
        for row in table("tool_life")
    }  # fmt: skip
