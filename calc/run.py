"""Typed text -> checked values -> Answer -> JSON: the one way in, for form, link, API and command line."""

import json
import re
from collections.abc import Callable, Mapping, Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, Context, Decimal
from functools import lru_cache
from typing import Any

from calc import kinds, progress, units
from calc.catalogue import look_up
from calc.model import (
    Answer,
    CalcError,
    Calculation,
    Choice,
    Following,
    Input,
    InputError,
    NoSuchCalculation,
    Notation,
    Number,
    Numbers,
    Refused,
    Result,
    Step,
)
from calc.tables import sources

LEFT_OUT = None


def answer(
    name: str, typed: Mapping[str, str | None], so_far: Callable[[Answer | None], object] | None = None
) -> Answer:
    """Answer calculation `name` for what was typed.

    A missing input takes its declared default; one given as "" or None is left out on purpose, which only
    optional inputs may be. Raises NoSuchCalculation, or Refused with every problem at once.

    A calculation that takes long calls `so_far` now and then with the best answer it has, None when it has no better
    one than the last time.
    """
    calculation = look_up(name)
    values, problems = check(calculation, typed)
    if problems:
        raise Refused(tuple(problems))

    def tell(result: Result | None) -> None:
        if so_far is not None:
            so_far(None if result is None else _answer(calculation, typed, result))

    try:
        with progress.heard_by(None if so_far is None else progress.Ear(tell)):
            result = calculation.function(**values)
    except InputError as problem:
        raise Refused((problem,)) from problem
    return _answer(calculation, typed, result)


def _answer(calculation: Calculation, typed: Mapping[str, str | None], result: Result) -> Answer:
    cited = dict.fromkeys((*calculation.sources, *result.sources))
    return Answer(
        name=calculation.name,
        title=calculation.title,
        typed=as_typed(calculation, typed),
        values=result.values,
        main=result.main,
        verdict=result.verdict,
        working=result.working,
        cautions=result.cautions,
        assumptions=result.assumptions,
        sources={key: sources()[key] for key in cited},
        picture=result.picture,
        tables=result.tables,
        following=result.following,
    )


def next_of(found: Answer) -> tuple[Following, ...]:
    """What usually comes next and can be read there. Apart from the answer, since it takes those calculations."""
    return tuple(after for after in found.following if _can_be_read_there(after))


def _can_be_read_there(after: Following) -> bool:
    """Whether what is carried over lies within the limits of the calculation that comes next.

    KeyError when that calculation, or an input of it, does not exist: a mistake of ours.
    """
    try:
        there = look_up(after.name)
    except NoSuchCalculation as mistake:
        raise KeyError(after.name) from mistake
    fields = [(there.input(name), text) for name, text in after.typed.items()]
    try:
        for one, text in fields:
            convert(one, text)
    except InputError:
        return False
    return True


def answer_json(name: str, typed: Mapping[str, str | None]) -> str:
    """The answer as JSON text, or {"name", "problems": [{"name", "message"}]} when it is refused.

    The same text on the server and in the browser, byte for byte.
    """
    try:
        body = _body(answer(name, typed))
    except (Refused, NoSuchCalculation) as refusal:
        body = {"name": name, "problems": problems_of(refusal)}
    return _JSON.encode(body)


def _body(found: Answer) -> dict[str, Any]:
    """An answer as JSON takes it: the fields of each part in the order of their declaration."""
    return {
        **vars(found),
        "values": [vars(one) for one in found.values],
        "verdict": found.verdict and vars(found.verdict),
        "working": [_line(one) for one in found.working],
        "tables": [vars(one) for one in found.tables],
        "following": [{**vars(one), "typed": dict(one.typed)} for one in next_of(found)],
    }


def _line(one: Step) -> dict[str, Any]:
    """A line of working, its numbers the same on every machine."""
    given = {name: units.steady(number) for name, number in one.given.items()}
    return {**vars(one), "result": units.steady(one.result), "given": given}


_JSON = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), allow_nan=False, check_circular=False)


def problems_of(refusal: Refused | NoSuchCalculation) -> list[dict[str, str]]:
    """The problems of a refusal as plain records, each with its field."""
    if isinstance(refusal, Refused):
        return [{"name": one.name, "message": str(one)} for one in refusal.problems]
    return [{"name": "calculation", "message": str(refusal)}]


def as_typed(calculation: Calculation, typed: Mapping[str, str | None]) -> dict[str, str]:
    """The inputs exactly as typed, defaults filled in, in the order of the declaration."""
    return {one.name: text_of(one, typed) or "" for one in calculation.inputs}


def check(calculation: Calculation, typed: Mapping[str, str | None]) -> tuple[dict[str, Any], list[InputError]]:
    """The checked values by name, and every problem found on the way, in the order of the declaration."""
    return check_inputs(calculation.inputs, typed)


def check_inputs(inputs: tuple[Input, ...], typed: Mapping[str, str | None]) -> tuple[dict[str, Any], list[InputError]]:
    """As `check`, of inputs that need not be those of a calculation."""
    values: dict[str, Any] = {}
    problems: list[InputError] = []
    for one in inputs:
        try:
            values[one.name] = convert(one, text_of(one, typed))
        except InputError as problem:
            problems.append(problem)
    known = dict.fromkeys(one.name for one in inputs)
    for name in typed:
        if name not in known:
            fields = ", ".join(known)
            problems.append(InputError(name[:40], f"There is no field “{name[:40]}” here. The fields are: {fields}."))
    return values, problems


