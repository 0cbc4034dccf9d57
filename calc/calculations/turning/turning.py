"""Turning along a bar: the step of the gearbox, the feed of the list, and what they do to chip, motor and finish.

The speed is the published one for material and tool, on the uncut diameter, and then the step at or below it. Force by
one named family of constants; the other is shown where it differs by much. Depth is on radius throughout.
"""

from calc import units
from calc.formulas import chips, work_materials
from calc.formulas.turning import (
    FINISH,
    ROUGH,
    Pass,
    Wanted,
    correction,
    feed_below,
    step_below,
    step_of_feed,
    wanted_speed,
)
from calc.formulas.work_materials import Found
from calc.model import Choice, InputError, Notation, Number, Result, calculation
from calc.pieces import turning_figures as figures
from calc.pieces import turning_words as words
from calc.pieces.turning_picture import picture
from calc.shop import LATHE, TOOL
from calc.steps import Steps
from calc.units import show

#: In a call-out a grade of digits only ("304") needs the space before it: 6303 is a bearing.
GRADE = r"(?:[A-Za-z]|(?<= )[0-9])[A-Za-z0-9 .,/-]*?"


def _complete(started: str) -> tuple[str, ...]:
    """As for every material, but a single letter brings up only common grades that begin with it: "30 k" is a fit."""
    if len(started.strip()) < 2:
        return tuple(one for one in work_materials.COMMON if one.casefold().startswith(started.strip().casefold()))
    return work_materials.complete(started)


@calculation(
    title="Speed, feed and force of a cut",
    question="Which speed and feed do I set, and does the motor stand it?",
    inputs=(
        Notation("material", "Material", work_materials.read, GRADE, "C45",
                 "Any of its names: EN8, 080M40, C45, 1.0503, 1045; with its state if need be: EN8 cold drawn.",
                 work_materials.COMMON, complete=_complete),
        *TOOL.pick("tool_material"),
        Choice("cut", "Cut", {ROUGH: "roughing", FINISH: "finishing"}, ROUGH),
        Number("diameter", "Diameter before the cut", "length", "40 mm", 0.5, 1000,
               "The larger, uncut one: it moves fastest."),
        Number("depth", "Depth of cut, on radius", "length", "2 mm", 0.01, 25,
               "The bar gets twice this smaller."),
        Number("speed_wanted", "Cutting speed of your own", "cutting_speed", None, 1, 2000,
               "Of the tool’s maker or from experience. Leave empty for the published one.", optional=True),
        Number("feed_wanted", "Feed of your own", "feed", None, 0.005, 3,
               "The nearest at or below it on the machine is taken. Leave empty for one that suits the nose radius.",
               optional=True),
        *TOOL.pick("nose_radius", "entering_angle", "feed_window", "depth_window", "least_infeed"),
        *LATHE.pick("speeds", "feeds", "motor_power", "efficiency", "chuck_speed"),
    ),
    sources=("mitsubishi-technical", "leuven-production", "memory", "common-practice"),
    callouts=(
        "{diameter} {material} {tool_material}",
        "{diameter} {material} carbide{tool_material=coated carbide}",
        "{diameter} {material}",
        "turn {diameter} {material}",
        "turn {diameter} {material} {tool_material}",
        "turn {diameter}",
        "turning {diameter}",
    ),
)  # fmt: skip
def turning(
    material: Found, tool_material: str, cut: str, diameter: float, depth: float, speed_wanted: float | None,
    feed_wanted: float | None, nose_radius: float, entering_angle: float, feed_window: Steps | None,
    depth_window: Steps | None, least_infeed: float, speeds: Steps, feeds: Steps, motor_power: float,
    efficiency: float, chuck_speed: float,
) -> Result:  # fmt: skip
    """Lengths in mm, depth on radius; speed_wanted in m/min, feed_wanted in mm/rev, motor_power in kW."""
    if units.settle(2 * depth) >= units.settle(diameter):
        raise InputError("depth", f"Nothing is left of Ø {show(diameter, 'length')}. Give less than half of it.")
    wanted = _wanted(material, tool_material, cut, speed_wanted)
    goal = wanted.speed if speed_wanted is None else speed_wanted
    if feed_wanted is None:
        feed = feed_below(wanted, nose_radius, feeds, cut, feed_window)
    elif feeds.at_or_below(feed_wanted) is None:
        raise InputError("feed_wanted", f"The finest feed is {show(feeds.lowest, 'feed')}. Give that or more.")
    else:
        feed = step_of_feed(feed_wanted, nose_radius, feeds)
    grade = material.material
    factor, told = correction(tool_material)
    one = Pass(diameter, depth, feed, step_below(goal, diameter, speeds, chuck_speed), entering_angle, nose_radius,
               grade.force, factor)  # fmt: skip
    chip = chips.judge(one, grade.iso_group, tool_material, feeds, least_infeed, feed_window, depth_window)
    built_up = chips.builds_up(one.cutting_speed, grade.speed_groups)
    stands = words.motor(one, motor_power, efficiency, speeds, least_infeed)
    both = words.families(one, grade.other_force, efficiency)
    assumed = [*material.remarks, *(wanted.remarks if speed_wanted is None else ("The cutting speed is your own.",))]
    if one.constants is not None:
        assumed += [told, words.family(one.constants, material.material.label)]
    else:
        assumed.append("Nobody publishes force constants for it here, so no force, power or torque is given.")
    tables = [words.standing(one, goal, wanted, stands, chip, built_up, tool_material),
              words.near(one, feeds, motor_power, efficiency)]  # fmt: skip
    if both is not None:
        tables.append(both[0])
        assumed.append(both[1])
    tables += [words.published(wanted)] if wanted.published else []
    families = [each for each in (grade.force, grade.other_force if both else None) if each is not None]
    keys = [key for each in families for key in each.source] + [key for row in wanted.published for key in row.source]
    return Result(
        values=figures.values(one, goal, tool_material, efficiency),
        main=("spindle_speed", "feed", *(("power", "cutting_speed") if stands and cut == ROUGH else
                                         ("theoretical_roughness", "ideal_roughness"))),
        verdict=words.verdict(stands, chip, built_up, cut, one, wanted),
        working=figures.working(one, goal, efficiency),
        cautions=words.cautions(grade),
        assumptions=(*assumed, *words.assumptions(one, cut, feed_wanted is None, speeds)),
        sources=tuple(dict.fromkeys(keys)),
        picture=picture(one, wanted if wanted.published else None, built_up is not None),
        tables=tuple(tables),
        following=figures.following(one, grade, tool_material),
    )  # fmt: skip


def _wanted(material: Found, tool_material: str, cut: str, own: float | None) -> Wanted:
    """What is published; with a speed of his own it may be nothing."""
    try:
        return wanted_speed(material, tool_material, cut)
    except InputError:
        if own is None:
            raise
        return Wanted(own, own, own, None, None, (), ())
