"""Bearing seat: the size, form and shoulder of the place a rolling bearing sits on, and how it is put there.

The ring that sees a rotating load gets interference; how much is a matter of published practice, and the practices
differ. They stand side by side, one is taken and named. The bearing's own tolerance lies below its nominal bore.
"""

from decimal import Decimal

from calc.formulas import bearings, seat_choice, seats
from calc.formulas.bearings import GROUPS, PATTERN, PRECISIONS, Bearing, NotInTable, complete, read_bearing_or_bore
from calc.formulas.iso286 import NotInStandard, ToleranceClass
from calc.formulas.seat_choice import PRACTICES, Practice, Wanted
from calc.formulas.seat_fit import SeatFit
from calc.formulas.seats import Remaining
from calc.model import Choice, Following, InputError, Notation, Number, OutsideTable, Refused, Result, calculation
from calc.pieces import seat_figures, seat_picture, seat_tables, seat_words, seat_working
from calc.units import figure

COMMON = ("6206", "6204", "6205", "6305", "6208", "NU 2311", "32208", "63/28", "61808", "30 mm")
COMMON_CLASSES = ("k5", "k6", "j6", "js6", "m5", "m6", "n6", "h6", "g6", "H7", "H6", "J7", "JS7", "K7", "M7", "N7")


@calculation(
    title="Bearing seat",
    question="What size do I turn the seat, and how does the bearing go on?",
    inputs=(
        Notation("bearing", "Bearing", read_bearing_or_bore, PATTERN, "6206",
                 "The number on the ring, such as 6206, NU 2311 or 63/28; or its bore, such as 30 mm.",
                 COMMON, complete=complete),
        Choice("part", "Seat on the", {"shaft": "shaft (inner ring)", "housing": "housing (outer ring)"}, "shaft"),
        Choice("load", "Load on this ring",
               {"usual": "as usual for this ring", "rotating": "rotating: it goes round the ring",
                "stationary": "stationary: always the same spot", "not known": "not known, or it changes"},
               "usual", "As usual is rotating on a shaft and stationary in a housing: the shaft turns under a "
               "steady pull."),
        Choice("heaviness", "How heavy", {one: one for one in ("light", "normal", "heavy", "very heavy")}, "normal",
               "Against the dynamic rating C: light up to about 0.05 C, heavy over about 0.12 C, very heavy with "
               "shocks."),
        Choice("precision", "Precision class", {one: one for one in PRECISIONS}, None,
               "Left empty: what the suffix says (P6, P5), else Normal.", optional=True),
        Choice("practice", "Practice", PRACTICES, "skf", "Whose published class is taken; all are shown."),
        Notation("seat_class", "Seat class instead", seat_choice.read_class, r"[a-z]{1,2} ?\d{1,2}", None,
                 "Only to set the class yourself: k5 on a shaft, H7 in a housing.", COMMON_CLASSES, optional=True),
        Choice("slides", "Must this ring slide along its seat?", {"no": "no", "yes": "yes"}, "no",
               "One bearing of a pair must be free to move as the shaft grows warm."),
        Choice("finish", "Finish of the seat", {one: one for one in seats.SMOOTHING}, "ground"),
        Number("hollow_bore", "Bore of a hollow shaft", "length", None, 0, 240, "Left empty: a solid shaft.",
               optional=True, above=True),
        Choice("clearance_group", "Clearance group", {one: one for one in GROUPS}, None,
               "Left empty: what the suffix says, else CN (Normal).", optional=True),
        Number("radial_load", "Radial load", "force", None, 0, 1_000_000,
               "To see whether the inner ring stays tight under it.", optional=True, above=True),
        Number("warmer", "Bearing warmer than its surroundings by", "temperature_difference", None, 0, 100,
               "To see whether the inner ring stays tight when warm.", optional=True),
    ),
    sources=("iso-492", "gost-520", "iso-286-1", "iso-286-2", "iso-1", "skf-catalogue", "nsk-catalogue",
             "ntn-catalogue", "schaeffler-hr1", "nke-catalogue"),
    callouts=("{bearing}", "{bearing} {clearance_group}", "{bearing}/{clearance_group}", "{bearing} {seat_class}",
              "{bearing} bearing", "bearing {bearing}", "{bearing} seat"),
)  # fmt: skip
def bearing_seat(
    bearing: Bearing, part: str, load: str, heaviness: str, precision: str | None, practice: str,
    seat_class: ToleranceClass | None, slides: str, finish: str, hollow_bore: float | None,
    clearance_group: str | None, radial_load: float | None, warmer: float | None,
) -> Result:  # fmt: skip
    """Lengths in mm, interferences and form in µm (interference positive), load in N, warmer in K."""
    refusals = [
        *_ring_problems(bearing, part, precision, seat_class, clearance_group),
        *_shaft_problems(bearing, part, hollow_bore, radial_load, warmer),
    ]
    if refusals:
        raise Refused(tuple(refusals))
    usual = "rotating" if part == "shaft" else "stationary"
    wanted = Wanted(part, usual if load == "usual" else load, heaviness, slides == "yes")
    precision_given = precision is not None or bearing.precision is not None
    precision = precision or bearing.precision or "Normal"
    hollow = hollow_bore / bearing.bore if hollow_bore else 0.0
    printed = None if seat_class else _printed(practice, bearing, wanted)
    solid = _fit(bearing, part, precision, seat_class or printed, finish, hollow)
    fit = _for_hollow(solid) if hollow and printed and wanted.load != "stationary" else solid

    group = clearance_group or bearing.clearance_group or "CN"
    left, no_clearance = _clearance(fit)
    asked = next((one for one in left if one.group == group), None)
    need = seats.Need(bearing.bore, bearing.width, radial_load, warmer)
    problems = seat_words.against(fit, wanted, asked, left, need, own_class=printed is None)
    fillet = seat_choice.fillet(bearing.chamfer_min) if bearing.chamfer_min is not None else None
    rough = seat_choice.roughness(part, fit.size, fit.seat_class.grade)
    practices, used = seat_tables.by_practice(solid, wanted, practice if printed else "")
    forms, form_rows = seat_tables.form(fit, wanted.load)
    rows = (*used, *form_rows, *(row for row in (fillet, rough) if row))
    return Result(
        values=seat_figures.values(fit, fillet, rough, asked, need),
        main=("seat_max", "seat_min"),
        verdict=seat_words.verdict(fit, problems),
        working=seat_working.working(fit, asked, need),
        cautions=seat_words.cautions(fit, asked, problems),
        assumptions=seat_words.assumptions(
            fit, wanted, printed=printed, load_given=load != "usual", precision_given=precision_given, group=group,
            no_clearance=no_clearance, solid=solid.seat_class, fillet=fillet is not None, rough=rough is not None,
        ),
        sources=(*bearing.source, *(("iso-5753-1",) if left else ()), *(key for row in rows for key in row.source)),
        picture=seat_picture.picture(fit, fillet),
        tables=(practices, *seat_tables.further(fit, left, group, rough, fillet), *((forms,) if form_rows else ())),
        following=_following(fit),
    )  # fmt: skip


