"""The bars of a cutting plan drawn to one scale, with a running measure from the raw end to mark out by."""

from collections.abc import Sequence
from itertools import groupby

from calc import draw
from calc.draw import Markup
from calc.formulas.cutting_notation import shown
from calc.formulas.cutting_plan import Layout, Plan

MOST = 12  # layouts drawn
CLOSE = 40  # pieces in a bar past which equal ones are drawn as one
LEFT, WIDTH, ROW = 8.0, 324.0, 78.0
LETTER = 8.3  # width of a figure of the labels, about


def picture(plan: Plan, inch: bool) -> str:
    """Up to MOST layouts, each once with how many bars are cut so."""
    drawn = plan.layouts[:MOST]
    scale = WIDTH / max(one.bar for one in drawn)
    parts: list[Markup] = []
    for place, one in enumerate(drawn):
        parts += _bar(one, 8 + place * ROW, scale, inch)
    foot = 8 + len(drawn) * ROW + 8
    left = len(plan.layouts) - len(drawn)
    said = f"{'inches' if inch else 'mm'} from the raw end" + (f"; {left} more in the table" if left else "")
    parts.append(draw.label(LEFT, foot, said, class_="small"))
    title = f"How {plan.bars} {'bar is' if plan.bars == 1 else 'bars are'} cut, measured from one end"
    return draw.svg(340, foot + 8, title, *parts)


def heading(one: Layout, inch: bool) -> str:
    """ "2 × 3000 mm, 1 of them bought"."""
    text = f"{one.times} × {shown(one.bar, inch)}"
    if one.bought:
        text += ", bought" if one.bought == one.times else f", {one.bought} of them bought"
    return text


def _bar(one: Layout, top: float, scale: float, inch: bool) -> list[Markup]:
    y, height = top + 18, 24.0
    parts = [
        draw.label(LEFT, top + 12, one.name, class_="strong"),
        draw.label(LEFT + 12 + 10 * len(one.name), top + 12, heading(one, inch)),
        draw.box(LEFT, y, one.bar * scale, height, "hidden"),
    ]
    ends = list(zip(one.marks[-len(one.pieces) :], one.pieces, strict=True))
    alike = [list(same) for _, same in groupby(ends, lambda end: end[1])]
    runs = alike if len(ends) > CLOSE else [[end] for end in ends]
    for run in runs:
        start, end, piece = run[0][0] - run[0][1], run[-1][0], run[0][1]
        x, width = LEFT + start * scale, (end - start) * scale
        parts.append(draw.box(x, y, width, height, "shaft"))
        text = f"{len(run)} × " * (len(run) > 1) + shown(piece, inch, unit=False)
        if width > LETTER * len(text) + 3:
            parts.append(draw.label(x + width / 2, y + 17, text, "middle"))
    if one.off_cut:
        width = one.off_cut * scale
        x = LEFT + one.bar * scale - width
        if one.kept:
            parts.append(draw.box(x, y, width, height, "hole"))
        text = shown(one.off_cut, inch, unit=False)
        if width > 7.0 * len(text) + 3:
            parts.append(draw.label(x + width / 2, y + 17, text, "middle", "small"))
    trimmed = one.marks[: -len(one.pieces)]
    return parts + _measures([*trimmed, *(run[-1][0] for run in runs)], y + height, scale, inch)


def _measures(marks: Sequence[int], y: float, scale: float, inch: bool) -> list[Markup]:
    """The marks in two rows, so that close ones stand clear of each other; what finds no place is in the table."""
    parts = []
    ends = [0.0, 0.0]
    for mark in marks:
        x = LEFT + mark * scale
        text = shown(mark, inch, unit=False)
        half = LETTER * len(text) / 2
        middle = min(max(x, half + 1), 339 - half)
        row = next((row for row in (0, 1) if middle - half > ends[row] + 3), None)
        parts.append(draw.line(x, y, x, y + (4 if row != 1 else 17), "thin"))
        if row is not None:
            ends[row] = middle + half
            parts.append(draw.label(middle, y + 15 + 13 * row, text, "middle"))
    return parts
