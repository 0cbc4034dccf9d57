"""The section through shaft, key and hub, to scale, with every depth from the place it is measured from."""

from calc import draw
from calc.formulas.keys import sagitta

RADIUS, X, Y = 72.0, 140.0, 168.0  # the shaft in the drawing


def picture(diameter: float, width: float, height: float, depth: float, hub_depth: float, said: tuple[str, ...]) -> str:
    """Lengths in mm; `said` are the figures of width, depth from the crown, bottom to far side, hub across, shaft."""
    scale = 2 * RADIUS / diameter
    half, crown, foot = width * scale / 2, Y - RADIUS, Y + RADIUS
    bottom, roof = crown + depth * scale, crown - hub_depth * scale
    top, edge = bottom - height * scale, crown + sagitta(diameter, width) * scale
    left, right = X - half, X + half
    outline = f"M{left:.2f} {edge:.2f}A{RADIUS:g} {RADIUS:g} 0 1 0 {right:.2f} {edge:.2f}V{bottom:.2f}H{left:.2f}Z"
    wide, tall = 96.0, roof - 18
    hub = (
        f"M{X - wide:g} {crown + 26:.2f}V{tall:.2f}H{X + wide:g}V{crown + 26:.2f}"
        f"M{left:.2f} {edge:.2f}V{roof:.2f}H{right:.2f}V{edge:.2f}"
    )
    parts = [
        draw.tag("path", d=outline, class_="shaft"),
        draw.tag("path", d=hub, class_="line"),
        draw.box(left, top, 2 * half, height * scale, "hole"),
        draw.line(X - RADIUS - 8, Y, X + RADIUS + 8, Y, "axis"),
        draw.line(X, tall - 4, X, foot + 8, "axis"),
        draw.line(left, roof, left, 22, "thin"),
        draw.line(right, roof, right, 22, "thin"),
        draw.level(left, 26, 2 * half, said[0]),
        draw.line(X, crown, 252, crown, "thin"),
        draw.line(right, bottom, 282, bottom, "thin"),
        draw.line(X, foot, 282, foot, "thin"),
        draw.line(left, roof, 22, roof, "thin"),
        draw.line(X, foot, 22, foot, "thin"),
        draw.group(
            draw.line(248, crown - 12, 248, bottom + 12, "thin"),
            draw.arrow(248, crown, 0, 1),
            draw.arrow(248, bottom, 0, -1),
            draw.label(254, crown - 3, said[1], class_="label strong"),
        ),
        draw.upright(262, bottom, foot, said[2]),
        draw.line(26, roof, 26, foot, "thin"),
        draw.arrow(26, roof, 0, -1),
        draw.arrow(26, foot, 0, 1),
        draw.label(32, foot - 6, said[3]),
        draw.label(X, Y + 34, said[4], "middle"),
        draw.label(8, foot + 26, "to scale; depths from the crown, the far side at the foot", class_="small"),
    ]
    return draw.svg(340, foot + 34, "Section through shaft, key and hub, with width and depths of the slots", *parts)
