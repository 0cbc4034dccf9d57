"""As found: the standard size and class that a worn place once had, how much is missing, and how to bring it back.

There is no drawing, and the place is worn. But wear only takes away, so the least worn reading bounds what it was;
what is left open is ranked, and where two sizes lie close the answer says which measurement settles it.
"""

from collections.abc import Sequence
from decimal import Decimal

from calc.formulas import worn
from calc.formulas.preferred import Size
from calc.formulas.worn import Origin
from calc.model import (
    Choice,
    Following,
    InputError,
    Number,
    Numbers,
    OutsideTable,
    Result,
    Step,
    Value,
    Verdict,
    calculation,
)
from calc.pieces import origin_words, origins
from calc.pieces.origins import micrometres, places, tenths
from calc.units import show, step, value

APART = Decimal(1)  # mm; readings further apart than this are not of one worn place
CLOSE = Decimal(50)  # µm; sizes that rank nearer to one another than this are both named
RAISED = Decimal("0.1")  # mm that punch marks, knurling or an old repair are believed to stand proud
PROUD = Decimal("0.5")  # mm, the same where nothing else explains the reading
SETTLES = {
    "bearing": "read the number on the bearing or measure its ring",
    "plain": "measure the part that goes with it",
    "not known": "measure the part that sat there, or see whether the rest of the machine is in inches",
}


@calculation(
    title="As found",
    question="This place is worn. What size was it, how much is missing, and what can be done?",
    inputs=(
        Numbers("readings", "Readings", "length", "29.98; 29.91", 1, 500,
                "The least worn place first, such as beside the seat or under the collar, then the worst. "
                "Semicolons between."),
        Choice("part", "Worn part", {"shaft": "shaft", "bore": "bore"}, "shaft"),
        Choice("sat", "What sat there",
               {"bearing": "a bearing", "plain": "a plain fit", "not known": "not known"}, "bearing"),
        Number("doubt", "Doubt of a reading, either way", "difference", "10 µm", 0, 100,
               "About 5 µm with a micrometer, 30 µm with calipers."),
    ),
    sources=("iso-286-1", "iso-286-2", "shigley-sizes", "iso-3", "iso-497", "iso-775"),
    callouts=("{readings}",),
)  # fmt: skip
def as_found(readings: tuple[float, ...], part: str, sat: str, doubt: float) -> Result:
    """Readings in mm, doubt in µm; missing metal in µm on diameter."""
    hole = part == "bore"
    exact = [Decimal(repr(one)) for one in readings]
    low, high = min(exact), max(exact)
    if high - low > APART:
        raise InputError(
            "readings",
            f"The readings lie {show(float(high - low), 'length', 3)} apart, more than wear leaves on one place. "
            "Measure each diameter by itself, and leave out grooves and steps.",
        )
    least_worn, worst = (low, high) if hole else (high, low)
    found = worn.origins(least_worn, Decimal(repr(doubt)), hole=hole, seat=sat != "plain", plain=sat != "bearing")
    if not found:
        raise OutsideTable("readings", _nothing(least_worn, hole))
    best = found[0]
    by_size = _first_of_each_size(found)
    raised = worn.raised(least_worn, RAISED, hole=hole)
    if raised in [one.size for one in by_size]:
        raised = None
    size = best.size.millimetres
    most, least = best.missing(worst)
    short = max((worst - size) if hole else (size - worst), Decimal(0))
    return Result(
        values=(*_values(best, least_worn, most, least), *_readings(low, high, short)),
        main=("nominal_size", "wear_max"),
        verdict=_verdict(by_size, raised, sat, most, least),
        working=_working(best, worst, low, high, hole),
        cautions=origin_words.cautions(exact, least_worn, raised, hole),
        assumptions=origin_words.assumptions(best, doubt),
        sources=origin_words.sources(found, hole),
        picture=origins.picture(best, exact, hole),
        tables=(
            origins.sizes(by_size, least_worn, worst),
            origins.classes(found, least_worn, worst),
            origins.repairs(short, hole),
        ),
        following=_following(best, least_worn, hole),
    )


def _first_of_each_size(found: Sequence[Origin]) -> list[Origin]:
    return list({one.size.millimetres: one for one in reversed(found)}.values())[::-1]


def _nothing(reading: Decimal, hole: bool) -> str:
    side = "below" if hole else "above"
    proud = worn.raised(reading, PROUD, hole=hole)
    perhaps = f" If weld, plating or punch marks stand proud there, think of {proud.text}." if proud else ""
    return (
        f"No usual size lies within {show(float(worn.believed(reading)), 'length', 2)} {side} "
        f"{show(float(reading), 'length', 3)}. Check the readings, or measure the part that sat there.{perhaps}"
    )


