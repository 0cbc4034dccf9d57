"""What a bearing seat's answer says in words: the verdict in the hand, the cautions, what was assumed."""

from decimal import Decimal

from calc.formulas import feel, iso286, seats
from calc.formulas.bearings import BALL, CYLINDRICAL, GROUPS, TAPER, Bearing
from calc.formulas.seat_choice import PRACTICES, Practice, Wanted
from calc.formulas.seat_fit import SeatFit
from calc.formulas.seats import Need, Remaining
from calc.model import Verdict
from calc.pieces.seat_tables import micrometres, tightness
from calc.tables import matching, step_for
from calc.units import figure, settle, show

LIGHT = ("push by hand", "tap")  # words of `feel` for which neither a heavy press nor heat is called for
THIN = ("618", "619")
#: Bounds of the makers' printed fit tables for metric taper rollers, in mm.
TAPER_BORE, TAPER_OUTSIDE = 30, 150


def against(
    fit: SeatFit,
    wanted: Wanted,
    asked: Remaining | None,
    left: tuple[Remaining, ...],
    need: Need,
    *,
    own_class: bool,
) -> list[tuple[str, str]]:
    """What speaks against this seat, worst first: (level, part of a sentence)."""
    found = [
        *_loose(fit, wanted, own_class),
        *_too_weak(fit, need),
        *_sliding(fit, wanted),
        *_clearance(asked, left),
    ]
    return sorted(found, key=lambda one: one[0] != "stop")


def verdict(fit: SeatFit, problems: list[tuple[str, str]]) -> Verdict:
    """How it goes on, and the first thing that speaks against it."""
    tight = tightness(*fit.extremes).replace(" tight", " µm tight").replace(" loose", " µm loose")
    said = f"{fit.seat_class}, {tight}: {_going_on(fit)}"
    if not problems:
        return Verdict("good", f"{said}.")
    level, first = problems[0]
    return Verdict(level, f"{said}; {first}.")


def _going_on(fit: SeatFit) -> str:
    most = fit.extremes[0]
    if most <= 0:
        return feel.MEANING[feel.feel(float(-most), fit.size)]
    if feel.feel(float(-most), fit.size) in LIGHT:
        return f"by hand, or with a light press on the {fit.ring} ring"
    push = f"press it {'on by the inner' if fit.part == 'shaft' else 'in by the outer'} ring"
    force = fit.force(most, seats.FRICTION_ON)
    if force is not None:
        push += f" with up to {_kilonewtons(force)}"
    low, high = fit.heat_to or (seats.ROOM, seats.ROOM)
    if fit.part == "housing":
        return f"{push}, or warm the housing to {_degrees(low)}"
    if settle(low) > settle(fit.ceiling):
        what = "a sealed bearing" if fit.bearing.sealed else "a bearing"
        return (
            f"{push}, cold, since heat would take {_degrees(low)} and {what} may have {_degrees(fit.ceiling)} at most"
        )
    return f"heat the bearing to {figure(low, 0)} to {_degrees(min(high, fit.ceiling))}, or {push}"


def _kilonewtons(force: float) -> str:
    return f"{figure(force / 1000, 1)} kN"


def _degrees(celsius: float) -> str:
    return show(celsius, "temperature", 0)


def _loose(fit: SeatFit, wanted: Wanted, own_class: bool) -> list[tuple[str, str]]:
    most, least = fit.extremes
    if wanted.load != "rotating" or least >= 0:
        return []
    if most <= 0:
        return [("stop", "under rotating load a loose ring creeps and wears its seat")]
    return [("mind", "under rotating load the loosest pair creeps")] if own_class else []


def _sliding(fit: SeatFit, wanted: Wanted) -> list[tuple[str, str]]:
    if not wanted.slides or fit.extremes[0] <= 0 or slides_inside(fit.bearing):
        return []
    return [("mind", "it has to slide, yet the tightest pair grips, so measure both")]


def _clearance(asked: Remaining | None, left: tuple[Remaining, ...]) -> list[tuple[str, str]]:
    if asked is None or not asked.likely_none:
        return []
    looser = [one.group for one in left if GROUPS.index(one.group) > GROUPS.index(asked.group) and not one.likely_none]
    remedy = f"take {looser[0]}" if looser else "and no group here is loose enough: take a looser seat"
    if settle(asked.likely_max) < 0:
        return [("stop", f"{asked.group} loses all its clearance, {remedy}")]
    return [("mind", f"{asked.group} can lose all its clearance, {remedy}")]


