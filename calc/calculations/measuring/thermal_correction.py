"""Thermal correction: the size at 20 °C of a part measured while it is warm, and what to read on it meanwhile.

The reading is put right for the instrument, then brought down to 20 °C with the part's own coefficient. The wait
until the part has settled is an estimate by lumped cooling of a long bar, and is left out where that fails.
"""

import math

from calc import draw
from calc.formulas import bearings, cooling, iso286, pairing, thermal
from calc.formulas.cooling import Wait
from calc.formulas.thermal import CHOICES, MATERIALS
from calc.model import Choice, Following, Number, Result, Step, Verdict, calculation
from calc.units import show, step, value


@calculation(
    title="Warm part",
    question="The part is still warm. What will it measure at 20 °C, and what should it read now?",
    inputs=(
        Number("reading", "Reading", "length", "30.02 mm", 0.1, 3150,
               "What the micrometer or gauge shows, before any correction."),
        Number("part_temperature", "Part temperature", "temperature", "38 °C", -20, 150,
               "Touch probe on the measured place; give it a minute to settle."),
        Choice("part_material", "Part material", CHOICES, thermal.PART_STEEL),
        Number("instrument_temperature", "Instrument temperature", "temperature", "20 °C", -20, 60,
               "Usually that of the room. A micrometer carried in the hand is warmer."),
        Choice("instrument_material", "Instrument material", CHOICES, thermal.INSTRUMENT_STEEL),
        Number("wanted_size", "Wanted size at 20 °C", "length", None, 0.1, 3150,
               "Gives the reading to stop at now. Leave empty when only the size is asked for.", optional=True),
        Number("air_temperature", "Air temperature", "temperature", "20 °C", -20, 45,
               "For how long to wait. The part settles at the air's temperature, not at 20 °C.", optional=True),
        Number("doubt", "Close enough", "difference", "2 µm", 0.1, 1000,
               "The wait is until the part is within this of its settled size.", optional=True),
    ),
    sources=("iso-1", "jcgm-100"),
    callouts=("{reading} @ {part_temperature}", "{reading} at {part_temperature}"),
)  # fmt: skip
def thermal_correction(
    reading: float, part_temperature: float, part_material: str, instrument_temperature: float,
    instrument_material: str, wanted_size: float | None, air_temperature: float | None, doubt: float | None,
) -> Result:  # fmt: skip
    """Lengths in mm, temperatures in °C, doubt and corrections in µm, waiting times in minutes."""
    part, tool = MATERIALS[part_material], MATERIALS[instrument_material]
    size = thermal.size_at_20(reading, part.alpha, part_temperature, tool.alpha, instrument_temperature)
    correction = 1000 * (size - reading)
    by_degree = 1000 * size * part.alpha
    of_part = thermal.correction_doubt(size, part.alpha, part.alpha_doubt, part_temperature)
    of_tool = thermal.correction_doubt(size, tool.alpha, tool.alpha_doubt, instrument_temperature)
    off = math.hypot(of_part, of_tool)
    given = {"alpha_p": part.alpha, "T_p": part_temperature, "alpha_i": tool.alpha, "T_i": instrument_temperature}

    values = [
        value("size_at_20", "Size at 20 °C", size, "length", 4),
        value("correction", "Correction to the reading", correction, "difference", 1, sign=True),
        value("correction_doubt", "Doubt of the correction, either way", off, "difference", 1),
        value("micrometres_per_degree", "One degree of doubt moves it by", by_degree, "difference", 2),
    ]
    working = [
        step("L_20 = R * (1 + alpha_i * (T_i - 20)) / (1 + alpha_p * (T_p - 20))", size, "mm", R=reading, **given),
        step("C = 1000 * (L_20 - R)", correction, "µm", L_20=size, R=reading),
        _doubt_step("U_p", of_part, size, part, part_temperature),
        _doubt_step("U_i", of_tool, size, tool, instrument_temperature),
        step("U = sqrt(U_p ** 2 + U_i ** 2)", off, "µm", U_p=of_part, U_i=of_tool),
    ]
    target = None
    if wanted_size is not None:
        target = thermal.reading_for(wanted_size, part.alpha, part_temperature, tool.alpha, instrument_temperature)
        over = 1000 * (size - wanted_size)
        values += [
            value("target_reading", "Reading to stop at now", target, "length", 4),
            value("over_wanted", "Above the wanted size at 20 °C", over, "difference", 1, sign=True),
        ]
        working += [
            step("R_stop = L_w * (1 + alpha_p * (T_p - 20)) / (1 + alpha_i * (T_i - 20))", target, "mm",
                 L_w=wanted_size, **given),
            step("over = 1000 * (L_20 - L_w)", over, "µm", L_20=size, L_w=wanted_size),
        ]  # fmt: skip
    wait = Wait()
    if air_temperature is not None and doubt is not None:
        wait = cooling.wait(size, part, part_temperature, air_temperature, doubt)
    return Result(
        values=(*values, *wait.values),
        main=("size_at_20", "target_reading") if target is not None else ("size_at_20",),
        verdict=_verdict(size, correction, wanted_size, target, doubt),
        working=(*working, *wait.working),
        cautions=(
            *thermal.too_warm("The part", part_temperature),
            *thermal.too_warm("The instrument", instrument_temperature),
            *wait.cautions,
        ),
        assumptions=(*_assumptions(part, tool), *wait.assumptions),
        sources=tuple(dict.fromkeys((*part.sources, *tool.sources, *wait.sources))),
        picture=picture(reading, size, part_temperature),
        following=_following(reading, size, part_temperature, part_material, wanted_size),
    )


