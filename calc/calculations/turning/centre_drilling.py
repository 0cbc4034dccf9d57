"""Centre drilling: the centre hole for a diameter of work, how deep the centre drill goes, and how fast it turns.

Sizes are those recommended by the diameter of the work. The cone has 60°; a centre drill is fed until the mouth of the
cone has its size. The spindle speed is that of the widest edge, so the thin pilot turns slower than it could.
"""

from calc import draw
from calc.formulas import cutting, holes, work_materials
from calc.formulas.work_materials import Found
from calc.model import Choice, Following, Number, OutsideTable, Result, Verdict, calculation
from calc.pieces import turning_words
from calc.shop import LATHE
from calc.steps import Steps
from calc.tables import Row, table
from calc.units import figure, settle, show, step, value

PLAIN, GUARDED = "A", "B"


@calculation(
    title="Centre drilling",
    question="Which centre hole for this work, and how deep?",
    inputs=(
        Number("diameter", "Diameter of the work", "length", "40 mm", 4, 500, "At the end that is centred."),
        Choice("form", "Form", {PLAIN: "A, plain 60° cone", GUARDED: "B, with a guard chamfer of 120°"}, PLAIN,
               "The chamfer of form B keeps knocks away from the cone of work that comes back between centres."),
        Choice("kept", "The centre hole", {"kept": "stays in the part", "cut off": "is cut off at the end"}, "kept"),
        work_materials.MATERIAL,
        *LATHE.pick("speeds", "chuck_speed"),
    ),
    sources=("din-332-1",),
    callouts=("{diameter} centre", "{diameter} centre hole", "{diameter} centre drill", "{diameter} centre {form}",
              "centre {diameter}", "centre hole {diameter}", "centre drill {diameter}"),
)  # fmt: skip
def centre_drilling(
    diameter: float, form: str, kept: str, material: Found, speeds: Steps, chuck_speed: float
) -> Result:  # fmt: skip
    """Lengths in mm, speeds in rev/min."""
    row = _row(form, diameter)
    pilot, mouth, depth = (row.number(name) for name in ("pilot", "mouth", "depth"))
    widest = row.number("guard") if form == GUARDED else mouth
    speed = holes.drill_speed(material, "hss")
    turns = holes.spindle_step(speed, widest, speeds, chuck_speed, "speeds")
    feed = holes.drill_feed(pilot, material.material)
    rate = cutting.feed_rate(feed.feed, turns)
    time = cutting.cutting_time(depth, rate)
    name = f"ISO 6411 - {form} {_plain(pilot)}/{_plain(widest)}"
    values = [
        value("pilot", "Pilot, the size of the centre drill", pilot, "length", 2),
        value("mouth", "Mouth of the 60° cone", mouth, "length", 2),
        value("depth", "Depth from first touch", depth, "length", 1),
        value("spindle_speed", "Spindle speed", turns, "spindle_speed"),
        value("pilot_length", "Length of the pilot", row.number("pilot_length"), "length", 1),
        value("feed_rate", "Feed for each minute, by hand", rate, "feed_rate", 0),
        value("cutting_speed", "Cutting speed at the widest edge", cutting.cutting_speed(turns, widest),
              "cutting_speed", 1),
        value("time", "Time in the cut", time, "time", 2),
    ]  # fmt: skip
    if form == GUARDED:
        values.insert(2, value("guard", "Mouth of the guard chamfer", widest, "length", 2))
    else:
        values.append(value("body", "Body of the centre drill", row.number("body"), "length", 2))
    if kept == "cut off":
        values.append(value("cut_off", "Length to leave for cutting it off", row.number("cut_off"), "length", 1))
    assumptions = [
        *material.remarks, *speed.remarks, *holes.at_its_slowest(speed, widest, turns),
        "Sizes by diameter are advice: heavy work wants the next larger. DIN 332-7 reckons them by weight and cut; its "
        "rule is not held here.",
        "Depths of the standard are least ones; what counts is the mouth, measured across.",
        "Speed of the widest edge; the pilot breaks from force, not from speed: feed gently, clear chips often.",
    ]  # fmt: skip
    if form == PLAIN:
        assumptions.append("Bodies of centre drills are from memory.")
    if settle(widest) * 2 > settle(diameter):
        assumptions.append("The mouth takes more than half of this end: a smaller centre drill leaves a shoulder.")
    return Result(
        values=tuple(values),
        main=("pilot", "mouth", "depth", "spindle_speed"),
        verdict=Verdict(
            "good", f"Centre drill {_plain(pilot)}, until the mouth is {_plain(widest)} mm: {name} on the drawing."
        ),
        working=(
            step("n_w = 1000 * v / (pi * d)", cutting.spindle_speed(speed.speed, widest), "rev/min",
                 "wanted; the step at or below it is taken", v=speed.speed, d=widest),
            step("v_n = pi * d * n / 1000", cutting.cutting_speed(turns, widest), "m/min", d=widest, n=turns),
            step("v_f = f * n", rate, "mm/min", f=feed.feed, n=turns),
            step("t = l / v_f", time, "min", l=depth, v_f=rate),
        ),
        cautions=(
            "Face the end first: on a sawn end the pilot wanders and breaks.",
            "A long bar wants a steady while it is centred: what whips at its end climbs out of the chuck.",
            *turning_words.of_material(material.material),
            "Grease a fixed tailstock centre and set it anew as the work warms. Local rules come first.",
        ),
        assumptions=tuple(assumptions),
        sources=(*row.source, *holes.sources(speed), *feed.source),
        picture=picture(pilot, mouth, depth, row.number("guard") if form == GUARDED else None),
        following=(
            Following("drilling", "Drilled out after it?", {"material": material.carried}),
            Following("fit", "What may the work measure?", {"size": f"{diameter:.9g} mm"}),
        ),
    )  # fmt: skip


