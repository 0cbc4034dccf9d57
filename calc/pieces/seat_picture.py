"""The seat as it is turned, in half section with its ring, and below it both tolerance zones to scale."""

from collections.abc import Callable
from decimal import Decimal

from calc import draw
from calc.draw import Markup
from calc.formulas.bearings import BALL
from calc.formulas.seat_fit import SeatFit
from calc.pieces.seat_tables import limit, micrometres
from calc.tables import Row
from calc.units import figure

SECTION, ZONES = 190.0, 140.0  # heights of the two halves
CORNER, FACE, END = 100.0, 196.0, 226.0  # where the shoulder, the far face of the ring and the end of the seat stand
Heights = Callable[[float], float]


def picture(fit: SeatFit, fillet: Row | None) -> str:
    """The section is not to scale: fillet and chamfer are drawn large so that they can be told apart."""
    title = (
        f"The {fit.part} seat {fit.seat_class} in half section with its ring, and the tolerance zones in micrometres"
    )
    return draw.svg(340, SECTION + ZONES, title, *_section(fit, fillet), *_zones(fit))


def _section(fit: SeatFit, fillet: Row | None) -> list[Markup]:
    """Drawn for a shaft below its ring; a housing is the same turned over, above its ring."""
    shaft = fit.part == "shaft"

    def y(height: float) -> float:
        """A height over the surface of the seat, towards the ring, as a height in the drawing."""
        return 124 - height if shaft else 58 + height

    body = y(-46)
    outline = (
        f"M8 {body:g}V{y(30):g}H{CORNER:g}V{y(9):g}A9 9 0 0 {0 if shaft else 1} {CORNER + 9:g} {y(0):g}"
        f"H{END - 5:g}L{END:g} {y(-5):g}V{body:g}"
    )
    return [
        draw.tag("path", d=outline, class_="shaft"),
        _ring(y(0), y(34), y(14)),
        _ring(y(110), y(76), y(104)),
        _rolling(fit, (CORNER + FACE) / 2, y(55)),
        draw.line(4, SECTION - 10, 336, SECTION - 10, "axis"),
        *_figures(fit, fillet, y),
    ]


def _ring(outer: float, raceway: float, chamfered: float) -> Markup:
    """A ring from its chamfered face to its raceway; `chamfered` is where the chamfers end."""
    c = abs(outer - chamfered)
    points = ((CORNER, raceway), (CORNER, chamfered), (CORNER + c, outer), (FACE - c, outer), (FACE, chamfered))
    return draw.path(*points, (FACE, raceway), closed=True, class_="hole")


def _rolling(fit: SeatFit, x: float, y: float) -> Markup:
    return draw.circle(x, y, 25, "hole") if fit.bearing.kind == BALL else draw.box(x - 30, y - 21, 60, 42, "hole")


def _figures(fit: SeatFit, fillet: Row | None, y: Heights) -> list[Markup]:
    size, seat = fit.size, fit.seat
    shaft = fit.part == "shaft"
    edge = y(0)
    text = edge - 34 if shaft else edge + 20
    parts = [
        draw.line(END, edge, 334, edge, "thin"),
        draw.label(334, text, str(fit.seat_class), "end", "strong"),
        draw.label(334, text + 15, f"Ø {limit(size, seat.upper)}", "end", "strong"),
        draw.label(334, text + 30, f"Ø {limit(size, seat.lower)}", "end", "strong"),
    ]
    shoulder = y(30) - 8 if shaft else y(30) + 16
    if fillet is None:
        return [*parts, draw.label(8, shoulder, "shoulder")]
    heights = [fillet.number(one) for one in ("shoulder_height_min_nsk", "shoulder_height_min_ntn") if fillet.has(one)]
    across = size + (2 if shaft else -2) * max(heights)
    corner, chamfer = (CORNER + 3, y(3)), (CORNER + 8, y(8))
    low = y(-22) if shaft else y(-22) + 10
    return [
        *parts,
        draw.label(8, shoulder, f"Ø {figure(across, 1)} {'min' if shaft else 'max'}"),
        draw.line(corner[0], corner[1], 78, y(-14), "thin"),
        draw.label(16, low, f"fillet {figure(fillet.number('fillet_max'), 2).rstrip('0').rstrip('.')} max"),
        draw.line(chamfer[0], chamfer[1], 136, y(-14), "thin"),
        draw.label(124, low, f"chamfer {fit.bearing.chamfer_min or 0:g} min"),
    ]


def _zones(fit: SeatFit) -> list[Markup]:
    """Ring and seat against the nominal size: the ring's tolerance lies below it."""
    ring, seat = fit.ring_limits, fit.seat
    ends = [float(one) for one in (ring.lower, ring.upper, seat.lower, seat.upper)] + [0.0]
    scale = 78 / (max(ends) - min(ends))
    zero = SECTION + 24 + max(ends) * scale
    what = "bore" if fit.part == "shaft" else "outside"
    parts = [
        draw.line(8, zero, 332, zero, "axis"),
        draw.label(8, zero - 4 if max(ends) > 0 else zero + 14, f"{fit.size:.9g}"),
        draw.label(8, SECTION + ZONES - 6, "deviations in µm from the nominal size, to scale", class_="small"),
    ]
    for x, class_, name, upper, lower in (
        (58.0, "hole", what, ring.upper, ring.lower),
        (206.0, "shaft", str(fit.seat_class), seat.upper, seat.lower),
    ):
        top, foot = zero - float(upper) * scale, zero - float(lower) * scale
        apart = foot - top > 26
        parts += [
            draw.box(x, top, 66, foot - top, class_),
            draw.label(x + 33, (top + foot) / 2 + 5, name, "middle", "strong"),
            draw.label(x + 72, top + (8 if apart else 1), figure(upper, _places(upper), sign=True)),
            draw.label(x + 72, foot + (2 if apart else 13), figure(lower, _places(lower), sign=True)),
        ]
    return parts


def _places(deviation: Decimal) -> int:
    return 1 if "." in micrometres(deviation) else 0
