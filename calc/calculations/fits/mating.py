"""Mating: will this shaft go into that bearing or that hub, and what is still to come off it?

Every size is brought to 20 °C first. A measured size counts with its measuring doubt, only an unmeasured bearing
with its tolerance, which lies below the nominal bore.
"""

from dataclasses import replace

from calc import draw
from calc.formulas import bearings, feel, instruments, joining, pair_figures, pair_words, pairing, thermal
from calc.formulas.bearings import Bearing
from calc.formulas.joining import Joint
from calc.formulas.pair_figures import Case
from calc.formulas.pairing import Pair, Reading, Wanted
from calc.formulas.thermal import CHOICES, MATERIALS
from calc.model import Choice, Following, InputError, Notation, Number, Result, calculation
from calc.units import figure, show

BELONGS_TO = 0.1  # share of the bore by which two parts may differ and still belong together
INTO = {"bearing": "a bearing's inner ring", "hub": "the bore of a hub"}


@calculation(
    title="Will it go together?",
    question="I have measured the shaft. Will it go into this bearing or this hub, and what must still come off?",
    inputs=(
        Number("shaft_reading", "Shaft reading", "length", "30.009 mm", 1, 500,
               "The largest reading over several places and angles."),
        Number("shaft_temperature", "Shaft temperature", "temperature", "20 °C", -20, 150,
               "Touch probe on the seat; a part fresh from turning is warm."),
        Choice("shaft_material", "Shaft material", CHOICES, thermal.PART_STEEL),
        Choice("into", "It goes into", INTO, "bearing"),
        Notation("bearing", "Bearing", bearings.read_bearing_or_bore, bearings.PATTERN, "6206",
                 "Number on the ring, such as 6206, or its bore. Not needed for a hub.",
                 ("6206", "6205", "6204", "6306", "NU 206", "32206"), optional=True, complete=bearings.complete),
        Choice("precision", "Precision class", {one: one for one in bearings.PRECISIONS}, None,
               "Class of the bearing; as marked on it, else Normal.", optional=True),
        Number("bore_reading", "Bore reading", "length", None, 1, 500,
               "The smallest reading of the bore. For a bearing it takes the place of the tolerance.", optional=True),
        Number("bore_temperature", "Bore temperature", "temperature", "20 °C", -20, 150,
               "Of the hub or the ring when it was measured."),
        Choice("bore_material", "Hub material", CHOICES, thermal.PART_STEEL, "A bearing is taken as bearing steel."),
        Number("hub_outside", "Hub outside diameter", "length", None, 1, 2000,
               "For press force and stress.", optional=True),
        Number("hub_length", "Hub length", "length", None, 1, 2000, "Length of the joint, for press force.",
               optional=True),
        Choice("instrument", "Shaft measured with", instruments.OUTSIDE, "micrometer 0.001"),
        Choice("bore_instrument", "Bore measured with", instruments.INSIDE, "dial bore gauge"),
        Number("instrument_temperature", "Instrument temperature", "temperature", "20 °C", -20, 60,
               "Usually that of the room."),
        Number("doubt", "Doubt of a reading, either way", "difference", None, 0.1, 500,
               "Yours, in place of the one reckoned from the instrument.", optional=True),
        Notation("wanted", "Wanted", pairing.read_wanted, r"[a-z]{1,2} ?\d{1,2}", None,
                 f"A shaft class such as k5, or one of: {', '.join(feel.WORDS)}.", ("k5", "k6", "h6", *feel.WORDS),
                 optional=True),
    ),
    sources=("iso-1", "jcgm-100"),
    callouts=(
        "{shaft_reading} into {bearing}", "{shaft_reading} @ {shaft_temperature} into {bearing}",
        "{shaft_reading} into {bore_reading}{into=hub}",
        "{shaft_reading} @ {shaft_temperature} into {bore_reading}{into=hub}",
    ),
)  # fmt: skip
def mating(
    shaft_reading: float, shaft_temperature: float, shaft_material: str, into: str, bearing: Bearing | None,
    precision: str | None, bore_reading: float | None, bore_temperature: float, bore_material: str,
    hub_outside: float | None, hub_length: float | None, instrument: str, bore_instrument: str,
    instrument_temperature: float, doubt: float | None, wanted: Wanted | None,
) -> Result:  # fmt: skip
    """Lengths in mm, temperatures in °C; clearances, doubt and what is to come off in µm, interference negative."""
    ring = into == "bearing"
    held = bearing if ring else None
    on_shaft = Reading("shaft_reading", shaft_reading, shaft_temperature, MATERIALS[shaft_material], instrument,
                       instrument_temperature, doubt)  # fmt: skip
    outer_steel = MATERIALS["bearing steel" if ring else bore_material]
    of_bore = None
    if bore_reading is not None:
        of_bore = Reading("bore_reading", bore_reading, bore_temperature, outer_steel, bore_instrument,
                          instrument_temperature, doubt, inside=True)  # fmt: skip
    bore, nominal = pair_figures.bore_of(ring, held, precision, of_bore)
    if hub_outside is not None and not ring and hub_outside <= bore.size:
        raise InputError("hub_outside", f"Give a diameter larger than the bore, over {show(bore.size, 'length')}.")
    pair = Pair(bore, on_shaft.at_20())
    if abs(pair.likely) > 1000 * BELONGS_TO * bore.size:
        apart = show(abs(pair.likely) / 1000, "length", 2)
        raise InputError(
            "shaft_reading", f"Shaft and bore differ by {apart}: they do not belong together. Check what was read."
        )
    outer = joining.hub(outer_steel, hub_outside, hub_length)
    if ring:
        outer = joining.ring(held, outer_steel)
    case = Case(on_shaft, of_bore, held, outer, pair, nominal)
    if wanted is not None:
        if ring and wanted == "heat":
            raise InputError("wanted", "A ring so tight that it wants heat is past 1/1000 of its bore. Say press.")
        zone, mark = pairing.zone(wanted, nominal, bore)
        case = replace(case, wanted=wanted, zone=zone, mark=mark, stop_at=on_shaft.reads(zone.size))
    joint = joining.join(-pair.least, bore.size, on_shaft.material, outer)
    return Result(
        values=(*pair_figures.values(case), *joint.values),
        main=_main(case, joint),
        verdict=pair_words.verdict(case, joint),
        working=(*pair_figures.working(case), *joint.working),
        cautions=(*pair_words.cautions(case), *joint.cautions),
        assumptions=(*pair_words.assumptions(case), *joint.assumptions),
        sources=(*pair_figures.sources(case), *joint.sources),
        picture=picture(case),
        tables=(pair_words.how_sure(case),),
        following=_following(case),
    )