def _values(best: Origin, least_worn: Decimal, most: Decimal, least: Decimal) -> list[Value]:
    nominal = float(best.size.millimetres)
    return [
        value("nominal_size", "It was most likely", nominal, "length", places(best.size.millimetres)),
        value("wear_max", "Missing at the worst place, at most", float(most), "difference", tenths(most)),
        value("wear_min", "Missing at the worst place, at least", float(least), "difference", tenths(least)),
        value("lost", "Missing at the least worn place, at least", float(best.lost), "difference", tenths(best.lost)),
        value("limit_max", f"Upper limit then, {best.one}", float(best.upper), "length", places(best.upper)),
        value("limit_min", f"Lower limit then, {best.one}", float(best.lower), "length", places(best.lower)),
    ]


def _readings(low: Decimal, high: Decimal, short: Decimal) -> list[Value]:
    spread = (high - low) * 1000
    return [
        value("spread", "Between largest and smallest reading", float(spread), "difference", tenths(spread)),
        value("short", "Worst place short of the nominal size", float(short * 1000), "difference",
              tenths(short * 1000)),
    ]  # fmt: skip


def _working(best: Origin, worst: Decimal, low: Decimal, high: Decimal, hole: bool) -> tuple[Step, ...]:
    size, upper, lower = float(best.size.millimetres), float(best.upper), float(best.lower)
    es, ei = ("ES", "EI") if hole else ("es", "ei")
    near, far = (lower, upper) if hole else (upper, lower)
    most, least = best.missing(worst)
    formulas = ("W - G_min", "W - G_max") if hole else ("G_max - W", "G_min - W")
    names = ("G_min", "G_max") if hole else ("G_max", "G_min")
    return (
        step(f"G_max = D + {es} / 1000", upper, "mm", **{"D": size, es: float(best.limits.upper)}),
        step(f"G_min = D + {ei} / 1000", lower, "mm", **{"D": size, ei: float(best.limits.lower)}),
        step(f"wear_max = max(0, 1000 * ({formulas[0]}))", float(most), "µm", "W is the worst reading",
             **{"W": float(worst), names[0]: near}),
        step(f"wear_min = max(0, 1000 * ({formulas[1]}))", float(least), "µm", "",
             **{"W": float(worst), names[1]: far}),
        step("spread = 1000 * (R_max - R_min)", float(high - low) * 1000, "µm", R_max=float(high), R_min=float(low)),
    )  # fmt: skip


def _verdict(by_size: Sequence[Origin], raised: Size | None, sat: str, most: Decimal, least: Decimal) -> Verdict:
    best, *others = by_size
    if sat == "bearing" and not best.ring and not best.size.inch:
        return Verdict("mind", f"{best.size.text} fits best, but no metric bearing here has that size: {SETTLES[sat]}.")
    was = f"a bearing seat of {best.size.text}" if best.seat else best.size.text
    if raised is not None and best.counted >= CLOSE:
        return Verdict("mind", f"{raised.text} with raised metal, or {best.size.text} worn: {SETTLES[sat]}.")
    rivals = [one.size.text for one in others if one.counted - best.counted < CLOSE][:2]
    if rivals:
        return Verdict("mind", f"{best.size.text} or {' or '.join(rivals)}: {SETTLES[sat]}.")
    if least == 0:
        return Verdict("good", f"Most likely {was}, and its worst place may still be within {best.one}.")
    missing = f"{micrometres(least).removesuffix(' µm')} to {micrometres(most)}"
    return Verdict("mind", f"Most likely {was}, with {missing} missing at the worst place.")


def _following(best: Origin, least_worn: Decimal, hole: bool) -> tuple[Following, ...]:
    size, reading = best.size.text, f"{least_worn} mm"
    classes = {"hole": str(best.one), "shaft": ""} if hole else {"hole": "", "shaft": str(best.one)}
    limits = Following("fit", "The limits to bring it back to", {"size": size, **classes})
    warm = Following("thermal_correction", "The part is warm: what is the reading worth?", {"reading": reading})
    if hole or not best.seat:
        return limits, warm
    return (
        Following("bearing_seat", "What the seat should be", {"bearing": size, "part": "shaft"}),
        Following("mating", "Will a bearing still hold on it?", {"shaft_reading": reading, "bearing": size}),
        limits,
    )
