"""What must hold for every calculation, without anyone having to remember it: found by being in the catalogue."""

import importlib
import inspect
import json
import math
import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

import pytest

from calc import answer, answer_json, catalogue, kinds, tables
from calc.callout import callout
from calc.catalogue import SUBJECTS
from calc.model import LEVELS, Answer, Choice, Notation, Number, Numbers, Refused
from calc.run import check, convert, next_of, span
from calc.sheet import callout_sheet, link, parts, sheet
from tests.edges import RANDOM, at_random, every_edge, wrong

NAMES = tuple(catalogue())
SVG = "{http://www.w3.org/2000/svg}"


@cache
def outcomes(name: str) -> tuple[tuple[dict[str, str], Answer | Refused], ...]:
    """Every edge and every random input of a calculation with what it gave; any other exception is a bug."""
    return tuple((typed, outcome(name, typed)) for typed in (*every_edge(name), *at_random(name)))


def outcome(name: str, typed: dict[str, str]) -> Answer | Refused:
    try:
        return answer(name, typed)
    except Refused as refusal:
        return refusal


def answers(name: str) -> Iterator[tuple[dict[str, str], Answer]]:
    return ((typed, found) for typed, found in outcomes(name) if isinstance(found, Answer))


def refusals(name: str) -> Iterator[tuple[dict[str, str], Refused]]:
    return ((typed, found) for typed, found in outcomes(name) if isinstance(found, Refused))


# --------------------------------------------------------------------------------------------- declarations


@pytest.mark.parametrize("subject", SUBJECTS)
def test_a_folder_that_puts_its_calculations_in_order_names_all_of_them(subject):
    named = list(getattr(importlib.import_module(f"calc.calculations.{subject}"), "ORDER", ()))
    own = [name for name in NAMES if catalogue()[name].subject == subject]
    assert own == (named or sorted(own, key=lambda name: catalogue()[name].title))


@pytest.mark.parametrize("name", NAMES)
def test_a_declaration_is_whole(name):
    one = catalogue()[name]
    assert one.subject in SUBJECTS
    assert one.question.endswith("?")
    assert one.title
    assert not one.title.endswith(".")
    assert one.sources
    assert len({each.name for each in one.inputs}) == len(one.inputs)
    for each in one.inputs:
        assert re.fullmatch(r"[a-z][a-z0-9_]*", each.name)
        assert each.label[:1].isupper()
        assert not each.label.endswith((".", ":"))
        assert each.default is not None or each.optional, each.name


@pytest.mark.parametrize("name", NAMES)
def test_every_number_and_notation_has_help_and_every_choice_its_words(name):
    for each in catalogue()[name].inputs:
        if isinstance(each, Choice):
            assert all(key and shown for key, shown in each.options.items()), each.name
        else:
            assert len(each.help) > 10, each.name
            assert each.help.endswith((".", "?")), each.name


@pytest.mark.parametrize("name", NAMES)
def test_the_file_says_what_it_is_for_and_the_function_its_units(name):
    one = catalogue()[name]
    module = importlib.import_module(one.function.__module__)
    assert module.__name__ == f"calc.calculations.{one.subject}.{name}"
    assert len(inspect.getdoc(module) or "") > 40
    assert inspect.getdoc(one.function)


@pytest.mark.parametrize("name", NAMES)
def test_callout_patterns_name_inputs_of_the_calculation(name):
    one = catalogue()[name]
    for pattern in one.callouts:
        fields = re.findall(r"\{(\w+)(?:=([^}]*))?\}", pattern)
        assert fields
        for field, _ in fields:
            one.input(field)
        for field, fixed in fields:
            if fixed:
                convert(one.input(field), fixed)


@pytest.mark.parametrize("name", NAMES)
def test_common_entries_and_defaults_can_be_read(name):
    for each in catalogue()[name].inputs:
        for text in (*([each.default] if each.default else []), *(each.common if isinstance(each, Notation) else ())):
            convert(each, text)


# ------------------------------------------------------------------------------------------------- answers


@pytest.mark.parametrize("name", NAMES)
def test_it_answers_at_its_defaults(name):
    assert isinstance(outcome(name, {}), Answer)


