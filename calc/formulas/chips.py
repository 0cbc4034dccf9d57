"""What becomes of the chip: whether it breaks, strings, is too heavy for the edge or is not cut at all.

Lengths in mm, depth on radius, feed in mm/rev, angles in degrees, cutting speed in m/min. The chip's width over its
thickness, 3 to 15 in steel and 3 to 30 in iron, as in KU Leuven, Production technology, 2024. Least depth and feed by
the nose radius, the radius of the edge, the least chip and the range of the built-up edge are from memory of handbooks.
"""

import math
from dataclasses import dataclass

from calc import units
from calc.formulas.cutting import UM_PER_MM, sin_degrees
from calc.formulas.turning import BRAZED, COATED, COBALT, FEED_LIMIT, HSS, Pass
from calc.steps import Steps

#: Width over thickness between which a chip curls up and breaks, by group of ISO 513; for the others none is known.
SLENDER = {"P": (3.0, 15.0), "M": (3.0, 15.0), "K": (3.0, 30.0)}
#: Depth as a share of the nose radius from which a chip is led by the edge and not by the nose. From memory.
LEAST_DEPTH = 2 / 3
#: Radius of the edge in µm, honed or coated, and the share of it that the chip has to reach. From memory.
EDGE_RADIUS = {HSS: (5.0, 15.0), COBALT: (5.0, 15.0), BRAZED: (5.0, 10.0), COATED: (25.0, 60.0)}
LEAST_CHIP = (0.2, 0.4)
#: Cutting speeds in m/min at which carbon steel builds up on the edge, those at which it is worst, and from which it is
#: surely gone with carbide. From memory.
BUILT_UP, WORST, GONE = (10.0, 60.0), (20.0, 40.0), 80.0

BREAKS, SUITS, STRINGS, OVERLOADS, RUBS = "breaks", "suits", "strings", "overloads", "rubs"


@dataclass(frozen=True)
class ChipState:
    """One of the states above; why, as a sentence; and what to change first, "" for nothing.

    SUITS: depth and feed suit the edge, but nobody prints when the chip of such a material breaks.
    """

    state: str
    why: str
    first: str


# ------------------------------------------------------------------------------------------------------ geometry


def engaged_edge(depth: float, entering_angle: float, nose_radius: float) -> float:
    """mm of edge in the cut: the arc of the nose, and past it the straight edge."""
    arc_depth = nose_radius * (1 - sin_degrees(90 - entering_angle))
    if depth <= arc_depth:
        return 2 * math.atan(math.sqrt(depth / (2 * nose_radius - depth))) * nose_radius
    return nose_radius * math.radians(entering_angle) + (depth - arc_depth) / sin_degrees(entering_angle)


def mean_thickness(depth: float, feed: float, edge: float) -> float:
    """mm: the chip's area over the length of edge that cuts it. On the nose it is thinner than f sin kappa."""
    return depth * feed / edge


def slenderness(depth: float, feed: float, edge: float) -> float:
    """Width over thickness of the chip, both along the edge that cuts it."""
    return edge / mean_thickness(depth, feed, edge)


def feed_for_slenderness(depth: float, edge: float, ratio: float) -> float:
    """mm/rev at which the chip's width over its thickness is `ratio`."""
    return edge * edge / (depth * ratio)


def feed_for_thickness(depth: float, edge: float, thickness: float) -> float:
    """mm/rev at which the chip is on the average `thickness` mm thick."""
    return thickness * edge / depth


def least_chip(tool_material: str) -> tuple[float, float]:
    """mm, from a keen edge to a blunter one: a thinner chip is not cut but pressed away."""
    keen, blunt = EDGE_RADIUS[tool_material]
    return LEAST_CHIP[0] * keen / UM_PER_MM, LEAST_CHIP[1] * blunt / UM_PER_MM


# ------------------------------------------------------------------------------------------------------ judgement


def builds_up(cutting_speed: float, groups: tuple[str, ...]) -> str | None:
    """How the built-up edge stands: "worst", "in", "near" or "out"; None for what is no carbon or alloy steel."""
    if not {"low-carbon", "medium-carbon", "high-carbon", "alloy"} & set(groups):
        return None
    speed = units.settle(cutting_speed)
    if WORST[0] <= speed <= WORST[1]:
        return "worst"
    if BUILT_UP[0] <= speed <= BUILT_UP[1]:
        return "in"
    return "near" if BUILT_UP[1] < speed < GONE else "out"