def _too_weak(fit: SeatFit, need: Need) -> list[tuple[str, str]]:
    if not need.asked:
        return []
    kept = fit.effective(fit.probable[1])
    if settle(kept) >= settle(need.total):
        return []
    return [
        (
            "mind",
            f"under that load it needs {micrometres(need.total, 1)} µm and can have {micrometres(kept, 1)} µm, "
            "take a tighter class",
        )
    ]


def slides_inside(bearing: Bearing) -> bool:
    """Whether the bearing takes up length inside itself, so that both rings may sit tight."""
    return bearing.kind == CYLINDRICAL and bearing.designation.split(" ")[0] in ("NU", "N")


# ---------------------------------------------------------------------------------------------- cautions


def cautions(fit: SeatFit, asked: Remaining | None, problems: list[tuple[str, str]]) -> tuple[str, ...]:
    """Short warnings that go with this seat, the problems that the verdict had no room for in front."""
    said = [f"{one[:1].upper()}{one[1:]}." for _, one in problems[1:]]
    most = fit.extremes[0]
    if most > 0:
        ring = fit.ring
        said.append(
            f"Push only on the {ring} ring, with a sleeve that fits it; never hammer, never push through the balls or "
            "rollers. Guard the press and wear eye protection: a hardened ring that cracks throws splinters."
        )
        said.append(
            "A heated bearing burns: gloves; induction heater, hot plate or oil bath with thermometer; no open flame. "
            "Local rules and the makers' instructions come first."
        )
    if fit.part == "shaft":
        bore = Decimal(repr(fit.size))
        if most > bore:
            said.append(
                "The tightest pair is over 1/1000 of the bore, more than NTN or NSK allow: aim at the low limit."
            )
        elif most > Decimal("0.7") * bore:
            said.append("The tightest pair is over 0.7/1000 of the bore, the most NSK allows (NTN 1/1000): aim low.")
    if asked is not None and not asked.likely_none and settle(asked.worst) < 0:
        said.append(
            f"The very worst pair would leave a {asked.group} bearing without clearance. Turn it by hand when it is on."
        )
    if fit.bearing.series in THIN:
        said.append("A thin ring takes the shape of its seat: keep the seat rounder than the form asks.")
    if fit.part == "housing" and fit.seat_class.letter not in ("F", "G", "H"):
        said.append("A split housing must not be tighter than H, K at the very most: it pinches the ring.")
    if most > 0 and fit.part == "housing":
        said.append(
            "A thin or light-alloy housing gives way: it wants a tighter class than a thick one of steel or iron."
        )
    if fit.bearing.kind == BALL and most > 0:
        said.append("Do not fit both rings of a ball bearing tight: one must be free to move along its seat.")
    return tuple(said)


# ------------------------------------------------------------------------------------------- assumptions


def assumptions(
    fit: SeatFit,
    wanted: Wanted,
    *,
    printed: Practice | None,
    load_given: bool,
    precision_given: bool,
    group: str,
    no_clearance: str,
    solid: iso286.ToleranceClass | None,
    fillet: bool,
    rough: bool,
) -> tuple[str, ...]:
    """What was taken for granted, and every figure that stands here less well confirmed."""
    bearing = fit.bearing
    said = [_class_taken(fit, wanted, printed, solid)]
    if not load_given:
        said.append(f"Load on the ring not given: {wanted.load} taken, as where the shaft turns under a steady pull.")
    said += [
        *_bearing(bearing),
        f"Precision class {fit.precision}{'' if precision_given else ' assumed'}: the limits are those of the mean "
        "diameter; one two-point reading may lie outside them.",
        *_width(fit),
    ]
    if fit.precision != "Normal":
        said.append("Where a class 6 or 5 bearing has to run very true, makers print closer seats than these.")
    if not bearing.radial:
        said += _taper(fit)
    if not fillet:
        said.append("The chamfer is not in the table: measure it, and keep the fillet of the shaft smaller.")
    elif bearing.kind == CYLINDRICAL:
        said.append(
            "The ring without flanges often has a smaller chamfer than the table's: measure it before the fillet "
            "is cut. Common practice, no source."
        )
    said.append("Form and run-out by SKF, counted on radius: a difference of diameters may be twice as large.")
    if not rough:
        said.append(f"No roughness is printed for grade {fit.seat_class.grade} seats.")
    elif fit.finish == "turned":
        said.append(
            "The roughness printed is that of a ground seat. Timken allows a turned roller bearing seat Ra 3.2 "
            "µm at most, and with a closer fit."
        )
    said += _physics(fit, group, no_clearance)
    said.append(iso286.confirmation(fit.seat.mark, f"{fit.seat_class} at this size"))
    said.append("Sizes hold at 20 °C. “Probable” is not guaranteed: about 1 pair in 100 lies outside the band.")
    return tuple(one for one in said if one)  # fmt: skip


