"""The working of a bearing seat: every figure with what it comes from."""

from decimal import Decimal

from calc.formulas import seats
from calc.formulas.bearings import BALL
from calc.formulas.seat_fit import SeatFit
from calc.formulas.seats import Need, Remaining
from calc.model import Step
from calc.units import step


def working(fit: SeatFit, asked: Remaining | None, need: Need) -> tuple[Step, ...]:
    """Each line with its figures, in the order in which one follows from the other."""
    return (*_limits_steps(fit), *_probable_steps(fit), *_hollow_steps(fit), *_pressure_steps(fit),
            *_clearance_steps(fit, asked), *_need_steps(need))  # fmt: skip


def _limits_steps(fit: SeatFit) -> list[Step]:
    size, seat, ring = fit.size, fit.seat, fit.ring_limits
    exact = Decimal(repr(size))
    upper, lower = ("es", "ei") if fit.part == "shaft" else ("ES", "EI")
    high, low = float(seat.upper), float(seat.lower)
    most, least = (float(one) for one in fit.extremes)
    steps = [
        step(f"seat_max = d + {upper} / 1000", float(exact + seat.upper / 1000), "mm", **{"d": size, upper: high}),
        step(f"seat_min = d + {lower} / 1000", float(exact + seat.lower / 1000), "mm", **{"d": size, lower: low}),
    ]
    ring_low, ring_high = float(ring.lower), float(ring.upper)
    if fit.part == "shaft":
        return [
            *steps,
            step("interference_max = es - bore_lower", most, "µm", es=high, bore_lower=ring_low),
            step("interference_min = ei - bore_upper", least, "µm", ei=low, bore_upper=ring_high),
        ]
    return [
        *steps,
        step("interference_max = outside_upper - EI", most, "µm", outside_upper=ring_high, EI=low),
        step("interference_min = outside_lower - ES", least, "µm", outside_lower=ring_low, ES=high),
    ]


def _probable_steps(fit: SeatFit) -> list[Step]:
    most, least = fit.extremes
    ring, seat = fit.ring_limits.width, fit.seat.width
    high, low = seats.probable_exact(most, least, ring, seat)
    given = {"I_max": float(most), "I_min": float(least), "T_ring": float(ring), "T_seat": float(seat)}
    outward = "rounded outward to whole µm"
    spread = "sqrt(T_ring ** 2 + T_seat ** 2) / 2"
    return [
        step(f"band_top = (I_max + I_min) / 2 + {spread}", float(high), "µm", outward, **given),
        step(f"band_foot = (I_max + I_min) / 2 - {spread}", float(low), "µm", outward, **given),
        step("probable_single = I_max - (T_ring + T_seat) / 3", float(fit.single), "µm",
             "both a third from maximum material", I_max=float(most), T_ring=float(ring), T_seat=float(seat)),
    ]  # fmt: skip


def _hollow_steps(fit: SeatFit) -> list[Step]:
    outside = fit.bearing.outside_diameter
    if not fit.hollow or outside is None:
        return []
    d = fit.bearing.bore
    c = d / (0.3 * (outside - d) + d)
    return [
        step("c = d / (0.3 * (D - d) + d)", c, "", "ring ratio (SKF)", d=d, D=outside),
        step("hollow_ratio = (1 - c ** 2 * h ** 2) / (1 - h ** 2)", seats.hollow_need(fit.bearing, fit.hollow), "",
             "h is the bore of the shaft over its outside", c=c, h=fit.hollow),
    ]  # fmt: skip


def _pressure_steps(fit: SeatFit) -> list[Step]:
    most = fit.extremes[0]
    if most <= 0 or fit.heat_to is None:
        return []
    d, tight = fit.size, float(most)
    depth = seats.SMOOTHING[fit.finish]
    effective = fit.effective(most)
    steps = [
        step("I_eff = I_max * d / (d + s)", effective, "µm", f"s in mm, {fit.finish} (NSK)", I_max=tight, d=d, s=depth)
    ]
    pressure, force = fit.pressure(most), fit.force(most, seats.FRICTION_ON)
    if pressure is not None and fit.ring_ratio is not None:
        steps += [*_raceway_steps(fit), _pressure_step(fit, effective, pressure)]
    if pressure is not None and force is not None and fit.bearing.width is not None:
        steps.append(
            step(
                "mounting_force = mu * p * pi * d * B",
                force,
                "N",
                mu=seats.FRICTION_ON,
                p=pressure,
                d=d,
                B=fit.bearing.width,
            )
        )
    steps.append(
        step("mounting_temperature = t_room + I_max / 1000 / (alpha * d) + spare", fit.heat_to[0], "°C",
             "spare is 20 to 30 K", t_room=seats.ROOM, I_max=tight, alpha=seats.EXPANSION, d=d, spare=seats.MARGIN[0])
    )  # fmt: skip
    return steps


