"""What a turning cut is chosen by and what it does: published speed, step of the gearbox, feed, force, power, finish.

Units as in `cutting`: diameters in mm, depth in mm on radius, feed in mm/rev, cutting speed in m/min, spindle speed in
rev/min, force in N, power in kW, torque in N·m, removal in cm³/min, roughness in µm, angles in degrees.

Sources: speeds and feeds by the tables of `published_speeds`; section, force, power and roughness as in `cutting`; the
feed in proportion to the nose radius and the share of the radial force from memory of handbooks.
"""

from dataclasses import dataclass
from functools import cached_property

from calc import units
from calc.formulas import cutting
from calc.formulas.cutting import PUSH_LEAST, PUSH_MOST, SLOW, Chip, ForceConstants
from calc.formulas.published_speeds import TOOLS, Published, speeds
from calc.formulas.work_materials import Found
from calc.model import InputError
from calc.shop import TOOL_MATERIALS
from calc.steps import Steps

ROUGH, FINISH = "rough", "finish"
HSS, COBALT, BRAZED, COATED = "hss", "cobalt hss", "brazed carbide", "coated carbide"

#: Names of the table that may stand for a tool, in order; for HSS and coated carbide those further on run slower.
STAND_INS = {
    HSS: (TOOLS[HSS],),
    COBALT: (TOOLS[COBALT], TOOLS[HSS]),
    BRAZED: (TOOLS[BRAZED], "carbide", "indexable carbide"),
    COATED: (TOOLS[COATED], "indexable carbide", "carbide"),
}
#: The course slides print one speed for both cuts but part the feeds, mm/rev (speeds-course-slides, quick reference).
PARTED_FEEDS = {
    ("HSS", ROUGH): (0.13, 0.38),
    ("HSS", FINISH): (0.05, 0.13),
    ("indexable carbide", ROUGH): (0.20, 0.51),
    ("indexable carbide", FINISH): (0.08, 0.20),
}
SLIDES = "speeds-course-slides"
#: MPa that are about 300 HB, from memory of ISO 18265: the tables of turning end there, those of drilling begin anew.
HARDER = 1000.0
WIDE = 3.0  # a published spread wider than this is worth a word

#: Feed as a share of the nose radius, and the share past which the arc no longer serves. From memory.
FEED_SHARE = {ROUGH: 0.5, FINISH: 0.25}
FEED_LIMIT = 0.8
#: Below this entering angle, or with less depth than the nose radius, the push-off may come up to the cutting force.
SLANT = 60.0


# ------------------------------------------------------------------------------------------------ speed and feed


@dataclass(frozen=True)
class Wanted:
    """Cutting speed taken and the spread published, m/min; feeds published, mm/rev, None where none is printed.

    `remarks` are sentences for the assumptions of an answer: what stands in for what, and what is from memory.
    """

    speed: float
    low: float
    high: float
    feed_low: float | None
    feed_high: float | None
    published: tuple[Published, ...]
    remarks: tuple[str, ...]


def wanted_speed(found: Found, tool_material: str, cut: str) -> Wanted:
    """The published speed for that material, tool (a key of TOOL_MATERIALS) and cut, ROUGH or FINISH.

    The middle of what is published. Its low end where another material stands in, which as a rule is the softer one
    (but not for free-cutting grades), where a like tool stands in for brazed carbide, and for coated carbide, whose
    figures belong to stiff machines. InputError naming `tool_material` where other tools have figures and this one has
    none, `material` where nobody prints any.
    """
    material = found.material
    rows, tool = _published(material.speed_groups, tool_material, cut)
    if not rows:
        others = [name for key, name in TOOL_MATERIALS.items() if _published(material.speed_groups, key, cut)[0]]
        lacking = f"No published turning speed for {material.label}"
        if others:
            raise InputError(
                "tool_material",
                f"{lacking} with {TOOL_MATERIALS[tool_material]} is known here. Choose {' or '.join(others)}.",
            )
        raise InputError(
            "material", f"{lacking} is known here. Choose a softer state of it, or take the speed of the tool’s maker."
        )
    low, high = min(one.speed_min for one in rows), max(one.speed_max for one in rows)
    feeds = [pair for one in rows if (pair := _feeds(one, tool, cut)) is not None]
    likeness = _likeness(material.speed_groups[0], rows[0].group)
    harder = material.speed_groups[0] == "alloy-hardened" and (material.number("tensile_min") or 0.0) >= HARDER
    careful = (
        harder
        or (likeness and not material.speed_groups[0].startswith("free-"))
        or tool == TOOLS[COATED]
        or (tool_material == BRAZED and tool != TOOLS[BRAZED])
    )
    remarks = []
    if likeness:
        remarks.append(f"{likeness}.")
    if tool != TOOLS[tool_material]:
        name = "uncoated indexable carbide" if tool == "indexable carbide" else tool
        remarks.append(f"No speed for {TOOL_MATERIALS[tool_material]} is known for it; that for {name} is taken.")
    if harder:
        strong = units.show(material.number("tensile_min") or 0.0, "pressure", 0)
        remarks.append(
            f"Nothing is published over 300 HB, and {strong} tensile is about that, from memory: start lower."
        )
    if any(one.mark == "M" for one in rows):
        remarks.append(f"Speeds for {tool} are from memory and not confirmed.")
    if careful and low < high:
        remarks.append("The low end of the published speeds is taken.")
    elif high > WIDE * low:
        remarks.append("What is published differs by far; the middle is taken. Try it lower first.")
    elif low < high:
        remarks.append("The middle of the published speeds is taken.")
    return Wanted(
        low if careful else (low + high) / 2, low, high,
        min(low for low, _ in feeds) if feeds else None, max(high for _, high in feeds) if feeds else None,
        rows, tuple(remarks),
    )  # fmt: skip


