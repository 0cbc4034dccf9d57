"""A drilled hole as it is cut: what it takes by each model, and what is said of it in figures, tables and words."""

from dataclasses import dataclass
from functools import cached_property

from calc.formulas import cutting, holes
from calc.formulas.cutting import Chip, ForceConstants
from calc.formulas.holes import Feed
from calc.formulas.turning import Wanted
from calc.formulas.work_materials import Material
from calc.model import Step, Table, Value, Verdict
from calc.pieces import turning_words
from calc.tables import Row
from calc.units import settle, show, step, value

BY_HAND, THROUGH = "hand", "through"
LATHE_SPINDLE, MILL_SPINDLE = "lathe", "mill"
CLEAR = 2.0  # mm of run-in, and of run-out through the far side; common practice
LARGE = 13.0  # mm from which a pilot hole spares motor and tailstock; common practice
MOST_ROWS = 12
FAMILIES = "Two families of force constants, never mixed."


@dataclass(frozen=True)
class Cut:
    """One hole: mm, mm/rev, rev/min, degrees, kW. `pilot` 0 from the solid, `motor` None when it is not known."""

    diameter: float
    pilot: float
    depth: float
    through: bool
    point_angle: float
    feed: float
    speed: float
    material: Material
    correction: float
    motor: float | None
    efficiency: float

    @property
    def constants(self) -> ForceConstants | None:
        return self.material.force

    @property
    def cutting_speed(self) -> float:
        return cutting.cutting_speed(self.speed, self.diameter)

    @property
    def feed_rate(self) -> float:
        return cutting.feed_rate(self.feed, self.speed)

    @property
    def point(self) -> float:
        return cutting.drill_point(self.diameter, self.point_angle)

    @property
    def lead(self) -> float:
        """mm from the first touch, on the point or at the pilot's mouth, until the full diameter is in."""
        return self.point - (cutting.drill_point(self.pilot, self.point_angle) if self.pilot else 0.0)

    @property
    def reading(self) -> float:
        """mm on the scale from the first touch until the hole is done."""
        return self.depth + self.lead + (CLEAR if self.through else 0.0)

    @property
    def travel(self) -> float:
        return self.reading + CLEAR

    @property
    def time(self) -> float:
        return cutting.cutting_time(self.travel, self.feed_rate)

    @property
    def chip(self) -> Chip:
        return holes.lip_chip(self.diameter, self.pilot, self.feed, self.point_angle)

    def force(self, constants: ForceConstants | None) -> float | None:
        """N on each lip with the constants of one family."""
        if constants is None:
            return None
        specific = cutting.specific_force(constants, self.chip.thickness)
        return cutting.cutting_force(specific, self.chip.area, self.correction)

    def lips(self, constants: ForceConstants | None) -> float | None:
        """N·m with the constants of one family."""
        force = self.force(constants)
        return None if force is None else holes.lip_torque(force, self.diameter, self.pilot)

    @property
    def row(self) -> Row | None:
        """The row of the measured formula, which knows no pilot hole."""
        return None if self.pilot else holes.measured_row(self.material)

    @cached_property
    def measured(self) -> float | None:
        return None if self.row is None else holes.measured_torque(self.row.number("k"), self.diameter, self.feed)

    @cached_property
    def torque(self) -> float | None:
        """N·m, the greater of the two models; None where nothing is published."""
        found = [one for one in (self.lips(self.constants), self.measured) if one is not None]
        return max(found) if found else None

    @property
    def power(self) -> float | None:
        return None if self.torque is None else holes.torque_power(self.torque, self.speed)

    @property
    def load(self) -> float | None:
        """Share of the motor that the hole takes; None when one of the two is not known."""
        if self.power is None or self.motor is None:
            return None
        return cutting.motor_power(self.power, self.efficiency) / self.motor