def _row(form: str, diameter: float) -> Row:
    for row in table("centre_holes"):
        if row.text("form") == form and row.number("over") < diameter and (
            not row.has("up_to") or diameter <= row.number("up_to")
        ):  # fmt: skip
            widest = row.number("guard") if form == GUARDED else row.number("mouth")
            if widest < diameter:
                return row
    raise OutsideTable("diameter", "The smallest centre hole is wider than this end. Give a thicker end.")


def _plain(size: float) -> str:
    return figure(size, 2).rstrip("0").rstrip(".")


def picture(pilot: float, mouth: float, depth: float, guard: float | None) -> str:
    """The centre hole in section, not to scale."""
    x, axis = 60.0, 96.0
    wide, thin, cone = 38.0, 15.0, 74.0
    start = x + (14.0 if guard else 0.0)
    upper = [(start, axis - wide), (start + cone, axis - thin), (232.0, axis - thin)]
    mirrored = [(one, 2 * axis - high) for one, high in reversed(upper)]
    flare = ([(x, axis - wide - 18)], [(x, axis + wide + 18)]) if guard else ([], [])
    outline = [*flare[0], *upper, (242.0, axis), *mirrored, *flare[1]]
    return draw.svg(
        340, 208, "The centre hole in section with its sizes",
        draw.box(x, axis - 70, 210, 140, "shaft"), draw.path(*outline, closed=True, class_="hole"),
        draw.line(20, axis, 290, axis, "axis"),
        draw.level(x, axis - 76, 242.0 - x, show(depth, "length", 1)),
        draw.line(242, axis - 82, 242, axis, "thin"),
        draw.label(250, axis - 20, f"Ø {_plain(pilot)}"), draw.line(220, axis - 14, 248, axis - 22, "thin"),
        draw.label(108, axis + 54, "60°"),
        draw.upright(34, axis - wide, axis + wide, ""),
        draw.line(28, axis - wide, start, axis - wide, "thin"), draw.line(28, axis + wide, start, axis + wide, "thin"),
        draw.label(x, axis + 92,
                   f"mouth Ø {_plain(mouth)}" + (f", chamfer Ø {_plain(guard)}" if guard else "") + ", mm",
                   class_="strong"),
        draw.label(x, axis + 107, "not to scale", class_="small"),
    )  # fmt: skip
