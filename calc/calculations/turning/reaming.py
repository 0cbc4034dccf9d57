"""Reaming: the drill or bore to leave, and the speed and feed of a machine reamer.

What is left for the reamer counts on diameter. Too little rubs and glazes, too much cuts oversize and tears.
"""

from decimal import Decimal

from calc import draw
from calc.formulas import cutting, holes, work_materials
from calc.formulas.work_materials import Found
from calc.model import Choice, Following, Notation, Number, Result, Verdict, calculation
from calc.pieces import turning_words
from calc.shop import LATHE
from calc.steps import Steps
from calc.tables import matching
from calc.units import show, step, value

CLEAR = 5.0  # mm past the hole, so that the reamer's lead comes out; common practice


@calculation(
    title="Reaming",
    question="What do I drill before the reamer, and at what speed?",
    inputs=(
        Number("diameter", "Diameter of the reamer", "length", "20 mm", 2.31, 63.5, "The size of the finished hole."),
        Number("hole_depth", "Depth to ream", "length", "40 mm", 0.5, 1000, "Over which the hole has to be to size."),
        Choice("reamer", "Reamer", {"HSS": "HSS", "tipped": "carbide tipped"}, "HSS"),
        Notation("flutes", "Flutes", holes.read_flutes, r"\d{1,2}", "6", "Count them; the published feed is for each.",
                 ("4", "6", "8"), aside=True),
        work_materials.MATERIAL,
        *LATHE.pick("speeds", "chuck_speed"),
    ),
    sources=("tm-1-420",),
    callouts=("{diameter} ream", "ream {diameter}", "{diameter} H7 ream", "{diameter} reamer",
              "{diameter} ream {material}", "reamer {diameter}", "ream {diameter} {material}"),
)  # fmt: skip
def reaming(
    diameter: float, hole_depth: float, reamer: str, flutes: int, material: Found, speeds: Steps, chuck_speed: float
) -> Result:
    """Lengths in mm, speeds in rev/min, feeds in mm/rev."""
    row = holes.reaming_row(reamer, diameter)
    least, most = row.number("allowance_min"), row.number("allowance_max")
    size = Decimal(repr(diameter))
    smallest, largest = size - Decimal(repr(most)), size - Decimal(repr(least))
    drill = holes.drill_at_or_below(largest)
    direct = drill >= smallest
    speed = holes.reaming_speed(material)
    turns = holes.spindle_step(speed, diameter, speeds, chuck_speed, "speeds")
    (printed,) = matching("cutting_speeds", cut="feed per flute")
    tooth = (printed.number("tooth_feed_min") + printed.number("tooth_feed_max")) / 2
    feed = tooth * flutes
    rate = cutting.feed_rate(feed, turns)
    time = cutting.cutting_time(hole_depth + CLEAR, rate)
    values = [
        value("drill", "Drill" if direct else "Drill, then bore", float(drill), "length", 2),
        value("bore_least", "Hole before the reamer, least", float(smallest), "length", 3),
        value("bore_most", "Hole before the reamer, most", float(largest), "length", 3),
        value("spindle_speed", "Spindle speed", turns, "spindle_speed"),
        value("feed", "Feed for each turn", feed, "feed", 2),
        value("left", "Left for the reamer by that drill, on diameter", float(size - drill), "length", 2),
        value("cutting_speed", "Cutting speed", cutting.cutting_speed(turns, diameter), "cutting_speed", 1),
        value("feed_rate", "Feed for each minute", rate, "feed_rate", 0),
        value("time", "Time in the cut", time, "time", 2),
    ]
    span = f"{show(float(smallest), 'length', 2)} to {show(float(largest), 'length', 2)}"
    if direct:
        verdict = Verdict("good", f"Drill {show(float(drill), 'length', 2)}, then ream.")
    else:
        verdict = Verdict("mind", f"No usual drill leaves the right amount: drill {show(float(drill), 'length', 2)} or "
                          f"less, bore to {span}, then ream.")  # fmt: skip
    assumptions = [
        *material.remarks, *speed.remarks, *holes.at_its_slowest(speed, diameter, turns),
        "Usual drills by 0.1 mm to 14, 0.25 mm to 32, 0.5 mm to 50, then 1 mm; common practice. A drill cuts a little "
        "larger than its size: bore where the hole has to be true.",
        "A hand reamer wants less, about 0.05 to 0.15 mm; from memory.",
    ]  # fmt: skip
    if reamer == "tipped":
        assumptions.append("A second text leaves 0.13 to 0.25 mm at any size; the speed here is that of an HSS reamer.")
    return Result(
        values=tuple(values),
        main=("drill", "bore_least", "bore_most", "spindle_speed"),
        verdict=verdict,
        working=(
            step("d_most = D - a_least", float(largest), "mm", D=diameter, a_least=least),
            step("d_least = D - a_most", float(smallest), "mm", D=diameter, a_most=most),
            step("n_w = 1000 * v / (pi * D)", cutting.spindle_speed(speed.speed, diameter), "rev/min",
                 "wanted; the step at or below it is taken", v=speed.speed, D=diameter),
            step("f = f_z * z", feed, "mm/rev", f_z=tooth, z=float(flutes)),
            step("v_f = f * n", rate, "mm/min", f=feed, n=turns),
            step("t = (l + c) / v_f", time, "min", l=hole_depth, c=CLEAR, v_f=rate),
        ),
        cautions=(
            "Never turn a reamer backwards, not even to take it out: chips wedge behind its edges.",
            *turning_words.of_material(material.material),
            "Wipe swarf off the reamer with the spindle stopped, never out of a turning bore by hand or cloth. Local "
            "rules come first.",
        ),
        assumptions=tuple(assumptions),
        sources=(*dict.fromkeys((*row.source, *holes.sources(speed), *printed.source)), "common-practice"),
        picture=picture(diameter, float(smallest), float(largest)),
        following=(
            Following("drilling", "Speed and feed of the drill", {
                "diameter": f"{float(drill):.9g} mm", "hole_depth": f"{hole_depth:.9g} mm",
                "material": material.carried}),
            Following("fit", "What may the hole measure?", {"size": f"{diameter:.9g} mm"}),
        ),
    )  # fmt: skip


def picture(diameter: float, smallest: float, largest: float) -> str:
    """The reamed circle around the drilled one, what is left drawn larger than life."""
    return draw.svg(
        340, 176, "The hole before and after the reamer",
        draw.box(14, 12, 150, 150, "shaft"), draw.circle(89, 87, 58, "hole"), draw.circle(89, 87, 46, "hidden"),
        draw.line(20, 87, 158, 87, "axis"), draw.line(89, 18, 89, 156, "axis"),
        draw.label(176, 50, f"reamed Ø {show(diameter, 'length', 2)}", class_="strong"),
        draw.label(176, 84, "before it, dashed:"),
        draw.label(176, 102, f"Ø {show(smallest, 'length', 2)}"),
        draw.label(176, 120, f"to {show(largest, 'length', 2)}"),
        draw.label(176, 160, "not to scale", class_="small"),
    )  # fmt: skip
