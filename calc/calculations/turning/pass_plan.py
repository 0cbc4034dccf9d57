"""Pass plan: every cut from the bar to size, with what to read on the dial, and what is left after each measuring.

Roughing cuts are equal and as few as motor, chip and bar allow; semi-finishing and finishing take what is typed; the
shoulder is left short and faced last. A reading typed in the middle of the work gives the cuts that are left.
"""

from decimal import Decimal

from calc.formulas import passes, push_off, turning, wanted_size, work_materials
from calc.formulas.cutting import WORN
from calc.formulas.passes import Bar, Job, Limits, Tool
from calc.formulas.thermal import reading_for, size_at_20
from calc.formulas.wanted_size import Wanted
from calc.formulas.work_materials import Found
from calc.model import Choice, InputError, Notation, Number, Result, calculation
from calc.pieces import pass_checks, pass_figures, pass_picture, pass_words
from calc.pieces.pass_words import Dial
from calc.shop import LATHE, TOOL
from calc.steps import Steps
from calc.units import settle

SPRINGS = {"none": "none", "one": "one", "two": "two"}


@calculation(
    title="Pass plan",
    question="Which cuts take the bar to size, and what does the dial read?",
    inputs=(
        Number("diameter", "Bar diameter", "length", "40 mm", 1, 1000,
               "Before the first cut; the shoulder keeps it. It may read a little more or less than its name."),
        Notation("wanted", "Wanted size", wanted_size.read, wanted_size.PATTERN, "30 k5",
                 "A size, alone or with its limits: 30, 30 k5, 30 ±0.02, 30 +0.015 +0.002.", wanted_size.COMMON),
        Number("length", "Length to turn, from the free end", "length", "42 mm", 0.5, 5000,
               "To the finished shoulder."),
        Notation("measured", "Just measured", wanted_size.read_measured, wanted_size.MEASURED_PATTERN, "not yet",
                 "In the middle of the work the reading, such as 30.62: it gives the cuts that are left.",
                 ("not yet", "35.31", "30.62", "30.31"), optional=True),
        Number("dial_at", "Where the dial stands, divisions", "count", "0", 0, 10_000,
               "With the tool at the diameter measured last, or on the bar. 0 when it was set to zero there."),
        Number("part_temperature", "Part temperature", "temperature", "20 °C", -20, 150,
               "While it is measured. Touch probe on the part, a minute to settle.", aside=True),
        work_materials.MATERIAL,
        Number("overhang", "Free length, out of the jaws or between centres", "length", "290 mm", 1, 10_000,
               "From the jaws to the free end or the tailstock centre; between centres from one to the other."),
        Choice("holding", "Held in", push_off.HOLDINGS, "chuck and centre"),
        Number("semi_finish", "Semi-finishing, off the diameter", "length", "0.3 mm", 0, 10,
               "0 for none. Best the same as finishing, so that both come out alike.", aside=True),
        Number("finish", "Finishing, off the diameter", "length", "0.3 mm", 0.01, 10,
               "0.2 to 0.5 mm is usual; less rubs, more pushes.", aside=True),
        Choice("spring", "Spring passes after it", SPRINGS, "none", "At the same reading of the dial once more.",
               aside=True),
        Number("polish", "Left for polishing, on diameter", "difference", "0 µm", 0, 500,
               "5 to 10 µm after a fine cut; more polishes the seat out of round.", aside=True),
        Number("shoulder", "Left at the shoulder, faced last", "length", "0.2 mm", 0, 5,
               "0 when there is no shoulder and the cut runs out.", aside=True),
        Number("run", "Run-in and run-out", "length", "2 mm", 0, 50, "2 to 3 mm; run-out only without a shoulder.",
               aside=True),
        Number("push_allowed", "Push-off allowed, on diameter", "difference", "50 µm", 1, 2000,
               "How much a cut may push the bar away; what one leaves, the next has to take.", aside=True),
        Number("handling", "Handling for each cut", "time", "0.5 min", 0, 120,
               "Winding back, setting, measuring.", aside=True),
        Number("speed_wanted", "Cutting speed of your own", "cutting_speed", None, 1, 2000,
               "For all cuts. Leave empty for the published ones.", optional=True),
        Number("rough_feed", "Feed of your own for roughing", "feed", None, 0.001, 10,
               "The nearest at or below it on the machine is taken. Leave empty for one that suits the nose radius.",
               optional=True),
        Number("finish_feed", "Feed of your own for finishing", "feed", None, 0.001, 10,
               "As for roughing; the semi-finishing cut has it too.", optional=True),
        Number("turn_divisions", "Divisions in a full turn of the dial", "count", None, 2, 1000,
               "To have whole turns counted apart. Leave empty otherwise.", optional=True),
        *LATHE.pick("speeds", "feeds", "motor_power", "efficiency", "chuck_speed", "slide_division", "slide_counts",
                    "topslide_division"),
        *TOOL.pick("tool_material", "nose_radius", "entering_angle", "feed_window", "depth_window", "least_infeed"),
    ),
    sources=("mitsubishi-technical", "leuven-production", "iso-1", "common-practice"),
    callouts=("{diameter} to {wanted} x {length}", "turn {diameter} to {wanted} x {length}", "{diameter} to {wanted}",
              "turn {diameter} to {wanted}", "{diameter} {material} to {wanted} x {length}"),
)  # fmt: skip
def pass_plan(
    diameter: float, wanted: Wanted, length: float, measured: Decimal | None, dial_at: float, part_temperature: float,
    material: Found, overhang: float, holding: str, semi_finish: float, finish: float, spring: str, polish: float,
    shoulder: float, run: float, push_allowed: float, handling: float, speed_wanted: float | None,
    rough_feed: float | None, finish_feed: float | None, turn_divisions: float | None, speeds: Steps,
    feeds: Steps, motor_power: float, efficiency: float, chuck_speed: float, slide_division: float, slide_counts: str,
    topslide_division: float, tool_material: str, nose_radius: float, entering_angle: float,
    feed_window: Steps | None, depth_window: Steps | None, least_infeed: float,
) -> Result:  # fmt: skip
    """Sizes and lengths in mm, depths in the answer on radius, feeds in mm/rev, times in minutes, dial in divisions."""
    alpha = (material.material.number("alpha") or 0.0) * 1e-6
    turned = wanted.aim + _exact(polish) / 1000
    target, finished = (_read_now(one, alpha, part_temperature) for one in (turned, wanted.aim))
    start = _exact(diameter) if measured is None else measured
    least = _exact(least_infeed)
    window = None if depth_window is None else (depth_window.lowest, depth_window.highest)
    pass_checks.refuse(
        diameter, measured, target, least, window, length, overhang, semi_finish, finish, shoulder
    )  # fmt: skip

    cuts = {kind: _speed(material, tool_material, kind, speed_wanted) for kind in (turning.ROUGH, turning.FINISH)}
    own = {turning.ROUGH: rough_feed, turning.FINISH: finish_feed}
    chosen = {
        kind: turning.feed_below(one, nose_radius, feeds, kind, feed_window) if (goal := own[kind]) is None
        else turning.step_of_feed(goal, nose_radius, feeds)
        for kind, one in cuts.items()
    }  # fmt: skip
    group = material.material.iso_group
    force = material.material.force
    job = Job(
        start, target, finished, _exact(semi_finish) / 2, _exact(finish) / 2, list(SPRINGS).index(spring), shoulder,
        run, Bar(diameter, holding, overhang, length, material.material.number("youngs_modulus") or 0.0),
        Tool(entering_angle, nose_radius, force, turning.correction(tool_material)[0], speeds, chuck_speed),
        Limits(motor_power * efficiency / WORN, window, passes.ribbon(group)[0], push_allowed / 1000, least),
        cuts, chosen,
    )  # fmt: skip
    size = settle(size_at_20(float(start), alpha, part_temperature, 0.0, part_temperature))
    done = measured is not None and wanted.width is not None and not polish and wanted.holds(size)
    plan = passes.make(job, done=done)
    dial = Dial(_exact(slide_division), slide_counts == "diameter", _exact(dial_at), start,
                None if turn_divisions is None else _exact(turn_divisions), measured is not None)  # fmt: skip
    total = plan.cutting_time + handling * len(plan.cuts)
    values, main = pass_figures.values(plan, dial, wanted, efficiency, total)
    return Result(
        values=values,
        main=main,
        verdict=pass_words.verdict(plan, wanted, total) if plan.along else pass_words.nothing_left(plan, wanted, size),
        working=pass_figures.working(plan, dial, float(turned), efficiency, total, handling, alpha, part_temperature),
        cautions=tuple(pass_words.cautions(plan, dial, wanted, tool_material, material.material, part_temperature)),
        assumptions=tuple(pass_words.assumptions(plan, material, wanted, tool_material, part_temperature)),
        sources=pass_figures.sources(plan, wanted, force),
        picture=pass_picture.picture(plan),
        tables=pass_words.tables(plan, dial, topslide_division, efficiency) if plan.cuts else (),
        following=pass_figures.following(plan, wanted, part_temperature, material, tool_material),
    )


def _exact(number: float) -> Decimal:
    return Decimal(repr(number))


def _speed(material: Found, tool_material: str, kind: str, own: float | None) -> turning.Wanted:
    """What is published, or a speed of one’s own in m/min, which needs nothing published."""
    if own is None:
        return turning.wanted_speed(material, tool_material, kind)
    try:
        known = turning.wanted_speed(material, tool_material, kind)
    except InputError:
        known = None
    low, high = (known.low, known.high) if known else (own, own)
    return turning.Wanted(own, low, high, None, None, (), ("Cutting speed as given.",))


def _read_now(size: Decimal, alpha: float, temperature: float) -> Decimal:
    """What a micrometer at 20 °C reads on the part as warm as it is, for `size` mm at 20 °C."""
    return settle(reading_for(float(size), alpha, temperature, 0.0, temperature))
