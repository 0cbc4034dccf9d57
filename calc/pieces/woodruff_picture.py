"""A Woodruff key along the shaft and across it, each view to its own scale, with what is measured from where."""

from calc import draw
from calc.formulas import keys, woodruff
from calc.pieces.woodruff_words import Sunk
from calc.units import figure

SURFACE, MIDDLE = 84.0, 132.0  # the crown and the middle of the key along the shaft
DISC, RADIUS = 150.0, 54.0  # the disc and the shaft are drawn as big as this
ACROSS = 132.0  # middle of the section


def picture(sunk: Sunk) -> str:
    """The view along the shaft and, with the shaft's diameter, the section below it."""
    scale = min(DISC / sunk.key.disc, 62 / (sunk.key.disc - sunk.from_crown))
    foot, parts = _along(sunk, scale)
    if sunk.diameter is not None:
        foot, section = _across(sunk, sunk.diameter, foot)
        parts += section
    return draw.svg(
        340, foot + 24, "The key in its slot, along the shaft and in section, with the depths",
        *parts, draw.label(8, foot + 18, "each view to its own scale", class_="small"),
    )  # fmt: skip


def _short(number: float) -> str:
    return figure(number, 3).rstrip("0").rstrip(".")


def _along(sunk: Sunk, scale: float) -> tuple[float, list[str]]:
    """The slot lengthwise with the cutter that made it; the lower end of what is drawn goes before it."""
    key, depth = sunk.key, sunk.from_crown
    r, half = key.disc / 2 * scale, sunk.slot_length / 2 * scale
    bottom, top = SURFACE + depth * scale, SURFACE - (key.height - depth) * scale
    wide = woodruff.chord(key.disc, key.height) / 2 * scale
    left, right, under = MIDDLE - half, MIDDLE + half, bottom + 16
    shaft = f"M14 {under:.2f}V{SURFACE:g}H{left:.2f}A{r:.2f} {r:.2f} 0 0 0 {right:.2f} {SURFACE:g}H250V{under:.2f}Z"
    disc = f"M{MIDDLE - wide:.2f} {top:.2f}A{r:.2f} {r:.2f} 0 0 0 {MIDDLE + wide:.2f} {top:.2f}Z"
    return under + 30, [
        draw.tag("path", d=shaft, class_="shaft"),
        draw.tag("path", d=disc, class_="hole"),
        draw.circle(MIDDLE, bottom - r, r, "hidden"),
        draw.line(MIDDLE, bottom - r - 8, MIDDLE, under + 4, "axis"),
        draw.line(MIDDLE, bottom, 270, bottom, "thin"),
        draw.line(250, SURFACE, 270, SURFACE, "thin"),
        draw.upright(264, SURFACE, bottom, _short(depth)),
        draw.line(left, SURFACE, left, under + 20, "thin"),
        draw.line(right, SURFACE, right, under + 20, "thin"),
        draw.level(left, under + 18, 2 * half, f"slot {figure(sunk.slot_length, 2)}"),
        draw.label(250, 34, f"cutter Ø {_short(key.disc)}", class_="small"),
        draw.label(250, 50, f"{_short(key.width)} wide", class_="small"),
    ]


def _across(sunk: Sunk, d: float, above: float) -> tuple[float, list[str]]:
    """The section, with bottom to far side and the measure over the key."""
    key, crown_depth = sunk.key, sunk.from_crown
    scale = 2 * RADIUS / d
    proud = (key.height - crown_depth) * scale
    crown = above + 26 + proud
    centre, foot = crown + RADIUS, crown + 2 * RADIUS
    half, edge, bottom = key.width * scale / 2, crown + keys.sagitta(d, key.width) * scale, crown + crown_depth * scale
    left, right = ACROSS - half, ACROSS + half
    outline = f"M{left:.2f} {edge:.2f}A{RADIUS:g} {RADIUS:g} 0 1 0 {right:.2f} {edge:.2f}V{bottom:.2f}H{left:.2f}Z"
    return foot + 12, [
        draw.tag("path", d=outline, class_="shaft"),
        draw.box(left, crown - proud, 2 * half, key.height * scale, "hole"),
        draw.line(ACROSS, crown - proud - 6, ACROSS, foot + 6, "axis"),
        draw.line(ACROSS - RADIUS - 8, centre, ACROSS + RADIUS + 8, centre, "axis"),
        draw.line(right, bottom, 218, bottom, "thin"),
        draw.line(ACROSS, foot, 274, foot, "thin"),
        draw.line(right, crown - proud, 274, crown - proud, "thin"),
        draw.upright(212, bottom, foot, _short(d - crown_depth)),
        draw.upright(268, crown - proud, foot, _short(d - crown_depth + key.height)),
        draw.label(ACROSS - RADIUS - 6, crown + 4, f"Ø {_short(d)}", "end"),
    ]