def step_below(wanted_speed: float, diameter: float, speeds: Steps, chuck_speed: float) -> float:
    """rev/min: the step at or below `wanted_speed` m/min on `diameter` and not above the chuck's safe speed.

    Of a stepless drive whole turns. InputError naming `chuck_speed` or `speeds` when the slowest step is too fast: a
    speed above the wanted one burns the edge, and one above the chuck's is never offered.
    """
    slowest = speeds.lowest
    if units.settle(chuck_speed) < units.settle(slowest):
        raise InputError(
            "chuck_speed",
            f"The slowest speed, {units.show(slowest, 'spindle_speed')}, is above what the chuck stands. Use another "
            "chuck, or check both figures.",
        )
    limit = min(cutting.spindle_speed(wanted_speed, diameter), chuck_speed)
    step = speeds.at_or_below(limit)
    if step is None:
        there = units.show(cutting.cutting_speed(slowest, diameter), "cutting_speed", 1)
        raise InputError(
            "speeds",
            f"Even the slowest speed, {units.show(slowest, 'spindle_speed')}, gives {there} on "
            f"Ø {units.show(diameter, 'length')}, and {units.show(wanted_speed, 'cutting_speed', 1)} is wanted. "
            "Choose a tool that stands more, or a machine that turns slower.",
        )
    return max(float(int(units.settle(step))), slowest) if speeds.stepless else step


def feed_below(wanted: Wanted, nose_radius: float, feeds: Steps, cut: str, window: Steps | None = None) -> float:
    """mm/rev: the feed of the list at or below what suits nose radius, published feeds and the chip breaker's window.

    Half the nose radius for roughing, not above the published feeds; a quarter of it for finishing, within them. With
    nothing that fine the finest of the list. InputError naming `nose_radius` when even that is past the nose's arc.
    """
    goal = FEED_SHARE[cut] * nose_radius
    if wanted.feed_high is not None:
        goal = min(goal, wanted.feed_high)
    if cut == FINISH and wanted.feed_low is not None:
        goal = max(goal, wanted.feed_low)
    limit = FEED_LIMIT * nose_radius
    if window is not None:
        limit = min(limit, window.highest)
        goal = max(goal, feeds.at_or_above(window.lowest) or window.lowest)
    return step_of_feed(min(goal, limit), nose_radius, feeds)


def step_of_feed(goal: float, nose_radius: float, feeds: Steps) -> float:
    """The feed of the list at or below `goal`, or the finest; of a stepless drive down to a micrometre.

    InputError naming `nose_radius` when the feed is more than twice the nose radius: it would cut a thread.
    """
    step = feeds.at_or_below(goal)
    if step is None:
        step = feeds.lowest
    elif feeds.stepless:
        step = max(int(units.settle(step) * 1000) / 1000, feeds.lowest)
    if units.settle(step) > 2 * units.settle(nose_radius):
        raise InputError(
            "nose_radius",
            f"A feed of {units.show(step, 'feed')} is more than twice the nose radius and cuts a thread. Use a finer "
            f"feed, or hone a radius of {units.show(step / FEED_LIMIT, 'length', 2)} or more.",
        )
    return step


# ------------------------------------------------------------------------------------------------------ one pass


def correction(tool_material: str) -> tuple[float, str]:
    """Factor on the cutting force for the speeds of that tool, and the sentence that says so."""
    if tool_material in (HSS, COBALT):
        return SLOW, f"The force is taken {SLOW} times that of carbide, for the low speeds of HSS; from memory."
    return 1.0, "Force constants as they stand: they hold for carbide at about 100 m/min."