def _main(case: Case, joint: Joint) -> tuple[str, ...]:
    if case.zone is not None and case.pair.shaft.size < case.zone.low:
        return ("shaft_size", "wanted_min", "clearance_likely")
    if case.zone is not None:
        return ("to_remove", "stop_reading", "clearance_likely")
    forced = case.pair.likely < 0 and any(one.name == "press_force" for one in joint.values)
    return ("clearance_likely", "shaft_size", *(("press_force",) if forced else ()))


def _following(case: Case) -> tuple[Following, ...]:
    shaft, pair = case.on_shaft, case.pair
    warm = {"reading": f"{shaft.shown:.9g} mm", "part_temperature": f"{shaft.temperature:.9g} °C",
            "part_material": shaft.material.name}  # fmt: skip
    if case.zone is not None:
        warm["wanted_size"] = f"{case.zone.size:.9g} mm"
    after = [Following("thermal_correction", "What should it read while it is warm?", warm)]
    if case.bearing is not None:
        bore = f"{case.bearing.bore / 25.4:.9g} in" if case.bearing.inch else f"{case.bearing.bore:.9g} mm"
        after.append(
            Following("bearing_seat", "What should the seat be?", {"bearing": case.bearing.designation or bore})
        )  # fmt: skip
    elif case.nominal is not None:
        after.append(Following("fit", "What may the shaft measure?", {"size": f"{case.nominal:.9g} mm"}))
    after.append(Following("as_found", "What was it before it wore?", {"readings": f"{pair.shaft.size:.9g} mm"}))
    return tuple(after)


def picture(case: Case) -> str:
    """Bore and shaft as bands on one scale, each as wide as its tolerance or its doubt, the wanted band dashed."""
    pair, zone = case.pair, case.zone
    origin = pair.bore.size if case.nominal is None else case.nominal
    bands = [("bore", 22, pair.bore, "hole"), ("shaft", 130, pair.shaft, "shaft")]
    if zone is not None:
        bands.append((str(case.wanted), 238, zone, "hidden"))
    ends = [1000 * (end - origin) for _, _, band, _ in bands for end in (band.low, band.high)] + [0.0]
    top, scale = max(ends), 120 / (max(ends) - min(ends))
    zero = 42 + top * scale
    parts = [draw.line(6, zero, 334, zero, "axis"), draw.label(6, zero - 3, "0", class_="small")]
    for name, x, band, class_ in bands:
        upper, lower = (1000 * (end - origin) for end in (band.high, band.low))
        y, tall = zero - upper * scale, (upper - lower) * scale
        high, low = (y + 10, y + tall - 2) if tall >= 26 else (y + tall / 2 - 3, y + tall / 2 + 11)
        parts += [
            draw.box(x, y, 40, tall, class_),
            draw.line(x, y + tall / 2, x + 40, y + tall / 2, "thin"),
            draw.label(x + 20, 18, name, "middle", "strong"),
            draw.label(x + 44, high, figure(upper, 1, sign=True)),
            draw.label(x + 44, low, figure(lower, 1, sign=True)),
        ]
    note = f"µm from {show(origin, 'length', 3)}, to scale: what each may measure"
    parts.append(draw.label(6, 188, note, class_="small"))
    names = " and ".join(name for name, *_ in bands)
    return draw.svg(340, 194, f"Where {names} lie against one another, in micrometres", *parts)
