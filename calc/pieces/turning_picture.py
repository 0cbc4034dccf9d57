"""The section of the chip to scale, and the cutting speed among what is published and the built-up edge."""

import math

from calc import draw
from calc.draw import Markup
from calc.formulas import chips
from calc.formulas.cutting import sin_degrees
from calc.formulas.turning import Pass, Wanted
from calc.units import show

WIDTH = 340.0
SLOWEST, FASTEST = 4.0, 1500.0  # m/min, the ends of the axis
LEFT, RIGHT = 14.0, 326.0


def picture(cut: Pass, wanted: Wanted | None, built_up: bool) -> str:
    """Without a published speed only the one taken is marked; `built_up` whether that range means anything here."""
    section, tall = _section(cut)
    says = "The chip of one turn to scale, and the cutting speed on an axis with what is published"
    return draw.svg(WIDTH, tall + 106, says, section, _axis(cut.cutting_speed, wanted, built_up, tall))


# ---------------------------------------------------------------------------------------------------- the speed


def _place(speed: float) -> float:
    share = math.log(speed / SLOWEST) / math.log(FASTEST / SLOWEST)
    return LEFT + (RIGHT - LEFT) * min(max(share, 0.0), 1.0)


def _axis(speed: float, wanted: Wanted | None, built_up: bool, top: float) -> Markup:
    line = top + 66
    parts: list[str] = []
    if built_up:
        for (low, high), tall in ((chips.BUILT_UP, 10), (chips.WORST, 18)):
            parts.append(draw.box(_place(low), line - tall, _place(high) - _place(low), tall, "shaft"))
        parts.append(draw.box(LEFT + 112, line + 26, 10, 8, "shaft"))
        parts.append(draw.label(LEFT + 127, line + 34, "built-up edge, worst where high", class_="small"))
    parts.append(draw.line(LEFT, line, RIGHT, line))
    for mark in (5, 10, 20, 50, 100, 200, 500, 1000):
        parts.append(draw.line(_place(mark), line, _place(mark), line + 5, "thin"))
        parts.append(draw.label(_place(mark), line + 18, str(mark), "middle", "small"))
    if wanted is not None:
        low, high = _place(wanted.low), _place(wanted.high)
        parts.append(_bracket(low, max(high, low + 2), line - 25))
        parts.append(_bracket(LEFT, LEFT + 22, line + 30))
        parts.append(draw.label(LEFT + 28, line + 34, "published", class_="small"))
    here = _place(speed)
    parts.append(draw.line(here, line - 32, here, line, "thin"))
    parts.append(draw.arrow(here, line, 0, 1))
    anchor = "start" if here < 60 else "end" if here > 280 else "middle"
    parts.append(draw.label(here, line - 37, show(speed, "cutting_speed", 1), anchor, "label strong"))
    return draw.group(*parts)


def _bracket(left: float, right: float, y: float) -> Markup:
    return draw.group(draw.line(left, y, right, y), *(draw.line(x, y - 4, x, y + 4) for x in (left, right)))


# ------------------------------------------------------------------------------------------------- the chip


def _profile(cut: Pass, shift: float, lowest: float) -> list[tuple[float, float]]:
    """The edge in mm, from the arc at angle `lowest` (radians from straight down) up to the uncut surface."""
    radius, angle = cut.nose_radius, math.radians(cut.entering_angle)
    arc_depth = radius * (1 - sin_degrees(90 - cut.entering_angle))
    last = angle
    if cut.depth <= arc_depth:
        last = 2 * math.atan(math.sqrt(cut.depth / (2 * radius - cut.depth)))
    turns = [lowest + (last - lowest) * place / 12 for place in range(13)]
    points = [(shift - radius * math.sin(one), radius * (1 - math.cos(one))) for one in turns]
    if cut.depth > arc_depth:
        x, y = points[-1]
        up = cut.depth - arc_depth
        points.append((x - up * sin_degrees(90 - cut.entering_angle) / sin_degrees(cut.entering_angle), y + up))
    return points


def _section(cut: Pass) -> tuple[Markup, float]:
    """The chip between two turns of the tool, and its height on paper.

    Nothing where the depth is hardly more than the roughness that is left: there is no such chip.
    """
    half = math.asin(min(1.0, cut.feed / 2 / cut.nose_radius))
    if cut.depth <= cut.nose_radius * (1 - math.cos(half)) * 1.5:
        return draw.group(), 0.0
    now, before = _profile(cut, 0.0, -half), _profile(cut, cut.feed, half)
    left, right = min(x for x, _ in now), max(x for x, _ in (*before, *now))
    scale = min(84 / cut.depth, 110 / (right - left))
    foot, zero = 40 + cut.depth * scale, 90 - left * scale

    def on_paper(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
        return [(zero + x * scale, foot - y * scale) for x, y in points]

    chip, edge = on_paper([*reversed(now), *before]), on_paper(now)
    surface = foot - cut.depth * scale
    start = chip[0][0]  # of the edge, at the uncut surface
    tall = foot - surface >= 24
    parts = [
        draw.path(*chip, closed=True, class_="shaft"),
        draw.line(20, surface, chip[-1][0], surface),
        draw.path(*edge),
        draw.line(edge[0][0], foot, 232, foot),
        draw.line(30, foot, edge[0][0], foot, "hidden"),
        draw.line(44, surface if tall else surface - 12, 44, foot if tall else foot + 12, "thin"),
        draw.arrow(44, surface, 0, -1 if tall else 1),
        draw.arrow(44, foot, 0, 1 if tall else -1),
        draw.label(20, foot + 26, f"depth {show(cut.depth, 'length', 2)}"),
        draw.level(start, surface - 8, cut.feed * scale, ""),
        draw.label(start, surface - 16, f"feed {show(cut.feed, 'feed')}"),
        draw.label(332, surface + 6, "chip, to scale", "end", "small"),
        draw.label(332, surface + 22, f"h {show(cut.chip.thickness, 'length')}", "end"),
        draw.label(332, surface + 38, f"nose {show(cut.nose_radius, 'length', 2)}", "end"),
    ]
    return draw.group(*parts), max(foot + 32, surface + 46)
