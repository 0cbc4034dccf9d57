"""What is said of a cut towards the axis: how the speed falls, how the motor stands, and the picture of it."""

from calc import draw
from calc.formulas import cutting
from calc.formulas.cutting import WORN
from calc.formulas.inward import Inward
from calc.formulas.turning import Wanted
from calc.model import Step, Table, Value, Verdict
from calc.units import settle, show, step, value

CLEAR = 2.0  # mm of run-in, and of run-out in a bore; common practice
SHARES = (1.0, 0.75, 0.5, 0.25)
FAST_IN = "At constant cutting speed the spindle gains towards the centre: set its cap below what chuck and work stand."


def way_in(cut: Inward) -> Table:
    """Spindle and cutting speed at a few diameters on the way in."""
    at = [cut.outside * share for share in SHARES if settle(cut.outside * share) > settle(cut.inside)]
    if cut.constant and cut.inside < cut.turns_over < cut.outside:
        at = sorted({*at, cut.turns_over}, reverse=True)
    rows = [
        (show(one, "length", 2), show(cut.turns_at(one), "spindle_speed"), show(cut.speed_at(one), "cutting_speed", 1))
        for one in (*at, cut.inside)
    ]
    return Table("The way in", ("Diameter", "Spindle", "Cutting speed"), tuple(dict.fromkeys(rows)))


def force_values(force: float | None, cut: Inward, efficiency: float) -> list[Value]:
    """Force, torque and power at the outside, where they are greatest; none where no force is known."""
    if force is None:
        return []
    power = cutting.cutting_power(force, cut.cutting_speed)
    return [
        value("cutting_force", "Cutting force", force, "force"),
        value("torque", "Torque at the outside", cutting.torque(force, cut.outside), "torque"),
        value("power", "Power at the edge", power, "power"),
        value("motor_needed", "Power asked of the motor", cutting.motor_power(power, efficiency), "power"),
    ]


def working(cut: Inward, wanted: float, run_in: float, run_out: float) -> list[Step]:
    """Speed and time, as they were reckoned."""
    lines = [
        step("n_w = 1000 * v_w / (pi * D)", cutting.spindle_speed(wanted, cut.outside), "rev/min",
             "wanted; the step at or below it is taken", v_w=wanted, D=cut.outside),
        step("v = pi * D * n / 1000", cut.cutting_speed, "m/min", "at the outside", D=cut.outside, n=cut.first),
    ]  # fmt: skip
    ends = cutting.cutting_time(run_in, cutting.feed_rate(cut.feed, cut.first)) + cutting.cutting_time(
        run_out, cutting.feed_rate(cut.feed, cut.turns_at(cut.inside))
    )
    if cut.constant:
        between = min(max(cut.turns_over, cut.inside), cut.outside)
        lines += [
            step("D_c = D * n / n_c", cut.turns_over, "mm", "where the cap is met", D=cut.outside, n=cut.first,
                 n_c=cut.cap),
            step("t_c = pi * (D ** 2 - D_b ** 2) / (4000 * v * f) + (D_b - d) / (2 * f * n_c)", cut.time_in_cut, "min",
                 D=cut.outside, D_b=between, v=cut.cutting_speed, f=cut.feed, d=cut.inside, n_c=cut.cap),
        ]  # fmt: skip
    else:
        lines.append(step("t_c = (D - d) / (2 * f * n)", cut.time_in_cut, "min", D=cut.outside, d=cut.inside,
                          f=cut.feed, n=cut.first))  # fmt: skip
    lines.append(step("t = t_c + t_e", cut.time(run_in, run_out), "min", "t_e: run-in and run-out",
                      t_c=cut.time_in_cut, t_e=ends))  # fmt: skip
    return lines


def force_working(cut: Inward, specific: float, area: float, factor: float, efficiency: float) -> list[Step]:
    """Force and power, as they were reckoned."""
    force = cutting.cutting_force(specific, area, factor)
    power = cutting.cutting_power(force, cut.cutting_speed)
    return [
        step("F = k_c * A * c", force, "N", k_c=specific, A=area, c=factor),
        step("P = F * v / 60000", power, "kW", F=force, v=cut.cutting_speed),
        step("P_m = P / e", cutting.motor_power(power, efficiency), "kW", P=power, e=efficiency),
    ]


def against_motor(do: str, needed: float | None, motor: float, change: str) -> Verdict:
    """Whether the motor stands it, with `do` for what to set and `change` for what to change first."""
    if needed is None:
        return Verdict("mind", f"{do}; whether the motor stands it is not known.")
    asked = f"{show(needed, 'power')} of {show(motor, 'power')}"
    if settle(needed) > settle(motor):
        return Verdict("stop", f"The motor does not stand it, {asked}: {change}.")
    if settle(needed * WORN) > settle(motor):
        return Verdict("mind", f"{do}; the motor holds it with a sharp edge only, {asked}.")
    return Verdict("good", f"{do}; the motor stands it.")


def published(wanted: Wanted, what: str) -> Table:
    """The turning speeds that the speed was taken from."""
    rows = tuple(
        (one.material, _span(one.speed_min, one.speed_max, "cutting_speed", 0),
         "none" if one.feed_min is None or one.feed_max is None else _span(one.feed_min, one.feed_max, "feed", 2))
        for one in wanted.published
    )  # fmt: skip
    return Table(what, ("Printed for", "Speed", "Feed"), tuple(dict.fromkeys(rows)))


def _span(low: float, high: float, kind: str, decimals: int) -> str:
    return " to ".join(dict.fromkeys(show(one, kind, decimals) for one in (low, high)))


def speed_curve(cut: Inward, title: str) -> str:
    """Cutting speed against diameter, from the centre to the outside, each axis to its own scale."""
    left, right, foot, top = 48.0, 318.0, 150.0, 40.0
    most = cut.cutting_speed

    def place(diameter: float) -> tuple[float, float]:
        return (
            left + (right - left) * diameter / cut.outside,
            foot - (foot - top) * min(1.0, cut.speed_at(diameter) / most),
        )

    corners = [cut.inside, *([cut.turns_over] if cut.inside < cut.turns_over < cut.outside else []), cut.outside]
    start, end = place(cut.inside), place(cut.outside)
    parts = [
        draw.line(left, foot, right + 8, foot), draw.line(left, foot, left, top - 12),
        draw.path(*(place(one) for one in corners), class_="line"),
        draw.line(end[0], end[1], end[0], foot, "thin"), draw.line(left, top, right, top, "hidden"),
        draw.label(left, foot + 36, "cutting speed of the edge on its way in", class_="small"),
        draw.label(left + 6, top - 6, f"{show(most, 'cutting_speed', 1)} at the outside", class_="strong"),
        draw.label(right, foot + 18, f"Ø {show(cut.outside, 'length', 2)}", "end"),
        draw.label(left, foot + 18, "centre" if not cut.inside else "axis"),
    ]  # fmt: skip
    if cut.inside:
        parts.append(draw.line(start[0], start[1], start[0], foot, "thin"))
    return draw.svg(340, 192, title, *parts)
