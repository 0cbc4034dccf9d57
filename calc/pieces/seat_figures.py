"""The figures of a bearing seat, each named."""

from dataclasses import replace
from decimal import Decimal

from calc.formulas import seat_choice, seats
from calc.formulas.bearings import Bearing
from calc.formulas.seat_fit import SeatFit
from calc.formulas.seats import Need, Remaining
from calc.model import Value
from calc.tables import Row
from calc.units import show, value


def values(
    fit: SeatFit, fillet: Row | None, rough: Row | None, asked: Remaining | None, need: Need
) -> tuple[Value, ...]:
    """Everything that can be said of this seat; a figure that does not apply is left out."""
    return (
        *_seat(fit), *_interference(fit), *_bearing(fit.bearing), *_form(fit, rough), *_shoulder(fit, fillet),
        *_mounting(fit), *_clearance(asked), *_need(fit, need),
    )  # fmt: skip


def _bearing(bearing: Bearing) -> list[Value]:
    named = (
        ("bore", "Bore of the bearing", bearing.bore),
        ("outside_diameter", "Outside diameter", bearing.outside_diameter),
        ("width", "Width" if bearing.width_is == "B" else "Assembled width T", bearing.width),
        ("chamfer_min", "Chamfer, at least", bearing.chamfer_min),
    )
    return [
        replace(value(name, label, size, "length", _places(size)), also=show(size, "length", 4, unit="inch"))
        for name, label, size in named
        if size is not None
    ]


def _seat(fit: SeatFit) -> list[Value]:
    grade = fit.seat_class
    size = Decimal(repr(fit.size))
    ends = (("seat_max", "Seat, upper limit", fit.seat.upper), ("seat_min", "Seat, lower limit", fit.seat.lower),
            ("seat_aim", "Seat, middle to aim at", fit.seat.middle))  # fmt: skip
    return [
        *(_limit(name, label, size + deviation / 1000) for name, label, deviation in ends),
        Value("seat_class", "Seat class", float(grade.grade), "", str(grade)),
    ]


def _limit(name: str, label: str, exact: Decimal) -> Value:
    exponent = exact.as_tuple().exponent
    return value(name, label, float(exact), "length", min(6, max(3, -int(exponent))))


def _places(size: float) -> int:
    """As many decimals as the size has, up to a micrometre."""
    exponent = Decimal(f"{size:.9g}").normalize().as_tuple().exponent
    return min(4, max(0, -int(exponent)))


def _micrometres(name: str, label: str, number: Decimal) -> Value:
    exponent = number.normalize().as_tuple().exponent
    return value(name, label, float(number), "difference", max(0, -int(exponent)))


def _interference(fit: SeatFit) -> list[Value]:
    most, least = fit.extremes
    high, low = fit.probable
    return [
        _micrometres("interference_max", "Interference, greatest (negative is clearance)", most),
        _micrometres("interference_min", "Interference, least (negative is clearance)", least),
        _micrometres("probable_max", "Probable, greatest: 99 % band rounded outward (SKF)", high),
        _micrometres("probable_min", "Probable, least: 99 % band rounded outward (SKF)", low),
        value("probable_single", "Probable, one figure: a third from maximum material (Schaeffler)",
              float(fit.single), "difference"),
    ]  # fmt: skip


def _form(fit: SeatFit, rough: Row | None) -> list[Value]:
    grade = fit.seat_class.grade
    rows = [
        ("cylindricity", "Cylindricity, on radius", seat_choice.cylindricity(fit.part, fit.precision)),
        ("run_out", "Total radial run-out, on radius", seat_choice.run_out(fit.part, fit.precision, grade)),
        ("shoulder_run_out", "Run-out of the shoulder face",
         seat_choice.shoulder_run_out(fit.part, fit.precision, grade, fit.bearing)),
    ]  # fmt: skip
    found = []
    for name, label, row in rows:
        if row is not None:
            width, _ = seat_choice.share_of_grade(row.text("grade"), fit.size)
            found.append(_micrometres(name, f"{label} ({row.text('grade')})", width))
            if name == "cylindricity":
                found.append(_micrometres("cylindricity_diameter", "The same as a difference of diameters", 2 * width))
    if rough is not None:
        found.append(value("roughness", f"Roughness Ra, ground, grade {grade}", rough.number("Ra"), "roughness", 1))
    return found


def _shoulder(fit: SeatFit, fillet: Row | None) -> list[Value]:
    """Fillet and shoulder; of the two makers' heights the greater, which satisfies both."""
    if fillet is None:
        return []
    heights = [fillet.number(one) for one in ("shoulder_height_min_nsk", "shoulder_height_min_ntn") if fillet.has(one)]
    height = max(heights)
    shaft = fit.part == "shaft"
    diameter = Decimal(repr(fit.size)) + (2 if shaft else -2) * Decimal(repr(height))
    name, label = (
        ("shoulder_diameter_min", "Shoulder diameter, at least") if shaft
        else ("shoulder_diameter_max", "Shoulder diameter, at most")
    )  # fmt: skip
    return [
        value("fillet_max", "Fillet radius of the seat, at most", fillet.number("fillet_max"), "length", 2),
        value("shoulder_height_min", "Shoulder height, at least", height, "length", 2),
        value(name, label, float(diameter), "length", 1),
    ]


def _mounting(fit: SeatFit) -> list[Value]:
    most = fit.extremes[0]
    if most <= 0:
        return []
    found = [value("effective_interference", "Greatest interference, smoothed", fit.effective(most), "difference", 1)]
    pressure, on = fit.pressure(most), fit.force(most, seats.FRICTION_ON)
    if pressure is not None:
        found.append(value("pressure", "Pressure on the seat, tightest pair", pressure, "pressure"))
    if pressure is not None and fit.part == "shaft" and fit.ring_ratio is not None:
        found.append(value("hoop_stress", "Hoop stress in the ring", seats.hoop(pressure, fit.ring_ratio), "pressure"))
    off = fit.force(most, seats.FRICTION_OFF)
    if on is not None and off is not None:
        found.append(value("mounting_force", "Force to press on, tightest pair", on, "force"))
        found.append(value("removal_force", "Force to draw off", off, "force"))
    if fit.heat_to is not None:
        what = "bearing" if fit.part == "shaft" else "housing"
        found.append(value("mounting_temperature", f"Heat the {what} to at least", fit.heat_to[0], "temperature", 0))
    return found


def _clearance(asked: Remaining | None) -> list[Value]:
    if asked is None:
        return []
    return [
        value(
            "clearance_left_max", f"Radial clearance left, {asked.group}, likely most", asked.likely_max, "difference"
        ),
        value(
            "clearance_left_min", f"Radial clearance left, {asked.group}, likely least", asked.likely_min, "difference"
        ),
        value("clearance_left_worst", f"Radial clearance left, {asked.group}, worst pair", asked.worst, "difference"),
    ]


def _need(fit: SeatFit, need: Need) -> list[Value]:
    found = []
    if need.asked:
        found.append(value("interference_needed", "Interference needed, smoothed", need.total, "difference", 1))
        least = fit.effective(fit.probable[1])
        found.append(value("interference_kept", "Probable least interference, smoothed", least, "difference", 1))
    if fit.hollow:
        times = seats.hollow_need(fit.bearing, fit.hollow)
        found.append(value("hollow_ratio", "Interference against a solid shaft", times, "ratio", 2))
    return found