@pytest.mark.parametrize("name", NAMES)
def test_every_edge_and_every_random_input_is_answered_or_refused(name):
    at_edges, random = outcomes(name)[:-RANDOM], outcomes(name)[-RANDOM:]
    for found in (at_edges, random):
        answered = sum(isinstance(one, Answer) for _, one in found)
        assert answered >= len(found) / 4, "these inputs hardly reach the calculation"


@pytest.mark.parametrize("name", NAMES)
def test_the_main_figures_are_there_and_the_level_is_known(name):
    for typed, found in answers(name):
        known = [one.name for one in found.values]
        assert len(set(known)) == len(known), typed
        assert 1 <= len(found.main) <= 4, typed
        assert set(found.main) <= set(known), typed
        for one in found.values:
            assert math.isfinite(one.number), (typed, one.name)
            assert one.unit in kinds.SYMBOLS.values(), (typed, one.name)
        if found.verdict:
            assert found.verdict.level in LEVELS, typed
            assert found.verdict.text.endswith("."), (typed, found.verdict.text)
        for text in (*found.cautions, *found.assumptions):
            assert text[:1].isupper() or not text[:1].isalpha() or re.match(r"[a-z]{1,2}\d", text), (typed, text)
            assert text.endswith("."), (typed, text)


MATHS = {
    "sqrt": math.sqrt, "log": math.log, "exp": math.exp, "pi": math.pi, "min": min, "max": max, "abs": abs,
    "atan": math.atan, "tan": math.tan,
}  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_the_working_gives_the_same_numbers_as_the_code(name):
    for typed, found in answers(name):
        for step in found.working:
            assert step.formula.isascii(), (typed, step.formula)
            result, _, expression = step.formula.partition(" = ")
            assert result.isidentifier(), (typed, step.formula)
            names = set(re.findall(r"[A-Za-z_]\w*", expression)) - set(MATHS)
            assert names == set(step.given), (typed, step.formula)
            assert re.fullmatch(r"[\w\s.,()+\-*/]+", expression), (typed, step.formula)
            worked = eval(expression, {"__builtins__": {}}, {**MATHS, **step.given})
            assert worked == pytest.approx(step.result, rel=1e-9, abs=1e-9), (typed, step.formula)


@pytest.mark.parametrize("name", NAMES)
def test_the_working_leads_to_what_is_shown(name):
    for typed, found in answers(name):
        assert found.working, typed
        shown = [one.number for one in found.values]
        results = [step.result for step in found.working]
        assert any(result == pytest.approx(number, rel=1e-9, abs=1e-9) for result in results for number in shown), typed


@pytest.mark.parametrize("name", NAMES)
def test_everything_cited_is_in_the_bibliography(name):
    for typed, found in answers(name):
        assert found.sources, typed
        assert all(tables.sources()[key] == title for key, title in found.sources.items()), typed


def test_every_publication_in_the_bibliography_is_cited():
    cited = {key for name in NAMES for _, found in answers(name) for key in found.sources}
    for path in tables.HERE.glob("*.csv"):
        cited |= {key for row in tables.table(path.stem) for key in row.source}
    assert set(tables.sources()) - cited == set()


def test_every_table_is_read_by_the_code():
    code = "".join(path.read_text(encoding="utf-8") for path in Path(tables.HERE).parent.rglob("*.py"))
    idle = [path.stem for path in tables.HERE.glob("*.csv") if f'"{path.stem}"' not in code]
    assert idle == []


@pytest.mark.parametrize("name", NAMES)
def test_a_picture_is_well_formed_and_says_what_it_shows(name):
    for typed, text in [(typed, found.picture) for typed, found in answers(name) if found.picture]:
        picture = ElementTree.fromstring(text)
        assert (picture.tag, picture.get("role")) == (f"{SVG}svg", "img"), typed
        assert picture[0].tag == f"{SVG}title", typed
        assert len(picture[0].text or "") > 10, typed
        assert "nan" not in text, typed
        assert "inf" not in re.sub(r">[^<]*<", "><", text), typed
        _, _, width, height = (float(one) for one in picture.get("viewBox", "").split())
        for one in picture.iter(f"{SVG}text"):
            assert -1 <= float(one.get("x", "")) <= width + 1, (typed, one.text)
            assert -1 <= float(one.get("y", "")) <= height + 1, (typed, one.text)
        for one in picture.iter(f"{SVG}rect"):
            assert float(one.get("width", "")) >= 0, typed
            assert float(one.get("height", "")) >= 0, typed


