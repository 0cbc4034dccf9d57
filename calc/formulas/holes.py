"""Holes with drill and reamer: published speeds and feeds, the force of a drill out of measurements, pecking, sizes.

Diameters, depths and feeds in mm and mm/rev, speeds in m/min, torque in N·m, thrust in N. `cutting` has the geometry
of a lip. The measured formula is that of Tungaloy, technical reference L068, and known for three materials only.
"""

import math
import re
from dataclasses import dataclass, replace
from decimal import Decimal

from calc.formulas import cutting, published_speeds
from calc.formulas.cutting import Chip
from calc.formulas.published_speeds import Published
from calc.formulas.turning import HARDER, Wanted, step_below
from calc.formulas.work_materials import Found, Material
from calc.model import CalcError, InputError
from calc.steps import Steps
from calc.tables import Row, matching, step_for, table, weakest
from calc.units import settle, show, tidy

DRILLS = {"hss": "HSS", "cobalt hss": "cobalt HSS"}
#: Groups that the tables of feed want at the low end, "for hard".
HARD = frozenset({"alloy-hard", "alloy-hardened", "tool-steel", "austenitic", "free-austenitic", "ph-stainless",
                  "martensitic", "titanium", "nickel"})  # fmt: skip
#: Feed force of a lip as a share of its cutting force; from memory, as for turning. The chisel edge comes on top.
AXIAL_LEAST, AXIAL_MOST = 0.3, 0.5
#: Deeper than so many diameters: the share of speed and feed left. The tables say "to as little as half" past 4; the
#: step between is common practice, no source.
DEEP = ((4, 1.0), (8, 0.75), (20, 0.5))
#: Out of the hole first at so many diameters, then by each so much, from so deep on by so little: common practice.
FIRST_PECK, PECK, SHORT_FROM, SHORT_PECK = 3.0, 1.0, 6.0, 0.5


@dataclass(frozen=True)
class Feed:
    """A feed in mm/rev; `low` to `high` is the first of two tables, `upper` the end of the other."""

    feed: float
    low: float
    high: float
    upper: float
    source: tuple[str, ...]


# ------------------------------------------------------------------------------------------- speed and feed


def drill_speed(found: Found, drill_material: str) -> Wanted:
    """The middle of where the sources agree, or of the slowest where they do not; the low end for another group.

    InputError at `drill_material` or `material` when nothing is published.
    """
    groups, remarks = _by_hardness(found.material)
    rows = _drilling(drill_material, groups)
    if rows:
        speed = taken(rows, groups[0])
        return replace(speed, remarks=(*speed.remarks, *remarks))
    if drill_material == "hss" and _drilling("cobalt hss", groups):
        raise InputError(
            "drill_material",
            f"No speed of an HSS drill is published for {found.material.label}. Choose cobalt HSS.",
        )
    raise InputError(
        "material", f"No speed of a drill is published for {found.material.label}. Type a material that is near it."
    )


def _by_hardness(material: Material) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The groups to look under, hardened alloy steel of 300 HB and more among its like, and what to say of it."""
    groups = material.speed_groups
    if groups[0] != "alloy-hardened":
        return groups, ()
    least, most = (material.number(f"tensile_{end}") or 0.0 for end in ("min", "max"))
    if least >= HARDER:
        strong = show(least, "pressure", 0)
        said = f"{strong} tensile is about 300 HB, from memory: the speed is that of alloy steel of 300 to 400 HB."
        return ("alloy-hard", *groups), (said,)
    if most > HARDER:
        (row,) = published_speeds.speeds("drilling", "HSS", ("drill",), ("alloy-hard",))
        low, high = row.speed_min, row.speed_max
        return groups, (f"Where it is over 300 HB only {low:g} to {high:g} m/min are published: ask for its hardness.",)
    return groups, ()


def _drilling(drill_material: str, groups: tuple[str, ...]) -> tuple[Published, ...]:
    rows = published_speeds.speeds("drilling", DRILLS[drill_material], ("drill",), groups)
    if rows or drill_material == "hss":
        return rows
    return published_speeds.speeds("drilling", DRILLS["hss"], ("drill",), groups)


def taken(rows: tuple[Published, ...], group: str) -> Wanted:
    """One speed out of published rows; `group` is the material's own."""
    low, high = min(row.speed_min for row in rows), max(row.speed_max for row in rows)
    agreed = max(row.speed_min for row in rows), min(row.speed_max for row in rows)
    slowest = min(rows, key=lambda row: (row.speed_max, row.speed_min))
    first, last = agreed if agreed[0] <= agreed[1] else (slowest.speed_min, slowest.speed_max)
    remarks = []
    if rows[0].group != group:
        remarks.append(
            f"Nothing is published for its own group, {group.replace('-', ' ')}: the low end of the nearest, "
            f"{rows[0].group.replace('-', ' ')}, is taken."
        )
        return Wanted(low, low, high, None, None, rows, tuple(remarks))
    if agreed[0] > agreed[1]:
        remarks.append("The sources do not agree: the middle of the slower is taken.")
    return Wanted((first + last) / 2, low, high, None, None, rows, tuple(remarks))


