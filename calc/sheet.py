"""An answer as HTML: the one renderer, used by the server for the first paint and by the browser after it.

Each public function returns text that is finished: the page puts it in place and adds nothing. Figures come
from the Answer as they are; nothing is computed or rounded here.
"""

import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import lru_cache

from calc.catalogue import look_up
from calc.draw import Markup, escape, tag
from calc.model import (
    LEVELS,
    Answer,
    Calculation,
    Following,
    InputError,
    NoSuchCalculation,
    Refused,
    Step,
    Table,
    Value,
    Verdict,
)
from calc.owned import of_mine, said_of
from calc.run import answer, as_typed, next_of, problems_of, repeated
from calc.units import plain, settle

_NAME = re.compile(r"[A-Za-z_]\w*")  # in a formula
LEVEL_WORDS = {"good": "Good", "mind": "Mind", "stop": "Stop"}


def sheet(
    name: str,
    typed: Mapping[str, str | None],
    twice: Sequence[str] = (),
    tell: Callable[[str], object] | None = None,
    first: Callable[[str], object] | None = None,
) -> str:
    """What a page needs to show the answer to `typed`, as JSON text.

    {"headline", "detail"} are HTML, {"spoken"} is one sentence for a screen reader, {"title"} for the window,
    {"problems"} lists what is wrong by field (empty when there is an answer), {"things"} has the main figures of
    each thing that Shop fills. `twice` are the fields that a link gives more than once. While it takes long, `tell`
    gets the same for the best answer so far, "" as a sign of life. `first` gets the answer with an empty detail as
    soon as there is one: the detail takes longer than the rest.
    """
    calculation = look_up(name)

    def so_far(found: Answer | None) -> None:
        if tell is not None:
            tell(_text(_parts(calculation, typed, found)) if found else "")

    refusal = repeated(calculation, typed, twice)
    if refusal:
        return _text(refused(calculation, typed, refusal))
    return _text(
        parts(
            name,
            typed,
            None if tell is None else so_far,
            None if first is None else lambda pieces: first(_text(pieces)),
        )
    )


def parts(
    name: str,
    typed: Mapping[str, str | None],
    so_far: Callable[[Answer | None], object] | None = None,
    first: Callable[[Mapping[str, object]], object] | None = None,
) -> dict[str, object]:
    """The pieces of `sheet` before they become JSON. NoSuchCalculation for an unknown name."""
    calculation = look_up(name)
    try:
        found = answer(name, typed, so_far)
    except Refused as refusal:
        return refused(calculation, typed, refusal)
    if first is None:
        return _parts(calculation, typed, found)
    pieces = _parts(calculation, typed, found, whole=False)
    first(pieces)
    return {**pieces, "detail": _detail(found)}


def _parts(
    calculation: Calculation, typed: Mapping[str, str | None], found: Answer, whole: bool = True
) -> dict[str, object]:
    return {
        "headline": _headline(found),
        "detail": _detail(found) if whole else "",
        "spoken": spoken(found),
        "title": f"{calculation.title}: {_what(found)}",
        "problems": [],
        "things": said_of(calculation, typed),
    }


def _text(pieces: Mapping[str, object]) -> str:
    return json.dumps(pieces, ensure_ascii=False, separators=(",", ":"))


def refused(calculation: Calculation, typed: Mapping[str, str | None], refusal: Refused) -> dict[str, object]:
    """The pieces of `sheet` where there is no answer."""
    return {
        "headline": _refusal(calculation, refusal),
        "detail": "",
        "spoken": "No answer. " + " ".join(f"{_label(calculation, one)}{one}" for one in refusal.problems),
        "title": calculation.title,
        "problems": problems_of(refusal),
        "things": said_of(calculation, typed),
    }


