"""The figures of a measured shaft and its bore: values, working and sources, all from one record of the pair."""

from dataclasses import dataclass

from calc.formulas import pairing
from calc.formulas.bearings import Bearing
from calc.formulas.iso286 import ToleranceClass
from calc.formulas.joining import Outer
from calc.formulas.pairing import Band, Pair, Reading, Wanted
from calc.model import CalcError, InputError, Step, Value
from calc.units import show, step, value

RING_OFF = 0.1  # mm by which a bearing's bore may read off its nominal size and still be that bearing


@dataclass(frozen=True)
class Case:
    """Everything known of one pair. `bearing` is None for a hub, `zone` and `stop_at` when nothing is wanted."""

    on_shaft: Reading
    of_bore: Reading | None
    bearing: Bearing | None
    outer: Outer
    pair: Pair
    nominal: float | None
    wanted: Wanted | None = None
    zone: Band | None = None
    mark: str = ""
    stop_at: float | None = None


def bore_of(
    ring: bool, bearing: Bearing | None, precision: str | None, of_bore: Reading | None
) -> tuple[Band, float | None]:
    """The bore at 20 °C, and the nominal size a shaft class is taken at."""
    if of_bore is not None:
        bore = of_bore.at_20()
        if bearing is None:
            return bore, pairing.nominal_near(bore.size)
        if abs(bore.size - bearing.bore) > RING_OFF:
            raise InputError(
                "bore_reading",
                f"{bearing.shown} has a bore of {show(bearing.bore, 'length')}; this is another. Correct either, or "
                "choose a hub.",
            )
        return bore, bearing.bore
    if not ring:
        raise InputError("bore_reading", "Give the bore of the hub as measured, such as 30.012 mm.")
    if bearing is None:
        raise InputError("bearing", "Give the bearing, such as 6206, or its measured bore.")
    try:
        return pairing.bearing_bore(bearing, precision or bearing.precision or "Normal"), bearing.bore
    except CalcError as problem:
        raise InputError("precision", str(problem)) from problem


def values(case: Case) -> tuple[Value, ...]:
    """What is wanted first, if anything is, then the clearances and both sizes."""
    return (*_wanted_values(case), *_values(case.pair))


def _values(pair: Pair) -> tuple[Value, ...]:
    return (
        _um("clearance_likely", "Likely clearance (minus: interference)", pair.likely),
        _um("clearance_max", "Greatest clearance", pair.most),
        _um("clearance_min", "Least clearance", pair.least),
        _um("clearance_probable_max", "Probable, the looser end", pair.likely + pair.probable),
        _um("clearance_probable_min", "Probable, the tighter end", pair.likely - pair.probable),
        value("shaft_size", "Shaft at 20 °C", pair.shaft.size, "length", 4),
        value("shaft_doubt", "Doubt of the shaft, either way", pair.shaft.half, "difference", 1),
        value("bore_max", "Bore at 20 °C, at the most", pair.bore.high, "length", 4),
        value("bore_min", "Bore at 20 °C, at the least", pair.bore.low, "length", 4),
    )


def _um(name: str, label: str, number: float) -> Value:
    return value(name, label, number, "difference", 1, sign=True)


def _wanted_values(case: Case) -> tuple[Value, ...]:
    if case.zone is None or case.stop_at is None:
        return ()
    return (
        value(
            "to_remove",
            "Still to come off the diameter",
            1000 * (case.pair.shaft.size - case.zone.size),
            "difference",
            1,
        ),
        value("stop_reading", "Reading to stop at now", case.stop_at, "length", 4),
        value("wanted_max", "Wanted at 20 °C, upper limit", case.zone.high, "length", 4),
        value("wanted_min", "Wanted at 20 °C, lower limit", case.zone.low, "length", 4),
    )


def working(case: Case) -> tuple[Step, ...]:
    """The lines that lead to those figures."""
    pair, lines = case.pair, list(case.on_shaft.working("S"))
    if case.of_bore is not None:
        lines += case.of_bore.working("B")
    else:
        lines.append(step("B = (B_max + B_min) / 2", pair.bore.size, "mm", B_max=pair.bore.high, B_min=pair.bore.low))
        lines.append(step("U_B = 1000 * (B_max - B_min) / 2", pair.bore.half, "µm", "half the tolerance",
                          B_max=pair.bore.high, B_min=pair.bore.low))  # fmt: skip
    ends = {"C": pair.likely, "U_B": pair.bore.half, "U_S": pair.shaft.half}
    lines += [
        step("C = 1000 * (B - S)", pair.likely, "µm", B=pair.bore.size, S=pair.shaft.size),
        step("C_max = C + U_B + U_S", pair.most, "µm", **ends),
        step("C_min = C - U_B - U_S", pair.least, "µm", **ends),
        step("U = sqrt(U_B ** 2 + U_S ** 2)", pair.probable, "µm", U_B=pair.bore.half, U_S=pair.shaft.half),
    ]
    if case.zone is not None and case.stop_at is not None:
        shaft = case.on_shaft
        lines += [
            step("to_remove = 1000 * (S - S_wanted)", 1000 * (pair.shaft.size - case.zone.size), "µm",
                 S=pair.shaft.size, S_wanted=case.zone.size),
            step("R_stop = S_wanted * (1 + alpha * (T - 20)) / (1 + alpha_i * (T_i - 20))", case.stop_at, "mm",
                 S_wanted=case.zone.size, alpha=shaft.material.alpha, T=shaft.temperature,
                 alpha_i=shaft.scale.alpha, T_i=shaft.tool_temperature),
        ]  # fmt: skip
    return tuple(lines)


def sources(case: Case) -> tuple[str, ...]:
    """Keys of what they rest on."""
    keys = list(case.on_shaft.sources + (case.of_bore.sources if case.of_bore else ()))
    if case.bearing is not None:
        keys += [*case.bearing.source, "iso-492"]
    if case.zone is not None:
        keys += ["iso-14253-1"] + (["iso-286-1", "iso-286-2"] if isinstance(case.wanted, ToleranceClass) else [])
    return tuple(dict.fromkeys(keys))