def _raceway_steps(fit: SeatFit) -> list[Step]:
    d, outside, raceway, ratio = fit.bearing.bore, fit.bearing.outside_diameter, fit.raceway, fit.ring_ratio
    if outside is None or raceway is None or ratio is None:
        return []
    n = 4.0 if fit.bearing.kind == BALL else 3.0
    note = "raceway of the inner ring (NTN)" if fit.part == "shaft" else "raceway of the outer ring (NTN)"
    if fit.part == "shaft":
        return [
            step("D_r = f * (n * d + D) / (n + 1)", raceway, "mm", note, f=1.05, n=n, d=d, D=outside),
            step("k = d / D_r", ratio, d=d, D_r=raceway),
        ]
    factor = 0.95 if fit.bearing.kind == BALL else 0.98
    return [
        step("D_r = f * (d + n * D) / (n + 1)", raceway, "mm", note, f=factor, n=n, d=d, D=outside),
        step("k = D_r / D", ratio, D_r=raceway, D=outside),
    ]


def _pressure_step(fit: SeatFit, effective: float, pressure: float) -> Step:
    given = {"E": seats.YOUNG, "I_eff": effective, "d": fit.size, "k": fit.ring_ratio or 0.0}
    if not fit.hollow:
        return step("p = E / 2 * (I_eff / 1000 / d) * (1 - k ** 2)", pressure, "MPa", "", **given)
    return step("p = E / 2 * (I_eff / 1000 / d) * (1 - k ** 2) * (1 - h ** 2) / (1 - k ** 2 * h ** 2)",
                pressure, "MPa", "", **given, h=fit.hollow)  # fmt: skip


def _clearance_steps(fit: SeatFit, asked: Remaining | None) -> list[Step]:
    if asked is None:
        return []
    low, high = (float(one) for one in asked.before)
    most, least = fit.lost(fit.probable)
    given = {"C_min": low, "C_max": high, "loss_max": most, "loss_min": least}
    share = "k" if not fit.hollow else "k * (1 - h ** 2) / (1 - k ** 2 * h ** 2)"
    steps = []
    if fit.ring_ratio is not None and fit.probable[0] > 0:
        ratios = {"k": fit.ring_ratio} | ({"h": fit.hollow} if fit.hollow else {})
        ratios |= {"d": fit.size, "s": seats.SMOOTHING[fit.finish]}
        steps = [
            step(f"loss_{end} = max(0, {share} * P_{end} * d / (d + s))", lost, "µm", "P is the probable interference",
                 **ratios, **{f"P_{end}": float(one)})
            for end, lost, one in (("max", most, fit.probable[0]), ("min", least, fit.probable[1]))
        ]  # fmt: skip
    middle = "(C_min + C_max - loss_max - loss_min) / 2"
    spread = "sqrt((C_max - C_min) ** 2 + (loss_max - loss_min) ** 2) / 2"
    return [
        *steps,
        step(f"clearance_left_max = {middle} + {spread}", asked.likely_max, "µm", "", **given),
        step(f"clearance_left_min = {middle} - {spread}", asked.likely_min, "µm", "", **given),
    ]


def _need_steps(need: Need) -> list[Step]:
    steps = []
    if need.load is not None and need.width is not None:
        steps.append(
            step("by_load = max(0.08 * sqrt(d * F / B), 0.02 * F / B)", need.by_load, "µm", "F in N (NSK, NTN)",
                 d=need.bore, F=need.load, B=need.width)
        )  # fmt: skip
    if need.warmer is not None:
        steps.append(step("by_warmth = 0.0015 * d * dT", need.by_warmth, "µm", "", d=need.bore, dT=need.warmer))
    if need.asked:
        steps.append(step("interference_needed = by_load + by_warmth", need.total, "µm", "",
                          by_load=need.by_load, by_warmth=need.by_warmth))  # fmt: skip
    return steps
