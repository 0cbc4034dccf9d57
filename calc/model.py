"""What a calculation declares, and what it answers: plain records, nothing that acts.

A calculation is one function with one declaration (`calculation`). The form, the page, the API, the
command line, the link and the tests that hold for all of them are read off that declaration.
"""

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

# ---------------------------------------------------------------------------------------------- errors


class CalcError(Exception):
    """Something the user can put right. Anything else that is raised is a bug."""


class InputError(CalcError):
    """One input that cannot be used: `name` is the field, the text says the range and what to do."""

    def __init__(self, name: str, message: str) -> None:
        super().__init__(message)
        self.name = name


class OutsideTable(InputError):
    """The published table ends before this value; the text says where. Nothing is extrapolated."""


class Refused(CalcError):
    """Every problem of one request at once, in the order of the declaration."""

    def __init__(self, problems: tuple[InputError, ...]) -> None:
        super().__init__(" ".join(f"{one.name}: {one}" for one in problems))
        self.problems = problems


class NoSuchCalculation(CalcError):
    """No calculation has that name."""


# ---------------------------------------------------------------------------------------------- inputs


@dataclass(frozen=True)
class Number:
    """A measured or wanted quantity.

    `kind` names a kind in `units`; `low` and `high` are in that kind's own unit and belong to the range
    unless `above` is set, which leaves `low` itself out ("over 0"). `default` is text, as one would type it.
    `of` names the thing of the Shop that fills it, "" for none; `aside` folds it away, since its default mostly
    holds. So it is with every input.
    """

    name: str
    label: str
    kind: str
    default: str | None
    low: float
    high: float
    help: str
    optional: bool = False
    above: bool = False
    of: str = ""
    aside: bool = False


@dataclass(frozen=True)
class Numbers:
    """Several readings of one kind, parted by semicolons or line ends; checked one by one as `Number` is."""

    name: str
    label: str
    kind: str
    default: str | None
    low: float
    high: float
    help: str
    most: int = 12
    optional: bool = False
    above: bool = False
    of: str = ""
    aside: bool = False


@dataclass(frozen=True)
class Choice:
    """One of a few words. `options` maps what is typed to what is shown."""

    name: str
    label: str
    options: Mapping[str, str]
    default: str | None
    help: str = ""
    optional: bool = False
    of: str = ""
    aside: bool = False


@dataclass(frozen=True)
class Notation:
    """Text in a notation of its own (a tolerance class, a bearing designation).

    `read` turns what was typed into the calculation's value or raises `CalcError`; `pattern` is the rough
    shape by which a call-out is split; `common` are the entries offered first; `complete` lists what a
    beginning could become (those of `common` when not given); `longest` counts characters.
    """

    name: str
    label: str
    read: Callable[[str], Any]
    pattern: str
    default: str | None
    help: str
    common: tuple[str, ...] = ()
    optional: bool = False
    complete: Callable[[str], tuple[str, ...]] | None = None
    of: str = ""
    longest: int = 64
    aside: bool = False


Input = Number | Numbers | Choice | Notation


# ---------------------------------------------------------------------------------------------- answers

LEVELS = ("good", "mind", "stop")  # go on; go on with care; do not go on


@dataclass(frozen=True)
class Value:
    """One figure of an answer. `number` is in `unit`, the kind's own; `text` and `also` are ready to show."""

    name: str
    label: str
    number: float
    unit: str
    text: str
    also: str = ""


@dataclass(frozen=True)
class Verdict:
    """One short sentence, and which of `LEVELS` it is."""

    level: str
    text: str


@dataclass(frozen=True)
class Step:
    """One line of working. `formula` reads "name = expression" in ASCII; `given` holds every name in it."""

    formula: str
    result: float
    given: Mapping[str, float]
    unit: str = ""
    note: str = ""


@dataclass(frozen=True)
class Table:
    """Rows to read off, all text. `first` puts it before all figures: it is what was asked for."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""
    first: bool = False


@dataclass(frozen=True)
class Following:
    """A calculation that usually comes next, with what is known carried over as typed text."""

    name: str
    label: str
    typed: Mapping[str, str]


@dataclass(frozen=True)
class Result:
    """What a calculation's function returns. `main` names the one to three values shown large."""

    values: tuple[Value, ...]
    main: tuple[str, ...]
    verdict: Verdict | None = None
    working: tuple[Step, ...] = ()
    cautions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    picture: str = ""
    tables: tuple[Table, ...] = ()
    following: tuple[Following, ...] = ()


@dataclass(frozen=True)
class Answer:
    """A result with what was typed, and with its sources as full titles keyed as in the bibliography.

    `following` is as the calculation gave it; `run.next_of` leaves out what cannot be read there.
    """

    name: str
    title: str
    typed: Mapping[str, str]
    values: tuple[Value, ...]
    main: tuple[str, ...]
    verdict: Verdict | None
    working: tuple[Step, ...]
    cautions: tuple[str, ...]
    assumptions: tuple[str, ...]
    sources: Mapping[str, str]
    picture: str
    tables: tuple[Table, ...]
    following: tuple[Following, ...]

    def value(self, name: str) -> Value:
        """The value of that name; KeyError when this answer does not have it."""
        for one in self.values:
            if one.name == name:
                return one
        raise KeyError(name)


# ---------------------------------------------------------------------------------------------- declaration


@dataclass(frozen=True)
class Calculation:
    """One calculation as declared; `name` and `subject` are those of its file and folder."""

    name: str
    title: str
    question: str
    subject: str
    inputs: tuple[Input, ...]
    sources: tuple[str, ...]
    callouts: tuple[str, ...] = ()
    function: Callable[..., Result] = field(repr=False, kw_only=True)

    def input(self, name: str) -> Input:
        """The input of that name; KeyError when it is not declared."""
        for one in self.inputs:
            if one.name == name:
                return one
        raise KeyError(name)


def calculation(
    *,
    title: str,
    question: str,
    inputs: tuple[Input, ...],
    sources: tuple[str, ...],
    callouts: tuple[str, ...] = (),
) -> Callable[[Callable[..., Result]], Calculation]:
    """Declare the function below as a calculation.

    `callouts` are the ways it is written on a drawing, as patterns of its inputs: "{size} {hole}/{shaft}".
    "{hole=}" stands for nothing in the text and leaves `hole` out; "{part=shaft}" sets it to that text.
    TypeError when the function's arguments and `inputs` differ, so that a slip shows at import.
    """

    def declare(function: Callable[..., Result]) -> Calculation:
        wanted, declared = list(inspect.signature(function).parameters), [one.name for one in inputs]
        if wanted != declared:
            raise TypeError(f"{function.__name__} takes {wanted} but declares {declared}")
        subject = function.__module__.rsplit(".", 2)[-2]
        return Calculation(
            function.__name__, title, question, subject, inputs, sources, callouts, function=function
        )  # fmt: skip

    return declare