@dataclass(frozen=True)
class Load:
    """What a cut asks: kc in N/mm², force in N, power at the edge in kW, torque in N·m, least and most push in N."""

    specific: float
    force: float
    power: float
    torque: float
    push: tuple[float, float]


@dataclass(frozen=True)
class Pass:
    """One cut along the bar: `diameter` before it, depth on radius, feed, spindle speed, tool and force constants.

    Without constants (plastics) what rests on the force is None. Force, power and torque are at the edge, sharp tool.
    """

    diameter: float
    depth: float
    feed: float
    speed: float
    entering_angle: float
    nose_radius: float
    constants: ForceConstants | None
    correction: float = 1.0

    @property
    def finished(self) -> float:
        """Diameter after it, mm."""
        return self.diameter - 2 * self.depth

    @property
    def cutting_speed(self) -> float:
        """m/min on the uncut diameter."""
        return cutting.cutting_speed(self.speed, self.diameter)

    @property
    def feed_rate(self) -> float:
        """mm/min."""
        return cutting.feed_rate(self.feed, self.speed)

    @cached_property
    def chip(self) -> Chip:
        """The section of the uncut chip, the edge taken as straight; with little depth the nose makes it thinner."""
        return cutting.chip(self.depth, self.feed, self.entering_angle)

    @cached_property
    def load(self) -> Load | None:
        """What rests on the force, all at once; None without constants."""
        if self.constants is None:
            return None
        specific = cutting.specific_force(self.constants, self.chip.thickness)
        force = cutting.cutting_force(specific, self.chip.area, self.correction)
        nose = units.settle(self.depth) < units.settle(self.nose_radius)
        most = 1.0 if nose or self.entering_angle < SLANT else PUSH_MOST
        return Load(
            specific, force, cutting.cutting_power(force, self.cutting_speed), cutting.torque(force, self.diameter),
            (PUSH_LEAST * force, most * force),
        )  # fmt: skip

    @property
    def force(self) -> float | None:
        """Cutting force in N."""
        return self.load.force if self.load else None

    @property
    def cutting_power(self) -> float | None:
        """kW at the edge."""
        return self.load.power if self.load else None

    @property
    def torque(self) -> float | None:
        """N·m at the spindle, the force at the uncut diameter."""
        return self.load.torque if self.load else None

    @property
    def push(self) -> tuple[float, float] | None:
        """Least and most radial force in N, sharp tool; from memory. All of the cutting force where the nose cuts."""
        return self.load.push if self.load else None

    @property
    def removal(self) -> float:
        """cm³/min in truth: with the speed in the middle of the cut. The outer diameter over-reads by D/(D - ap)."""
        middle = cutting.mean_diameter(self.diameter, self.depth)
        return cutting.removal_rate(cutting.cutting_speed(self.speed, middle), self.depth, self.feed)

    @property
    def rt(self) -> float:
        """Rt in µm that feed and nose radius alone leave."""
        return cutting.roughness_rt(self.feed, self.nose_radius)

    @property
    def ra(self) -> float:
        """Ra in µm of that ideal profile."""
        return cutting.roughness_ra(self.feed, self.nose_radius)


# ------------------------------------------------------------------------------------------------------- helpers


def _published(groups: tuple[str, ...], tool_material: str, cut: str) -> tuple[tuple[Published, ...], str]:
    """The rows of the first name that stands for the tool and has any, and that name."""
    for tool in STAND_INS[tool_material]:
        rows = speeds("turning", tool, (cut, "general"), groups)
        if rows:
            return rows, tool
    return (), ""


def _feeds(one: Published, tool: str, cut: str) -> tuple[float, float] | None:
    if SLIDES in one.source and (tool, cut) in PARTED_FEEDS:
        return PARTED_FEEDS[tool, cut]
    return None if one.feed_min is None or one.feed_max is None else (one.feed_min, one.feed_max)


def _likeness(own: str, used: str) -> str:
    """What to say when the figures of another group stand in, without the full stop; "" when they are its own."""
    if own == used:
        return ""
    return f"No speed for {_word(own)} is published here; that for {_word(used)} is taken"


def _word(group: str) -> str:
    return {
        "free-cutting": "free-cutting steel", "low-carbon": "low-carbon steel", "medium-carbon": "medium-carbon steel",
        "high-carbon": "high-carbon steel", "alloy": "alloy steel that is not hardened",
        "alloy-hardened": "hardened alloy steel",
        "alloy-hard": "air-hardened alloy steel", "tool-steel": "tool steel", "martensitic": "martensitic stainless",
        "free-martensitic": "free-cutting martensitic stainless", "austenitic": "austenitic stainless",
        "free-austenitic": "free-cutting austenitic stainless", "ph-stainless": "precipitation-hardening stainless",
        "grey-iron": "grey iron", "nodular-iron": "nodular iron",
    }.get(group, group)  # fmt: skip
