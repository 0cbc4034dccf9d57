"""Facing: speed, feed, time and power of a cut across the end, at one spindle speed or at constant cutting speed.

The edge is fastest at the outside and, at one spindle speed, stands still at the centre. With a spindle that gains on
the way in the speed holds until the cap is met. The depth of the cut lies along the axis here.
"""

from calc.formulas import cutting, holes, inward, turning, work_materials
from calc.formulas.turning import FINISH, ROUGH
from calc.formulas.work_materials import Found
from calc.model import Choice, Following, InputError, Number, Result, calculation
from calc.pieces import inward_words as words
from calc.pieces import turning_words
from calc.pieces.inward_words import CLEAR
from calc.shop import LATHE, TOOL
from calc.steps import Steps
from calc.units import settle, show, step, value


@calculation(
    title="Facing",
    question="What speed and feed to face this end?",
    inputs=(
        Number("diameter", "Outside diameter", "length", "40 mm", 1, 2000, "Where the tool begins."),
        Number("bore", "Faced down to", "length", "0 mm", 0, 1999,
               "Diameter of a bore or shoulder; 0 to the centre.", aside=True),
        Number("axial_depth", "Depth of cut, along the axis", "length", "1 mm", 0.01, 20,
               "What a cut takes off the length."),
        Number("allowance", "To come off the length", "length", "1.5 mm", 0.01, 200,
               "All of it: it is shared among equal cuts."),
        work_materials.MATERIAL,
        Choice("cut", "Cut", {ROUGH: "roughing", FINISH: "finishing"}, ROUGH),
        Choice("mode", "Spindle", {inward.FIXED: "one spindle speed", inward.CONSTANT: "constant cutting speed"},
               inward.FIXED, "Constant cutting speed needs a drive without steps that follows the tool.", aside=True),
        *TOOL.pick("tool_material", "nose_radius"),
        *LATHE.pick("speeds", "chuck_speed", "feeds", "motor_power", "efficiency"),
    ),
    sources=("mitsubishi-technical", "leuven-production"),
    callouts=("{diameter} face", "face {diameter}", "{diameter} facing", "{diameter} face {material}",
              "facing {diameter}", "face {diameter} {material}"),
)  # fmt: skip
def facing(
    diameter: float, bore: float, axial_depth: float, allowance: float, material: Found, cut: str, mode: str,
    tool_material: str, nose_radius: float, speeds: Steps, chuck_speed: float, feeds: Steps, motor_power: float,
    efficiency: float,
) -> Result:  # fmt: skip
    """Lengths in mm, axial_depth and allowance along the axis; powers in kW, speeds in rev/min."""
    if settle(bore) >= settle(diameter):
        raise InputError("bore", "Nothing is left to face. Give a diameter smaller than the outside.")
    wanted = turning.wanted_speed(material, tool_material, cut)
    feed = turning.feed_below(wanted, nose_radius, feeds, cut)
    way = inward.inward(mode, diameter, bore, feed, wanted, speeds, chuck_speed)
    cuts = cutting.passes(allowance, axial_depth)
    depth = allowance / cuts
    factor, said = turning.correction(tool_material)
    constants = material.material.force
    specific = cutting.specific_force(constants, feed) if constants else None
    force = cutting.cutting_force(specific, depth * feed, factor) if specific else None
    run_out = CLEAR if bore else nose_radius
    time = way.time(CLEAR, run_out)
    values = [
        value("spindle_speed", "Spindle speed at the outside", way.first, "spindle_speed"),
        value("feed", "Feed for each turn", feed, "feed"),
        value("time", "Time in the cut, all cuts", cuts * time, "time", 2),
        value("cuts", "Equal cuts", cuts, "ratio", 0),
        value("each", "Depth of each, along the axis", depth, "length"),
        value("time_each", "Time of each cut", time, "time", 2),
        value("cutting_speed", "Cutting speed at the outside", way.cutting_speed, "cutting_speed", 1),
        value("speed_inside", f"Cutting speed {'at the bore' if bore else 'at the centre'}", way.speed_at(bore),
              "cutting_speed", 1),
        value("spindle_inside", "Spindle speed on the inside", way.turns_at(bore), "spindle_speed"),
        value("theoretical_roughness", "Rt, ideal", cutting.roughness_rt(feed, nose_radius), "roughness"),
        value("ideal_roughness", "Ra, ideal", cutting.roughness_ra(feed, nose_radius), "roughness"),
        *words.force_values(force, way, efficiency),
    ]  # fmt: skip
    if way.constant:
        values.insert(8, value("cap_diameter", "Cap met at a diameter of", way.turns_over, "length", 1))
    needed = next((value.number for value in values if value.name == "motor_needed"), None)
    do = f"Face at {show(way.first, 'spindle_speed')}, {show(feed, 'feed')}"
    if way.constant:
        do = f"Face at {show(way.cutting_speed, 'cutting_speed')}, spindle capped at {show(way.cap, 'spindle_speed')}"
    working = [
        step("a = A / i", depth, "mm", "in equal cuts", A=allowance, i=float(cuts)),
        *words.working(way, wanted.speed, CLEAR, run_out),
        step("t_all = i * t", cuts * time, "min", i=float(cuts), t=time),
    ]
    assumptions = [
        *material.remarks, *wanted.remarks, *holes.at_its_slowest(wanted, diameter, way.first),
        "The list of feeds is that along the bed; across, many lathes feed a half or a third of it: read the plate.",
        "Time without winding back, measuring and setting.",
    ]  # fmt: skip
    if specific is not None and constants is not None:
        working += words.force_working(way, specific, depth * feed, factor, efficiency)
        memory = {"M": ", from memory", "F": ", fitted"}.get(constants.mark, "")
        assumptions += [
            f"Force by the {constants.family} family, {constants.row}{memory}; edge square to the feed, sharp tool.",
            said,
        ]
    else:
        assumptions.append("No force is known for this material; force and power are left out.")
    other = inward.both_ways(way, CLEAR, run_out)
    if other:
        assumptions.append(f"At one spindle speed each cut would take {other}.")
    cautions = ["Set the tool to centre height: above it a pip is left that breaks the edge."]
    cautions.append(
        words.FAST_IN if mode == inward.CONSTANT
        else "At one spindle speed the edge slows towards the centre and tears or builds up there: ease the feed."
    )  # fmt: skip
    cautions += [turning_words.LONG_BAR, *turning_words.of_material(material.material)]
    cautions.append(
        "Never above the lowest of the speeds marked on chuck, machine and fixture. Local rules come first."
    )
    return Result(
        values=tuple(values),
        main=("spindle_speed", "feed", "cuts", "time"),
        verdict=words.against_motor(do, needed, motor_power, "take less depth, or the next slower step"),
        working=tuple(working),
        cautions=tuple(cautions),
        assumptions=tuple(assumptions),
        sources=(
            *dict.fromkeys((*(key for row in wanted.published for key in row.source),
                            *(constants.source if constants else ()))),
            "common-practice",
        ),
        picture=words.speed_curve(way, "Cutting speed of the edge from the outside to the centre"),
        tables=(words.way_in(way), words.published(wanted, "Published for turning")),
        following=(
            Following("cut_length", "How long do I saw it?", {"diameter": f"{diameter:.9g} mm"}),
            Following("centre_drilling", "Which centre hole in this end?", {"material": material.carried}),
            Following("parting", "Parted off at the other end?", {
                "diameter": f"{diameter:.9g} mm", "material": material.carried, "tool_material": tool_material}),
        ),
    )  # fmt: skip
