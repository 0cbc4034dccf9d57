"""Push-off: how far the tool pushes a bar away, how much too large it comes out, and whether it needs a steady.

The diameter error is twice the deflection under the tool. A plain bar goes by closed forms, one in steps by integration
along it. The rule of practice, by length in diameters, stands beside what is reckoned: it knows nothing of the cut.
"""

from calc.formulas import bar_steps, work_materials
from calc.formulas import push_off as bending
from calc.formulas.bar_steps import BarSteps
from calc.formulas.work_materials import Found
from calc.model import Choice, InputError, Notation, Number, Result, calculation
from calc.pieces import push_figures, push_picture, push_words
from calc.shop import LATHE, TOOL
from calc.units import plain, settle, show, value

MICRO = 1000.0  # µm in a mm


@calculation(
    title="Push-off of a slender bar",
    question="How far does the bar give way: does it need a steady?",
    inputs=(
        Choice("holding", "Held", bending.HOLDINGS, "chuck and centre"),
        Number("diameter", "Diameter after the cut", "length", "35 mm", 0.5, 1000,
               "The bar is weakest then. For a bar in steps fill in the steps instead."),
        Number("length", "Length from the jaws, or between centres", "length", "312 mm", 1, 5000,
               "What stands out of the jaws, up to the free end or the tailstock centre."),
        Notation("steps", "Or its steps, from the headstock on", bar_steps.read, bar_steps.PATTERN, None,
                 "Length x diameter of each as it is now, from the jaws or the headstock centre on: 42 x 30, 100 x 35.",
                 ("42 x 30, 100 x 35, 38 x 30", "180 x 40, 132 x 30"), optional=True, longest=bar_steps.LONGEST_TEXT),
        Number("at", "At this place, from the headstock end", "length", None, 0, 5000,
               "Where the error is wanted, besides the worst place. Leave empty when only that is asked.",
               optional=True),
        work_materials.MATERIAL,
        Number("depth", "Depth of cut, on radius", "length", "2 mm", 0.01, 25, "Half of what the diameter loses."),
        Number("feed", "Feed", "feed", "0.2 mm/rev", 0.005, 3, "Along the bar for each turn."),
        Number("force", "Or the radial push of the tool", "force", None, 0.1, 100_000,
               "When it is known or wanted to try. Leave empty to reckon it from material, depth and feed.",
               optional=True),
        *TOOL.pick("tool_material", "nose_radius", "entering_angle", "least_infeed"),
        Number("tolerance", "Diameter may come out too large by", "length", None, 0.001, 5,
               "What this cut may spoil. Leave empty to go by the rule of practice.", optional=True),
        *LATHE.pick("between_centres", "has_steady"),
    ),
    sources=("leuven-production",),
    callouts=("push-off {diameter} x {length}", "push off {diameter} x {length}", "{diameter} x {length} push-off",
              "{diameter} x {length} push off", "steady {diameter} x {length}", "{diameter} x {length} steady"),
)  # fmt: skip
def push_off(
    holding: str, diameter: float, length: float, steps: BarSteps | None, at: float | None, material: Found,
    depth: float, feed: float, force: float | None, tool_material: str, nose_radius: float, entering_angle: float,
    least_infeed: float, tolerance: float | None, between_centres: float, has_steady: str,
) -> Result:  # fmt: skip
    """Lengths, depth (on radius) and tolerance (on diameter) in mm, feed in mm/rev, force in N, angle in degrees."""
    bar = steps.steps if steps else ((length, diameter),)
    whole, thinnest = bending.whole(bar), min(across for _, across in bar)
    if at is not None and settle(at) > settle(whole):
        raise InputError("at", f"The bar ends at {show(whole, 'length')}. Give a place from 0 mm to there.")
    push = push_figures.push(material, thinnest, depth, feed, force, tool_material, nose_radius, entering_angle)
    modulus = material.material.number("youngs_modulus")
    if modulus is None:
        raise InputError("material", f"No stiffness of {material} is known here. Choose a material like it.")
    held = push_figures.Held(bar, modulus)
    place, most = held.worst(holding, push.most)
    if most > push_words.FURTHEST * whole:
        raise InputError(
            "depth" if force is None else "force",
            f"The bar would bend by {show(most, 'length', 0)}, more than a tenth of its length. Give it more support, "
            "or use a lighter cut.",
        )
    least, slenderness = most * push.least / push.most, whole / thinnest
    error = bending.on_diameter(most) * MICRO
    values = [
        value("diameter_error", "Diameter too large by up to", error, "difference", 1 if error < 10 else 0),
        value("worst_at", f"Worst place, from {push_words.FROM[holding]}", place, "length", 0),
        value("push", "Push of the tool, at most", push.most, "force"),
        value("slenderness", "Length in diameters", slenderness, "ratio", 1),
        value("deflection", "The bar gives way by", most * MICRO, "difference", 1),
    ]
    if push.least < push.most:
        values += [
            value("least_push", "Push of the tool, at least", push.least, "force"),
            value("least_error", "Diameter too large by at least", bending.on_diameter(least) * MICRO, "difference", 1),
            value("settled_error", "Too large once the cut has grown shallower",
                  bending.on_diameter(bending.settled(most, depth)) * MICRO, "difference", 1),
        ]  # fmt: skip
    if at is not None:
        there = held.under(holding, push.most, min(at, whole))
        values.append(value("error_there", f"Too large at {plain(at)} mm", bending.on_diameter(there) * MICRO,
                            "difference", 1))  # fmt: skip
    if len(bar) > 1:
        alike = held.alike(holding, push.most, most)
        values.append(value("stiff_as", "As stiff as a plain bar of Ø", alike, "length", 1))
    said = [*push.said, *push_words.assumed(steps, slenderness, material)]
    if tolerance is not None and settle(tolerance) < settle(bending.on_diameter(most)):
        allowed = push_figures.lighter(push, tolerance / bending.on_diameter(most))
        rubs = [one for one in allowed if one.name == "depth_allowed" and settle(one.number) < settle(least_infeed)]
        values += [one for one in allowed if one not in rubs]
        said += [f"No depth that this tool still cuts ({show(least_infeed, 'length', 3)}) keeps to the tolerance at "
                 "this feed: support the bar." for _ in rubs]  # fmt: skip
    rows = [(f"{how}{', as here' if key == holding else ''}", key, *held.worst(key, push.most))
            for key, how in bending.HOLDINGS.items()]  # fmt: skip
    carried = bending.worst_stepped(holding, push.most, bar, modulus, whole / 2)
    rows.append((f"{bending.HOLDINGS[holding]}, steady half-way", "", *carried))
    return Result(
        values=tuple(values),
        main=("diameter_error", "worst_at", "push", "slenderness"),
        verdict=push_words.verdict(holding, slenderness, place, least, most, tolerance,
                                   depth if force is None else None),
        working=(*push.working, *held.working(holding, push.most, place, most)),
        cautions=push_words.cautions(holding, slenderness, whole, between_centres),
        assumptions=tuple(said),
        sources=tuple(dict.fromkeys((*push.sources, *material.material.row.source, "lathe-manuals", "memory"))),
        picture=push_picture.picture(
            holding, bending.profile(holding, push.most, bar, modulus),
            (place, push_words.microns(most), push_words.place(place)), show(whole, "length", 0),
        ),
        tables=(
            push_words.along(held.places(holding, push, place, at), holding),
            push_words.held_otherwise(rows, whole, slenderness, has_steady == "yes"),
        ),
        following=push_words.following(holding, bar, material, tool_material, push.cut),
    )  # fmt: skip