def _class_taken(fit: SeatFit, wanted: Wanted, printed: Practice | None, solid: iso286.ToleranceClass | None) -> str:
    if printed is None:
        return f"Seat class {fit.seat_class} as you set it; no practice was asked."
    limits = printed.row.text("load_limit")
    where = f"{PRACTICES[printed.name]}: {printed.seat_class} for {wanted.load} load, {wanted.heaviness}"
    where += f" ({limits})" if limits else ""
    if solid is not None and solid != fit.seat_class:
        return (
            f"{where}; {fit.seat_class} instead, the shaft being hollow (SKF's method). Other practices stand beside."
        )
    return f"{where}. Other practices stand beside."


def _bearing(bearing: Bearing) -> list[str]:
    if not bearing.designation:
        said = ["Only the bore is known: an ordinary radial ball bearing is taken. Width, chamfer and clearance follow "
                "from the designation."]  # fmt: skip
        return [*said, f"Unconfirmed: {bearing.note}."] if bearing.note else said
    said = [f"{bearing.designation}: {bearing.note}."] if bearing.note else []
    if slides_inside(bearing):
        said.append(f"{bearing.designation} takes up length inside itself: both its rings may sit tight.")
    if bearing.mark == "M" and "memory" not in bearing.note:
        said.append(f"The dimensions of {bearing.designation} are unconfirmed, from memory of ISO 15.")
    return said


def _width(fit: SeatFit) -> list[str]:
    """How far the width may be off; shoulder spacing is never set from the nominal width."""
    bearing = fit.bearing
    if bearing.width is None:
        return []
    kind = "radial" if bearing.radial else "taper"
    row = step_for(matching("bearing_bore_tolerances", **{"kind": kind, "class": fit.precision}), bearing.bore)
    if row is None:
        return []
    prefix = "" if bearing.radial else "assembled_"
    off = [figure(row.number(f"{prefix}width_{end}"), 0, sign=True) for end in ("upper", "lower")]
    what = "width" if bearing.radial else "assembled width T"
    return [f"The {what} may be {off[0]}/{off[1]} µm: never set the distance of shoulders from the nominal width."]


def _taper(fit: SeatFit) -> list[str]:
    said = ["Metric taper rollers have their own, wider tolerances; they are counted here."]
    outside = fit.bearing.outside_diameter or 0.0
    if fit.bearing.bore <= TAPER_BORE or outside <= TAPER_OUTSIDE:
        said.append(f"The makers' printed fit tables do not hold for taper rollers up to {TAPER_BORE} mm bore or "
                    f"{TAPER_OUTSIDE} mm outside diameter; these figures differ from them on purpose.")  # fmt: skip
    return said


def _physics(fit: SeatFit, group: str, no_clearance: str) -> list[str]:
    said: list[str] = []
    if fit.extremes[0] > 0:
        said.append("Pressure, force, heat and lost clearance are estimates at the tightest pair: steel on steel, "
                    "friction 0.12 on and 0.18 off, 12.5 µm per m and K, room at 20 °C, 20 to 30 K spare.")  # fmt: skip
        if fit.part == "housing":
            said.append(
                "The housing is taken as thick and of steel, which makes force and lost clearance too high for others."
            )
        if fit.bearing.kind == TAPER:
            said.append("No raceway is published for taper rollers, so neither pressure nor force is given.")
    if no_clearance:
        said.append(no_clearance)
    elif fit.bearing.designation:
        said.append(f"Clearance group {group}. “Likely” joins both bands by the root of the sum of squares: our own "
                    "step after the rule of the fits, no source.")  # fmt: skip
    return said