# ------------------------------------------------------------------------------------------ what does not go


def _ring_problems(
    bearing: Bearing, part: str, precision: str | None, seat_class: ToleranceClass | None, group: str | None
) -> list[InputError]:
    problems: list[InputError] = []
    if part == "housing" and bearing.outside_diameter is None:
        problems.append(
            InputError("bearing", "The bore does not tell the outside diameter. Type the designation, such as 6206.")
        )
    if precision and bearing.precision not in (None, precision):
        problems.append(
            InputError("precision", f"The suffix says class {bearing.precision}. Choose that, or leave this empty.")
        )
    if seat_class and seat_class.hole != (part == "housing"):
        other, letters = (
            ("shaft", "capital letters: type H7") if part == "housing" else ("housing", "small letters: type k5")
        )
        problems.append(
            InputError("seat_class", f"{seat_class} is for a {other}. Classes of a {part} have {letters}, for example.")
        )
    elif seat_class and not 4 <= int(seat_class.grade) <= 10:
        problems.append(
            InputError(
                "seat_class", "A bearing seat has a grade from 4 to 10. Take 5 or 6 on a shaft, 6 or 7 in a housing."
            )
        )
    if group and bearing.clearance_group not in (None, group):
        problems.append(
            InputError(
                "clearance_group", f"The suffix says {bearing.clearance_group}. Choose that, or leave this empty."
            )
        )
    return problems