def values(cut: Cut, share: float) -> tuple[Value, ...]:
    """Every figure, in the order of the work."""
    pecks = holes.pecks(cut.diameter, cut.depth)
    found = [
        value("spindle_speed", "Spindle speed", cut.speed, "spindle_speed"),
        value("feed", "Feed for each turn", cut.feed, "feed"),
        value("reading", "On the scale, from first touch to done", cut.reading, "length", 2),
        value("time", "Time in the cut, without coming out", cut.time, "time", 2),
        value("cutting_speed", "Cutting speed at the corner of the drill", cut.cutting_speed, "cutting_speed", 1),
        value("feed_rate", "Feed for each minute", cut.feed_rate, "feed_rate"),
        value("point_length", "Length of the drill’s point", cut.point, "length", 2),
        value("travel", "Travel, with run-in", cut.travel, "length", 1),
        value("removal", "Removal rate", holes.annulus_removal(cut.diameter, cut.pilot, cut.feed_rate), "removal_rate"),
    ]
    if pecks:
        found.append(value("first_peck", "Come out first at a depth of", pecks[0], "length", 1))
    if share < 1:
        found.append(value("deep_share", "Of speed and feed, so deep", share, "ratio", 2))
    lips = cut.lips(cut.constants)
    force = cut.force(cut.constants)
    if lips is not None and force is not None:
        found += [
            value("torque", "Torque, from the chip of the lips", lips, "torque"),
            value("thrust_least", "Thrust of the lips alone, least",
                  holes.lip_thrust(force, cut.point_angle, holes.AXIAL_LEAST), "force"),
            value("thrust_most", "Thrust of the lips alone, most",
                  holes.lip_thrust(force, cut.point_angle, holes.AXIAL_MOST), "force"),
        ]  # fmt: skip
    if cut.row is not None and cut.measured is not None:
        thrust = holes.measured_thrust(cut.row.number("k"), cut.diameter, cut.feed)
        found += [value("torque_measured", "Torque, by the measured formula", cut.measured, "torque"),
                  value("thrust_measured", "Thrust, by the measured formula", thrust, "force")]  # fmt: skip
    if cut.power is not None:
        motor = cutting.motor_power(cut.power, cut.efficiency)
        found += [value("power", "Power at the drill, the greater torque", cut.power, "power"),
                  value("motor_needed", "Power asked of the motor", motor, "power")]  # fmt: skip
    return tuple(found)


def working(cut: Cut, wanted: float) -> tuple[Step, ...]:
    """The lines of working; `wanted` is the cutting speed in m/min that was looked up."""
    half = cut.point_angle / 2
    lines = [
        step("n_w = 1000 * v_w / (pi * D)", cutting.spindle_speed(wanted, cut.diameter), "rev/min",
             "wanted; the step at or below it is taken", v_w=wanted, D=cut.diameter),
        step("v = pi * D * n / 1000", cut.cutting_speed, "m/min", D=cut.diameter, n=cut.speed),
        step("v_f = f * n", cut.feed_rate, "mm/min", f=cut.feed, n=cut.speed),
        step("p = D / 2 / tan(s * pi / 180)", cut.point, "mm", "s: half the point angle", D=cut.diameter, s=half),
        step("t = l / v_f", cut.time, "min", l=cut.travel, v_f=cut.feed_rate),
    ]  # fmt: skip
    force, lips = cut.force(cut.constants), cut.lips(cut.constants)
    if cut.constants is not None and force is not None and lips is not None:
        chip = cut.chip
        sine = cutting.sin_degrees(half)
        lines += [
            step("h = f / 2 * sin_s", chip.thickness, "mm", "chip of each lip", f=cut.feed, sin_s=sine),
            step("F = k / h ** m * A * c", force, "N", "on each lip", k=cut.constants.kc11, h=chip.thickness,
                 m=cut.constants.mc, A=chip.area, c=cut.correction),
            step("M = 2 * F * (D + d) / 4 / 1000", lips, "N·m", F=force, D=cut.diameter, d=cut.pilot),
        ]  # fmt: skip
    if cut.row is not None and cut.measured is not None:
        lines.append(step("M_m = K * D ** 2 * (0.630 + 16.84 * f) / 100", cut.measured, "N·m", "measured formula",
                          K=cut.row.number("k"), D=cut.diameter, f=cut.feed))  # fmt: skip
    if cut.power is not None and cut.torque is not None:
        lines.append(step("P = 2 * pi * M * n / 60000", cut.power, "kW", "the greater torque", M=cut.torque,
                          n=cut.speed))  # fmt: skip
    return tuple(lines)


