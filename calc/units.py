"""Quantities: reading what was typed, showing what is answered. The only module that knows pint.

A number travels through the calculations as a float in its kind's own unit. Units are turned here, by a
small registry in decimal arithmetic, so that 1 3/16 in is 30.1625 mm and not a float next to it. What was
typed is split by our own rule and looked up among the names of `kinds`; it never reaches pint's parser.
"""

import json
import re
import unicodedata
from collections.abc import Mapping
from decimal import ROUND_HALF_EVEN, Decimal, InvalidOperation
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from calc import beside
from calc.kinds import ALIASES, DEFINITIONS, KINDS, MEANT, SYMBOLS, Kind
from calc.model import CalcError, Step, Value

if TYPE_CHECKING:
    import pint

LONGEST = 64  # characters in one field
CONVERSIONS = "conversions.json"  # beside this file in the browser's archive, and nowhere else

_FRACTIONS = {c: unicodedata.normalize("NFKC", c).replace("\u2044", "/") for c in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"}
_NUMBER = re.compile(
    r"""(?P<sign>[-+]?)\ *
        (?: (?:(?P<whole>\d+)(?:\ +|\ *-\ *))? (?P<over>\d+)\ */\ *(?P<under>\d+)
          | (?P<decimal>\d+(?:[.,]\d*)?|[.,]\d+) (?P<power>[eE][-+]?\d+)? )
        \ *(?P<unit>.*)""",
    re.VERBOSE,
)
_AFTER = {unit: f" {symbol}" if symbol else "" for unit, symbol in SYMBOLS.items()}  # a figure in that unit
_DIAMETER = "Øø⌀∅φΦ"  # what may stand before a length
#: What is typed in more than one way; superscripts are not among it, and are left to be refused.
_PLAINER = {"−": "-", "–": "-", "\u2010": "-", "\u2011": "-", "⁄": "/", "∕": "/", "º": "°", "℃": "°C", "℉": "°F",
            "㎜": "mm", "\u200b": "", "\u2060": "", "\ufeff": ""}  # fmt: skip
_EXACT = Decimal("1e-9")  # what a conversion may leave of rounding noise is cut here, in the kind's own unit


class Unreadable(CalcError):
    """The text is not a quantity of the wanted kind; the message says what to type instead."""


@lru_cache(maxsize=1)
def _registry() -> "pint.UnitRegistry[Decimal]":
    import pint  # takes as long to import as all the calculations

    lines = DEFINITIONS.strip().splitlines()
    return pint.UnitRegistry(lines, non_int_type=Decimal, cache_folder=None)


@lru_cache(maxsize=1)
def _names() -> dict[str, str]:
    """Every way to type a unit, squeezed, to the unit's name."""
    names: dict[str, str] = {}
    for typed, unit in _spellings():
        if names.setdefault(_squeeze(typed), unit) != unit and unit != "fahrenheit_step":
            raise ValueError(f"{typed!r} names both {unit} and {names[_squeeze(typed)]}")
    return names


def _squeeze(unit: str) -> str:
    return unit.casefold().replace(".", "").replace(" ", "").replace("µ", "μ")


def convert(number: Decimal, unit: str, to: str) -> Decimal:
    """`number` of the registry's `unit` in its unit `to`, in decimal arithmetic."""
    if unit == to:
        return number
    factor, offset = _line(unit, to)
    return number * factor + offset


@lru_cache(maxsize=256)
def _line(unit: str, to: str) -> tuple[Decimal, Decimal]:
    """A conversion as factor and offset, asked of the registry once: most of an answer is conversions."""
    if unit in _asked() and to in _asked()[unit]:
        factor, offset = _asked()[unit][to]
        return Decimal(factor), Decimal(offset)
    zero, one = (Decimal(_registry().Quantity(Decimal(n), unit).to(to).magnitude) for n in (0, 1))
    return one - zero, zero


@lru_cache(maxsize=1)
def _asked() -> Mapping[str, Mapping[str, tuple[str, str]]]:
    """What the registry says of every two units that are alike, where it was asked beforehand: in the archive."""
    try:
        found: Mapping[str, Mapping[str, tuple[str, str]]] = json.loads(
            beside.text(Path(__file__).with_name(CONVERSIONS))
        )
    except OSError:
        return {}
    return found


@lru_cache(maxsize=1)
def conversions() -> str:
    """What the registry says of our units, as JSON: {unit: {unit that is alike: [factor, offset]}}."""
    said: dict[str, dict[str, list[str]]] = {}
    for unit in SYMBOLS:
        alike = [other for other in SYMBOLS if _alike(unit, other)]
        said[unit] = {other: [str(part) for part in _line(unit, other)] for other in alike}
    return json.dumps(said, separators=(",", ":"))


def tidy(text: str) -> str:
    """What was typed with one kind of space, digit, minus and fraction; superscripts are left to be refused."""
    if not text.isascii():
        text = "".join(map(_tidied, text))
    return " ".join(text.split())


def _tidied(c: str) -> str:
    if c in _FRACTIONS:
        return f" {_FRACTIONS[c]}"
    if unicodedata.category(c) == "Nd":
        return str(unicodedata.decimal(c))
    if "\uff01" <= c <= "\uff5e":
        return chr(ord(c) - 0xFEE0)
    return _PLAINER.get(c, c)


def read(text: str, kind: str) -> tuple[Decimal, str]:
    """The number that was typed and the unit it was typed in (the kind's own when bare).

    Raises Unreadable with a sentence for the user.
    """
    number, unit = read_bare(text, kind)
    return number, unit or KINDS[kind].own


def read_bare(text: str, kind: str) -> tuple[Decimal, str | None]:
    """As `read`, with None for the unit of a bare number."""
    want = KINDS[kind]
    if len(text) > LONGEST:
        raise Unreadable(f"That is longer than {LONGEST} characters. Type one number, with its unit if you like.")
    clean = tidy(text)
    if kind == "length" and clean[:1] in _DIAMETER:
        clean = clean[1:].lstrip()
    match = _NUMBER.fullmatch(clean)
    if match is None:
        if re.fullmatch(r"[-+]?(?:(?:nan|inf|infinity)\b|∞).*", clean, re.IGNORECASE):
            raise Unreadable("That is not a number. Type a figure such as 30.02.")
        raise Unreadable(f"Type {want.noun} as a number, such as {_example(kind)}.")
    number = _number(match)
    typed = match["unit"].strip()
    return number, _unit(typed, kind) if typed else None


@lru_cache(maxsize=256)
def _unit(typed: str, kind: str) -> str:
    """The unit that is typed so, for a field of that kind; Unreadable where there is none or it is not of that kind."""
    want = KINDS[kind]
    unit = _names().get(_squeeze(typed))
    if unit is None:
        if re.search(r"\d|[*/+=()^,]", typed):
            raise Unreadable(f"Type one number, not a sum or a list: {_example(kind)}.")
        raise Unreadable(f"The unit “{typed[:16]}” is not known here. Use {_offered(kind)}.")
    unit = MEANT.get((kind, unit), unit)
    if not _alike(unit, want.own):
        other = next((k for k in KINDS.values() if _alike(unit, k.own)), None)
        is_a = f"That is {other.noun}" if other else "That is another kind of quantity"
        if not any(offered(kind)):
            raise Unreadable(f"{is_a}; this field wants {want.noun}. Type the number alone.")
        raise Unreadable(f"{is_a}; this field wants {want.noun}, in {_offered(kind)}.")
    return unit


@lru_cache(maxsize=256)
def _alike(unit: str, other: str) -> bool:
    if unit in _asked() and other in _asked():
        return other in _asked()[unit]
    registry = _registry()
    return bool(registry.Quantity(Decimal(1), unit).is_compatible_with(other))


def _number(match: "re.Match[str]") -> Decimal:
    sign, whole, over, under, decimal, power, _ = match.groups("")
    if under:
        if int(under) == 0:
            raise Unreadable("A fraction cannot have 0 below the line.")
        number = Decimal(int(whole or 0) * int(under) + int(over)) / Decimal(int(under))
    else:
        if len(power) > 4:
            raise Unreadable("That number is too large or too small to use.")
        try:
            number = Decimal(decimal.replace(",", ".") + power)
        except InvalidOperation:
            raise Unreadable("That is not a number. Type a figure such as 30.02.") from None
    return -number if sign == "-" else number


def to_own(number: Decimal, unit: str, kind: str) -> float:
    """A number as read, as the float in the kind's own unit that the calculations use."""
    own = convert(number, unit, KINDS[kind].own)
    return float(own.quantize(_EXACT, ROUND_HALF_EVEN)) if abs(own) < 10**15 else float(own)


def settle(number: float) -> Decimal:
    """A computed float as a decimal of 12 figures: past them, C libraries and WebAssembly disagree."""
    return Decimal(f"{number:.12g}")


@lru_cache(maxsize=1024)  # the lines of a working share most of their numbers
def steady(number: float) -> float:
    """As `settle`, left a float; never a negative nought."""
    return float(f"{number:.12g}") + 0.0


def show(number: float, kind: str, decimals: int | None = None, *, unit: str | None = None, sign: bool = False) -> str:
    """Number and symbol, ready to read: show(30.002, "length", 3) -> "30.002 mm".

    `number` is in the kind's own unit; `unit` shows it in another. Negative numbers have a real minus sign.
    """
    want = KINDS[kind]
    exact = settle(number)
    if unit is None:
        return _shown(exact, want.own, *_readable(want, exact, decimals), sign)
    places = dict(want.shown).get(unit, 3) if decimals is None else decimals
    return _shown(exact, want.own, unit, places, sign)


def _readable(want: Kind, exact: Decimal, decimals: int | None) -> tuple[str, int]:
    """The unit that an amount is shown in, and its decimals; `decimals` counts in the kind's first."""
    if want.large and abs(exact) >= want.large[0]:
        return want.large[1:]
    unit, places = want.shown[0]
    return unit, places if decimals is None else decimals


def _shown(exact: Decimal, own: str, unit: str, places: int, sign: bool) -> str:
    return figure(convert(exact, own, unit), places, sign=sign) + _AFTER[unit]


def figure(number: Decimal | float, places: int, *, sign: bool = False) -> str:
    """A number with so many decimals, a real minus sign, and never a negative nought."""
    exact = number if isinstance(number, Decimal) else settle(number)
    rounded = exact.quantize(_last(places), ROUND_HALF_EVEN)
    text = str(rounded) if 0 <= places <= 6 else f"{rounded:f}"  # a decimal's own text has powers of ten from 1e-7 down
    if text[0] == "-":
        return "−" + text[1:] if rounded else text[1:]
    return "+" + text if sign and rounded else text


@lru_cache(maxsize=32)
def _last(places: int) -> Decimal:
    """One in the last of so many decimals."""
    return Decimal((0, (1,), -places))


def plain(number: float) -> str:
    """A figure of the working: four decimals, more for a small one, no noughts at its end, nought below 1e-9."""
    exact = settle(number).quantize(_EXACT) if abs(number) < 10**15 else settle(number)
    places = 4 if exact == 0 else min(9, max(4, 2 - exact.adjusted()))
    return figure(exact, places).rstrip("0").rstrip(".")


def value(
    name: str, label: str, number: float | Decimal, kind: str, decimals: int | None = None, *, sign: bool = False
) -> Value:
    """A `Value` of that kind. `decimals` counts in the first shown unit; the other gets as many as it needs."""
    want = KINDS[kind]
    exact = number if isinstance(number, Decimal) else settle(number)
    also = ""
    if len(want.shown) > 1:
        (_, places), (second, others) = want.shown
        wanted = places if decimals is None else decimals
        also = _shown(exact, want.own, second, max(0, others + wanted - places), sign)
    text = _shown(exact, want.own, *_readable(want, exact, decimals), sign)
    return Value(name, label, float(exact.quantize(_EXACT)) + 0.0, SYMBOLS[want.own], text, also)


def step(formula: str, result: float, unit: str = "", note: str = "", /, **given: float) -> Step:
    """A line of working; see `Step`. The tests evaluate `formula` with `given` and compare with `result`."""
    return Step(formula, result, given, unit, note)


def offered(kind: str) -> tuple[str, ...]:
    """Symbols of the units a field of this kind offers, its own first."""
    want = KINDS[kind]
    return tuple(dict.fromkeys(SYMBOLS[unit] for unit in (want.own, *want.offered)))


def _offered(kind: str) -> str:
    names = [one for one in offered(kind) if one]
    return " or ".join(names) if names else "no unit"


def _example(kind: str) -> str:
    return {"length": "30.02 mm or 1 3/16 in", "temperature": "38 °C", "difference": "15 µm"}.get(
        kind, f"12 {SYMBOLS[KINDS[kind].own]}".strip()
    )


@lru_cache(maxsize=16)
def shape(kind: str) -> str:
    """A regular expression for how a quantity of this kind is written, rough: `read` has the last word."""
    alike = {unit for unit in SYMBOLS if _alike(unit, KINDS[kind].own)}
    typed = sorted((name for name, unit in _spellings() if unit in alike), key=len, reverse=True)
    number = r"[-+]?(?:\d+(?: +| ?- ?))?\d+ ?/ ?\d+|[-+]?\d+(?:[.,]\d*)?|[-+]?[.,]\d+"
    # what goes on to the end of a word is no unit: "40 mild steel"
    return rf"(?:[Øø⌀] ?)?(?:{number})(?: ?(?i:{'|'.join(map(re.escape, typed))})(?![A-Za-z]+ ))?"


def _spellings() -> list[tuple[str, str]]:
    return [(typed, unit) for unit in SYMBOLS for typed in (unit, SYMBOLS[unit], *ALIASES.get(unit, ())) if typed]
