"""Limits and fit: the sizes that a hole class and a shaft class allow, and how the two go together.

All letters and grades of ISO 286 from 0 to 3150 mm. What the standard does not give is refused with the reason.
Where the standard's figure could not be confirmed in two printed extracts the answer says so.
"""

from decimal import Decimal
from functools import lru_cache

from calc import draw
from calc.formulas import feel, iso286
from calc.formulas.iso286 import Deviations, ToleranceClass
from calc.model import Following, InputError, Notation, Number, Refused, Result, Step, Value, Verdict, calculation
from calc.units import figure, settle, show, step, value

COMMON_HOLES = ("H7", "H8", "H6", "G7", "F8", "JS7", "K7", "M7", "N7", "P7", "H11")
COMMON_SHAFTS = ("k6", "h6", "g6", "k5", "j6", "js6", "m6", "n6", "p6", "f7", "h7", "s6", "h9", "h11")


@calculation(
    title="Limits and fit",
    question="What size may it be, and how will the two parts go together?",
    inputs=(
        Number("size", "Nominal size", "length", "30", 0, iso286.LARGEST,
               "The size on the drawing, without its limits.", above=True),
        Notation("hole", "Hole class", iso286.read_hole, r"[A-Z]{1,2} ?\d{1,2}", "H7",
                 "Capital letter and grade, such as H7. Leave empty when only the shaft matters.",
                 COMMON_HOLES, optional=True, complete=lambda started: _becoming(started, COMMON_HOLES)),
        Notation("shaft", "Shaft class", iso286.read_shaft, r"[a-z]{1,2} ?\d{1,2}", "k6",
                 "Small letter and grade, such as k6. Leave empty when only the hole matters.",
                 COMMON_SHAFTS, optional=True, complete=lambda started: _becoming(started, COMMON_SHAFTS)),
    ),
    sources=("iso-286-1", "iso-286-2"),
    callouts=(
        "{size} {hole}/{shaft}", "{size} {hole} {shaft}", "{size} {shaft}{hole=}", "{size} {hole}{shaft=}", "{size}",
    ),
)  # fmt: skip
def fit(size: float, hole: ToleranceClass | None, shaft: ToleranceClass | None) -> Result:
    """size in mm; limits in mm, deviations and clearances in µm, negative clearance is interference."""
    nominal = Decimal(repr(size))
    if hole is None and shaft is None:
        raise InputError("shaft", "Give a hole class, a shaft class or both, such as H7 and k6.")
    found: dict[str, Deviations] = {}
    problems = []
    for part, wanted in (("hole", hole), ("shaft", shaft)):
        if wanted is not None:
            try:
                found[part] = iso286.deviations(size, wanted)
            except iso286.NotInStandard as problem:
                problems.append(InputError(part, f"{wanted} at {show(size, 'length', _places(nominal))}: {problem}"))
    if problems:
        raise Refused(tuple(problems))

    values: list[Value] = []
    working: list[Step] = []
    assumptions: list[str] = []
    for part, wanted in (("hole", hole), ("shaft", shaft)):
        if wanted is not None:
            values += _limits(part, nominal, found[part])
            working += _working(part, nominal, found[part])
            assumptions += _confirmation(wanted, found[part])

    verdict = None
    if len(found) == 2:
        most = found["hole"].upper - found["shaft"].lower
        least = found["hole"].lower - found["shaft"].upper
        values += [
            _deviation("clearance_max", "Greatest clearance", most),
            _deviation("clearance_min", "Least clearance", least),
        ]
        es, ei = float(found["shaft"].upper), float(found["shaft"].lower)
        working += [
            step("clearance_max = ES - ei", float(most), "µm", ES=float(found["hole"].upper), ei=ei),
            step("clearance_min = EI - es", float(least), "µm", EI=float(found["hole"].lower), es=es),
        ]
        verdict = _verdict(size, float(most), float(least))
        assumptions.append(
            "The words for the feel are common practice, no source; the class of fit is that of ISO 286-1."
        )
    assumptions.append("Sizes hold at 20 °C (ISO 1). A warm part measures larger than it is.")
    return Result(
        values=tuple(values),
        main=tuple(f"{part}_{end}" for part in found for end in ("max", "min")),
        verdict=verdict,
        working=tuple(working),
        assumptions=tuple(assumptions),
        sources=("iso-1",),
        picture=picture(hole, shaft, tuple(found.items())),
        following=_following(nominal, hole, shaft, found),
    )


def _becoming(started: str, common: tuple[str, ...]) -> tuple[str, ...]:
    """The usual classes that begin so, else every letter of the standard that does, in grades 6 and 7."""
    letters = iso286.HOLE_LETTERS if common is COMMON_HOLES else iso286.SHAFT_LETTERS
    usual = tuple(one for one in common if one.startswith(started))
    return usual or tuple(f"{one}{grade}" for one in letters if one.startswith(started) for grade in (6, 7))


