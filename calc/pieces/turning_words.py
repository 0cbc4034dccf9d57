"""What is said about a turning cut: verdict, what to change first, the feeds next to it, forces by both families."""

from dataclasses import dataclass, replace

from calc import units
from calc.formulas import chips, cutting
from calc.formulas.chips import BREAKS, OVERLOADS, RUBS, STRINGS, SUITS, ChipState
from calc.formulas.cutting import WORN, ForceConstants
from calc.formulas.turning import BRAZED, COATED, FEED_LIMIT, FEED_SHARE, FINISH, Pass, Wanted
from calc.formulas.work_materials import A_LIKE_ALLOY, Material
from calc.model import Table, Verdict
from calc.steps import Steps
from calc.tables import sources
from calc.units import show

MUCH = 0.15  # families of constants that differ by more than this share are both shown
REAL = (1.2, 2.0)  # real Ra in steel as a multiple of the ideal one; from memory
LONG_BAR = (
    "Bar that sticks out behind the headstock bends and whips without warning: support it, keep the speed low, or "
    "cut it shorter."
)
FINE = 0.1  # mm/rev, at and under which the ideal roughness is no longer met: 0.05 to 0.1 published


@dataclass(frozen=True)
class Motor:
    """How the motor stands: kW asked of it, its power, and the depth in mm and the speed in rev/min that it holds.

    None stands for a depth that would rub, and for a speed that the machine does not have.
    """

    needed: float
    power: float
    depth: float | None
    slower: float | None

    @property
    def level(self) -> str:
        """good; mind when it stands a sharp edge only; stop."""
        if units.settle(self.needed) > units.settle(self.power):
            return "stop"
        return "mind" if units.settle(self.needed * WORN) > units.settle(self.power) else "good"

    @property
    def first(self) -> str:
        """What to change first: depth, then speed."""
        if self.level == "good":
            return ""
        said = [f"less depth, {show(self.depth, 'length', 2)}"] if self.depth else []
        said += [f"slower, {show(self.slower, 'spindle_speed')}"] if self.slower else []
        text = "; or ".join(said) or "less feed"
        return f"{text[0].upper()}{text[1:]}."


def motor(cut: Pass, power: float, efficiency: float, lathe: Steps, least_infeed: float) -> Motor | None:
    """The motor against a cut; what it holds is reckoned for the worn edge where the sharp one would pass."""
    load = cut.load
    if load is None:
        return None
    needed = cutting.motor_power(load.power, efficiency)
    wear = 1.0 if units.settle(needed) > units.settle(power) else WORN
    force = cutting.force_at_power(power, efficiency, cut.cutting_speed)
    depth = cutting.depth_for_force(force, load.specific, cut.feed, cut.correction * wear)
    speed = cutting.speed_at_power(power, efficiency, load.force * wear)
    slower = lathe.at_or_below(cutting.spindle_speed(speed, cut.diameter))
    held = int(units.settle(depth) * 100) / 100
    return Motor(needed, power, held if held >= max(least_infeed, 0.01) else None, slower)


def verdict(
    stands: Motor | None, chip: ChipState, built_up: str | None, cut_kind: str, cut: Pass, wanted: Wanted
) -> Verdict:
    """The worst of what there is to say, in one sentence."""
    if stands is not None and stands.level == "stop":
        asked = f"It asks {show(stands.needed, 'power')} of a motor of {show(stands.power, 'power')}"
        return Verdict("stop", f"{asked}; first {_lower(stands.first)}")
    if chip.state == RUBS:
        return Verdict("stop", f"It rubs instead of cutting; first {_lower(chip.first)}")
    if chip.state == OVERLOADS:
        return Verdict("mind", f"It overloads the edge; first {_lower(chip.first)}")
    if faster(cut, wanted):
        most = show(wanted.high, "cutting_speed", 1)
        return Verdict("mind", f"Faster than any published speed, which end at {most}: the edge will not last.")
    if stands is not None and stands.level == "mind":
        return Verdict("mind", f"The motor holds it with a sharp edge only; first {_lower(stands.first)}")
    if cut_kind == FINISH and built_up in ("worst", "in"):
        speed = show(cut.cutting_speed, "cutting_speed")
        return Verdict("mind", f"At {speed} steel builds up on the edge and tears the finish; first oil and more rake.")
    if chip.state == STRINGS:
        return Verdict("mind", f"The chip will string; first {_lower(chip.first)}")
    held = "The motor holds it and the" if stands is not None else "The"
    if chip.state == SUITS:
        return Verdict("good", f"{held} cut suits the edge; no figure says when this chip breaks: watch it.")
    return Verdict("good", f"{held} chip should break.")


def faster(cut: Pass, wanted: Wanted) -> bool:
    """Whether the cut runs faster than anything published for it."""
    return bool(wanted.published) and units.settle(cut.cutting_speed) > units.settle(wanted.high)


