"""Whether what was typed for a plan of cuts goes together, before any cut is reckoned."""

from collections.abc import Iterator
from decimal import Decimal

from calc.model import InputError, Refused
from calc.units import settle, show


def refuse(
    diameter: float, measured: Decimal | None, target: Decimal, least: Decimal, window: tuple[float, float] | None,
    length: float, overhang: float, semi: float, finish: float, shoulder: float,
) -> None:  # fmt: skip
    """Refused with every problem at once; sizes in mm, `least` and `window` on radius, `target` as read now."""
    problems = [
        *_sizes(diameter, measured, target, least),
        *_lengths(length, overhang, float(least), shoulder),
        *_cuts(least, window, semi, finish),
    ]
    if problems:
        raise Refused(tuple(problems))


def _sizes(diameter: float, measured: Decimal | None, target: Decimal, least: Decimal) -> Iterator[InputError]:
    bar = Decimal(repr(diameter))
    if bar - target < 2 * least:
        yield InputError(
            "wanted",
            f"At least {show(2 * float(least), 'length')} must come off the diameter, and from "
            f"{show(diameter, 'length')} to the reading aimed at, {show(float(target), 'length')}, there is less. "
            "Check both sizes.",
        )
    if measured is not None and measured > bar:
        yield InputError(
            "measured", f"That is more than the bar’s {show(diameter, 'length')}. Check both, or correct the bar."
        )


def _lengths(length: float, overhang: float, least: float, shoulder: float) -> Iterator[InputError]:
    if settle(length) > settle(overhang):
        yield InputError(
            "length", f"Only {show(overhang, 'length', 1)} is free of the holding. Give a length from 0.5 mm to that."
        )
    if shoulder and not settle(least) <= settle(shoulder) < settle(length):
        yield InputError(
            "shoulder",
            f"Give from {show(least, 'length')}, the least in-feed, to less than the length to turn; or 0 when there "
            "is no shoulder.",
        )


def _cuts(
    least: Decimal, window: tuple[float, float] | None, semi: float, finish: float
) -> Iterator[InputError]:  # fmt: skip
    if window is not None and settle(window[1]) < least:
        yield InputError(
            "least_infeed",
            f"The chip breaker is made for at most {show(window[1], 'length')}, and this is more. Give less, or check "
            "both.",
        )
        return
    thinnest = show(2 * float(least), "length")
    for name, one in (("semi_finish", semi), ("finish", finish)):
        if (one or name == "finish") and Decimal(repr(one)) < 2 * least:
            none = ", or 0 for no such cut" if name == "semi_finish" else ""
            yield InputError(name, f"Less than twice the least in-feed only rubs. Give {thinnest} or more{none}.")