def callout_sheet(text: str, mine: Mapping[str, str] | None = None) -> str:
    """What a call-out could mean, as HTML: the best answer in short, the others as links; "" for no text.

    `mine` are the figures of the things in use: each calculation takes from it those of its inputs that Shop fills.
    """
    from calc.callout import callout  # the page of a calculation needs none of it

    if not text.strip():
        return ""
    meanings = [(name, {**of_mine(look_up(name), mine or {}), **typed}) for name, typed in callout(text)]
    if not meanings:
        return tag(
            "p",
            "Nothing known is written like that. Try a size and a class (30 k6), a fit (30 H7/k6), a bearing (6206), "
            "a reading and its temperature (30.02 @ 38C), a size in inches (1 3/16 in), or the thing in a word: drill, "
            "key, cut list.",
            class_="no-meaning",
        )
    first, *others = meanings
    listed = [tag("li", _meaning_link(name, typed)) for name, typed in others]
    return _first_meaning(*first) + (tag("ul", *listed, class_="meanings") if listed else "")


def link(name: str, typed: Mapping[str, str]) -> str:
    """The page of a calculation with these inputs, as an address without its host."""
    from urllib.parse import urlencode  # takes longer to import than the figures, which need none of it

    return f"/c/{name}" + (f"?{urlencode(typed)}" if typed else "")


def spoken(found: Answer) -> str:
    """The answer in one breath: the main figures, then the verdict. Also the text of a link's preview."""
    figures = ", ".join(f"{one.label} {one.text}" for one in _main(found))
    return f"{figures}. {found.verdict.text if found.verdict else ''}".strip()


# ---------------------------------------------------------------------------------------------- headline


def _main(found: Answer) -> list[Value]:
    return [found.value(name) for name in found.main]


def _what(found: Answer) -> str:
    return ", ".join(text for text in list(found.typed.values())[:3] if text)


def _headline(found: Answer) -> Markup:
    figures = [
        tag("div", tag("span", one.label, class_="what"), _figures(one), class_="figure") for one in _main(found)
    ]
    return tag("div", tag("div", *figures, class_="figures"), _verdict(found.verdict), class_="headline")


def _figures(one: Value) -> Markup:
    """Metric and inch side by side; which stands first and large is the style sheet's business."""
    metric = f'<span class="metric">{_number_and_unit(one.text)}</span>'
    if not one.also:
        return Markup(f'<span class="pair alone">{metric}</span>')
    return Markup(f'<span class="pair">{metric}<span class="inch">{_number_and_unit(one.also)}</span></span>')


def _number_and_unit(text: str) -> str:
    number, _, unit = text.partition(" ")
    return f"<b>{escape(number)}</b>" + (f"<i>{escape(unit)}</i>" if unit else "")


def _verdict(verdict: Verdict | None) -> Markup | None:
    if verdict is None:
        return None
    return tag("p", _sign(verdict.level), tag("strong", LEVEL_WORDS[verdict.level]), " ", verdict.text,
               class_=f"verdict {verdict.level}")  # fmt: skip


@lru_cache(maxsize=len(LEVELS))
def _sign(level: str) -> Markup:
    """The level as a shape, for who does not see its colour: ring, triangle, filled square."""
    shapes = {
        "good": tag("circle", cx=8, cy=8, r=5.5),
        "mind": tag("path", d="M8 2 14.5 14H1.5Z"),
        "stop": tag("rect", x=2.5, y=2.5, width=11, height=11),
    }
    return tag("svg", shapes[level], viewBox="0 0 16 16", class_="sign", aria_hidden="true")


def _refusal(calculation: Calculation, refusal: Refused) -> Markup:
    listed = [
        tag("li", tag("a", tag("span", tag("b", _label(calculation, one)), str(one)), href=f"#{one.name}"))
        for one in refusal.problems
    ]
    said = tag("p", _sign("stop"), tag("strong", "No answer yet"), " Put this right:", class_="verdict stop")
    return tag("div", said, tag("ul", *listed, class_="problems"), class_="headline refused")


def _label(calculation: Calculation, problem: InputError) -> str:
    """The name of a field in front of what is wrong with it; "" for one that is none, or is named already."""
    label = next((one.label for one in calculation.inputs if one.name == problem.name), "")
    return f"{label}: " if label and not str(problem).startswith(label) else ""


# ------------------------------------------------------------------------------------------------ detail


def _detail(found: Answer) -> Markup:
    return tag(
        "div",
        _listed("Mind", found.cautions, "cautions"),
        tag("figure", Markup(found.picture), class_="drawing") if found.picture else None,
        *(_table(one) for one in found.tables if one.first),
        _values(found.values),
        *(_table(one) for one in found.tables if not one.first),
        _folded("Working", [_step(one) for one in found.working], "working"),
        _folded(
            "Assumed",
            [tag("ul", *(tag("li", one) for one in found.assumptions))] if found.assumptions else [],
            "assumed",
        ),
        _folded("Sources", [tag("ul", *(tag("li", one) for one in found.sources.values()))], "sources"),
        _following(next_of(found)),
        class_="detail",
    )


