"""Where a key bears: the section with forces and heights of contact, and the key from above or from its side."""

from math import sqrt

from calc import draw
from calc.formulas.key_strength import Joint
from calc.formulas.keys import sagitta
from calc.formulas.woodruff import chord
from calc.units import figure

X, CROWN = 118.0, 92.0  # middle of the key and crown of the shaft in the drawing
WIDE, TALL = 74.0, 104.0  # the key is drawn as big as this allows
HALF, FOOT, TOP = 104.0, 172.0, 10.0  # half the width of the piece of shaft, its lower end, the hub's upper end
LENGTHWISE = 222.0


def picture(joint: Joint) -> str:
    """Both views, each to its own scale."""
    said = "Section through shaft, key and hub with the forces on the key, and the length of it that bears"
    return draw.svg(340, 330 if joint.ends == "woodruff" else 312, said, *_section(joint), *_lengthwise(joint))


def _short(number: float) -> str:
    return figure(number, 2).rstrip("0").rstrip(".")


def _section(joint: Joint) -> list[str]:
    key, depth = joint.key, joint.slot.depth
    scale = min(
        WIDE / key.width, TALL / key.height, (FOOT - CROWN - 12) / depth, (CROWN - TOP - 24) / (key.height - depth)
    )
    radius, half = joint.diameter / 2 * scale, key.width * scale / 2
    side = min(HALF, 0.96 * radius)
    fall = radius - sqrt(radius**2 - side**2)
    edge, bottom = CROWN + sagitta(joint.diameter, key.width) * scale, CROWN + depth * scale
    roof = CROWN - (key.height - depth) * scale
    left, right, ends = X - half, X + half, CROWN + fall
    foot = max(FOOT, ends + 10)
    arc_in = f"A{radius:.2f} {radius:.2f} 0 0 1 "
    shaft = (
        f"M{X - side:.2f} {foot:.2f}V{ends:.2f}{arc_in}{left:.2f} {edge:.2f}V{bottom:.2f}H{right:.2f}V{edge:.2f}"
        f"{arc_in}{X + side:.2f} {ends:.2f}V{foot:.2f}Z"
    )
    hub = (
        f"M{X - side:.2f} {TOP:g}V{ends:.2f}{arc_in}{left:.2f} {edge:.2f}V{roof - 4:.2f}H{right:.2f}V{edge:.2f}"
        f"{arc_in}{X + side:.2f} {ends:.2f}V{TOP:g}"
    )
    pushed, held = (roof + CROWN) / 2, (edge + bottom) / 2
    x = X + side
    return [
        draw.tag("path", d=shaft, class_="shaft"),
        draw.tag("path", d=hub, class_="line"),
        draw.box(left, roof, 2 * half, key.height * scale, "hole"),
        draw.line(left - 10, edge, right + 10, edge, "hidden"),
        draw.line(left - 40, pushed, left, pushed),
        draw.arrow(left, pushed, 1, 0),
        draw.label(left - 42, pushed + 4, "F", "end", "label strong"),
        draw.line(right + 40, held, right, held),
        draw.arrow(right, held, -1, 0),
        draw.label(right + 44, held + 4, "F", "start", "label strong"),
        draw.line(right, roof, x + 12, roof, "thin"),
        draw.line(X, CROWN, x + 12, CROWN, "thin"),
        draw.upright(x + 8, roof, CROWN, ""),
        draw.label(x + 15, roof - 3, f"hub {_short(joint.contact.hub_height)}"),
        draw.line(right, edge, x + 28, edge, "thin"),
        draw.line(right, bottom, x + 28, bottom, "thin"),
        draw.upright(x + 24, edge, bottom, f"shaft {_short(joint.contact.shaft_height)}"),
        draw.label(X - side + 4, TOP + 14, "hub"),
        draw.label(X - side + 4, foot + 15, f"shaft Ø {_short(joint.diameter)}"),
        draw.label(X, held + 4, "key", "middle"),
    ]


def _lengthwise(joint: Joint) -> list[str]:
    key, bears = joint.key, joint.contact.length
    if joint.ends == "woodruff":
        return _disc(joint)
    scale = min(250 / key.length, 44 / key.width)
    half, length = key.width * scale / 2, key.length * scale
    left, y = X - length / 2 + 20, LENGTHWISE + 40
    left = max(12.0, left)
    start = left + (half if joint.ends in ("round", "mixed") else 0)
    stop = left + length - (half if joint.ends == "round" else 0)
    round_left = f"A{half:.2f} {half:.2f} 0 0 1 {start:.2f} {y - half:.2f}" if start > left else f"V{y - half:.2f}"
    round_right = (
        f"A{half:.2f} {half:.2f} 0 0 1 {stop:.2f} {y + half:.2f}" if stop < left + length else f"V{y + half:.2f}"
    )
    outline = f"M{start:.2f} {y + half:.2f}{round_left}H{stop:.2f}{round_right}Z"
    used = bears * scale
    return [
        draw.tag("path", d=outline, class_="line"),
        draw.box(start, y - half, min(used, stop - start), 2 * half, "shaft"),
        draw.level(start, y - half - 8, min(used, stop - start), f"{_short(bears)} counts"),
        draw.level(left, y + half + 20, length, _short(key.length)),
    ]


def _disc(joint: Joint) -> list[str]:
    key = joint.key
    below = joint.slot.depth - sagitta(joint.diameter, key.width)
    scale = min(150 / key.length, 60 / key.height)
    y = LENGTHWISE + 6 + (key.height - below) * scale
    top, half = y - (key.height - below) * scale, chord(key.length, below) * scale / 2
    wide, r = chord(key.length, key.height) * scale / 2, key.length * scale / 2
    outline = f"M{X - wide:.2f} {top:.2f}A{r:.2f} {r:.2f} 0 0 0 {X + wide:.2f} {top:.2f}Z"
    return [
        draw.tag("path", d=outline, class_="shaft"),
        draw.line(20, y, X - half, y),
        draw.line(X + half, y, 240, y),
        draw.line(X - half, y, X + half, y, "hidden"),
        draw.level(X - half, y + below * scale + 24, 2 * half, f"{_short(joint.contact.length)} counts"),
        draw.label(X + half + 12, y + 18, "edge of the slot", class_="small"),
    ]
