"""The figures of a turning cut, how each was worked out, and what usually comes next."""

from calc import units
from calc.formulas import chips, cutting, tool_life
from calc.formulas.turning import BRAZED, COATED, COBALT, HSS, Pass
from calc.formulas.work_materials import Material
from calc.model import Following, Step, Value
from calc.units import show, step, value

#: What those that come next can be asked about: bars in mm, feeds in mm/rev.
LEAST_BAR, LEAST_STOCK, FEEDS = 0.5, 1.0, (0.005, 3.0)
TOOL_CLASSES = {HSS: "HSS", COBALT: "HSS", BRAZED: "carbide", COATED: "carbide"}
WORK = {"P": "steel", "K": "other", "N": "other"}  # of stainless steel and titanium no usual values are known


def values(cut: Pass, goal: float, tool_material: str, efficiency: float) -> tuple[Value, ...]:
    """`goal` is the cutting speed wanted, m/min. Without a force the figures that rest on it are left out."""
    edge = chips.engaged_edge(cut.depth, cut.entering_angle, cut.nose_radius)
    found = (
        value("spindle_speed", "Spindle speed", cut.speed, "spindle_speed"),
        value("feed", "Feed", cut.feed, "feed"),
        value("cutting_speed", "Cutting speed at it", cut.cutting_speed, "cutting_speed", 1),
        value("wanted_speed", "Cutting speed wanted", goal, "cutting_speed", 1),
        value("feed_rate", "Feed rate", cut.feed_rate, "feed_rate", 1),
        value("finished", "Diameter after the cut", cut.finished, "length", 3),
        value("theoretical_roughness", "Rt, ideal", cut.rt, "roughness"),
        value("ideal_roughness", "Ra, ideal", cut.ra, "roughness"),
        value("removal_rate", "Removal, true volume", cut.removal, "removal_rate", 2),
        value("chip_thickness", "Chip thickness h", cut.chip.thickness, "length"),
        value("slenderness", "Chip width over thickness", chips.slenderness(cut.depth, cut.feed, edge), "ratio", 1),
        value("least_chip", "Least chip, blunter edge", chips.least_chip(tool_material)[1], "length"),
    )
    load = cut.load
    if load is None:
        return found
    return (
        *found,
        value("cutting_force", "Cutting force", load.force, "force"),
        value("power", "Asked of the motor", cutting.motor_power(load.power, efficiency), "power"),
        value("torque", "Torque at the spindle", load.torque, "torque"),
        value("push", "Push-off, at most", load.push[1], "force"),
    )


def working(cut: Pass, goal: float, efficiency: float) -> tuple[Step, ...]:
    """Each line with its figures put in."""
    n, d, a, f, r = cut.speed, cut.diameter, cut.depth, cut.feed, cut.nose_radius
    sine = cutting.sin_degrees(cut.entering_angle)
    found = (
        step("n_wanted = 1000 * v / (pi * D)", cutting.spindle_speed(goal, d), "rev/min",
             f"the machine gives {show(n, 'spindle_speed')}", v=goal, D=d),
        step("v = pi * D * n / 1000", cut.cutting_speed, "m/min", D=d, n=n),
        step("u = f * n", cut.feed_rate, "mm/min", "feed rate", f=f, n=n),
        step("Q = pi * (D - a) * a * f * n / 1000", cut.removal, "cm³/min",
             "true volume; with the outside diameter it reads D/(D - a) more", D=d, a=a, f=f, n=n),
        step("Rt = 1000 * f**2 / (8 * r)", cut.rt, "µm", f=f, r=r),
        step("Ra = 1000 * f**2 / (18 * sqrt(3) * r)", cut.ra, "µm", f=f, r=r),
        step("h = f * s", cut.chip.thickness, "mm", "s is the sine of the entering angle", f=f, s=sine),
    )  # fmt: skip
    load = cut.load
    if cut.constants is None or load is None:
        return found
    return (
        *found,
        step("kc = k / h**m", load.specific, "N/mm²", f"{cut.constants.family}, {cut.constants.row}",
             k=cut.constants.kc11, h=cut.chip.thickness, m=cut.constants.mc),
        step("F = kc * a * f * K", load.force, "N", kc=load.specific, a=a, f=f, K=cut.correction),
        step("P = F * v / 60000 / e", cutting.motor_power(load.power, efficiency), "kW", "at the motor", F=load.force,
             v=cut.cutting_speed, e=efficiency),
        step("M = F * D / 2000", load.torque, "N·m", F=load.force, D=d),
    )  # fmt: skip


def following(cut: Pass, grade: Material, tool_material: str) -> tuple[Following, ...]:
    """What usually comes next, with what is known carried over."""
    across, left = f"{cut.finished:.9g} mm", units.settle(cut.finished)
    tool = {
        "material": grade.label, "tool_material": tool_material, "nose_radius": f"{cut.nose_radius:.9g} mm",
        "entering_angle": f"{cut.entering_angle:.9g}°",
    }  # fmt: skip
    found = []
    if left >= LEAST_BAR and units.settle(cut.diameter) >= LEAST_STOCK:
        typed = {"diameter": f"{cut.diameter:.9g} mm", "wanted": across, **tool}
        found.append(Following("pass_plan", "All cuts down to size", typed))
    if cut.load is not None and left >= LEAST_BAR and FEEDS[0] <= cut.feed <= FEEDS[1]:
        typed = {"diameter": across, "depth": f"{cut.depth:.9g} mm", "feed": f"{cut.feed:.9g} mm/rev", **tool}
        found.append(Following("push_off", "Does the bar give way?", typed))
    if cut.load is not None and _life_is_known(cut, grade, tool_material):
        typed = {"known": "class", "tool": TOOL_CLASSES[tool_material], "work": WORK[grade.iso_group],
                 "wanted_speed": f"{cut.cutting_speed:.4g} m/min"}  # fmt: skip
        found.append(Following("tool_life", "How long does the edge last?", typed))
    return (*found, Following("drilling", "What does the drill want?", {"material": grade.label}))


def _life_is_known(cut: Pass, grade: Material, tool_material: str) -> bool:
    """Whether the usual values of the tool's class reach to the speed of that cut."""
    work = WORK.get(grade.iso_group)
    if work is None:
        return False
    base = tool_life.class_known(tool_life.classes()[TOOL_CLASSES[tool_material]], work)
    slow, fast = (0.0, 0.0) if base is None else tool_life.reach(base)
    return units.settle(slow) <= units.settle(cut.cutting_speed) <= units.settle(fast)
