"""The form of a calculation, read off its declaration: one plain record a field, all that a template needs."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.model import Calculation, Choice, Input, InputError, Notation, Number, Numbers
from calc.run import convert, span
from calc.units import offered

SORTS: Mapping[type[Input], str] = {Number: "number", Numbers: "numbers", Choice: "choice", Notation: "notation"}


@dataclass(frozen=True)
class Field:
    """One field as shown.

    `text` is what was typed, else the default, "" when left out; `limits` are words, "" where there are none;
    `units` are symbols, the kind's own first; `options` maps what is typed to what is shown; `common` are the
    usual entries; `aside` marks what is left out unless somebody asks for it; `problem` is "" or what is wrong.
    """

    name: str
    label: str
    sort: str
    text: str
    help: str
    optional: bool
    limits: str = ""
    units: tuple[str, ...] = ()
    options: Mapping[str, str] = field(default_factory=dict)
    common: tuple[str, ...] = ()
    aside: bool = False
    problem: str = ""


def fields(calculation: Calculation, typed: Mapping[str, str], problems: Mapping[str, str]) -> tuple[Field, ...]:
    """The fields of `calculation` in the order of its declaration, with what is wrong by the name of the field."""
    return tuple(_field(one, typed, problems.get(one.name, "")) for one in calculation.inputs)


def _field(one: Input, typed: Mapping[str, str], problem: str) -> Field:
    return Field(
        name=one.name,
        label=one.label,
        sort=SORTS[type(one)],
        text=_text(one, typed),
        help=one.help,
        optional=one.optional,
        limits=span(one) if isinstance(one, Number | Numbers) else "",
        units=offered(one.kind) if isinstance(one, Number | Numbers) else (),
        options=one.options if isinstance(one, Choice) else {},
        common=one.common if isinstance(one, Notation) else (),
        aside=one.optional and not one.default,
        problem=problem,
    )


def _text(one: Input, typed: Mapping[str, str]) -> str:
    text = typed.get(one.name, one.default or "")
    if not isinstance(one, Choice) or not text.strip():
        return text
    try:
        return str(convert(one, text))  # a choice may be typed in other words than its key
    except InputError:
        return text
