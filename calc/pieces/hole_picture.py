"""Pictures of holes: drilled, with a centre, and reamed."""

from calc import draw
from calc.pieces.hole_words import Cut
from calc.units import show

LEFT, AXIS, HALF, WALL = 40.0, 92.0, 26.0, 58.0


def drilled(cut: Cut) -> str:
    """The hole in section, its depth at full diameter and what the scale reads; lengths not to scale."""
    end = 196.0
    tip = 0.0 if cut.through else 16.0
    near, far = AXIS - HALF, AXIS + HALF
    parts = [
        draw.box(LEFT, AXIS - WALL, (end if cut.through else 232.0) - LEFT, 2 * WALL, "shaft"),
        draw.path((LEFT, near), (end, near), (end + tip, AXIS), (end, far), (LEFT, far), closed=True, class_="hole"),
        draw.line(LEFT - 24, AXIS, 240, AXIS, "axis"),
    ]
    if cut.pilot:
        parts += [
            draw.line(LEFT, AXIS - 9, end, AXIS - 9, "hidden"), draw.line(LEFT, AXIS + 9, end, AXIS + 9, "hidden"),
            draw.label(LEFT + 8, AXIS - 13, f"pilot Ø {show(cut.pilot, 'length', 2)}", class_="small"),
        ]  # fmt: skip
    if not cut.through:
        parts.append(draw.line(end, near, end, far, "thin"))
    parts += [
        draw.level(LEFT, AXIS - WALL - 10, end - LEFT, show(cut.depth, "length", 2)),
        draw.upright(244, near, far, f"Ø {show(cut.diameter, 'length', 2)}"),
        draw.line(end, near, 250, near, "thin"), draw.line(end, far, 250, far, "thin"),
        draw.label(LEFT, AXIS + WALL + 18, f"scale, from first touch: {show(cut.reading, 'length', 2)}",
                   class_="strong"),
        draw.label(LEFT, AXIS + WALL + 34,
                   f"of it point {show(cut.lead, 'length', 2)}{', and through' if cut.through else ''}; not to scale",
                   class_="small"),
    ]  # fmt: skip
    return draw.svg(340, 192, "The hole in section, with its depth and what the scale reads", *parts)
