"""A keyway being milled, to scale: from the end of the shaft, and along it with the cutter where it starts and ends."""

from math import sqrt

from calc import draw
from calc.draw import Markup
from calc.formulas.keys import sagitta
from calc.formulas.keyway_milling import CLEAR
from calc.pieces.keyway_plan import Plan
from calc.units import figure, settle, show

X, CROWN, TOP = 150.0, 94.0, 42.0  # axis of the shaft, its crown, where the cutters are broken off
LETTER = 7.6  # width of a figure of the labels, about
ABOVE = 22.0  # of a disc over the crown that is drawn
BODY = 34.0  # of the shaft under the slot that is drawn


def picture(plan: Plan) -> str:
    """Both views, one above the other."""
    end, foot = _from_the_end(plan)
    along, bottom = _by_disc(plan, foot) if plan.by_disc else _by_end_mill(plan, foot)
    note = draw.label(8, bottom, "to scale; dashed: the cutter, where it starts and ends", class_="small")
    title = "Cutter and shaft from the end with the dial, and along the shaft with slot and travel"
    return draw.svg(340, bottom + 8, title, *end, *along, note)


def _said(plan: Plan, size: float, places: int = 3) -> str:
    if plan.key.system == "metric":
        text = figure(settle(size), places)
    else:
        text = show(size, "length", places + 1, unit="inch").removesuffix(" in")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _from_the_end(plan: Plan) -> tuple[list[Markup], float]:
    """The section, the cutter over it and beside it, and what the dial says; and how far down it reaches."""
    reach = plan.now / 2 + plan.paper + plan.touching
    scale = min(100 / plan.now, 176 / reach)
    radius, half = plan.now * scale / 2, plan.key.width * scale / 2
    middle, foot = CROWN + radius, CROWN + 2 * radius
    edge, bottom = CROWN + sagitta(plan.now, plan.key.width) * scale, CROWN + plan.depth * scale
    left, right = X - half, X + half
    outline = f"M{left:.2f} {edge:.2f}A{radius:.2f} {radius:.2f} 0 1 0 {right:.2f} {edge:.2f}V{bottom:.2f}H{left:.2f}Z"
    cutter, beside = plan.width * scale, X + radius + plan.paper * scale
    axis, low = X + plan.move * scale, middle + 14
    parts = [
        draw.tag("path", d=outline, class_="shaft"),
        draw.box(X - cutter / 2, TOP, cutter, bottom - TOP, "hidden"),
        draw.box(beside, TOP, plan.touching * scale, low - TOP, "thin"),
        draw.line(X, 22, X, foot + 8, "axis"),
        draw.line(axis, 22, axis, low + 8, "axis"),
        draw.line(X - radius - 8, middle, X + radius + 8, middle, "axis"),
        *_across(X, axis, 28, _said(plan, plan.move)),
        *_dial(plan, scale, left, bottom, foot),
        draw.label(X, foot + 21, f"Ø {_said(plan, plan.now)}", "middle"),
    ]
    return parts, foot + 30


def _dial(plan: Plan, scale: float, left: float, bottom: float, foot: float) -> list[Markup]:
    """Where the dial is 0 and where it stops, at the left."""
    zero, x = CROWN + plan.touch.zero * scale, 68.0
    parts = [draw.line(x - 8, bottom, left, bottom, "thin")]
    text = draw.label(x - 10, bottom + 14, _said(plan, plan.stop), "end", "label strong")
    if not plan.touch.inwards:
        return [
            *parts,
            draw.line(x - 8, zero, X, zero, "thin"),
            draw.line(x, bottom, x, zero, "thin"),
            draw.arrow(x, bottom, 0, -1),
            draw.label(x - 10, zero - 3, "dial 0", "end"),
            text,
        ]
    if zero < TOP:
        nought = [draw.line(x, TOP, x, bottom, "thin"), draw.label(x - 10, TOP + 4, "0 above", "end")]
    else:
        nought = [
            draw.line(x - 8, zero, X, zero, "thin"),
            draw.line(x, zero - 14, x, bottom + 14, "thin"),
            draw.arrow(x, zero, 0, 1),
            draw.label(x - 10, zero - 4, "dial 0", "end"),
        ]
    return [*parts, *nought, draw.arrow(x, bottom, 0, -1 if zero >= TOP else 1), text]


