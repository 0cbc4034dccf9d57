"""A form, read off its declaration: one plain record a field, all that a template needs."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.model import Choice, Input, InputError, Notation, Number, Numbers
from calc.owned import said
from calc.run import convert, longest, span
from calc.shop import SHOP
from calc.units import offered

SORTS: Mapping[type[Input], str] = {Number: "number", Numbers: "numbers", Choice: "choice", Notation: "notation"}


@dataclass(frozen=True)
class Field:
    """One field as shown.

    `text` is what was typed, else the default, "" when left out; `limits` are words, "" where there are none;
    `units` are symbols, the kind's own first; `options` maps what is typed to what is shown; `common` are the
    usual entries; `longest` counts characters; `aside` marks what is folded away, as it is left out unless somebody
    asks for it, or mostly stays as it is; `of` is the thing of the Shop that fills it, "" for none; `problem` is ""
    or what is wrong.
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
    longest: int = 64
    default: str = ""
    aside: bool = False
    of: str = ""
    problem: str = ""

    @property
    def told(self) -> bool:
        """Whether it says something else than it would by itself, or is wrong: then it is not folded away."""
        return bool(self.problem) or self.text.strip() not in ("", self.default)


@dataclass(frozen=True)
class Fold:
    """The fields of one thing of the Shop, folded away: its sort, its label, and its main figures in a line."""

    name: str
    label: str
    said: str
    fields: tuple[Field, ...]

    @property
    def whose(self) -> str:
        """Whose figures stand in it, as far as the server can tell."""
        return "generic" if all(one.text == one.default for one in self.fields) else "as typed"

    @property
    def problem(self) -> bool:
        """Whether anything in it is wrong."""
        return any(one.problem for one in self.fields)


def fields(inputs: tuple[Input, ...], typed: Mapping[str, str], problems: Mapping[str, str]) -> tuple[Field, ...]:
    """The fields of `inputs` in the order of their declaration, with what is wrong by the name of the field."""
    return tuple(_field(one, typed, problems.get(one.name, "")) for one in inputs)


def folds(
    inputs: Mapping[str, tuple[Input, ...]], typed: Mapping[str, str], problems: Mapping[str, str]
) -> tuple[Fold, ...]:
    """A fold for each sort of thing in `inputs`, which holds those of its inputs that are asked for here."""
    return tuple(
        Fold(sort, SHOP[sort].label, said(SHOP[sort], typed, each), fields(each, typed, problems))
        for sort, each in inputs.items()
    )


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
        longest=longest(one),
        default=one.default or "",
        aside=not one.of and (one.aside or (one.optional and not one.default)),
        of=one.of,
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
