"""What a plan of cuts says in tables and sentences: what to set for each cut, what it asks, and what to mind."""

from dataclasses import dataclass
from decimal import Decimal

from calc.formulas import chips, passes, turning
from calc.formulas.cutting import WORN
from calc.formulas.passes import FACE, FINISH, ROUGH, SPRING, Cut, Plan
from calc.formulas.thermal import REFERENCE, too_warm
from calc.formulas.wanted_size import Wanted
from calc.formulas.work_materials import Found, Material
from calc.model import Table, Verdict
from calc.pieces import turning_words
from calc.units import figure, settle, show

NONE = "–"
MANY = 15  # roughing cuts from which on something else should be changed first
TENTH_ANGLE = 5.74  # degrees from the axis of the work: the topslide then moves a tenth of its dial across


@dataclass(frozen=True)
class Dial:
    """The cross-slide dial: `division` in mm as marked, whether it counts on diameter, where it stands at `zero_at`.

    `stands` in divisions with the tool at the diameter `zero_at`, mm; `turn` divisions make one turn, if known;
    `proved` once something turned has been measured, since touching a bar sets no dial well.
    """

    division: Decimal
    on_diameter: bool
    stands: Decimal
    zero_at: Decimal
    turn: Decimal | None
    proved: bool

    @property
    def takes(self) -> Decimal:
        """mm off the diameter for one division."""
        return self.division if self.on_diameter else 2 * self.division

    def reading(self, after: Decimal) -> Decimal:
        """Divisions to stop at for that diameter in mm."""
        return self.stands + (self.zero_at - after) / self.takes

    def said(self, after: Decimal) -> str:
        """The reading in divisions, whole turns apart: "58.7" or "2 turns + 18.7"."""
        reading = self.reading(after).quantize(Decimal("0.1"))
        if self.turn is None or reading < self.turn:
            return figure(reading, 1)
        turns, rest = divmod(reading, self.turn)
        return f"{turns:.0f} {'turn' if turns == 1 else 'turns'} + {figure(rest, 1)}"


def named(plan: Plan) -> list[tuple[str, Cut]]:
    """Each cut with its name; roughing cuts and several spring passes numbered."""
    many = {name: len(plan.of(name)) > 1 for name in (ROUGH, SPRING)}
    seen: dict[str, int] = {}
    found = []
    for one in plan.cuts:
        seen[one.name] = seen.get(one.name, 0) + 1
        found.append((f"{one.name} {seen[one.name]}" if many.get(one.name) else one.name, one))
    return found


def measured_after(plan: Plan, dial: Dial) -> list[int]:
    """Places of the cuts after which one stops and measures: the first of all, and the last of each stage."""
    last = {one.name: place for place, one in enumerate(plan.cuts) if one.name != FACE}
    if SPRING in last:
        last.pop(FINISH)
    return [*([] if dial.proved else [0]), *last.values()]


def size(diameter: Decimal) -> str:
    """A diameter in mm to three decimals, to four where it needs them."""
    return figure(diameter, 3 if diameter == diameter.quantize(Decimal("0.001")) else 4)


def settings(plan: Plan, dial: Dial, topslide: float) -> Table:
    """What to set for each cut, in order, with the places to measure."""
    measure = measured_after(plan, dial)
    rows = []
    for place, (name, one) in enumerate(named(plan)):
        if one.name == FACE:
            divisions = figure(settle(one.depth) / settle(topslide), 1)
            rows.append((name, NONE, f"{figure(one.depth, 3)} topslide", divisions))
            continue
        what = f"{name}, then measure" if place in measure else name
        after = figure(one.after, 2) if one.name == ROUGH else size(one.after)
        rows.append((what, after, figure(dial.reading(one.after) * dial.division, 3), dial.said(one.after)))
    if plan.along and plan.job.polish:
        rows.append(("polish", size(plan.job.finished), NONE, NONE))
    counts = "diameter" if dial.on_diameter else "radius"
    note = (
        f"The dial counts on {counts} and stands at {figure(dial.stands, 1)} divisions where the tool touches "
        f"Ø {size(dial.zero_at)}. Ø as it reads now. After measuring type the reading at “Just measured” and "
        "where the dial stands: the cuts that are left follow."
    )
    return Table("Cuts and dial", ("Cut", "Ø after, mm", "Dial, mm", "Divisions"), tuple(rows), note, first=True)


def speeds(plan: Plan) -> Table:
    """Depth, speed, feed and time of each cut."""
    rows = tuple(
        (name, figure(one.depth, 3), figure(one.one.speed, 0), figure(one.one.feed, 3), figure(one.time, 2))
        for name, one in named(plan)
    )
    note = "Depth on radius; of the shoulder along the bar. Time with run-in and run-out, without handling."
    return Table("Depth, speed, feed, time", ("Cut", "Depth, mm", "rev/min", "mm/rev", "min"), rows, note)