def standing(
    cut: Pass, goal: float, wanted: Wanted, stands: Motor | None, chip: ChipState, built_up: str | None,
    tool_material: str,
) -> Table:  # fmt: skip
    """Every side of the cut: how it stands and what to change first."""
    keen, blunt = chips.least_chip(tool_material)
    edge = chips.engaged_edge(cut.depth, cut.entering_angle, cut.nose_radius)
    thickness = chips.mean_thickness(cut.depth, cut.feed, edge)
    what = {
        BREAKS: "Should break.", SUITS: "No figure says when it breaks.", STRINGS: "Will string.",
        OVERLOADS: "Overloads the edge.", RUBS: "Rubs.",
    }  # fmt: skip
    here = f"{show(cut.cutting_speed, 'cutting_speed', 1)} of {show(goal, 'cutting_speed', 1)} wanted"
    spread = f"; published {_span(wanted.low, wanted.high)}" if wanted.published else ""
    rows = [
        ("Speed", f"{here}{spread}.", "A slower step." if faster(cut, wanted) else "–"),
        ("Chip", f"{what[chip.state]} {chip.why}", chip.first or "–"),
    ]
    if stands is not None:
        share = show(stands.needed / stands.power, "ratio", 0, unit="percent")
        worn = show(stands.needed * WORN, "power")
        rows.insert(1, ("Motor", f"{share} of it with a sharp edge; {worn} with a worn one.", stands.first or "–"))
    if built_up is not None:
        low, high = (f"{end:.0f}" for end in chips.BUILT_UP)
        worst = " to ".join(f"{end:.0f}" for end in chips.WORST)
        rows.append(("Built-up edge", f"{_STAND[built_up]} ({low} to {high} m/min, worst {worst}).",
                     no_built_up_edge(tool_material) if built_up != "out" else "–"))  # fmt: skip
    rows.append(
        ("Least chip", f"{show(keen, 'length')} keen to {show(blunt, 'length')} blunter; here "
         f"{show(thickness, 'length')} on average.", chip.first if chip.state == RUBS else "–")
    )  # fmt: skip
    real = f"in steel really {show(REAL[0] * cut.ra, 'roughness', 1)} to {show(REAL[1] * cut.ra, 'roughness', 1)}"
    fails = roughness_fails(cut, built_up)
    rows.append(("Ra", f"{show(cut.ra, 'roughness')} ideally; {real}. {fails}".strip(),
                 "Less feed, or a larger nose radius." if not fails else "–"))  # fmt: skip
    return Table("How the cut stands", ("What", "How it stands", "Change first"), tuple(rows))


_STAND = {
    "worst": "In the worst of it",
    "in": "In its range",
    "near": "Just above its range; with carbide gone from 60 to 80 m/min",
    "out": "Outside its range",
}
_AWAY = {
    False: "Cutting oil and more rake, or very slow with a broad nose.",
    True: "A faster step, with carbide over 80 m/min.",
}


def no_built_up_edge(tool_material: str) -> str:
    """What keeps steel from building up on the edge of that tool."""
    return _AWAY[tool_material in (BRAZED, COATED)]


def roughness_fails(cut: Pass, built_up: str | None) -> str:
    """Why the ideal roughness will not be met here, "" where nothing speaks against it."""
    if units.settle(cut.feed) > units.settle(FEED_LIMIT * cut.nose_radius):
        return "Not met: the feed is past the arc of the nose."
    if built_up in ("worst", "in"):
        return "Not met while the edge builds up."
    if units.settle(cut.feed) <= units.settle(FINE):
        return "Not met so fine: the edge itself prints."
    return ""


def near(cut: Pass, feeds: Steps, power: float, efficiency: float) -> Table:
    """The feeds of the lathe about the one taken, with what each would leave and ask."""
    rows = []
    for feed in _about(cut.feed, feeds):
        other = replace(cut, feed=feed)
        needed = "–"
        if other.load is not None:
            asked = cutting.motor_power(other.load.power, efficiency)
            needed = _bare(asked, "power", 2) + (" over" if units.settle(asked) > units.settle(power) else "")
        edge = chips.engaged_edge(other.depth, other.entering_angle, other.nose_radius)
        taken = " ←" if feed == cut.feed else ""
        ratio = chips.slenderness(other.depth, feed, edge)
        rows.append((f"{_bare(feed, 'feed', 3)}{taken}", _bare(other.rt, "roughness", 1),
                     _bare(other.ra, "roughness", 2), needed, _bare(ratio, "ratio", 1)))  # fmt: skip
    return Table(
        "The feeds next to it", ("Feed, mm/rev", "Rt, µm", "Ra, µm", "Motor, kW", "b/h"), tuple(rows),
        "The arrow marks the feed taken. Rt and Ra of feed and nose radius alone; b/h is the chip’s width over its "
        "thickness.",
    )  # fmt: skip


def _about(feed: float, feeds: Steps) -> list[float]:
    if feeds.stepless:
        around = {feed, *(int(units.settle(feed * share) * 1000) / 1000 for share in (0.64, 0.8, 1.25, 1.6))}
        return sorted(one for one in around if feeds.lowest <= one <= feeds.highest)
    place = feeds.values.index(feed)
    return list(feeds.values[max(0, place - 2) : place + 3])