def verdict(cut: Cut, by_hand: bool, published: Feed) -> Verdict:
    """What to do, and whether drill and motor stand it."""
    do = f"Drill at {show(cut.speed, 'spindle_speed')}"
    if by_hand:
        do += f", 10 mm in about {show(cutting.cutting_time(10, cut.feed_rate), 'time', 0, unit='second')}"
    else:
        do += f", {show(cut.feed, 'feed')}"
    load = cut.load
    if settle(cut.feed) > settle(published.upper) and (load is None or settle(load) <= 1):
        own, most = show(cut.feed, "feed"), show(published.upper, "feed")
        return Verdict(
            "mind", f"A feed of {own} is over anything published, which ends at {most}: a thin drill breaks."
        )
    if load is None:
        return Verdict("mind", f"{do}; whether the motor stands it is not known.")
    asked = show(cutting.motor_power(cut.power or 0.0, cut.efficiency), "power")
    if settle(load) > 1:
        first = "Feed less" if cut.pilot or cut.diameter < LARGE else "Drill a pilot hole first"
        return Verdict("stop", f"The motor does not stand it: {asked} asked, {show(cut.motor or 0.0, 'power')} there. "
                       f"{first}, or take the next slower step.")  # fmt: skip
    if settle(load * cutting.WORN) > 1:
        return Verdict("mind", f"{do}; the motor holds it with a sharp drill only, {asked} of "
                       f"{show(cut.motor or 0.0, 'power')}.")  # fmt: skip
    if not cut.pilot and cut.diameter >= LARGE:
        return Verdict("mind", f"{do}; the motor stands it, a pilot hole as wide as the web spares thrust.")
    return Verdict("good", f"{do}; the motor stands it.")


def cautions(cut: Cut, in_lathe: bool) -> tuple[str, ...]:
    """Short reminders for this hole; local rules and the machine's manual come first."""
    found = ["Ease the feed at breakthrough: the drill snatches."] if cut.through else []
    if in_lathe:
        found.append("Lock the tailstock, and see that chuck or sleeve cannot turn in its taper.")
    else:
        found.append("Clamp the work, never hold it by hand; a small piece spins with the drill.")
    if holes.pecks(cut.diameter, cut.depth):
        found.append("Come out for chips before they pack; clear them with a hook or brush, spindle stopped.")
    if cut.material.iso_group == "N" and cut.material.speed_groups[0] in ("brass", "bronze"):
        found.append("Brass and bronze pull the drill in: stone a small flat on its lips, lock what can move.")
    found += turning_words.of_material(cut.material)
    found.append("No gloves or loose sleeves at a running spindle. Local rules come first.")
    return tuple(found)


def assumptions(cut: Cut, speed: Wanted, feed: Feed, share: float, own_feed: bool) -> tuple[str, ...]:
    """What was taken, and how far it can be trusted."""
    found = list(speed.remarks)
    if own_feed and settle(cut.feed) > settle(feed.upper):
        found.append(
            f"Your feed is over what is published for this drill, {show(feed.low, 'feed')} to "
            f"{show(feed.upper, 'feed')}."
        )
    if share < 1:
        found.append("Past 4 diameters deep the tables cut speed and feed to as little as half; where in between is "
                     "common practice.")  # fmt: skip
    if holes.pecks(cut.diameter, cut.depth):
        found.append("When to come out for chips is common practice, no source: earlier when they pack or the drill "
                     "squeals. The time is without it.")  # fmt: skip
    found.append(
        "First touch is on a flat face. In a centre hole set the scale to nought with the corners of the drill level "
        "with the face, and go to the depth."
    )
    if cut.constants is None:
        found.append("No force is known for this material; torque, thrust and power are left out.")
        return tuple(found)
    marked = {"M": ", from memory", "F": ", fitted"}.get(cut.constants.mark, "")
    found.append(
        f"Lip model: force constants of the {cut.constants.family} family, {cut.constants.row}"
        f"{marked}. Its thrust is 0.3 to 0.5 of the cutting force, from memory, and leaves out the chisel edge."
    )
    if cut.row is not None and cut.measured is not None:
        text = cut.row.text("material")
        near = (
            ", the nearest listed and harder"
            if cut.material.speed_groups[0] in ("medium-carbon", "high-carbon")
            else ""
        )
        found.append(f"Measured formula: a tool maker’s fit with its constant for {text}{near}.")
        found.append("A second maker’s picture of 10 mm at 0.3 mm/rev shows 15 N·m and 2500 N: the measured formula "
                     "comes near it in torque and to nearly twice its thrust.")  # fmt: skip
    elif cut.pilot:
        found.append("The measured formula holds only from the solid; in a pilot hole the lip model stands alone.")
    else:
        found.append("No constant of the measured formula is known for this material; the lip model stands alone.")
    return tuple(found)