def _listed(title: str, lines: Iterable[str], class_: str) -> Markup | None:
    items = [tag("li", one) for one in lines]
    if not items:
        return None
    return tag(
        "details", tag("summary", title), tag("ul", *items), class_=f"fold {class_}", id=f"fold-{class_}", open=""
    )


def _folded(title: str, inside: list[Markup], class_: str) -> Markup | None:
    if not inside:
        return None
    return tag("details", tag("summary", title), *inside, class_=f"fold {class_}", id=f"fold-{class_}")


def _values(values: tuple[Value, ...]) -> Markup:
    rows = [tag("tr", tag("th", one.label, scope="row"), tag("td", _figures(one))) for one in values]
    return tag("table", tag("caption", "All figures"), tag("tbody", *rows), class_="values")


def _table(one: Table) -> Markup:
    heading = tag("tr", *(tag("th", column, scope="col") for column in one.columns))
    rows = [
        tag("tr", tag("th", heads, scope="row"), *[tag("td", cell) for cell in others]) for heads, *others in one.rows
    ]
    body = tag("table", tag("caption", one.title), tag("thead", heading), tag("tbody", *rows), class_="rows")
    note = tag("p", one.note, class_="note") if one.note else None
    return tag("div", body, note, class_="table-holder", tabindex="0", role="region", aria_label=one.title)


def _step(one: Step) -> Markup:
    name, _, expression = one.formula.partition("=")
    put_in = _NAME.sub(lambda match: _given(one, match[0]), expression)
    left = f"{_typeset(name)}="
    return tag(
        "p",
        tag("code", _typeset(one.formula)),
        tag("code", f"{left} {_typeset(put_in.strip())}"),
        tag("code", f"{left} {plain(one.result)} {one.unit}".rstrip(), class_="result"),
        tag("span", one.note, class_="note") if one.note else None,
        class_="step",
    )


def _given(one: Step, name: str) -> str:
    if name not in one.given:
        return name
    text = f"{settle(one.given[name]):f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"({text})" if text.startswith("-") else text


def _typeset(expression: str) -> str:
    return (
        expression.replace("**", "^")
        .replace(" * ", " × ")
        .replace(" - ", " − ")
        .replace("sqrt", "√")
        .replace("(-", "(−")
    )


def _following(following: tuple[Following, ...]) -> Markup | None:
    if not following:
        return None
    items = [
        tag(
            "li",
            tag("a", tag("b", one.label), tag("span", look_up(one.name).title), href=link(one.name, one.typed)),
        )
        for one in following
    ]
    return tag("nav", tag("h2", "Next"), tag("ul", *items), class_="following", aria_label="What usually comes next")


# ----------------------------------------------------------------------------------------------- call-out


def _first_meaning(name: str, typed: dict[str, str]) -> Markup:
    try:
        headline = _headline(answer(name, typed))
    except (Refused, NoSuchCalculation) as refusal:
        said = " ".join(one["message"] for one in problems_of(refusal))
        why = tag("p", _sign("stop"), tag("strong", "No answer"), " ", said, class_="verdict stop")
        headline = tag("div", why, class_="headline")
    return tag("div", _meaning_link(name, typed), headline, class_="first-meaning")


def _meaning_link(name: str, typed: dict[str, str]) -> Markup:
    calculation = look_up(name)
    filled = as_typed(calculation, typed)
    shown = " ".join(filled[one.name] for one in calculation.inputs if typed.get(one.name))
    return tag("a", tag("b", calculation.title), tag("span", shown), href=link(name, typed))


def preview(name: str, typed: Mapping[str, str | None]) -> tuple[str, str]:
    """Title and description of a page for a link's preview, as plain text."""
    pieces = parts(name, typed)
    return str(pieces["title"]), str(pieces["spoken"])


__all__ = ["callout_sheet", "escape", "link", "parts", "preview", "refused", "sheet", "spoken"]
