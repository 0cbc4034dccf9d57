"""The figures of a plan of cuts, the working behind them, where they come from and what comes next."""

from calc.formulas import bearings, cutting, turning
from calc.formulas.cutting import ForceConstants
from calc.formulas.passes import FINISH, ROUGH, Cut, Plan
from calc.formulas.wanted_size import Wanted
from calc.formulas.work_materials import Found
from calc.model import Following, Step, Value
from calc.pieces.pass_words import Dial, size
from calc.units import settle, step, value


def values(
    plan: Plan, dial: Dial, wanted: Wanted, efficiency: float, total: float
) -> tuple[tuple[Value, ...], tuple[str, ...]]:
    """Every figure, and the names of those shown large: the next cut and its reading come first."""
    job = plan.job
    found = []
    if plan.along:
        found += _next_cut(plan, dial)
    left = job.start - job.target
    found += [
        value("left", "To come off the diameter", float(left), "length", 4, sign=left < 0),
        value("stop_reading", "Reading to stop at now", float(job.target), "length", 4),
        value("aim", "Size aimed at, at 20 °C", float(wanted.aim), "length", 4),
    ]
    if wanted.upper is not None and wanted.lower is not None:
        found += [
            value("size_max", "Upper limit of size", float(wanted.upper), "length", 4),
            value("size_min", "Lower limit of size", float(wanted.lower), "length", 4),
        ]
    if not plan.cuts:
        return tuple(found), ("left", "stop_reading")
    found += [
        value("total_time", "Time, handling included", total, "time", 1),
        value("cutting_time", "Of this cutting", plan.cutting_time, "time", 1),
        value("handling_time", "Of this handling", total - plan.cutting_time, "time", 1),
        value("cuts", "Cuts in all", len(plan.cuts), "count", 0),
        value("division_takes", "One division takes off the diameter", 1000 * float(dial.takes), "difference", 1),
    ]
    hardest = _hardest(plan)
    if hardest is not None:
        power = cutting.motor_power(hardest.one.cutting_power or 0.0, efficiency)
        found.append(value("power", "Most that a cut asks of the motor", power, "power"))
    found += _pushes(plan)
    if not plan.along:
        return tuple(found), ("left", "stop_reading", "total_time")
    finish = plan.of(FINISH)[-1].one
    found += [
        value("finish_ra", "Ra that finishing leaves at best", finish.ra, "roughness"),
        value("finish_rt", "Rt that finishing leaves at best", finish.rt, "roughness"),
    ]
    return tuple(found), ("next_diameter", "next_dial", "cuts", "total_time")


def _next_cut(plan: Plan, dial: Dial) -> list[Value]:
    following = plan.along[0]
    rough = plan.of(ROUGH)
    places = 3 if rough else len(size(following.after).partition(".")[2])
    found = [
        value("next_diameter", "Next cut, down to a reading of", float(following.after), "length", places),
        value("next_dial", "Divisions on the dial for it", float(dial.reading(following.after)), "count", 1),
        value("last_dial", "Divisions for the last cut", float(dial.reading(plan.job.target)), "count", 1),
    ]
    if rough:
        found += [
            value("roughing_cuts", "Roughing cuts", len(rough), "count", 0),
            value("roughing_depth", "Depth of each on radius", rough[0].depth, "length", 3),
        ]
    return found


def _pushes(plan: Plan) -> list[Value]:
    found = []
    labels = {ROUGH: "Push-off in roughing, on diameter, at most", FINISH: "In finishing, on diameter, at most"}
    for name, label in labels.items():
        cuts = plan.of(name)
        if cuts and cuts[-1].push is not None:
            push = max(one.push[0] for one in cuts if one.push is not None)
            found.append(value(f"push_{name}", label, 1000 * push, "difference", 1))
    return found


def _hardest(plan: Plan) -> Cut | None:
    """The cut that asks most of the motor; None where no force is known."""
    known = [one for one in plan.cuts if one.one.cutting_power is not None]
    return max(known, key=lambda one: settle(one.one.cutting_power or 0.0)) if known else None


def working(
    plan: Plan, dial: Dial, turned: float, efficiency: float, total: float, handling: float, alpha: float,
    temperature: float,
) -> tuple[Step, ...]:  # fmt: skip
    """The lines behind the figures; `turned` is the size to turn to at 20 °C, mm, `alpha` the expansion in 1/K."""
    job = plan.job
    target, start = float(job.target), float(job.start)
    lines = [
        step("W = S * (1 + alpha * (T - 20))", target, "mm", "to stop at, read at this temperature", S=turned,
             alpha=alpha, T=temperature),
        step("left = D - W", start - target, "mm", D=start, W=target),
    ]  # fmt: skip
    if not plan.cuts:
        return tuple(lines)
    rough = plan.of(ROUGH)
    if rough:
        end = float(rough[-1].after)
        lines.append(
            step("a = (D - E) / (2 * i)", rough[0].depth, "mm", "each roughing cut, on radius", D=start, E=end,
                 i=float(len(rough)))
        )  # fmt: skip
    first = plan.cuts[0]
    kind = turning.ROUGH if first.name == ROUGH else turning.FINISH
    fastest = cutting.spindle_speed(job.wanted[kind].speed, first.one.diameter)
    lines.append(
        step("n = 1000 * v / (pi * D)", fastest, "rev/min",
             f"{first.name}: of the lathe’s speeds, {first.one.speed:.6g} is at or below and the chuck stands it",
             v=job.wanted[kind].speed, D=first.one.diameter)
    )  # fmt: skip
    lines += _force(plan, efficiency)
    if plan.along:
        after = plan.along[0].after
        lines.append(
            step("N = N_0 + (D - d) / q", float(dial.reading(after)), "divisions", "the next cut",
                 N_0=float(dial.stands), D=float(dial.zero_at), d=float(after), q=float(dial.takes))
        )  # fmt: skip
    return (
        *lines,
        step("t = l / (n * f)", first.time, "min", f"{first.name}, run-in and run-out included", l=first.travel,
             n=first.one.speed, f=first.one.feed),
        step("total = t_c + c * t_h", total, "min", "all cuts, each with its handling", t_c=plan.cutting_time,
             c=float(len(plan.cuts)), t_h=handling),
    )  # fmt: skip