def demands(plan: Plan, efficiency: float) -> Table:
    """What each cut asks of motor and bar, beside what they give."""
    rows = []
    for name, one in named(plan):
        power = one.one.cutting_power
        rows.append(
            (
                name,
                figure(one.one.cutting_speed, 1),
                NONE if power is None else figure(power / efficiency, 2),
                NONE if one.push is None else figure(1000 * one.push[0], 1),
            )
        )
    motor = show(plan.job.limits.power / efficiency, "power")
    push = show(1000 * plan.job.limits.push, "difference")
    note = (
        f"With a sharp edge. No cut asks for more than {motor}, so that the motor holds it with a worn edge too, "
        f"{WORN} times as much. Push-off at the worst place, as much as it may be, is kept within {push}."
    )
    columns = ("Cut", "m/min", "Motor, kW", "Push-off, µm on Ø")
    return Table("What each cut asks", columns, tuple(rows), note)


def tables(plan: Plan, dial: Dial, topslide: float, efficiency: float) -> tuple[Table, ...]:
    """What to set, at what speed and feed, and what that asks."""
    return settings(plan, dial, topslide), speeds(plan), demands(plan, efficiency)


HELD_BY = {
    "window": "the chip: deeper, it comes off as a ribbon, or past what the chip breaker is made for",
    "push": "the bar: deeper, it may be pushed away by more than is allowed",
    "power": "the motor: deeper, it would be short of power",
}


TOO_MANY = {
    "window": "for the chip allows no more at a time: use a coarser feed or another tool",
    "push": "for the bar gives way: use the tailstock or a steady, or set it shorter",
    "power": "for the motor holds no more at a time: use a finer feed or a slower speed",
}


def assumptions(plan: Plan, found: Found, wanted: Wanted, tool_material: str, temperature: float) -> list[str]:
    """What was taken for granted, in sentences."""
    job = plan.job
    said = [*found.remarks, *wanted.remarks]
    said += dict.fromkeys((*job.wanted[turning.ROUGH].remarks, *job.wanted[turning.FINISH].remarks))
    if wanted.width is not None:
        said.append("Aimed at the middle of the limits.")
    if plan.held_by:
        said.append(f"Fewer roughing cuts are held off by {HELD_BY[plan.held_by]}.")
    constants = found.material.force
    limit, published = passes.ribbon(found.material.iso_group)
    if job.limits.window is None:
        whose = "" if published else ", that of steel, for none is published for this material"
        said.append(f"Roughing chips are kept to {limit:g} times as wide as thick{whose}.")
    if constants is None:
        said.append(
            f"No cutting force is published for {found.material.label}: neither motor nor bar limits the cuts here."
        )
    else:
        memory = " from memory," if constants.mark == "M" else ""
        said.append(f"Force by the {constants.family} family of constants,{memory} row {constants.row}, sharp edge.")
        said.append(turning.correction(tool_material)[1])
        said.append(
            "Push-off: the radial force is from memory, half the cutting force, all of it where the nose cuts; jaws "
            "rigid, stiffness as at the end of each stage."
        )
    if found.material.confirmation("youngs_modulus") == "M" and constants is not None:
        said.append(f"Young’s modulus of {found.material.label} is from memory.")
    if temperature != REFERENCE:
        memory = ", from memory" if found.material.confirmation("alpha") == "M" else ""
        grown = f"{found.material.number('alpha'):g} µm/(m·K){memory}"
        said.append(f"Readings hold for the part at this temperature, expansion {grown}, and a micrometer at 20 °C.")
    if job.short and settle(job.tool.entering_angle) < settle(passes.SQUARE):
        said.append("This edge leaves a slanting shoulder: it is faced with another tool, whose point stands clear.")
    said += [
        "One tool for all cuts. Semi-finishing has feed and speed of finishing: what it comes out wrong by, the "
        "finishing cut comes out wrong by too, and is put right on the dial.",
        "A black bar’s first cut must get below the skin. Allowances and handling are common practice, no source.",
    ]
    return said