def judge(
    cut: Pass, iso_group: str, tool_material: str, feeds: Steps, least_infeed: float,
    feed_window: Steps | None = None, depth_window: Steps | None = None,
) -> ChipState:  # fmt: skip
    """What the chip of that cut does and what to change first, on a machine with those feeds.

    The windows are those of the tool's chip breaker, where known; `least_infeed` is the least depth that still cuts.
    """
    edge = engaged_edge(cut.depth, cut.entering_angle, cut.nose_radius)
    ratio = slenderness(cut.depth, cut.feed, edge)
    heavy, ribbon = SLENDER.get(iso_group, (None, None))
    rubs = _rubs(cut, edge, tool_material, feeds, least_infeed)
    if rubs:
        return ChipState(RUBS, *rubs)
    if depth_window is not None and _over(cut.depth, depth_window.highest):
        most = units.show(depth_window.highest, "length", 2)
        return ChipState(OVERLOADS, f"Deeper than the chip breaker’s {most}.", f"Less depth, {most}.")
    if feed_window is not None and _over(cut.feed, feed_window.highest):
        most = units.show(feed_window.highest, "feed")
        return ChipState(OVERLOADS, f"More feed than the chip breaker’s {most}.", _finer(feeds, feed_window.highest))
    if _over(cut.feed, FEED_LIMIT * cut.nose_radius):
        limit = FEED_LIMIT * cut.nose_radius
        why = f"The feed is over {FEED_LIMIT} of the nose radius, which then carries the whole chip."
        return ChipState(OVERLOADS, why, _finer(feeds, limit))
    if heavy is not None and _over(heavy, ratio):
        why = f"The chip is {_plain(ratio)} times as wide as thick, under {heavy:.0f}: a heavy, stiff chip."
        return ChipState(OVERLOADS, why, _finer(feeds, feed_for_slenderness(cut.depth, edge, heavy)))
    ceiling = FEED_LIMIT * cut.nose_radius
    if feed_window is not None:
        ceiling = min(ceiling, feed_window.highest)
    if feed_window is not None and _over(feed_window.lowest, cut.feed):
        least = units.show(feed_window.lowest, "feed")
        why = f"Less feed than the {least} that the chip breaker wants."
        return ChipState(STRINGS, why, _coarser(cut, feeds, feed_window.lowest, ceiling))
    if ribbon is not None and _over(ratio, ribbon):
        why = f"The chip is {_plain(ratio)} times as wide as thick, over {ribbon:.0f}: a ribbon."
        return ChipState(STRINGS, why, _coarser(cut, feeds, feed_for_slenderness(cut.depth, edge, ribbon), ceiling))
    least_depth = LEAST_DEPTH * cut.nose_radius if depth_window is None else depth_window.lowest
    if _over(least_depth, cut.depth):
        what = "that the chip breaker wants" if depth_window else "from which the edge leads the chip (2/3 of the nose)"
        why = f"Less depth than the {units.show(least_depth, 'length', 2)} {what}."
        return ChipState(STRINGS, why, _coarser(cut, feeds, cut.feed * 1.2, ceiling, least_depth))
    between = f"{_plain(ratio)} times as wide as thick"
    if heavy is None or ribbon is None:
        return ChipState(SUITS, f"Depth and feed suit the nose radius; the chip is {between}.", "")
    return ChipState(BREAKS, f"The chip is {between}, within {heavy:.0f} to {ribbon:.0f}.", "")


def _rubs(cut: Pass, edge: float, tool_material: str, feeds: Steps, least_infeed: float) -> tuple[str, str] | None:
    if _over(least_infeed, cut.depth):
        least = units.show(least_infeed, "length")
        return f"Less depth than the {least} that this tool still cuts.", f"More depth, {least} or over."
    _, least_thickness = least_chip(tool_material)
    thickness = mean_thickness(cut.depth, cut.feed, edge)
    if not _over(least_thickness, thickness):
        return None
    sizes = f"{units.show(thickness, 'length', 4)}, and the edge wants {units.show(least_thickness, 'length')}"
    enough = feeds.at_or_above(feed_for_thickness(cut.depth, edge, least_thickness))
    if enough is None or _over(enough, FEED_LIMIT * cut.nose_radius):
        return f"The chip is only {sizes}.", "A keener edge, or more depth."
    return f"The chip is only {sizes}.", f"More feed, {units.show(enough, 'feed')}."


def _finer(feeds: Steps, limit: float) -> str:
    step = feeds.at_or_below(limit)
    return "A larger nose radius." if step is None else f"Less feed, {units.show(step, 'feed')}."


def _coarser(cut: Pass, feeds: Steps, wanted: float, ceiling: float, least_depth: float | None = None) -> str:
    """More feed first; then more depth where the depth is what lacks, else an edge that makes a thicker chip."""
    step = feeds.at_or_above(wanted)
    said = []
    if step is not None and not _over(step, ceiling):
        said.append(f"more feed, {units.show(step, 'feed')}")
    if least_depth is not None:
        said.append(f"more depth, {units.show(least_depth, 'length', 2)}")
    elif cut.entering_angle < 75:
        said.append("an entering angle nearer 90°")
    if not said or (least_depth is None and len(said) == 1):
        said.append("a smaller nose radius or a tighter chip breaker")
    text = "; then ".join(said)
    return f"{text[0].upper()}{text[1:]}."


def _over(one: float, other: float) -> bool:
    return units.settle(one) > units.settle(other)


def _plain(number: float) -> str:
    return units.show(number, "ratio", 1)
