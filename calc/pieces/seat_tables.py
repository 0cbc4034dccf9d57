"""The tables under a bearing seat: what each practice prints, form and finish, shoulder, mounting, clearance left."""

from decimal import Decimal

from calc.formulas import seat_choice, seats
from calc.formulas.iso286 import Deviations, NotInStandard, ToleranceClass
from calc.formulas.seat_choice import PRACTICES, Practice, Wanted
from calc.formulas.seat_fit import SeatFit
from calc.formulas.seats import Remaining
from calc.model import Table
from calc.tables import Row
from calc.units import figure, show


def micrometres(number: Decimal | float, places: int = 0) -> str:
    """A figure in µm without its unit; half micrometres are kept."""
    if isinstance(number, Decimal) and number != number.to_integral_value():
        places = max(places, 1)
    return figure(number, places)


def limit(size: float, deviation: Decimal) -> str:
    """A limit of size in mm without its unit, to the micrometre or to where the deviation ends."""
    exact = Decimal(repr(size)) + deviation / 1000
    exponent = exact.as_tuple().exponent
    return figure(exact, max(3, min(6, -int(exponent))))


def tightness(most: Decimal, least: Decimal) -> str:
    """ "2 to 21 tight", "19 loose to 7 tight", "0 to 34 loose"."""
    if least >= 0:
        return f"{micrometres(least)} to {micrometres(most)} tight"
    if most <= 0:
        return f"{micrometres(-most)} to {micrometres(-least)} loose"
    return f"{micrometres(-least)} loose to {micrometres(most)} tight"


def by_practice(fit: SeatFit, wanted: Wanted, taken: str) -> tuple[Table, tuple[Row, ...]]:
    """What every practice prints for this ring and load, and the rows it comes from."""
    rows: list[tuple[str, ...]] = []
    used: list[Row] = []
    for name, shown in PRACTICES.items():
        found = seat_choice.choose(name, fit.bearing, wanted)
        if found is None:
            rows.append((shown, "none printed", "", "", ""))
            continue
        used.append(found.row)
        for place, one in enumerate((found.seat_class, *found.others)):
            remark = "" if place else _remark(found, name == taken)
            rows.append(_class_row(fit, shown if not place else f"{shown}, or", one, remark))
        for special in seat_choice.special_cases(name, fit.bearing, wanted):
            rows.append(_class_row(fit, shown, special.seat_class, special.condition))
    return Table(
        "Seat class by published practice",
        ("Practice", "Class", "Limits mm", "Fit µm", "Remark"),
        tuple(rows),
        "The practices differ and are not merged. Fit counts the whole tolerance of ring and seat.",
    ), tuple(used)


def _class_row(fit: SeatFit, shown: str, seat_class: ToleranceClass, remark: str) -> tuple[str, ...]:
    other = SeatFit(fit.bearing, fit.part, fit.precision, seat_class, fit.finish, fit.hollow)
    try:
        seat: Deviations = other.seat
    except NotInStandard:
        return (shown, str(seat_class), "not in ISO 286 here", "", remark)
    limits = f"{limit(other.size, seat.upper)} /\u00a0{limit(other.size, seat.lower)}"  # breaks once, before the stroke
    return (shown, str(seat_class), limits, tightness(*other.extremes), remark)


def _remark(found: Practice, taken: bool) -> str:
    limits = found.row.text("load_limit")
    return "; ".join(part for part in ("taken here" if taken else "", limits) if part)


def form(fit: SeatFit, load: str) -> tuple[Table, tuple[Row, ...]]:
    """Form and run-out as the other practices print them."""
    rows = seat_choice.other_forms(fit.part, load, fit.precision)
    listed = []
    for row in rows:
        grade = row.text("grade")
        width, _ = seat_choice.share_of_grade(grade, fit.size)
        shown = f"{micrometres(width)} ({grade})"
        if row.has("alternative"):
            other, _ = seat_choice.share_of_grade(row.text("alternative"), fit.size)
            shown = f"{shown} to {micrometres(other)} ({row.text('alternative')})"
        on = row.text("measured_on")
        unsure = ", from memory" if row.mark("grade") == "M" else ""
        listed.append(
            (row.text("feature"), shown, f"on {on}" if on in ("radius", "diameter") else on, _who(row) + unsure)
        )
    return Table("Form by the other practices", ("What", "µm", "How", "By"), tuple(listed)), rows


