"""What is said of a tool life: verdict, assumptions, and the speeds for other lives."""

from calc.formulas import tool_life as taylor
from calc.formulas.tool_life import LONGEST, Known, ToolClass
from calc.model import Table, Verdict
from calc.units import figure, settle, show

LIVES = (15.0, 30.0, 60.0, 120.0, 240.0)  # min, for the table
NEAR = 2.0  # a speed so many times off the known one is far from what was seen; common practice


def verdict(
    base: Known, known: str, wanted_life: float, wanted_speed: float, at_life: float, lasts: float
) -> Verdict:  # fmt: skip
    said = (
        f"{show(at_life, 'cutting_speed')} for {minutes(wanted_life)}; "
        f"at {show(wanted_speed, 'cutting_speed')} it lasts {minutes(lasts)}"
    )
    if known == taylor.CLASS:
        return Verdict("mind", f"About {said}: usual values, yours may differ by far.")
    off = max(at_life / base.speed, base.speed / at_life, wanted_speed / base.speed, base.speed / wanted_speed)
    if settle(off) > settle(NEAR):
        return Verdict("mind", f"{said}; that is far from the speed that is known.")
    return Verdict("good", f"{said}.")


def assumptions(
    base: Known, known: str, kind: ToolClass, exponent: float | None, long: float, second: bool
) -> tuple[str, ...]:  # fmt: skip
    """What was taken for n and C, and how far it holds. `second`: a second pair was typed."""
    spread = f"{figure(kind.exponent_min, 2)} to {figure(kind.exponent_max, 2)}"
    found = [
        f"The n here is Taylor’s own, of v Tⁿ = C. A text with T = C v⁻ᵐ means m = 1/n, here {figure(1 / base.n, 2)}: "
        "look which of the two before you take an exponent out of a book.",
        "Same tool, work, feed, depth and wear; the equation holds near what was seen, not far from it.",
    ]
    if known == taylor.TWO or exponent is not None:
        if not settle(kind.exponent_min) <= settle(base.n) <= settle(kind.exponent_max):
            found.append(f"This n lies outside what is usual for {kind.tool}, {spread}.")
    elif kind.usual is not None:
        found.append(f"For n the usual one of {kind.tool}, {figure(base.n, 2)}, is taken; it goes from {spread}.")
    else:
        found.append(f"For n the middle of what is published for {kind.tool}, {spread}, is taken.")
    if known == taylor.CLASS:
        found.append("C is from memory of Groover: a start where nothing is known, no more.")
    if second and known != taylor.TWO:
        found.append("The second speed and life are not used: choose two speeds with their lives for that.")
    if settle(long) > settle(LONGEST):
        found.append("The longest life of the spread is cut off at 100 000 min.")
    return tuple(found)


def lives(base: Known) -> Table:
    """Speeds for a few lives, with their spread."""
    rows = []
    for life in LIVES:
        low, high = base.spread(lambda n, life=life: taylor.speed_for(life, base.speed, base.life, n))  # type: ignore[misc]
        taken = taylor.speed_for(life, base.speed, base.life, base.n)
        ends = dict.fromkeys(show(one, "cutting_speed", 1) for one in (low, high))
        rows.append((minutes(life), show(taken, "cutting_speed", 1), " to ".join(ends)))
    return Table("Speeds for other lives", ("Life", "Speed", "Spread"), tuple(rows))


def minutes(life: float) -> str:
    """A life with three figures at most: 0.85 min, 8.5 min, 85 min."""
    return show(life, "time", 0 if settle(life) >= 10 else 1 if settle(life) >= 1 else 2)