def cautions(
    plan: Plan, dial: Dial, wanted: Wanted, tool_material: str, material: Material, temperature: float
) -> list[str]:  # fmt: skip
    """What to mind at the machine, short; local rules come last and first."""
    job = plan.job
    said = [
        "Measure and clear swarf only with the spindle stopped, swarf with a hook or brush.",
        "Wind out past the slack and in again to every reading, or the dial lies by the backlash.",
        *too_warm("The part", temperature),
    ]
    window = job.limits.window
    shallow = [one.name for one in plan.along if window is not None and settle(one.depth) < settle(window[0])]
    if shallow:
        names = " and ".join(dict.fromkeys(shallow))
        said.append(
            f"The {names} cuts are shallower than the chip breaker is made for: expect strings, and stop to clear them."
        )
    if wanted.width is not None and dial.takes * 2 > wanted.width and plan.along:
        said.append(
            f"One division takes {show(1000 * float(dial.takes), 'difference')} off the diameter and the limits are "
            f"{show(1000 * float(wanted.width), 'difference')} apart: for the last cut use a dial gauge on the slide, "
            f"or the topslide set {TENTH_ANGLE}° from the axis, which feeds a tenth of its dial."
        )
    if job.springs and (tool_material == "coated carbide" or material.iso_group == "M"):
        said.append("A spring pass rubs: a coated insert, or stainless steel, may gain nothing or harden.")
    finishing = plan.of(FINISH)
    if finishing and chips.builds_up(finishing[-1].one.cutting_speed, material.speed_groups) in ("worst", "in"):
        said.append(
            f"Finishing at {show(finishing[-1].one.cutting_speed, 'cutting_speed')} steel builds up on the edge and "
            f"tears the finish, from memory. {turning_words.no_built_up_edge(tool_material)}"
        )
    if job.bar.holding != "centres":
        said.append(turning_words.LONG_BAR)
    if job.bar.holding == "chuck and centre":
        said.append("Ease the tailstock centre as the bar warms and grows.")
    if job.bar.holding == "centres":
        said.append(
            "Guard the tail of the driving dog, see that the carriage clears it, and ease the centre as it warms."
        )
    if job.polish:
        said.append(
            "Emery never by hand against turning work: clamp it in a holder on the tool post, or take a finer cut."
        )
    said += turning_words.of_material(material)
    said.append("The marks on the chuck, the lathe’s manual and local rules come first.")
    return said


def _overdone(plan: Plan) -> Verdict | None:
    """What to say of a feed or a speed of one's own that the edge does not stand; None where there is none."""
    for one in plan.along:
        nose = turning.FEED_LIMIT * one.one.nose_radius
        if settle(one.one.feed) > settle(nose):
            return Verdict(
                "mind",
                f"A feed of {show(one.one.feed, 'feed')} is over {turning.FEED_LIMIT} of the nose radius and overloads "
                f"the edge: give {show(nose, 'feed')} or less for the {one.name} cut.",
            )
        fastest = plan.job.wanted[turning.ROUGH if one.name == ROUGH else turning.FINISH].high
        if settle(one.one.cutting_speed) > settle(fastest):
            return Verdict(
                "mind",
                f"The {one.name} cut is faster than any published speed, which end at "
                f"{show(fastest, 'cutting_speed', 1)}: the edge will not last.",
            )
    return None


def verdict(plan: Plan, wanted: Wanted, total: float) -> Verdict:
    """The plan in one sentence, or what stands against it."""
    rough = plan.of(ROUGH)
    if overdone := _overdone(plan):
        return overdone
    if len(rough) > MANY and plan.held_by:
        return Verdict("mind", f"{len(rough)} roughing cuts, {show(total, 'time')} in all, {TOO_MANY[plan.held_by]}.")
    finish = plan.along[-1]
    if wanted.width is not None and finish.push is not None:
        uneven = finish.push[0] - finish.push[1]
        if settle(uneven) > wanted.width / 2:
            return Verdict(
                "mind",
                f"The finishing cut may come out {show(1000 * uneven, 'difference')} uneven and the limits are "
                f"{show(1000 * float(wanted.width), 'difference')} apart: finish finer, add spring passes or a steady.",
            )
    parts = []
    if rough:
        many = f"{len(rough)} roughing cuts" if len(rough) > 1 else "1 roughing cut"
        parts.append(f"{many} of {show(rough[0].depth, 'length', 2)} on radius")
    parts += [one.name for one in plan.along if one.name != ROUGH]
    said = " and ".join([", ".join(parts[:-1]), parts[-1]]) if len(parts) > 1 else "One finishing cut"
    times = f"{show(total, 'time', 1)}, of which {show(plan.cutting_time, 'time', 1)} cutting"
    return Verdict("good", f"{said[0].upper()}{said[1:]}: {times}.")


def nothing_left(plan: Plan, wanted: Wanted, size: Decimal) -> Verdict:
    """What to say where the reading leaves no cut to take; `size` is that reading brought to 20 °C, mm."""
    over = plan.job.start - plan.job.target
    off = show(1000 * abs(float(over)), "difference", 1)
    facing = " Face the shoulder." if plan.cuts else ""
    if wanted.width is not None and wanted.holds(size):
        return Verdict(
            "good", f"Within the limits, {off} {'above' if over > 0 else 'below'} the aim: no more cuts.{facing}"
        )
    if over > 0:
        return Verdict(
            "mind", f"{off} left on the diameter, less than this tool cuts: a spring pass, or polish it off."
        )
    if not over:
        return Verdict("good", f"On the size aimed at: no more cuts.{facing}")
    if plan.job.start >= plan.job.finished:
        return Verdict("mind", f"{off} below the size before polishing: so much less is left to polish off.")
    below = "Below the lower limit" if wanted.width is not None else "Below the wanted size"
    return Verdict("stop", f"{below}: {off} under the size aimed at. Measure again before anything else.")