def _doubt_step(name: str, result: float, size: float, material: thermal.Material, temperature: float) -> Step:
    return step(
        f"{name} = 1000 * L_20 * sqrt(((T - 20) * u_a) ** 2 + (alpha * u_T) ** 2)", result, "µm", material.name,
        L_20=size, T=temperature, u_a=material.alpha_doubt, alpha=material.alpha, u_T=thermal.TEMPERATURE_DOUBT,
    )  # fmt: skip


def _verdict(
    size: float, correction: float, wanted: float | None, target: float | None, doubt: float | None
) -> Verdict:
    close = 1.0 if doubt is None else doubt
    if wanted is not None and target is not None:
        over = 1000 * (size - wanted)
        if abs(over) <= close:
            return Verdict("good", f"On the wanted size at 20 °C, within {show(close, 'difference', 1)}.")
        side = "above" if over > 0 else "below"
        return Verdict(
            "mind",
            f"{show(abs(over), 'difference', 1)} {side} the wanted size at 20 °C: stop at a reading of "
            f"{show(target, 'length', 3)}.",
        )
    if abs(correction) <= close:
        return Verdict("good", f"Nothing to correct: the reading is within {show(close, 'difference', 1)} of 20 °C.")
    side = "more" if correction < 0 else "less"
    return Verdict("mind", f"It reads {show(abs(correction), 'difference', 1)} {side} than its size at 20 °C.")


def _assumptions(part: thermal.Material, tool: thermal.Material) -> list[str]:
    said = [
        f"The part is one temperature all through; each temperature is good to ±{thermal.TEMPERATURE_DOUBT:g} K.",
        "The coefficients hold near room temperature, to ± "
        f"{_millionths(part.alpha_doubt)} (part) and ± {_millionths(tool.alpha_doubt)} (instrument); "
        "how far they may be off is from memory.",
    ]
    if part.row.note:
        said.append(f"{part.name.capitalize()}: {part.row.note}.")
    return said


def _millionths(alpha: float) -> str:
    return f"{1e6 * alpha:.3g} µm/(m·K)"


def _following(
    reading: float, size: float, temperature: float, material: str, wanted: float | None
) -> tuple[Following, ...]:
    after = []
    nominal = pairing.nominal_near(size if wanted is None else wanted)
    if nominal in bearings.bores() and abs(size - nominal) < 1 <= reading:
        typed = {"shaft_reading": f"{reading:.9g} mm", "shaft_temperature": f"{temperature:.9g} °C",
                 "shaft_material": material, "bearing": f"{nominal:.9g} mm"}  # fmt: skip
        after.append(Following("mating", "Will it go into a bearing?", typed))
    if nominal is not None and nominal <= iso286.LARGEST:
        after.append(Following("fit", "What may it measure?", {"size": f"{nominal:.9g} mm"}))
    if 1 <= size <= 300:
        after.append(Following("as_found", "What standard size is it near?", {"readings": f"{size:.9g} mm"}))
    return tuple(after)


def picture(reading: float, size: float, temperature: float) -> str:
    """As it is now dashed, at 20 °C in full; the difference is drawn far larger than life."""
    cold = 40
    now = cold + (7 if reading > size else -7 if reading < size else 0)
    return draw.svg(
        340, 150, "The part as it reads now, dashed, and at 20 °C",
        draw.line(8, 72, 128, 72, "axis"),
        draw.box(16, 72 - now, 104, 2 * now, "hidden"),
        draw.box(16, 72 - cold, 104, 2 * cold, "line"),
        draw.upright(136, 72 - now, 72 + now, show(reading, "length", 4)),
        draw.label(142, 92, f"at {show(temperature, 'temperature', 1)}", class_="small"),
        draw.upright(236, 72 - cold, 72 + cold, show(size, "length", 4)),
        draw.label(242, 92, "at 20 °C", class_="small"),
        draw.label(16, 142, "the difference is not to scale", class_="small"),
    )  # fmt: skip