def sources(cut: Cut) -> tuple[str, ...]:
    """Keys of what the forces rest on."""
    found = cut.constants.source if cut.constants is not None else ()
    return (*found, *(cut.row.source if cut.row is not None else ()))


def models(cut: Cut) -> tuple[Table, ...]:
    """Torque and thrust by each model side by side."""
    rows = []
    for constants in (cut.constants, cut.material.other_force):
        force, torque = cut.force(constants), cut.lips(constants)
        if constants is None or force is None or torque is None:
            continue
        least, most = (holes.lip_thrust(force, cut.point_angle, one) for one in (holes.AXIAL_LEAST, holes.AXIAL_MOST))
        rows.append((f"Lips, {constants.family}", show(torque, "torque"),
                     f"{show(least, 'force')} to {show(most, 'force')}, lips alone"))  # fmt: skip
    if cut.row is not None and cut.measured is not None:
        thrust = holes.measured_thrust(cut.row.number("k"), cut.diameter, cut.feed)
        rows.append(("Measured formula", show(cut.measured, "torque"), show(thrust, "force")))
    if not rows:
        return ()
    torques = [one for one in (cut.lips(cut.constants), cut.measured) if one is not None]
    apart = (max(torques) / min(torques) - 1) * 100
    note = f"Lips and measured formula are {show(apart, 'percentage', 0)} apart in torque; the greater counts."
    return (Table("Torque and thrust by model", ("Model", "Torque", "Thrust"), tuple(rows),
                  note if len(torques) > 1 else FAMILIES if len(rows) > 1 else ""),)  # fmt: skip


def withdrawals(cut: Cut) -> tuple[Table, ...]:
    """Where to come out for chips, as depth and on the scale."""
    found = holes.pecks(cut.diameter, cut.depth)
    if not found:
        return ()
    rows = tuple((str(place), show(at, "length", 1), show(at + cut.lead, "length", 1))
                 for place, at in enumerate(found[:MOST_ROWS], 1))  # fmt: skip
    more = len(found) - len(rows)
    note = f"Then {more} more, every {show(holes.SHORT_PECK * cut.diameter, 'length', 1)}." if more else ""
    return (Table("Come out for chips", ("No.", "Depth", "On the scale, from first touch"), rows, note),)


def printed(speed: Wanted, feed: Feed, diameter: float) -> Table:
    """What the sources print."""
    sizes = {(row.source, row.material): row for row in speed.published if row.feed_min is None}
    near = [row for row in speed.published if row.feed_min is not None]
    rows = [(row.material, _span(row.speed_min, row.speed_max, "cutting_speed", 0), "not with it")
            for row in sizes.values()]  # fmt: skip
    if near:
        speeds = _span(min(row.speed_min for row in near), max(row.speed_max for row in near), "cutting_speed", 0)
        feeds = [row.feed_min or 0.0 for row in near]
        rows.append((near[0].material, speeds, _span(min(feeds), max(feeds), "feed", 2) + ", 6 to 25 mm"))
    name = f"anything, Ø {show(diameter, 'length', 2)}"
    rows.append((name, "not with it", _span(feed.low, feed.high, "feed", 3)))
    if settle(feed.upper) > settle(feed.high):
        rows.append((name, "not with it", f"to {show(feed.upper, 'feed')} in others"))
    return Table("What is published", ("Printed for", "Speed", "Feed"), tuple(rows))


def _span(low: float, high: float, kind: str, decimals: int) -> str:
    """A range, or one figure where both ends read the same."""
    ends = dict.fromkeys(show(one, kind, decimals) for one in (low, high))
    return " to ".join(ends)
