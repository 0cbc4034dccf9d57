"""Mating: will this shaft go into that bearing or that hub, and what is still to come off it?

Every size is brought to 20 °C first. A measured size counts with its measuring doubt, only an unmeasured bearing
with its tolerance, which lies below the nominal bore.
"""

from calc import draw
from calc.formulas import bearings, feel, instruments, iso286, joining, pairing, thermal
from calc.formulas.bearings import Bearing
from calc.formulas.iso286 import ToleranceClass
from calc.formulas.joining import Outer
from calc.formulas.pairing import Band, Pair, Reading, Wanted
from calc.formulas.thermal import CHOICES, MATERIALS
from calc.model import Choice, Following, InputError, Notation, Number, Result, Step, Table, Value, Verdict, calculation
from calc.units import figure, show, step, value

BELONGS_TO = 0.1  # share of the bore by which two parts may differ and still belong together
INTO = {"bearing": "a bearing's inner ring", "hub": "the bore of a hub"}
SNUG = ("push by hand", "tap", "press")  # what a ring that turns with its shaft should feel like


@calculation(
    title="Will it go together?",
    question="I have measured the shaft. Will it go into this bearing or this hub, and what must still come off?",
    inputs=(
        Number("shaft_reading", "Shaft reading", "length", "30.015 mm", 1, 500,
               "The largest reading over several places and angles."),
        Number("shaft_temperature", "Shaft temperature", "temperature", "38 °C", -20, 150,
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
    on_shaft = Reading("shaft_reading", shaft_reading, shaft_temperature, MATERIALS[shaft_material], instrument,
                       instrument_temperature, doubt)  # fmt: skip
    of_bore = None
    if bore_reading is not None:
        steel = MATERIALS["bearing steel" if ring else bore_material]
        of_bore = Reading("bore_reading", bore_reading, bore_temperature, steel, bore_instrument,
                          instrument_temperature, doubt, inside=True)  # fmt: skip
    bore, nominal = _bore(ring, bearing, precision, of_bore)
    pair = Pair(bore, on_shaft.at_20())
    if abs(pair.likely) > 1000 * BELONGS_TO * bore.size:
        apart = show(abs(pair.likely) / 1000, "length", 2)
        raise InputError(
            "shaft_reading",
            f"Shaft and bore differ by {apart}: they do not belong together. Check the readings and the bearing.",
        )
    outer = _outer(ring, bearing, bore, bore_material, hub_outside, hub_length)
    zone, mark = pairing.zone(wanted, nominal, bore) if wanted is not None else (None, "")
    if zone is not None and ring and wanted == feel.WORDS[-1]:
        raise InputError(
            "wanted", "A ring that must be heated sits tighter than 1/1000 of its bore, too much for it. Say press."
        )

    values, working = _sizes(pair, on_shaft, of_bore, bearing if ring else None)
    stop_at = None
    if zone is not None:
        stop_at = on_shaft.reads(zone.size)
        values[0:0] = _to_come_off(pair.shaft, zone, stop_at, str(wanted))
        working.append(
            step("to_remove = 1000 * (S - aim)", 1000 * (pair.shaft.size - zone.size), "µm", S=pair.shaft.size,
                 aim=zone.size)
        )  # fmt: skip
    joint = joining.join(-pair.least, bore.size, MATERIALS[shaft_material], outer)
    force = any(one.name == "press_force" for one in joint.values) and pair.likely < 0
    main = ("to_remove", "stop_reading", "clearance_likely") if zone else ("clearance_likely", "shaft_size")
    measured = on_shaft.material.sources + (of_bore.material.sources if of_bore else ())
    return Result(
        values=(*values, *joint.values),
        main=(*main, "press_force") if force and not zone else main,
        verdict=_verdict(pair, outer, wanted, zone, stop_at),
        working=(*working, *joint.working),
        cautions=(
            *thermal.too_warm("The shaft", shaft_temperature), *_ring_cautions(pair, ring),
            *(thermal.too_warm("The bore", bore_temperature) if of_bore else ()), *joint.cautions,
        ),
        assumptions=(*_assumptions(pair, on_shaft, of_bore, bearing if ring else None, wanted, nominal, mark),
                     *joint.assumptions),
        sources=tuple(dict.fromkeys((*measured, *_sources(on_shaft, of_bore, bearing if ring else None, wanted),
                                     *joint.sources))),
        picture=picture(pair, zone, str(wanted), bore.size if nominal is None else nominal),
        tables=(_how_sure(pair, of_bore is not None),),
        following=_following(on_shaft, bearing if ring else None, wanted, zone, nominal, pair),
    )  # fmt: skip
