"""What somebody types of a thing he owns: whether it can be used, and how it reads in one line."""

import json
from collections.abc import Mapping

from calc import kinds, units
from calc.model import CalcError, Calculation, Choice, Input, Notation, Number, Refused
from calc.run import check_inputs, convert, problems_of, text_of
from calc.shop import SHOP, Thing


def shop_json(sort: str, typed: Mapping[str, str | None]) -> str:
    """Whether a thing of that sort can be kept as typed, as JSON text: {"sort", "said", "problems"}.

    The messages are those of a calculation's page. KeyError for a sort that is not in SHOP.
    """
    thing = SHOP[sort]
    _, problems = check_inputs(thing.inputs, typed)
    body = {
        "sort": sort,
        "said": said(thing, typed),
        "problems": problems_of(Refused(tuple(problems))),
    }
    return json.dumps(body, ensure_ascii=False, separators=(",", ":"))


def said(thing: Thing, typed: Mapping[str, str | None], among: tuple[Input, ...] | None = None) -> str:
    """The main figures of a thing in one line; what is left out or cannot be read is not mentioned.

    `among` are the inputs that count, all of the thing's when not given; where its main figures are not among
    them, the first two of them stand in.
    """
    known = thing.inputs if among is None else among
    main = [one for one in known if one.name in thing.figures] or list(known[:2])
    return ", ".join(line for line in (_line(one, typed) for one in main) if line)


def things(calculation: Calculation) -> dict[str, tuple[Input, ...]]:
    """The inputs of a calculation that Shop fills, by sort, in the order of the Shop."""
    owned = [one for one in calculation.inputs if one.of]
    found = {sort: tuple(one for one in owned if one.of == sort) for sort in SHOP} if owned else {}
    return {sort: inputs for sort, inputs in found.items() if inputs}


def said_of(calculation: Calculation, typed: Mapping[str, str | None]) -> dict[str, str]:
    """For each sort of thing that the calculation takes, its main figures as typed, in one line."""
    return {sort: said(SHOP[sort], typed, inputs) for sort, inputs in things(calculation).items()}


def of_mine(calculation: Calculation, mine: Mapping[str, str]) -> dict[str, str]:
    """What a calculation takes of the figures of all the things in use."""
    return {one.name: mine[one.name] for one in calculation.inputs if one.of and one.name in mine}


def _line(one: Input, typed: Mapping[str, str | None]) -> str:
    text = text_of(one, typed)
    if text is None:
        return ""
    try:
        found = convert(one, text)
    except CalcError:
        return ""
    match one:
        case Number():
            _, unit = units.read_bare(text, one.kind)
            symbol = "" if unit else kinds.SYMBOLS[kinds.KINDS[one.kind].own]
            shown = f"{units.tidy(text)} {symbol}"
            return f"{one.label[0].lower()}{one.label[1:]} {shown.strip()}"
        case Choice():
            return one.options[found]
        case Notation():
            return str(found)
        case _:
            return text.strip()
