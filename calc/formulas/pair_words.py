"""What to say of a measured shaft and its bore: the verdict, how sure it is, and which way the doubt lies.

The words for the hand are those of `feel`, common practice without a source.
"""

import math

from calc.formulas import feel, instruments, iso286, thermal
from calc.formulas.iso286 import ToleranceClass
from calc.formulas.joining import ELASTIC_TO, RING_CAREFUL, RING_CEILING, Joint
from calc.formulas.pair_figures import Case
from calc.formulas.pairing import Band, Wanted
from calc.model import Table, Verdict
from calc.units import figure, settle, show

SNUG = ("push by hand", "tap", "press")  # what a ring that turns with its shaft should feel like


def verdict(case: Case, joint: Joint) -> Verdict:
    """One sentence and its level: against what is wanted where that was said, else how the two go together."""
    if case.zone is not None and case.stop_at is not None:
        return _against(case.pair.shaft, case.zone, case.stop_at, _named(case.wanted))
    pair, size = case.pair, case.pair.bore.size
    tight, word = -pair.likely, pair.word(pair.likely)
    how_much = f"{_um(abs(tight))} {'tight' if tight > 0 else 'loose'}"
    most = RING_CEILING if case.outer.ring else ELASTIC_TO
    if tight > most * size:
        return Verdict("stop", f"Will not do: {how_much}, more than {most:g} µm for each mm. Take more off the shaft.")
    if word == feel.WORDS[-1] and not any(one.name == "hub_temperature" for one in joint.values):
        return Verdict("stop", f"Wants heat, {how_much}, but not as hot as it needs. Take more off the shaft.")
    loose = case.outer.ring and word not in SNUG
    after = " A ring that turns with the shaft will creep on it." if loose else ""
    if pair.sure:
        level = "mind" if loose or word == feel.WORDS[-1] else "good"
        return Verdict(
            level, f"{_capital(word)}, whichever way the doubt lies: {how_much}, {feel.MEANING[word]}.{after}"
        )
    best, share = max(pair.shares(), key=lambda one: one[1])
    first, last = pair.word(pair.most), pair.word(pair.least)
    return Verdict(
        "mind",
        f"Most likely {best} ({_share(share)}), {how_much}; the doubt goes from “{first}” to “{last}”.{after}",
    )


def _against(shaft: Band, zone: Band, stop_at: float, wanted: str) -> Verdict:
    under, over = 1000 * (zone.low - shaft.size), 1000 * (shaft.size - zone.high)
    if under > shaft.half:
        return Verdict(
            "stop",
            f"Undersize for {wanted} by {_um(under)}, and metal cannot be put back: build it up, sleeve it, or take "
            "another fit.",
        )
    if under > 0:
        return Verdict("mind", f"Looks {_um(under)} undersize for {wanted}, within the doubt: measure again, no cut.")
    if over > 0:
        aim = _um(1000 * (shaft.size - zone.size))
        return Verdict(
            "mind", f"Take off {aim} more on diameter for {wanted}: stop at a reading of {show(stop_at, 'length', 3)}."
        )
    if instruments.conforms(shaft.size, zone.low, zone.high, shaft.half / 1000):
        return Verdict("good", f"In {wanted}, the doubt counted in: nothing more to take off.")
    return Verdict("mind", f"In {wanted} by the reading, but ±{_um(shaft.half)} of doubt leaves it open.")


def how_sure(case: Case) -> Table:
    """The words that the doubt allows with their shares, and where the doubt comes from."""
    pair = case.pair
    shares = pair.shares()
    best = max(shares, key=lambda one: one[1])
    place = shares.index(best)
    # Settled, since plain sums of floats differ between versions of Python and a pair may lie just in the middle.
    looser, tighter = (settle(math.fsum(share for _, share in part)) for part in (shares[:place], shares[place + 1 :]))
    lies = "The doubt does not change the word."
    if looser or tighter:
        lies = f"If it is not “{best[0]}”, it is more likely {'tighter' if tighter > looser else 'looser'}."
    bore, shaft = pair.bore.half, pair.shaft.half
    of_bore = "of the bore's reading" if case.of_bore else "of the bearing's tolerance"
    remedy = "Measure the bore to narrow it." if bore > shaft and not case.of_bore else (
        "A finer instrument or steadier temperature narrows it." if shaft >= bore else ""
    )  # fmt: skip
    return Table(
        "How sure",
        ("In the hand", "Share"),
        tuple((word, _share(share)) for word, share in shares),
        f"{lies} Doubt: ±{_um(shaft)} of the shaft's reading, ±{_um(bore)} {of_bore}. {remedy}".strip(),
    )


def cautions(case: Case) -> tuple[str, ...]:
    """What a ring's tightness and warm parts call for."""
    said = list(thermal.too_warm("The shaft", case.on_shaft.temperature))
    if case.of_bore:
        said += thermal.too_warm("The outer part", case.of_bore.temperature)
    said += thermal.too_warm("The instrument", case.on_shaft.tool_temperature)
    tight, size = -case.pair.least, case.pair.bore.size
    if case.outer.ring and RING_CAREFUL * size < tight <= ELASTIC_TO * size:
        said.append(
            f"At the tightest {_um(tight)}: makers stop at {RING_CAREFUL:g} (NSK) or {RING_CEILING:g} (NTN) µm for "
            "each mm of bore. Check what is left of the radial clearance."
        )
    return tuple(said)


def assumptions(case: Case) -> tuple[str, ...]:
    """What the answer rests on, told where it is from memory or unconfirmed."""
    said = ["The words for the feel are common practice, no source."]
    readings = [case.on_shaft] + ([case.of_bore] if case.of_bore else [])
    for one in readings:
        if one.stated is None:
            tool = instruments.INSTRUMENTS[one.tool]
            standard = "DIN 862, its size steps unconfirmed" if tool.caliper else "DIN 863-1"
            part = "bore" if one.inside else "shaft"
            said.append(
                f"Doubt of the {part}: greatest error of the instrument by {standard}; how well a reading repeats "
                f"is common practice{', as is the error of the bore gauge itself' if tool.own_error else ''}."
            )
    said.append(
        f"Temperatures good to ±{thermal.TEMPERATURE_DOUBT:g} K; how far a coefficient may be off is from memory. "
        "One reading says nothing of ovality or taper: take several."
    )
    if case.bearing is not None:
        said.append(
            f"{_capital(case.bearing.shown)}: ring of bearing steel at 20 °C; its tolerance is that of the mean bore, "
            "a single reading may lie outside it."
        )
        if case.bearing.note:
            said.append(f"{_capital(case.bearing.note)}.")
        if case.bearing.inch:
            said.append("The bore's limits are assumed, not from a table.")
    if isinstance(case.wanted, ToleranceClass) and case.nominal is not None:
        said.append(f"{case.wanted} is taken at {case.nominal:.9g} mm.")
        if text := iso286.confirmation(case.mark, f"{case.wanted} at this size"):
            said.append(text)
    return tuple(said)


def _named(wanted: Wanted | None) -> str:
    return f"“{wanted}”" if isinstance(wanted, str) else str(wanted)


def _um(number: float) -> str:
    return show(number, "difference", 0 if number >= 9.95 else 1)


def _share(share: float) -> str:
    return (
        "under 1 in 100" if share < 0.01 else "over 99 in 100" if share > 0.99 else f"{figure(100 * share, 0)} in 100"
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