def _who(row: Row) -> str:
    names = {"nsk-catalogue": "NSK", "ntn-catalogue": "NTN", "schaeffler-hr1": "Schaeffler HR 1"}
    return ", ".join(names.get(key, key) for key in row.source)


def shoulder(fit: SeatFit, row: Row) -> Table:
    """Fillet, shoulder height by both makers, and the relief to cut instead of a fillet."""
    listed = [("Fillet radius, at most", show(row.number("fillet_max"), "length", 2), "NSK, NTN")]
    for maker in ("nsk", "ntn"):
        if row.has(f"shoulder_height_min_{maker}"):
            height = row.number(f"shoulder_height_min_{maker}")
            listed.append(("Shoulder height, at least", show(height, "length", 2), maker.upper()))
    if row.has("relief_depth"):
        relief = [show(row.number(f"relief_{what}"), "length", 1) for what in ("width", "depth", "radius")]
        listed.append(("Relief instead of a fillet", "{} wide, {} deep, radius {}".format(*relief), "NSK, NTN"))
    return Table(f"Shoulder and fillet of the {fit.part}", ("What", "Figure", "By"), tuple(listed))


def smoothing(fit: SeatFit, roughness: float | None) -> Table:
    """What the makers count off the greatest interference, side by side."""
    most = float(fit.extremes[0])
    rows = [
        ("NSK, ground", micrometres(seats.effective(most, fit.size, "ground"), 1)),
        ("NSK, turned", micrometres(seats.effective(most, fit.size, "turned"), 1)),
        ("NTN, ground: 1 to 2.5 less", f"{_left(most, 2.5)} to {_left(most, 1.0)}"),
        ("NTN, turned: 5 to 7 less", f"{_left(most, 7.0)} to {_left(most, 5.0)}"),
    ]
    if roughness is not None:
        rows.append((f"NKE, 0.4 of Ra {figure(roughness, 2)}", _left(most, 0.4 * roughness)))
    return Table(
        "What smoothing leaves of the greatest interference", ("Source", "µm"), tuple(rows),
        f"Taken here: NSK, {fit.finish}. All are estimates.",
    )  # fmt: skip


def _left(most: float, less: float) -> str:
    return micrometres(max(0.0, most - less), 1)


def clearance(fit: SeatFit, left: tuple[Remaining, ...], asked: str) -> Table:
    """Radial clearance by group, before and after."""
    rows = tuple(
        (
            f"{one.group} (asked)" if one.group == asked else one.group,
            f"{micrometres(one.before[0])} to {micrometres(one.before[1])}",
            f"{micrometres(one.likely_min)} to {micrometres(one.likely_max)}",
            f"{micrometres(one.worst)} to {micrometres(one.best)}",
        )
        for one in left
    )
    low, high = (figure(share * 100, 0) for share in fit.shares)
    share = low if low == high else f"{low} to {high}"
    outer = seats.raceway(fit.bearing, "outer")
    warm = ""
    if outer is not None:
        cool, hot = (micrometres(seats.lost_by_hot_ring(outer, warmer)) for warmer in (5.0, 10.0))
        warm = f", and an inner ring running 5 to 10 K warmer than the outer takes {cool} to {hot} µm"
    return Table(
        "Radial clearance left in the bearing, µm",
        ("Group", "Before", "Left, likely", "Left, worst to best pair"),
        rows,
        f"{share} % of the effective interference is counted as lost. A tight fit of the other ring takes more{warm}.",
    )


def further(
    fit: SeatFit, left: tuple[Remaining, ...], group: str, rough: Row | None, fillet: Row | None
) -> tuple[Table, ...]:
    """The tables that apply besides that of the practices."""
    found = [clearance(fit, left, group)] if left else []
    if fillet is not None:
        found.append(shoulder(fit, fillet))
    if fit.extremes[0] > 0:
        found.append(smoothing(fit, rough.number("Ra") if rough is not None else None))
    return tuple(found)
