"""Typed inputs for whatever must hold for every calculation: defaults, every edge, seeded random ones, and wrong ones.

Everything is text, as typed into a form, so that the server, the browser and the command line can be given the same.
"""

import math
from collections.abc import Iterator
from decimal import Decimal
from random import Random

from calc import catalogue, kinds, units
from calc.model import Calculation, Choice, Input, Notation, Number, Numbers

Typed = dict[str, str]

RANDOM = 200  # random inputs for each calculation


def every_edge(name: str) -> list[Typed]:
    """The defaults, then each input in turn at each of its edges with the others at their defaults."""
    calculation = catalogue()[name]
    return [{}, *({one.name: text} for one in calculation.inputs for text in dict.fromkeys(_edges(one)))]


def at_random(name: str, count: int = RANDOM) -> list[Typed]:
    """`count` inputs that could have been typed, the same in every run: most near the defaults, some anywhere."""
    calculation = catalogue()[name]
    dice = Random(f"swarf {name}")
    return [_anything(calculation, dice, wild=place % 3 == 2) for place in range(count)]


def wrong(name: str) -> list[tuple[str, str]]:
    """(input, text) that cannot be used, for every input."""
    found = []
    for one in catalogue()[name].inputs:
        texts = ["?", "x" * (units.LONGEST * 12 + 1), "9**9"]
        if not one.optional:
            texts += ["", "  "]
        if isinstance(one, Number | Numbers):
            texts += ["nan", "1e400", "-1e400", "5 kN" if one.kind != "force" else "5 mm"]
            texts += [_written(_outside(one, sign), one, kinds.KINDS[one.kind].own) for sign in (-1, 1)]
        if isinstance(one, Numbers):
            texts += [";", "; ".join([_first(one)] * (one.most + 1))]
        found += [(one.name, text) for text in texts]
    return found


# ----------------------------------------------------------------------------------------------- one input


def _edges(one: Input) -> Iterator[str]:
    match one:
        case Number():
            yield from _ends(one)
        case Numbers():
            yield _first(one)
            yield from _ends(one)
            yield "; ".join([_first(one)] * one.most)
        case Choice():
            yield from one.options
            yield from one.options.values()
        case Notation():
            yield from one.common
    if one.optional:
        yield ""


def _ends(one: Number | Numbers) -> Iterator[str]:
    """Both limits in every unit offered, and the nearest sizes inside and outside in the first."""
    own = kinds.KINDS[one.kind].own
    low, high = _limits(one)
    for unit in dict.fromkeys((own, *kinds.KINDS[one.kind].offered)):
        yield _written(low, one, unit)
        yield _written(high, one, unit)
    near = _near(one)
    for number in (low + near, high - near, low - near, high + near):
        yield _written(number, one, own)
    if low < 0 < high:
        yield _written(Decimal(0), one, own)


def _limits(one: Number | Numbers) -> tuple[Decimal, Decimal]:
    return units.settle(one.low), units.settle(one.high)


def _near(one: Number | Numbers) -> Decimal:
    low, high = _limits(one)
    return max((high - low) / 1_000_000, Decimal("1e-6"))


def _outside(one: Number | Numbers, sign: int) -> Decimal:
    low, high = _limits(one)
    return low - _near(one) if sign < 0 else high + _near(one)


def _written(number: Decimal, one: Number | Numbers, unit: str, decimals: int = 9) -> str:
    """A number of the kind's own unit, typed in another."""
    turned = units.convert(number, kinds.KINDS[one.kind].own, unit).quantize(Decimal(1).scaleb(-decimals)) + 0
    text = f"{turned:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{text} {kinds.SYMBOLS[unit]}".rstrip()


def _first(one: Number | Numbers) -> str:
    """One reading: the first of the default, else the middle of the range."""
    if one.default:
        return one.default.split(";")[0].strip()
    return _written(sum(_limits(one)) / 2, one, kinds.KINDS[one.kind].own)


# ------------------------------------------------------------------------------------------------- at random


def _anything(calculation: Calculation, dice: Random, wild: bool) -> Typed:
    typed = {}
    left_alone = 0.0 if wild else dice.choice((0.3, 0.6, 0.8))
    for one in calculation.inputs:
        if dice.random() < left_alone:
            continue
        if one.optional and dice.random() < 0.2:
            typed[one.name] = ""
            continue
        typed[one.name] = _random(calculation, one, dice, wild)
    return typed


def _random(calculation: Calculation, one: Input, dice: Random, wild: bool) -> str:
    match one:
        case Number():
            return _random_number(one, None if wild else _usual(calculation, one), dice)
        case Numbers():
            middle = _random_number(one, None if wild else _usual(calculation, one), dice).split(" ")[0]
            readings = [str(Decimal(middle) - dice.randrange(0, 200) * Decimal("0.001")) for _ in range(4)]
            return "; ".join([middle, *readings[: dice.randrange(0, min(4, one.most))]])
        case Choice():
            return dice.choice(list(one.options) if dice.random() < 0.9 else list(one.options.values()))
        case Notation():
            entries = list(one.common)
            if one.complete is not None and entries and dice.random() < 0.5:
                entries = list(one.complete(dice.choice(entries)[:2])) or entries
            return dice.choice(entries or [one.default or ""])


def _usual(calculation: Calculation, one: Number | Numbers) -> float:
    """What such an input usually is: its default, else that of the first input of its kind, else mid-range."""
    alike = [each for each in calculation.inputs if isinstance(each, Number | Numbers) and each.kind == one.kind]
    known = [each for each in (one, *alike) if each.default]
    read, unit = units.read(_first(known[0] if known else one), one.kind)
    return float(units.convert(read, unit, kinds.KINDS[one.kind].own))


def _random_number(one: Number | Numbers, middle: float | None, dice: Random) -> str:
    kind = kinds.KINDS[one.kind]
    low, high = (float(end) for end in _limits(one))
    if middle is not None:
        middle *= 1 if one.default or dice.random() < 0.5 else 2
        spread = (abs(middle) or (high - low) / 20) * 10 ** dice.uniform(-4, -1)
        number = min(max(middle + dice.uniform(-spread, spread), low), high)
    elif high > 0 and low >= 0:
        number = math.exp(dice.uniform(math.log(max(low, high * 1e-4)), math.log(high)))
    else:
        number = dice.uniform(low, high)
    unit = kind.own if isinstance(one, Numbers) else dice.choice(kind.offered)
    decimals = dice.choice((1, 2, 3, 3, 4)) + (0 if unit == kind.own else 1)
    return _written(units.settle(number), one, unit, decimals)