def spindle_step(
    wanted: Wanted, diameter: float, steps: Steps, chuck_speed: float | None, field: str, share: float = 1.0
) -> float:
    """rev/min: the step at or below `share` of the wanted speed, of the input named `field`.

    The slowest step where that is too fast but no faster than what is published, see `at_its_slowest`. No chuck turns
    where `chuck_speed` is None (a mill). InputError at `field` or `chuck_speed` as `turning.step_below` raises it.
    """
    try:
        return step_below(share * wanted.speed, diameter, steps, math.inf if chuck_speed is None else chuck_speed)
    except InputError as problem:
        if problem.name != "speeds":
            raise
        if settle(cutting.cutting_speed(steps.lowest, diameter)) <= settle(share * wanted.high):
            return steps.lowest
        raise InputError(field, str(problem)) from problem


def at_its_slowest(wanted: Wanted, diameter: float, spindle_speed: float, share: float = 1.0) -> tuple[str, ...]:
    """What to say where even the slowest step is over the wanted speed, though within what is published."""
    if settle(cutting.cutting_speed(spindle_speed, diameter)) <= settle(share * wanted.speed):
        return ()
    return (
        "The slowest speed there is: over the one wanted, within what is published. Keep it wet and watch the edge.",
    )


def drill_feed(diameter: float, material: Material) -> Feed:
    """Feed by the drill's diameter: the middle of the first table, its low end in hard materials."""
    rows = [row for row in matching("cutting_speeds", cut="feed by dia") if _holds(row, diameter)]
    first, second = rows
    low, high = first.number("feed_min"), first.number("feed_max")
    hard = bool(HARD & set(material.speed_groups[:1]))
    sources = tuple(dict.fromkeys((*first.source, *second.source)))
    return Feed(low if hard else (low + high) / 2, low, high, second.number("feed_max"), sources)


def _holds(row: Row, diameter: float) -> bool:
    return row.number("diameter_min") < diameter and (
        not row.has("diameter_max") or diameter <= row.number("diameter_max")
    )


def deep_share(diameter: float, depth: float) -> float | None:
    """What is left of speed and feed at that depth; None deeper than 20 diameters."""
    ratio = settle(depth / diameter)
    return next((share for deepest, share in DEEP if ratio <= deepest), None)


# ---------------------------------------------------------------------------------------------------- force


def lip_chip(diameter: float, pilot: float, feed: float, point_angle: float) -> Chip:
    """Chip of one lip that cuts from the pilot hole (0 for none) to the diameter."""
    return cutting.chip((diameter - pilot) / 2, feed / cutting.LIPS, point_angle / 2)


def lip_torque(force: float, diameter: float, pilot: float) -> float:
    """N·m when `force` N acts in the middle of each lip; as `cutting.drill_torque` without a pilot hole."""
    return cutting.LIPS * force * (diameter + pilot) / 4 / cutting.MM_PER_M


def lip_thrust(force: float, point_angle: float, share: float) -> float:
    """N along the axis from the lips alone, the feed force being that share of the cutting force."""
    return cutting.LIPS * share * force * cutting.sin_degrees(point_angle / 2)


def torque_power(torque: float, spindle_speed: float) -> float:
    """kW of a torque in N·m at rev/min."""
    return 2 * math.pi * torque * spindle_speed / (cutting.S_PER_MIN * cutting.W_PER_KW)