def _force(plan: Plan, efficiency: float) -> list[Step]:
    hardest, constants = _hardest(plan), plan.job.tool.constants
    if hardest is None or constants is None:
        return []
    one = hardest.one
    chip, force, power = one.chip, one.force or 0.0, one.cutting_power or 0.0
    specific = cutting.specific_force(constants, chip.thickness)
    lines = [
        step("k = k_1 / exp(m * log(h))", specific, "N/mm²", f"{hardest.name}, h the thickness of its chip",
             k_1=constants.kc11, m=constants.mc, h=chip.thickness),
        step("F = k * A * K", force, "N", k=specific, A=chip.area, K=one.correction),
        step("P = F * v / 60000 / e", cutting.motor_power(power, efficiency), "kW", "of the motor", F=force,
             v=one.cutting_speed, e=efficiency),
    ]  # fmt: skip
    if plan.along:
        finish = plan.of(FINISH)[-1]
        if finish.push is not None and finish.one.push is not None:
            most = finish.one.push[1]
            lines.append(
                step("y = F_p * c", 1000 * finish.push[0], "µm", "push-off in finishing, c on diameter for each newton",
                     F_p=most, c=1000 * finish.push[0] / most)
            )  # fmt: skip
    return lines


def sources(plan: Plan, wanted: Wanted, constants: ForceConstants | None) -> tuple[str, ...]:
    """Keys of what the figures rest on, besides what is declared."""
    found = [key for one in plan.job.wanted.values() for row in one.published for key in row.source]
    found += constants.source if constants is not None else ()
    found += ["iso-286-1", "iso-286-2"] if wanted.shaft else []
    found += ["hse-eis2"] if plan.job.polish else []
    return tuple(dict.fromkeys(found))


#: Groups of work materials as the correction of a warm part calls them; it knows no others.
EXPANDS = {
    "free-cutting": "low carbon steel", "low-carbon": "low carbon steel", "medium-carbon": "carbon steel",
    "high-carbon": "carbon steel", "alloy": "carbon steel", "alloy-hardened": "carbon steel",
    "alloy-hard": "carbon steel", "tool-steel": "gauge steel", "martensitic": "stainless steel 410",
    "free-martensitic": "stainless steel 410", "austenitic": "stainless steel 304",
    "free-austenitic": "stainless steel 304", "grey-iron": "grey cast iron", "aluminium": "aluminium 6061",
    "brass": "brass", "bronze": "bronze",
}  # fmt: skip


def following(
    plan: Plan, wanted: Wanted, temperature: float, found: Found, tool_material: str
) -> tuple[Following, ...]:  # fmt: skip
    """The look-ups that usually come next; `tool_material` as typed."""
    job, aim, material = plan.job, f"{float(wanted.aim):.9g} mm", found.carried
    reading = f"{float(job.target if plan.along else job.start):.9g} mm"
    warm = {"reading": reading, "part_temperature": f"{temperature:.9g} °C", "wanted_size": aim}
    expands = EXPANDS.get(found.material.speed_groups[0])
    fit = {"size": f"{float(wanted.nominal):.9g} mm", "hole": "" if wanted.shaft else "H7"}
    if wanted.shaft:
        fit["shaft"] = wanted.shaft
    after = [Following("fit", "What may it measure?", fit)]
    if expands is not None:
        same = {**warm, "part_material": expands}
        after.insert(0, Following("thermal_correction", "The part is warm: what is the reading worth?", same))
    if not plan.along:
        return (*after, *_mating(float(wanted.nominal), reading, temperature, expands))
    one = plan.along[0].one
    tool = {
        "material": material, "tool_material": tool_material, "depth": f"{one.depth:.9g} mm",
        "nose_radius": f"{one.nose_radius:.9g} mm", "entering_angle": f"{one.entering_angle:.9g}°",
    }  # fmt: skip
    bends = {
        **tool, "diameter": reading, "length": f"{job.bar.free:.9g} mm", "holding": job.bar.holding,
        "feed": f"{one.feed:.9g} mm/rev",
    }  # fmt: skip
    turned = {**tool, "diameter": f"{one.diameter:.9g} mm", "cut": turning.ROUGH if plan.of(ROUGH) else turning.FINISH}
    return (
        Following("turning", "The next cut: chip, force and finish", turned),
        *([Following("push_off", "Does the bar need a steady?", bends)] if job.tool.constants is not None else []),
        *after,
    )


def _mating(nominal: float, reading: str, temperature: float, expands: str | None) -> tuple[Following, ...]:
    """The finished seat as it was measured, into a bearing of its size; nothing where no bearing has that bore."""
    if nominal not in bearings.bores() or expands is None:
        return ()
    typed = {"shaft_reading": reading, "shaft_temperature": f"{temperature:.9g} °C", "shaft_material": expands,
             "bearing": f"{nominal:.9g} mm"}  # fmt: skip
    return (Following("mating", "Will it go into its bearing?", typed),)