def families(cut: Pass, other: ForceConstants | None, efficiency: float) -> tuple[Table, str] | None:
    """The cut by both families of constants and a sentence on it, where they differ by much; else None."""
    if cut.constants is None or cut.load is None or other is None:
        return None
    loads = [(one.constants, one.load) for one in (cut, replace(cut, constants=other)) if one.constants and one.load]
    taken, second = (load.force for _, load in loads)
    if abs(second / taken - 1) <= MUCH:
        return None
    rows = tuple(
        (f"{constants.family}, {constants.row}", show(load.specific, "pressure", 0), show(load.force, "force"),
         show(cutting.motor_power(load.power, efficiency), "power"))
        for constants, load in loads
    )  # fmt: skip
    note = "The first is taken. Families of constants are measured in different ways and are never mixed."
    share = show(abs(second / taken - 1), "ratio", 0, unit="percent")
    said = (
        f"By {other.family} the force would be {show(second, 'force')}, {share} {'more' if second > taken else 'less'}."
    )
    return Table("Force by two families of constants", ("Family", "kc", "Force", "Motor"), rows, note), said


def published(found: Wanted) -> Table:
    """Every printed row side by side."""
    titles = sources()
    rows = []
    for one in found.published:
        span = _span(one.speed_min, one.speed_max)
        feed = "–" if one.feed_min is None or one.feed_max is None else _span(one.feed_min, one.feed_max)
        who = "; ".join(_short(titles[key]) for key in one.source)
        rows.append((one.material, span, feed, who))
    return Table("Published speeds", ("Material", "m/min", "mm/rev", "Where"), tuple(rows))


def _span(low: float, high: float) -> str:
    """As printed, without more figures than that."""
    return " to ".join(dict.fromkeys((units.plain(low), units.plain(high))))


def _bare(number: float, kind: str, decimals: int) -> str:
    """Without its unit, which stands at the head of the column."""
    return show(number, kind, decimals).split(" ")[0]


def _short(title: str) -> str:
    """A title to its first comma, colon or semicolon."""
    return title.replace(";", ",").replace(":", ",").split(",")[0]


def family(constants: ForceConstants, label: str) -> str:
    """Which family of constants was taken, whose, and how well it is confirmed."""
    said = f"Force by the {constants.family} constants of {constants.row}"
    if constants.surrogate and constants.row != A_LIKE_ALLOY:
        said += f", a material like {label}"
    return said + {"M": "; from memory, not confirmed.", "F": "; fitted, not printed."}.get(constants.mark, ".")


def assumptions(cut: Pass, cut_kind: str, feed_ours: bool, lathe: Steps) -> tuple[str, ...]:
    """What holds for every cut, what is from memory, and what is rough about this one."""
    found = ["Sharp edge; the force grows to 1.3 times when it is due for a change. From memory."]
    if feed_ours:
        share = {0.5: "half", 0.25: "a quarter"}[FEED_SHARE[cut_kind]]
        found.append(f"Feed: about {share} of the nose radius, within what is published. The share is from memory.")
    found.append("Built-up edge, least chip, least depth by the nose radius and real Ra over ideal are from memory.")
    found.append("Rt and Ra are of feed and nose radius alone; chatter, a worn edge or a wiper insert change them.")
    if units.settle(cut.depth) < units.settle(cut.nose_radius):
        found.append("The depth is less than the nose radius: the chip is thinner than h, each mm² of it asks more "
                     "force, and nearly all of it may push the bar off.")  # fmt: skip
    if cut.force is not None and not lathe.stepless and cut.speed in lathe.values[:3]:
        found.append("An old geared head may stand less torque at its lowest speeds than the motor’s power says.")
    return tuple(found)


def cautions(material: Material) -> tuple[str, ...]:
    """Those of every turning job, and those of the material."""
    return (
        "Never above the lowest speed marked on chuck, work holder or machine; jaws grip less the faster they turn.",
        "Long strings of swarf drag a hand in: stop and change feed or depth, and clear swarf with a hook.",
        LONG_BAR,
        *of_material(material),
        "Local rules and the machine’s own manual come first.",
    )


def of_material(material: Material) -> tuple[str, ...]:
    """Cautions that belong to the material, however it is cut."""
    return tuple(text for group, text in _OF_MATERIAL.items() if group in material.speed_groups)


_OF_MATERIAL = {
    "titanium": "Do not let titanium chips and fines build up: they burn, and water makes it worse.",
    "grey-iron": "Extract the dust of cast iron, do not blow it.",
    "brass": "Leaded brass and bronze: wash hands before eating.",
    "bronze": "Leaded brass and bronze: wash hands before eating.",
    "plastics": "Plastics: keep PTFE cool and do not smoke near it, extract the dust of laminates; their chips string.",
}


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
