"""Parting off: speed, feed, time, force and reach of a parting tool, at one spindle speed or at constant cutting speed.

Published practice parts at half to three fifths of the turning speed. The blade is as deep in the work as it is weak:
its reach over its width says how far it can be trusted.
"""

from calc.formulas import cutting, holes, inward, turning, work_materials
from calc.formulas.published_speeds import TOOLS
from calc.formulas.work_materials import Found
from calc.model import Choice, Following, InputError, Number, Result, Verdict, calculation
from calc.pieces import inward_words as words
from calc.pieces import turning_words
from calc.pieces.inward_words import CLEAR
from calc.shop import LATHE, TOOL
from calc.steps import Steps
from calc.tables import Row, matching
from calc.units import settle, show, value

CROWDED = 1.3  # force of a blade that cuts on three sides, as a multiple; from memory, 1.2 to 1.3
SLENDER = 8.0  # reach over width past which a blade wanders; common practice
SPARE = 1.0  # mm of reach more than the wall; common practice


@calculation(
    title="Parting off",
    question="What speed and feed to part this off, and will the blade reach?",
    inputs=(
        Number("diameter", "Outside diameter", "length", "40 mm", 0.5, 1000, "Where the blade begins."),
        Number("bore", "Bore of the work", "length", "0 mm", 0, 999, "0 for a solid bar.", aside=True),
        Number("blade", "Width of the blade", "length", "3 mm", 0.3, 20, "Across its cutting edge."),
        work_materials.MATERIAL,
        Choice("fed", "Fed", {"hand": "by hand", "power": "by power, from the list of feeds"}, "hand"),
        Choice("mode", "Spindle", {inward.FIXED: "one spindle speed", inward.CONSTANT: "constant cutting speed"},
               inward.FIXED, "Constant cutting speed needs a drive without steps that follows the tool.", aside=True),
        *TOOL.pick("tool_material"),
        *LATHE.pick("speeds", "chuck_speed", "feeds", "motor_power", "efficiency"),
    ),
    sources=("speeds-course-slides", "leuven-production"),
    callouts=("{diameter} part off", "part off {diameter}", "{diameter} parting", "{diameter} part off {material}",
              "{diameter} part", "part {diameter}", "parting {diameter}", "part off {diameter} {material}"),
)  # fmt: skip
def parting(
    diameter: float, bore: float, blade: float, material: Found, fed: str, mode: str, tool_material: str,
    speeds: Steps, chuck_speed: float, feeds: Steps, motor_power: float, efficiency: float,
) -> Result:  # fmt: skip
    """Lengths in mm, powers in kW, speeds in rev/min, feeds in mm/rev."""
    if settle(bore) >= settle(diameter):
        raise InputError("bore", "Nothing is left to part. Give a bore smaller than the outside.")
    turned = turning.wanted_speed(material, tool_material, turning.ROUGH)
    (ratio,) = matching("cutting_speed_ratios", operation="parting")
    share = ratio.number("least")
    row = _row(tool_material)
    low, high = row.number("feed_min"), row.number("feed_max")
    feed = _feed((low + high) / 2, high, fed, feeds)
    way = inward.inward(mode, diameter, bore, feed, turned, speeds, chuck_speed, share)
    factor, said = turning.correction(tool_material)
    constants = material.material.force
    specific = cutting.specific_force(constants, feed) if constants else None
    force = cutting.cutting_force(specific, blade * feed, factor * CROWDED) if specific else None
    reach = (diameter - bore) / 2 + SPARE
    run_out = CLEAR if bore else 0.0
    time = way.time(CLEAR, run_out)
    values = [
        value("spindle_speed", "Spindle speed at the outside", way.first, "spindle_speed"),
        value("feed", "Feed for each turn", feed, "feed"),
        value("time", "Time in the cut", time, "time", 2),
        value("reach", "Least reach of the blade", reach, "length", 1),
        value("cutting_speed", "Cutting speed at the outside", way.cutting_speed, "cutting_speed", 1),
        value("speed_half", "Cutting speed half-way in", way.speed_at((diameter + bore) / 2), "cutting_speed", 1),
        value("speed_inside", f"Cutting speed {'at the bore' if bore else 'at the centre'}", way.speed_at(bore),
              "cutting_speed", 1),
        value("feed_rate", "Feed for each minute, at the outside", cutting.feed_rate(feed, way.first), "feed_rate", 0),
        value("slenderness", "Reach over width of the blade", reach / blade, "ratio", 1),
        *words.force_values(force, way, efficiency),
    ]  # fmt: skip
    if way.constant:
        values.insert(7, value("cap_diameter", "Cap met at a diameter of", way.turns_over, "length", 1))
    working = words.working(way, share * turned.speed, CLEAR, run_out)
    assumptions = [*material.remarks, *turned.remarks, *holes.at_its_slowest(turned, diameter, way.first, share),
                   "Half of the turning speed; the same text goes up to 0.6 of it."]  # fmt: skip
    if material.material.iso_group != "P":
        assumptions.append(
            "Feeds of parting are published for steel only: take this one as a start and watch the chip."
        )
    if specific is not None and constants is not None:
        working += words.force_working(way, specific, blade * feed, factor * CROWDED, efficiency)
        memory = {"M": ", from memory", "F": ", fitted"}.get(constants.mark, "")
        assumptions += [
            f"Force by the {constants.family} family, {constants.row}{memory}; {CROWDED:g} times "
            "for a blade that is crowded on both sides, from memory.",
            said,
        ]
    else:
        assumptions.append("No force is known for this material; force and power are left out.")
    assumptions.append(f"A blade reaching over {SLENDER:g} times its width wanders: common practice, no source.")
    other = inward.both_ways(way, CLEAR, run_out)
    if other:
        assumptions.append(f"At one spindle speed it would take {other}.")
    needed = next((one.number for one in values if one.name == "motor_needed"), None)
    verdict = words.against_motor(_do(way, feed, fed), needed, motor_power, "take a narrower blade, or a slower step")
    if verdict.level != "stop" and settle(reach / blade) > settle(SLENDER):
        slender = show(reach / blade, "ratio", 1)
        verdict = Verdict("mind", f"The blade reaches {slender} times its width and will wander: widen the slot as you "
                          "go, or saw it.")  # fmt: skip
    return Result(
        values=tuple(values),
        main=("spindle_speed", "feed", "time", "reach"),
        verdict=verdict,
        working=tuple(working),
        cautions=(
            "Parted work can fall or fly: support it without fingers near the cut; never part between centres.",
            "Part close to the chuck, slides locked, blade square and at centre height, with plenty of fluid.",
            words.FAST_IN if mode == inward.CONSTANT
            else "The edge slows towards the centre: ease the feed for the last few millimetres.",
            turning_words.LONG_BAR,
            *turning_words.of_material(material.material),
            "A blade that digs in throws work out of the jaws: stop at the first chatter. Local rules come first.",
        ),
        assumptions=tuple(assumptions),
        sources=(
            *dict.fromkeys((*row.source, *ratio.source, *(key for one in turned.published for key in one.source),
                            *(constants.source if constants else ()))),
            "common-practice",
        ),
        picture=words.speed_curve(way, "Cutting speed of the blade from the outside to the centre"),
        tables=(words.way_in(way), words.published(turned, "Published for turning, of which half is taken")),
        following=(
            Following("cut_length", "How long is the bar for it?", {
                "diameter": f"{diameter:.9g} mm", "parting": "part off", "parting_width": f"{blade:.9g} mm"}),
            Following("facing", "Faced afterwards?", {
                "diameter": f"{diameter:.9g} mm", "material": material.carried, "tool_material": tool_material}),
        ),
    )  # fmt: skip