def _shaft_problems(
    bearing: Bearing, part: str, hollow_bore: float | None, radial_load: float | None, warmer: float | None
) -> list[InputError]:
    """A hollow shaft, the load and the warmth are reckoned for the inner ring only."""
    problems: list[InputError] = []
    given = {"hollow_bore": hollow_bore, "radial_load": radial_load, "warmer": warmer}
    if part == "housing":
        return [
            InputError(name, "This holds for the inner ring on a shaft only. Leave it empty for a housing.")
            for name, number in given.items()
            if number is not None
        ]
    if hollow_bore and bearing.outside_diameter is None:
        problems.append(InputError("hollow_bore", "This needs the outside diameter. Type the bearing's designation."))
    elif hollow_bore and Decimal(repr(hollow_bore)) > Decimal(repr(bearing.bore)) * seats.THINNEST:
        most = float(Decimal(repr(bearing.bore)) * seats.THINNEST)
        why = "a thinner wall is outside the published example"
        problems.append(InputError("hollow_bore", f"Give a value over 0 up to {most:g} mm, 0.8 of the seat: {why}."))
    if radial_load and (bearing.width is None or not bearing.radial):
        problems.append(
            InputError("radial_load", "The width of the inner ring is not known. Leave this empty, or type the "
                       "designation of a ball or cylindrical roller bearing.")
        )  # fmt: skip
    return problems


# -------------------------------------------------------------------------------------------- the choice


def _printed(practice: str, bearing: Bearing, wanted: Wanted) -> Practice:
    """What the practice prints; refused with what the others print where it prints nothing."""
    found = seat_choice.choose(practice, bearing, wanted)
    if found is not None:
        return found
    others = {name: seat_choice.choose(name, bearing, wanted) for name in PRACTICES}
    printed = [f"{PRACTICES[name]} {one.seat_class}" for name, one in others.items() if one]
    instead = f"Others do: {', '.join(printed)}." if printed else "Nor do the others here."
    raise OutsideTable(
        "practice",
        f"{PRACTICES[practice]} prints no class for {bearing.shown}, {wanted.part}, {wanted.load} load, "
        f"{wanted.heaviness}. {instead} Choose another, or set the class yourself.",
    )


def _fit(
    bearing: Bearing, part: str, precision: str, chosen: ToleranceClass | Practice | None, finish: str, hollow: float
) -> SeatFit:
    """The pair, once it is sure that the tables hold it."""
    seat_class = chosen.seat_class if isinstance(chosen, Practice) else chosen
    assert seat_class is not None
    fit = SeatFit(bearing, part, precision, seat_class, finish, hollow)
    try:
        _ = fit.ring_limits
    except NotInTable as problem:
        raise OutsideTable("bearing" if bearing.radial else "precision", str(problem)) from problem
    try:
        _ = fit.seat
    except NotInStandard as problem:
        raise OutsideTable("seat_class", f"{seat_class}: {problem}") from problem
    return fit


def _for_hollow(solid: SeatFit) -> SeatFit:
    """The tighter class that a hollow shaft needs for the grip of a solid one."""
    low, high = solid.ring_limits.lower, solid.ring_limits.upper
    times = seats.hollow_need(solid.bearing, solid.hollow)
    found = seat_choice.for_hollow(solid.size, solid.seat_class, (low + high) / 2, times)
    if found is None:
        raise OutsideTable(
            "hollow_bore",
            f"So thin a shaft needs {figure(times, 1)} times the interference, and no class up to r6 gives that. Plug "
            "the bore under the seat, or set the class yourself.",
        )
    return SeatFit(solid.bearing, solid.part, solid.precision, found, solid.finish, solid.hollow)


def _clearance(fit: SeatFit) -> tuple[tuple[Remaining, ...], str]:
    """What is left by group, or why nothing can be said."""
    if not fit.bearing.designation:
        return (), "What is left of the radial clearance follows from the designation."
    try:
        groups = bearings.radial_clearance(fit.bearing.kind, fit.bearing.bore)
    except NotInTable as problem:
        return (), str(problem)
    return seats.remaining(groups, fit.lost(fit.extremes), fit.lost(fit.probable)), ""


def _following(fit: SeatFit) -> tuple[Following, ...]:
    aim = f"{float(Decimal(repr(fit.size)) + fit.seat.middle / 1000):.9g} mm"
    size, seat_class = f"{fit.size:.9g} mm", str(fit.seat_class)
    shaft = fit.part == "shaft"
    warm = Following("thermal_correction", "The seat is warm: what should it read now?", {"wanted_size": aim})
    classes = {"hole": "", "shaft": seat_class} if shaft else {"hole": seat_class, "shaft": ""}
    plain = Following("fit", "The limits of the class alone", {"size": size, **classes})
    if not shaft:
        return warm, plain
    bearing = fit.bearing.designation or size
    return Following("mating", "Will the seat I measured do?", {"shaft_reading": aim, "bearing": bearing}), warm, plain