def _limits(part: str, nominal: Decimal, limits: Deviations) -> list[Value]:
    label = part.capitalize()
    return [
        _deviation(f"{part}_upper_deviation", f"{label}, upper deviation", limits.upper),
        _deviation(f"{part}_lower_deviation", f"{label}, lower deviation", limits.lower),
        _limit(f"{part}_max", f"{label}, upper limit", nominal + limits.upper / 1000),
        _limit(f"{part}_min", f"{label}, lower limit", nominal + limits.lower / 1000),
        _limit(f"{part}_aim", f"{label}, middle to aim at", nominal + limits.middle / 1000),
    ]


def _working(part: str, nominal: Decimal, limits: Deviations) -> list[Step]:
    upper, lower = ("ES", "EI") if part == "hole" else ("es", "ei")
    return [
        step(f"{part}_max = D + {upper} / 1000", float(nominal + limits.upper / 1000), "mm",
             **{"D": float(nominal), upper: float(limits.upper)}),
        step(f"{part}_min = D + {lower} / 1000", float(nominal + limits.lower / 1000), "mm",
             **{"D": float(nominal), lower: float(limits.lower)}),
    ]  # fmt: skip


def _confirmation(wanted: ToleranceClass, limits: Deviations) -> list[str]:
    return [text for text in (iso286.confirmation(limits.mark, f"{wanted} at this size"), limits.note) if text]


def _limit(name: str, label: str, size: Decimal) -> Value:
    return value(name, label, size, "length", _places(size))


@lru_cache(maxsize=256)  # the sizes of a range share theirs
def _deviation(name: str, label: str, deviation: Decimal) -> Value:
    return value(name, label, deviation, "difference", _decimals(deviation), sign=True)


def _places(size: Decimal) -> int:
    """Three decimals of a millimetre, more where the limit really falls between two micrometres."""
    return min(6, max(3, _decimals(size)))


def _decimals(number: Decimal) -> int:
    """How many decimals it takes to write a number, noughts at its end left out."""
    return len(f"{number.normalize():f}".partition(".")[2])


def _verdict(size: float, most: float, least: float) -> Verdict:
    loosest, tightest = feel.feel(most, size), feel.feel(least, size)
    hand = f"{feel.MEANING[loosest]}" if loosest == tightest else f"from “{loosest}” to “{tightest}”"
    if least >= 0:
        return Verdict("good", f"Clearance fit, {_from_to(least, most)} loose: {hand}.")
    if most <= 0:
        return Verdict("mind", f"Interference fit, {_from_to(-most, -least)} tight: {hand}.")
    return Verdict("mind", f"Transition fit, {_amount(most)} loose to {_amount(-least)} tight: {hand}.")


def _from_to(least: float, most: float) -> str:
    """Two amounts, their unit said once where it is the same."""
    (first, unit), (last, other) = (_amount(one).split(" ") for one in (least, most))
    return f"{first} to {last} {unit}" if unit == other else f"{first} {unit} to {last} {other}"


def _amount(difference: float) -> str:
    return show(difference, "difference", _decimals(settle(difference)))


def _following(
    nominal: Decimal, hole: ToleranceClass | None, shaft: ToleranceClass | None, found: dict[str, Deviations]
) -> tuple[Following, ...]:
    typed = f"{float(nominal):.9g} mm"
    part = "shaft" if shaft else "hole"
    aim = f"{float(nominal + found[part].middle / 1000):.9g} mm"
    after = [Following("thermal_correction", "The part is warm: what should it read now?", {"wanted_size": aim})]
    if shaft:
        bore = f"{float(nominal + found['hole'].middle / 1000):.9g} mm" if hole else typed
        pair = {"shaft_reading": aim, "into": "hub", "bore_reading": bore}
        after.append(Following("mating", "Will what I measured go together?", pair))
        after.append(Following("bearing_seat", "Is it a bearing seat?", {"bearing": typed}))
    return tuple(after)


@lru_cache(maxsize=128)  # as `_deviation`
def picture(
    hole: ToleranceClass | None, shaft: ToleranceClass | None, found: tuple[tuple[str, Deviations], ...]
) -> str:
    """Both tolerance zones on the zero line, to one scale."""
    ends = [float(end) for _, limits in found for end in (limits.upper, limits.lower)] + [0.0]
    top, bottom = max(ends), min(ends)
    scale = 110 / (top - bottom)
    zero = 30 + top * scale

    parts = [
        draw.line(20, zero, 330, zero, "axis"),
        draw.label(20, zero - 4 if top > 0 else zero + 14, "0"),
    ]
    places = {"hole": (60, hole), "shaft": (200, shaft)}
    for part, limits in found:
        x, wanted = places[part]
        upper, lower = zero - float(limits.upper) * scale, zero - float(limits.lower) * scale
        parts += [
            draw.box(x, upper, 52, lower - upper, part),
            draw.label(x + 26, (upper + lower) / 2 + 5, str(wanted), "middle", "strong"),
            draw.label(x + 58, upper - 3, figure(limits.upper, _decimals(limits.upper), sign=True)),
            draw.label(x + 58, lower + 13, figure(limits.lower, _decimals(limits.lower), sign=True)),
        ]
    title = " and ".join(f"{part} {places[part][1]}" for part, _ in found)
    parts.append(draw.label(20, 180, "deviations in µm from the nominal size, to scale", class_="small"))
    return draw.svg(340, 188, f"Tolerance zones of {title} on the zero line, in micrometres", *parts)