def _by_end_mill(plan: Plan, top: float) -> tuple[list[Markup], float]:
    """Seen from above: the slot, the cutter at both ends of its travel."""
    run, width, closed = plan.run, plan.width, plan.run.plunges
    outside = 0.0 if closed else CLEAR + width
    scale = min(230 / (run.slot + outside), 84 / plan.now)
    band, half, corner = plan.now * scale / 2, max(plan.target, width) * scale / 2, width * scale / 2
    y = top + 26 + band
    start = (340 - (run.slot + outside) * scale) / 2 + outside * scale
    end = start + run.slot * scale
    first = start + corner if closed else start - CLEAR * scale - corner
    last = end - corner
    if closed:
        slot = draw.tag("rect", x=start, y=y - half, width=end - start, height=2 * half, rx=corner, class_="hole")
    else:
        arc = f"A{corner:.2f} {corner:.2f} 0 0 1 "
        outline = (
            f"M{start:.2f} {y - half:.2f}H{last:.2f}{arc}{end:.2f} {y - half + corner:.2f}V{y + half - corner:.2f}"
            f"{arc}{last:.2f} {y + half:.2f}H{start:.2f}"
        )
        slot = draw.tag("path", d=outline, class_="hole")
    begin = start - 34 if closed else start
    under = y + band + 26
    parts = [
        draw.box(begin, y - band, end + 34 - begin, 2 * band, "shaft"),
        slot,
        draw.line(begin - 8, y, end + 42, y, "axis"),
        draw.circle(first, y, corner, "hidden"),
        draw.circle(last, y, corner, "hidden"),
        draw.line(start, y - half, start, y - band - 16, "thin"),
        draw.line(end, y - half, end, y - band - 16, "thin"),
        *_across(start, end, y - band - 12, f"slot {_said(plan, run.slot)}"),
        draw.line(first, y, first, under + 4, "thin"),
        draw.line(last, y, last, under + 4, "thin"),
        *_across(first, last, under, f"travel {_said(plan, run.travel)}"),
    ]
    return parts, under + 24


def _by_disc(plan: Plan, top: float) -> tuple[list[Markup], float]:
    """Cut along the axis: the full depth, where the disc runs out, and what comes next on the shaft."""
    run, both = plan.run, plan.run.plunges
    disc, room = plan.asked.disc, plan.asked.room
    before = run.run_out if both else run.run_out + CLEAR
    after = max(run.run_out, room or 0.0)
    shown = after if after <= run.full + 3 * run.run_out else run.run_out
    scale = 240 / (before + run.full + shown)
    radius, y = disc * scale / 2, top + 14 + ABOVE
    bottom, foot = y + plan.depth * scale, y + plan.depth * scale + BODY
    start = 40 + before * scale
    end = start + run.full * scale
    out, arc = run.run_out * scale, f"A{radius:.2f} {radius:.2f} 0 0 0 "
    left = f"M14 {foot:.2f}V{y:.2f}H{start - out:.2f}{arc}{start:.2f} {bottom:.2f}"
    face = f"M{start:.2f} {foot:.2f}V{bottom:.2f}"
    outline = f"{left if both else face}H{end:.2f}{arc}{end + out:.2f} {y:.2f}H332V{foot:.2f}Z"
    first = start if both else start - out - CLEAR * scale
    parts = [
        draw.tag("path", d=outline, class_="shaft"),
        *(_disc(x, bottom, radius, plan.depth * scale) for x in (first, end)),
        draw.line(start, bottom, start, foot + 22, "thin"),
        draw.line(end, bottom, end, foot + 46, "thin"),
        *_across(start, end, foot + 18, f"full depth {_said(plan, run.full)}"),
        draw.line(end + out, y, end + out, foot + 46, "thin"),
        *_across(end, end + out, foot + 42, f"run-out {_said(plan, run.run_out, 1)}"),
    ]
    under = foot + 42
    if room is not None and shown >= room:
        under += 24
        parts += [
            draw.line(end + room * scale, y - 16, end + room * scale, under + 4, "line"),
            draw.line(end, foot + 46, end, under + 4, "thin"),
            *_across(end, end + room * scale, under, f"next {_said(plan, room, 1)}"),
        ]
    return parts, under + 24


def _disc(x: float, bottom: float, radius: float, depth: float) -> Markup:
    """The lower part of a disc, up to ABOVE over the crown or its own middle."""
    high = min(depth + ABOVE, radius)
    half = sqrt(radius**2 - (radius - high) ** 2)
    d = f"M{x - half:.2f} {bottom - high:.2f}A{radius:.2f} {radius:.2f} 0 0 0 {x + half:.2f} {bottom - high:.2f}"
    return draw.tag("path", d=d, class_="hidden")


def _across(x1: float, x2: float, y: float, text: str) -> list[Markup]:
    """A level dimension; where it is too short for its figure, arrows outside and the figure beside it."""
    wide = LETTER * len(text)
    if x2 - x1 >= wide + 6:
        return [draw.level(x1, y, x2 - x1, text)]
    parts = [
        draw.line(x1 - 14, y, x2 + 14, y, "thin"),
        draw.arrow(x1, y, 1, 0),
        draw.arrow(x2, y, -1, 0),
    ]
    if x2 + 18 + wide <= 338:
        return [*parts, draw.label(x2 + 18, y + 4, text)]
    return [*parts, draw.label(x1 - 18, y + 4, text, "end")]
