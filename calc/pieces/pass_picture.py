"""The passes of a plan over the length: half the bar, a strip for each cut, none of them to scale."""

from calc import draw
from calc.draw import Markup
from calc.formulas.passes import FACE, ROUGH, SPRING, Plan
from calc.pieces.pass_words import named, size
from calc.units import figure, settle, show

LEFT, SHOULDER, END, TEXT = 18.0, 86.0, 240.0, 246.0
TOP, STRIP, CORE, SHORT = 44.0, 18.0, 34.0, 9.0
RAISED = 14.0  # how much higher the bar stands than what was measured last, not to scale
MOST_ROUGH = 5  # strips of roughing drawn; more are told in one


def picture(plan: Plan) -> str:
    """Headstock to the left, free end to the right, the axis at the bottom."""
    job = plan.job
    strips = _strips(plan)
    finished = TOP + STRIP * len(strips)
    axis = finished + CORE
    left = SHOULDER + (SHORT if job.short else 0)
    bar = TOP if settle(job.bar.diameter) == job.start else TOP - RAISED  # of the work half done, the bar stands higher
    parts: list[Markup] = [
        draw.path(
            (LEFT, axis), (LEFT, bar), (SHOULDER, bar), (SHOULDER, finished), (END, finished), (END, axis),
            class_="shaft",
        ),
        draw.line(LEFT - 8, axis, END + 12, axis, "axis"),
        draw.level(SHOULDER, 20, END - SHOULDER, show(job.bar.turned, "length", 2)),
        draw.line(SHOULDER, 14, SHOULDER, bar, "thin"),
        draw.label((LEFT + SHOULDER) / 2, bar + 16, f"Ø {size(settle(job.bar.diameter))}", "middle", "small"),
        draw.line(END, 14, END, TOP, "thin"),
        draw.line(left, TOP, END, TOP, "hidden"),
        draw.label(TEXT, TOP + 4, f"Ø {size(job.start)}"),
    ]  # fmt: skip
    for place, (name, after) in enumerate(strips, 1):
        y = TOP + STRIP * place
        if place < len(strips):
            parts.append(draw.line(left, y, END, y, "thin"))
        parts.append(draw.label((left + END) / 2, y - 5, name, "middle", "small"))
        if after is not None:
            last = place == len(strips)
            parts.append(draw.label(TEXT, y + 4, f"Ø {after}", class_="strong" if last else "label"))
    if strips:
        parts.append(draw.line(END, TOP, END, finished, "hidden"))
    if job.short and strips:
        parts.append(draw.line(left, TOP, left, finished, "hidden"))
    foot = axis + 18
    if job.short:
        parts.append(
            draw.label(LEFT, foot, f"shoulder: {show(job.short, 'length', 2)} left, faced last", class_="small")
        )
        foot += 14
    parts.append(draw.label(LEFT, foot, "cuts not to scale; Ø in mm as it reads now", class_="small"))
    title = f"The cuts from diameter {size(job.start)} to {size(job.finished)} mm over the length"
    return draw.svg(340, foot + 8, title, *parts)


def _strips(plan: Plan) -> list[tuple[str, str | None]]:
    """What each strip is called and the diameter that it leaves; None where several are told in one."""
    found: list[tuple[str, str | None]] = [
        (name, figure(one.after, 2)) for name, one in named(plan) if one.name == ROUGH
    ]
    if len(found) > MOST_ROUGH:
        between = len(found) - 3
        found = [*found[:2], (f"{between} more alike", None), found[-1]]
    for name, one in named(plan):
        if one.name not in (ROUGH, SPRING, FACE):
            found.append((name, size(one.after)))
    springs = len(plan.of(SPRING))
    if springs:
        name, after = found[-1]
        found[-1] = (f"{name}, {'spring pass' if springs == 1 else f'{springs} spring passes'}", after)
    if plan.job.polish and found:
        found.append(("polish", size(plan.job.finished)))
    return found