DRAWN = (
    "fit", "bearing_seat", "mating", "thermal_correction", "as_found", "parallel_key", "cut_length", "cut_list",
    "bar_clean_up", "bar_mass",
)  # fmt: skip


@pytest.mark.parametrize("name", DRAWN)
def test_what_can_be_drawn_is_drawn(name):
    assert all(found.picture for _, found in answers(name))


@pytest.mark.parametrize("name", NAMES)
def test_what_comes_next_exists_and_can_be_read_there(name):
    for typed, found in answers(name):
        for after in next_of(found):
            assert after.name in catalogue(), (typed, after.name)
            for field, text in after.typed.items():
                convert(catalogue()[after.name].input(field), text)


@pytest.mark.parametrize("name", NAMES)
def test_what_comes_next_from_the_defaults_is_answered(name):
    one = catalogue()[name]
    values, _ = check(one, {})
    declared = one.function(**values).following
    assert 2 <= len(declared) <= 4
    for after in declared:
        assert isinstance(outcome(after.name, dict(after.typed)), Answer), (after.name, after.typed)


# -------------------------------------------------------------------------------------- JSON, links and markup


@pytest.mark.parametrize("name", NAMES)
def test_json_has_no_nan_and_says_what_the_answer_says(name):
    for typed, found in outcomes(name):
        text = answer_json(name, typed)
        read = json.loads(text, parse_constant=pytest.fail)
        assert json.dumps(read, ensure_ascii=False, separators=(",", ":")) == text, typed
        text.encode("utf-8")
        if isinstance(found, Refused):
            told = [(one["name"], one["message"]) for one in read["problems"]]
            assert told == [(one.name, str(one)) for one in found.problems], typed
        else:
            assert [(one["name"], one["number"], one["text"]) for one in read["values"]] == [
                (one.name, one.number, one.text) for one in found.values
            ], typed
            assert "-0" not in re.findall(r'"(?:number|result)":(-0)(?:\.0)?[,}]', text), typed


@pytest.mark.parametrize("name", NAMES)
def test_a_link_brings_back_the_same_answer(name):
    for typed, _ in outcomes(name):
        address = urlsplit(link(name, typed))
        assert address.path == f"/c/{name}"
        back = dict(parse_qsl(address.query, keep_blank_values=True, strict_parsing=bool(address.query)))
        assert back == typed
        assert answer_json(name, back) == answer_json(name, typed)


@pytest.mark.parametrize("name", NAMES)
def test_the_answer_without_its_detail_comes_first_and_the_sheet_is_the_same(name):
    told = []
    whole = sheet(name, {}, first=told.append)
    assert whole == sheet(name, {})
    assert [json.loads(one) for one in told] == [{**json.loads(whole), "detail": ""}]


@pytest.mark.parametrize("name", NAMES)
def test_the_sheet_is_well_formed_and_what_is_typed_cannot_become_markup(name):
    fields = [one.name for one in catalogue()[name].inputs]
    for typed in (*(typed for typed, _ in outcomes(name)), {fields[0]: '"><script>alert(1)</script>'}):
        pieces = parts(name, typed)
        whole = ElementTree.fromstring(f"<div>{pieces['headline']}{pieces['detail']}</div>")
        assert whole.find(".//script") is None
        identifiers = [one.get("id") for one in whole.iter() if one.get("id")]
        assert len(set(identifiers)) == len(identifiers), typed
        for anchor in whole.iter("a"):
            assert re.match(r"#\w+$|/c/\w+(\?|$)", anchor.get("href", "")), typed
        assert str(pieces["spoken"]).endswith("."), typed


def visible(found: Answer) -> Iterator[str]:
    for value in found.values:
        yield from (value.label, value.text, value.also)
    if found.verdict:
        yield found.verdict.text
    yield from (*found.cautions, *found.assumptions)
    for table in found.tables:
        yield from (table.title, *table.columns, *(cell for row in table.rows for cell in row), table.note)
    for after in found.following:
        yield after.label
    if found.picture:
        yield from ElementTree.fromstring(found.picture).itertext()