def _row(tool_material: str) -> Row:
    """The published feeds of a steel blade or a carbide one."""
    name = "HSS" if TOOLS[tool_material] in ("HSS", "cobalt HSS") else "carbide"
    printed = matching("cutting_speeds", operation="parting", tool=name)
    (found,) = (row for row in printed if not row.has("speed_min"))
    return found


def _feed(wanted: float, most: float, fed: str, feeds: Steps) -> float:
    """By hand as published, by power the step at or below."""
    if fed == "hand":
        return wanted
    found = feeds.at_or_below(wanted)
    if found is not None:
        return found
    if settle(feeds.lowest) <= settle(most):
        return feeds.lowest
    raise InputError(
        "feeds",
        f"Even the finest feed, {show(feeds.lowest, 'feed')}, is over the {show(most, 'feed')} published. Use a finer "
        "gear, or feed by hand.",
    )


def _do(way: inward.Inward, feed: float, fed: str) -> str:
    """What to set, as the beginning of the verdict."""
    if way.constant:
        start = f"Part at {show(way.cutting_speed, 'cutting_speed')}, capped at {show(way.cap, 'spindle_speed')}"
    else:
        start = f"Part at {show(way.first, 'spindle_speed')}"
    if fed == "hand":
        seconds = show(cutting.cutting_time(1, cutting.feed_rate(feed, way.first)), "time", 1, unit="second")
        return f"{start}, a millimetre in {seconds} to begin with"
    return f"{start}, {show(feed, 'feed')}"
