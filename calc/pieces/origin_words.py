"""What has to be said with an answer about a worn place: cautions, what is assumed, and where it comes from."""

from collections.abc import Sequence
from decimal import Decimal

from calc.formulas.preferred import Size
from calc.formulas.worn import Origin
from calc.pieces.origins import micrometres
from calc.tables import table
from calc.units import show


def cautions(exact: Sequence[Decimal], least_worn: Decimal, raised: Size | None, hole: bool) -> tuple[str, ...]:
    """The first ones are about these readings, the others go with every repair."""
    found = []
    if exact[0] != least_worn:
        kind = "smaller" if hole else "larger"
        found.append(
            f"A later reading is {kind} than the first, and is taken as the least worn. Is it raised metal: a burr, "
            "punch marks, weld or rust? If so leave it out."
        )
    if raised is not None:
        off = micrometres(abs(least_worn - raised.millimetres) * 1000)
        found.append(
            f"If the place was punched, knurled, plated or welded before, {raised.text} is possible too: "
            f"the metal would stand {off} proud."
        )
    return (
        *found,
        "Before any build-up look for cracks with dye penetrant, above all in the fillet and at the keyway: a cracked "
        "part is made new.",
        "Earlier weld is hard in spots and may be cracked at the bead edge. Old plating may be chromium or cadmium: "
        "keep its dust and fumes out of the lungs, and do not weld, burn or dry-grind it.",
        "Welding fume, light and fire, hexavalent chromium in plating baths, and spray dust that burns: local rules, "
        "the maker's sheets and licensed practice come first.",
        "Where a life hangs on it (lifting, steering, brakes, pressure) the repair is for who is licensed for it.",
    )


def assumptions(best: Origin, doubt: float) -> tuple[str, ...]:
    """What the ranking rests on."""
    found = [
        "Wear only takes metal away, so the least worn reading bounds what the place was, give or take its doubt "
        f"of {show(doubt, 'difference', 1).replace('.0 ', ' ')}.",
        "The ranking is ours: what the least worn place would have lost, plus up to 0.28 mm for what is less often "
        "met; up to 1 mm or 2 % of wear is believed. Common practice, no source.",
        "ISO 497 and ISO/R 775 are quoted from memory; other sizes occur, above all in old or foreign machines.",
        "The readings are of a part at 20 °C (ISO 1).",
    ]
    if best.size.inch:
        found.append("Inch sizes are given the ISO 286 classes; the original may have had limits of its own.")
    if best.limits.note:
        found.append(best.limits.note)
    return tuple(found)


def sources(found: Sequence[Origin], hole: bool) -> tuple[str, ...]:
    """Keys of the lists of sizes, of the seat classes and of the repairs."""
    keys = [key for one in found for key in one.size.source]
    if any(one.seat for one in found):
        keys += ["skf-catalogue", "nsk-catalogue", "ntn-catalogue", "abma-7", "schaeffler-hr1"]
    part = "bore" if hole else "shaft"
    keys += [key for row in table("repair_methods") if part in row.text("part").split("+") for key in row.source]
    return tuple(dict.fromkeys(("iso-1", *keys)))
