"""Drilling: the speed, feed, depth on the scale, force, power and time of a twist drill, from the solid or a pilot.

In the lathe the work turns and the drill stands in the tailstock, on the mill the drill turns: the figures are the
same. Torque is reckoned twice, from the chip of each lip and by a formula fitted to measurements, and both are shown.
"""

from calc.formulas import holes, turning, work_materials
from calc.formulas.work_materials import Found
from calc.model import Choice, Following, InputError, Number, Result, calculation
from calc.pieces import hole_picture, hole_words
from calc.pieces.hole_words import BY_HAND, LATHE_SPINDLE, MILL_SPINDLE, THROUGH, Cut
from calc.shop import LATHE, MILL
from calc.steps import Steps
from calc.units import settle, show


@calculation(
    title="Drilling",
    question="What speed, feed and depth for this hole?",
    inputs=(
        Number("diameter", "Drill diameter", "length", "12 mm", 0.5, 80, "Of the drill, as stamped on its shank."),
        Number("hole_depth", "Depth at full diameter", "length", "40 mm", 0.1, 1600,
               "Without the point; of a hole right through the thickness."),
        Choice("hole", "The hole is", {"blind": "blind", THROUGH: "right through"}, "blind"),
        Number("pilot", "Pilot hole already there", "length", None, 0.1, 79,
               "Its diameter. Leave empty when the drill cuts from the solid.", optional=True),
        Number("point_angle", "Point angle", "angle", "118°", 60, 170,
               "118° is the usual grind, 135° or 140° that of drills for tough steel.", aside=True),
        work_materials.MATERIAL,
        Choice("drill_material", "Drill", {"hss": "HSS", "cobalt hss": "cobalt HSS"}, "hss"),
        Choice("machine", "Drilled", {LATHE_SPINDLE: "in the lathe", MILL_SPINDLE: "on the mill"}, LATHE_SPINDLE),
        Choice("fed", "Fed", {BY_HAND: "by hand, tailstock or quill", "power": "by power, from the list of feeds"},
               BY_HAND),
        Number("feed", "Feed of your own", "feed", None, 0.005, 2,
               "Leave empty to take the published feed for the diameter.", optional=True),
        Number("mill_power", "Motor power of the mill", "power", None, 0.05, 100,
               "Counts only on the mill; leave empty when it is not known.", optional=True),
        *LATHE.pick("speeds", "chuck_speed", "feeds", "motor_power", "efficiency"),
        *MILL.pick("mill_speeds"),
    ),
    sources=("mitsubishi-technical", "leuven-production"),
    callouts=("{diameter} drill", "drill {diameter}", "{diameter} drill {hole_depth} deep",
              "{diameter} drill x {hole_depth}", "{diameter} drill through{hole=through}",
              "{diameter} drill {material}", "drill {diameter} {material}", "drill {diameter} x {hole_depth}"),
)  # fmt: skip
def drilling(
    diameter: float, hole_depth: float, hole: str, pilot: float | None, point_angle: float, material: Found,
    drill_material: str, machine: str, fed: str, feed: float | None, mill_power: float | None, speeds: Steps,
    chuck_speed: float, feeds: Steps, motor_power: float, efficiency: float, mill_speeds: Steps,
) -> Result:  # fmt: skip
    """Lengths in mm, feeds in mm/rev, powers in kW, speeds in rev/min, the point angle in degrees."""
    inside = pilot or 0.0
    if settle(inside) >= settle(diameter):
        raise InputError("pilot", "The pilot hole is as wide as the drill. Give its diameter, smaller than the drill.")
    share = holes.deep_share(diameter, hole_depth)
    if share is None:
        raise InputError(
            "hole_depth",
            f"More than 20 diameters, {show(20 * diameter, 'length', 1)}: no speed or feed is known here for that. "
            "Give less, or use a drill made for deep holes by its maker’s figures.",
        )
    speed = holes.drill_speed(material, drill_material)
    in_lathe = machine == LATHE_SPINDLE
    step = holes.spindle_step(
        speed, diameter, speeds if in_lathe else mill_speeds, chuck_speed if in_lathe else None,
        "speeds" if in_lathe else "mill_speeds", share,
    )  # fmt: skip
    published = holes.drill_feed(diameter, material.material)
    taken = _feed(share * published.feed, published, fed, feed, feeds)
    factor, said = turning.correction(drill_material)
    cut = Cut(
        diameter, inside, hole_depth, hole == THROUGH, point_angle, taken, step, material.material, factor,
        motor_power if in_lathe else mill_power, efficiency,
    )  # fmt: skip
    rows = hole_words.models(cut)
    sources = (*holes.sources(speed), *(() if feed is not None else published.source), *hole_words.sources(cut))
    typed = {"diameter": f"{diameter:.9g} mm", "hole_depth": f"{hole_depth:.9g} mm", "material": material.carried}
    return Result(
        values=hole_words.values(cut, share),
        main=("spindle_speed", "feed", "reading", "time"),
        verdict=hole_words.verdict(cut, fed == BY_HAND, published),
        working=hole_words.working(cut, share * speed.speed),
        cautions=hole_words.cautions(cut, in_lathe),
        assumptions=(
            *material.remarks, *hole_words.assumptions(cut, speed, published, share, feed is not None),
            *holes.at_its_slowest(speed, diameter, step, share), *((said,) if cut.constants else ()),
        ),
        sources=(*dict.fromkeys(sources), "common-practice"),
        picture=hole_picture.drilled(cut),
        tables=(*rows, *hole_words.withdrawals(cut), hole_words.printed(speed, published, diameter)),
        following=(
            Following("reaming", "Reamed after it?", typed),
            Following("tapping_drill", "What does a thread want?", {}),
            Following("centre_drilling", "Which centre drill before it?", {"material": material.carried}),
        ),
    )  # fmt: skip


def _feed(wanted: float, published: holes.Feed, fed: str, own: float | None, feeds: Steps) -> float:
    """The user's own feed, or the published one: by hand as it is, by power the step at or below."""
    goal = wanted if own is None else own
    if fed == BY_HAND:
        return goal
    step = feeds.at_or_below(goal)
    if step is not None:
        return step
    if settle(feeds.lowest) <= settle(published.upper) and own is None:
        return feeds.lowest
    raise InputError(
        "feeds",
        f"Even the finest feed, {show(feeds.lowest, 'feed')}, is over the {show(goal, 'feed')} wanted. Use a finer "
        "gear, or feed by hand.",
    )