def annulus_removal(diameter: float, pilot: float, feed_rate: float) -> float:
    """cm³/min between pilot hole and diameter."""
    return math.pi * (diameter**2 - pilot**2) / 4 * feed_rate / cutting.MM3_PER_CM3


def measured_row(material: Material) -> Row | None:
    """The row of the measured formula for that material; None for most."""
    for group in material.speed_groups:
        for row in table("drill_force"):
            if group in row.text("groups").split():
                return row
    return None


def measured_torque(k: float, diameter: float, feed: float) -> float:
    """N·m of a drill from the solid: a fit, in mm and mm/rev only."""
    return k * diameter**2 * (0.630 + 16.84 * feed) / 100


def measured_thrust(k: float, diameter: float, feed: float) -> float:
    """N of a drill from the solid: a fit, in mm and mm/rev only."""
    return 570 * k * diameter * math.exp(0.85 * math.log(feed))


# -------------------------------------------------------------------------------------------------- pecking


def pecks(diameter: float, depth: float) -> tuple[float, ...]:
    """Depths in mm at which to come out of the hole before it is done; none to three diameters deep."""
    found, at = [], FIRST_PECK
    while settle(at * diameter) < settle(depth):
        found.append(at * diameter)
        at += PECK if at < SHORT_FROM else SHORT_PECK
    return tuple(found)


# ------------------------------------------------------------------------------------------ drills and reamers


def drill_at_or_below(size: Decimal) -> Decimal:
    """The usual drill at or below: by 0.1 mm to 14, 0.25 to 32, 0.5 to 50, then 1; common practice, no source."""
    for end, by in ((14, "0.1"), (32, "0.25"), (50, "0.5")):
        if size <= end:
            return size // Decimal(by) * Decimal(by)
    return size // 1


def reaming_row(reamer: str, diameter: float) -> Row:
    """What to leave for the reamer, in mm on diameter; InputError where the tables end."""
    row = step_for(matching("reaming_allowances", tool=reamer), diameter)
    if row is None:
        raise InputError(
            "diameter", "What to leave is published for reamers over 2.3 to 63.5 mm. Give a diameter within that."
        )
    return row


def reaming_speed(found: Found) -> Wanted:
    """The published speed of an HSS reamer, else the published share of the drilling speed."""
    rows = published_speeds.speeds("reaming", "HSS", ("ream",), found.material.speed_groups[:1])
    if rows:
        slow, fast = min(row.speed_min for row in rows), max(row.speed_max for row in rows)
        drilled = drill_speed(found, "cobalt hss").speed
        said: tuple[str, ...] = ()
        if settle(slow) > settle(drilled):
            said = (f"That is faster than {show(drilled, 'cutting_speed')}, at which it is drilled here: the table "
                    "that it is from drills faster too. Start lower.",)  # fmt: skip
        return Wanted(slow, slow, fast, None, None, rows, said)
    drilling = drill_speed(found, "cobalt hss")
    (ratio,) = matching("cutting_speed_ratios", operation="reaming")
    share = ratio.number("taken")
    said = (
        f"Half of the drilling speed, {show(drilling.speed, 'cutting_speed')}; texts give from a third to two thirds.",
    )
    return Wanted(
        share * drilling.speed, ratio.number("least") * drilling.low, ratio.number("most") * drilling.high, None, None,
        drilling.published, drilling.remarks + said,
    )  # fmt: skip


def sources(speed: Wanted) -> tuple[str, ...]:
    """Keys of everything the speed was taken from."""
    return tuple(dict.fromkeys(key for row in speed.published for key in row.source))


def mark(speed: Wanted) -> str:
    """The weakest mark of what the speed was taken from."""
    return weakest(*(row.mark for row in speed.published))


def read_flutes(text: str) -> int:
    """A whole number of flutes from 2 to 20. CalcError with a sentence for the user."""
    match = re.fullmatch(r"(\d{1,2})(?: ?flutes?)?", tidy(text), re.IGNORECASE)
    if match is None or not 2 <= int(match[1]) <= 20:
        raise CalcError("Give a whole number of flutes from 2 to 20.")
    return int(match[1])