@pytest.mark.parametrize("name", NAMES)
def test_figures_have_a_real_minus_and_nought_has_none(name):
    for typed, found in answers(name):
        for text in visible(found):
            assert not re.search(r"(?<![\w.)/])-\d", text), (typed, text)
            assert not re.search(r"[-−]0(?:\.0*)?(?![\d.])", text), (typed, text)
            assert not re.search(r"\bnan\b|\binf\b|\dE[-+]?\d|\de[-+]\d|None", text), (typed, text)


@pytest.mark.parametrize("name", NAMES)
def test_no_step_is_shown_as_nought_that_is_not(name):
    for typed, found in answers(name):
        sheet = ElementTree.fromstring(f"<div>{parts(name, typed)['detail']}</div>")
        shown = [one for one in sheet.iter("code") if one.get("class") == "result"]
        assert len(shown) == len(found.working), typed
        for step, code in zip(found.working, shown, strict=True):
            said = "".join(code.itertext()).partition("= ")[2].split(" ")[0]
            assert (float(said.replace("−", "-")) == 0) == (abs(step.result) < 1e-9), (typed, step.formula, said)


@pytest.mark.parametrize("name", NAMES)
def test_every_table_has_as_many_cells_as_headings(name):
    for typed, found in answers(name):
        for table in found.tables:
            assert table.title, typed
            assert all(len(row) == len(table.columns) for row in table.rows), (typed, table.title)
            assert table.rows, (typed, table.title)


# ------------------------------------------------------------------------------------------------ refusals

TO_DO = frozenset(
    ("give", "take", "type", "choose", "use", "leave", "check", "measure", "let", "put", "set", "part", "cool", "warm",
     "read", "add", "say", "correct", "clear", "turn", "enter", "make", "wait")
)  # fmt: skip


def tells_what_to_do(message: str) -> bool:
    """Whether a clause begins with what the user should do, or says which unit or what example to type."""
    clauses = re.split(r"[.;:,!?]\s+|\s(?:or|and|then|instead)\s", message)
    begins = any(clause.split(" ")[0].casefold() in TO_DO for clause in clauses if clause)
    return begins or bool(
        re.search(r"For example \S|not one of the choices: \S|; this field wants an? .+, in ", message)
    )


@pytest.mark.parametrize("name", NAMES)
def test_every_refusal_has_a_field_and_a_remedy(name):
    fields = [one.name for one in catalogue()[name].inputs]
    for typed, found in refusals(name):
        assert found.problems, typed
        for problem in found.problems:
            assert problem.name in fields, (typed, problem.name)
            assert str(problem).endswith("."), (typed, str(problem))
            assert tells_what_to_do(str(problem)), (typed, str(problem))


@pytest.mark.parametrize("name", NAMES)
def test_what_cannot_be_used_is_refused_at_its_own_field(name):
    for field, text in wrong(name):
        refusal = outcome(name, {field: text})
        assert isinstance(refusal, Refused), (field, text)
        assert [one.name for one in refusal.problems] == [field], (field, text)
        message = str(refusal.problems[0])
        assert message.endswith("."), message
        assert tells_what_to_do(message), message


@pytest.mark.parametrize("name", NAMES)
def test_the_limits_that_are_told_can_be_typed(name):
    for one in catalogue()[name].inputs:
        if isinstance(one, Number | Numbers):
            for unit in (kinds.KINDS[one.kind].own, *kinds.KINDS[one.kind].offered):
                found = re.fullmatch(r"(over|from) (\S+) (?:up )?to (\S+)( \S+)?", span(one, unit))
                assert found, span(one, unit)
                for end in found.groups()[2 if one.above else 1 : 3]:
                    convert(one, end + (found[4] or ""))


# ------------------------------------------------------------------------------------------------ call-outs


@pytest.mark.parametrize("name", NAMES)
def test_a_callout_of_it_can_be_shown(name):
    for pattern in catalogue()[name].callouts:
        fields = {one.name: one.default or ("5" if isinstance(one, Number) else "") for one in catalogue()[name].inputs}
        text = re.sub(r"\{\w+=[^}]*\}", "", pattern).format_map(fields)
        assert any(found == name for found, _ in callout(text)), text
        ElementTree.fromstring(f"<div>{callout_sheet(text)}</div>")