def repeated(calculation: Calculation, typed: Mapping[str, str | None], twice: Sequence[str]) -> Refused | None:
    """Every problem of what was typed where the inputs `twice` were given more than once; None when none was."""
    if not twice:
        return None
    problems = [
        InputError(name[:40], f"“{name[:40]}” is given more than once in the address. Give it once.") for name in twice
    ]
    _, others = check(calculation, typed)
    return Refused((*problems, *(one for one in others if one.name not in twice)))


def text_of(one: Input, typed: Mapping[str, str | None]) -> str | None:
    """What was typed into this input, else its default; None where it is left out."""
    given = typed.get(one.name, one.default)
    return given if given is not None and given.strip() else None


def convert(one: Input, text: str | None) -> Any:
    """One typed text as the value its calculation takes; None where an optional input is left out.

    Raises InputError naming the field, the range in the user's own unit, and what to do.
    """
    if text is None or not text.strip():
        if one.optional:
            return LEFT_OUT
        verb = "are" if isinstance(one, Numbers) else "is"
        raise InputError(one.name, f"{one.label} {verb} needed. {_remedy(one)}")
    if len(text) > longest(one):
        raise InputError(one.name, f"That is longer than {longest(one)} characters. {_remedy(one)}")
    if isinstance(one, Choice):
        return _chosen(one, text)
    return _default(one) if text == one.default else _read(one, text)


@lru_cache(maxsize=256)
def _default(one: Number | Numbers | Notation) -> Any:
    """The value of a default: most of what is asked is left as it was."""
    return _read(one, one.default or "")


def _read(one: Number | Numbers | Notation, text: str) -> Any:
    try:
        match one:
            case Number():
                return _within(one, *units.read(text, one.kind))
            case Numbers():
                return _readings(one, text)
            case Notation():
                return one.read(units.tidy(text))
    except InputError:
        raise
    except CalcError as problem:
        raise InputError(one.name, str(problem)) from problem


def longest(one: Input) -> int:
    """How many characters may be typed into this input."""
    match one:
        case Notation():
            return one.longest
        case Numbers():
            return units.LONGEST * one.most
        case _:
            return units.LONGEST


def _within(one: Number | Numbers, number: Decimal, unit: str) -> float:
    own = units.to_own(number, unit, one.kind)
    if own < one.low or own > one.high or (one.above and own <= one.low):
        raise InputError(one.name, f"Give a value {span(one, unit)}.")
    return own


def span(one: Number | Numbers, unit: str | None = None) -> str:
    """The limits of an input in words, in `unit` (the kind's own when not given); both may be typed back."""
    unit = unit or kinds.KINDS[one.kind].own
    low, high = (units.convert(units.settle(end), kinds.KINDS[one.kind].own, unit) for end in (one.low, one.high))
    first, last = _plain(low, ROUND_CEILING), _plain(high, ROUND_FLOOR)
    symbol = f" {kinds.SYMBOLS[unit]}".rstrip()
    return f"over {first} up to {last}{symbol}" if one.above else f"from {first} to {last}{symbol}"


def _plain(number: Decimal, rounding: str) -> str:
    """A limit in five figures, rounded to the inside of the range."""
    exact = number.quantize(Decimal("1e-12"))
    whole = exact == exact.to_integral_value()
    short = exact.quantize(Decimal(1)) if whole else Context(prec=5, rounding=rounding).plus(exact).normalize()
    return f"{short:f}".replace("-", "−")


def _readings(one: Numbers, text: str) -> tuple[float, ...]:
    """Each reading in turn; one unit typed anywhere in the list counts for every reading that has none."""
    pieces = [piece for piece in re.split(r"[;\n]|,\s+", text) if piece.strip()]
    if len(pieces) == 1 and re.fullmatch(r"\s*(\d+[.,]\d+\s+)+\d+[.,]\d+\s*", text):
        pieces = text.split()
    if not pieces:
        raise InputError(one.name, f"{one.label} are needed. {_remedy(one)}")
    if len(pieces) > one.most:
        raise InputError(one.name, f"That is {len(pieces)} readings; give at most {one.most}.")
    own = kinds.KINDS[one.kind].own
    read: list[tuple[Decimal, str | None]] = []
    for place, piece in enumerate(pieces, 1):
        try:
            read.append(units.read_bare(piece, one.kind))
        except CalcError as problem:
            part = "" if len(pieces) > 1 else " Part several readings by a semicolon."
            raise InputError(one.name, f"{_which(place, pieces)}{problem}{part}") from problem
    typed = dict.fromkeys(unit for _, unit in read if unit)
    usual = next(iter(typed)) if len(typed) == 1 else own
    found = []
    for place, (number, unit) in enumerate(read, 1):
        try:
            found.append(_within(one, number, unit or usual))
        except InputError as problem:
            raise InputError(one.name, f"{_which(place, pieces)}{problem}") from problem
    return tuple(found)


def _which(place: int, pieces: list[str]) -> str:
    return f"Reading {place}: " if len(pieces) > 1 else ""


def _chosen(one: Choice, text: str) -> str:
    if text in one.options:  # as a form or a link has it
        return text
    wanted = units.tidy(text).casefold()
    for key, shown in one.options.items():
        if wanted in (key.casefold(), shown.casefold()):
            return key
    raise InputError(one.name, f"“{text.strip()[:24]}” is not one of the choices: {', '.join(one.options)}.")


def _remedy(one: Input) -> str:
    match one:
        case Number() | Numbers():
            return f"Give a value {span(one)}."
        case Choice():
            return f"Choose one of: {', '.join(one.options)}."
        case Notation():
            return f"For example {one.common[0]}." if one.common else one.help
