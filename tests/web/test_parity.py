"""The engine in the browser gives the text that the server gives, byte for byte, whatever is asked.

Questions go to the app's own worker in a real browser, many at once; the answers are compared with those of this
Python. The server prints nothing else: its replies are these texts.
"""

import hashlib
import io
import json
import re
import zipfile
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import pytest

from calc import answer, answer_json, catalogue
from calc.callout import callout
from calc.model import CalcError, Notation
from calc.owned import shop_json
from calc.qr import qr
from calc.sheet import callout_sheet, link, sheet
from calc.shop import SHOP
from calc.units import conversions
from server import engine as engine_files
from tests.bench.cutting import lists
from tests.edges import RANDOM, at_random, every_edge, wrong
from tests.web.conftest import ENGINE, Watch, scripts

CALC = Path(__file__).parents[2] / "calc"
NAMES = tuple(catalogue())
BATCH = 200  # questions under way at once; an answer is up to 60 kB of text

#: Starts the worker as the page would and leaves `ask_all` behind: [[op, args], ...] -> [{text} or {problem}, ...].
START = """
({ script, limit }) => new Promise((ready, failed) => {
  const late = () => new Error(`nothing came from the engine within ${limit} ms`);
  setTimeout(() => failed(late()), limit);
  const worker = new Worker(script, { type: "module" });
  const waiting = new Map();
  let next = 0;
  worker.onerror = (event) => failed(new Error(event.message));
  worker.onmessage = ({ data }) => {
    if (data.ready) ready();
    else if (data.failed) failed(new Error(data.failed));
    else if (data.so_far === undefined) waiting.get(data.id)(data);
  };
  const ask = (op, args) => new Promise((settle) => {
    waiting.set(next, settle);
    worker.postMessage({ id: next++, op, args, telling: true });
  });
  window.ask_all = (questions) => new Promise((settle, fail) => {
    setTimeout(() => fail(late()), limit);
    Promise.all(questions.map(([op, args]) => ask(op, args))).then(settle, fail);
  });
})
"""


class Engine:
    """The app's worker, started in `page`; `fetched` are the paths of all that was asked of the server for it."""

    def __init__(self, page):
        self.fetched = set()
        self.scripts = scripts(page)
        page.goto("/healthz")  # of the app's origin and under its policy, with no script of its own
        page.on("request", lambda asked: self.fetched.add(urlsplit(asked.url).path))
        page.evaluate(START, {"script": f"{self.scripts}worker.js", "limit": ENGINE})
        self._page = page

    def ask(self, questions):
        """The text of each answer; a question that the engine could not answer fails the test."""
        texts = []
        for begin in range(0, len(questions), BATCH):
            for reply in self._page.evaluate("(questions) => ask_all(questions)", questions[begin : begin + BATCH]):
                assert "problem" not in reply, reply["problem"]
                texts.append(reply["text"])
        return texts


@pytest.fixture(scope="module")
def engine(browser, server):
    context = browser.new_context(base_url=server.address, service_workers="block")
    watch = Watch()
    watch.allow(r"/favicon\.ico$")  # a page of plain text names no icon, and the browser guesses
    watch.over(context, server.address)
    yield Engine(context.new_page())
    context.close()
    assert watch.complaints == []


def differences(engine, op, asked, here):
    """What the engine says otherwise than this Python, each with the question and the place of the first difference."""
    found = []
    for args, there, own in zip(asked, engine.ask([[op, args] for args in asked]), map(here, asked), strict=True):
        if there != own:
            at = next((place for place, (a, b) in enumerate(zip(there, own, strict=False)) if a != b), -1)
            around = slice(max(0, at - 60), at + 60)
            found.append(f"{op} {args}:\n  engine {there[around]}\n  server {own[around]}")
    return found


def questions(name):
    """Everything typed that is asked of a calculation: defaults, edges, random, what is refused, an unknown field."""
    refused = [{field: text} for field, text in wrong(name)]
    several = dict(wrong(name))
    return [{}, *every_edge(name), *at_random(name), *refused, several, {"colour": "blue"}]


@pytest.mark.parametrize("name", NAMES)
def test_json_is_the_same_text(engine, name):
    asked = [{"name": name, "typed": typed} for typed in questions(name)]
    assert len(asked) > RANDOM
    assert differences(engine, "json", asked, lambda one: answer_json(one["name"], one["typed"])) == []


@pytest.mark.parametrize("name", NAMES)
def test_the_sheet_is_the_same_text(engine, name):
    asked = [{"name": name, "typed": typed} for typed in questions(name)]
    assert differences(engine, "sheet", asked, lambda one: sheet(one["name"], one["typed"])) == []


@pytest.mark.parametrize(("pieces", "lengths"), [(60, 12), (60, 20), (250, 20), (500, 40)])
def test_a_long_cut_list_is_the_same_text(engine, pieces, lengths):
    """Long enough that the best so far is told on the way, which must not lead to another plan."""
    usual = list(lists(pieces, lengths, 3))
    asked = [{"name": "cut_list", "typed": typed} for typed in (*usual, {**usual[0], "search": "thorough"})]
    assert differences(engine, "sheet", asked, lambda one: sheet(one["name"], one["typed"])) == []


def test_fields_given_twice_are_refused_in_the_same_text(engine):
    asked = [{"name": name, "typed": {}, "twice": ["size", "pieces", "colour"]} for name in NAMES]
    assert differences(engine, "sheet", asked, lambda one: sheet(one["name"], one["typed"], one["twice"])) == []


def test_what_comes_next_is_the_same_text(engine):
    asked = []
    for name in NAMES:
        for typed in (*every_edge(name), *at_random(name, 20)):
            try:
                found = answer(name, typed)
            except CalcError:
                continue
            asked += [{"name": after.name, "typed": dict(after.typed)} for after in found.following]
    distinct = list({json.dumps(one): one for one in asked}.values())
    assert distinct
    assert differences(engine, "json", distinct, lambda one: answer_json(one["name"], one["typed"])) == []


def test_an_unknown_calculation_is_refused_in_the_same_text(engine):
    asked = [{"name": name, "typed": {}} for name in ("", "fits", "FIT", "../fit", "Ø" * 60)]
    assert differences(engine, "json", asked, lambda one: answer_json(one["name"], one["typed"])) == []


WRITTEN = (
    "30 H7/k6", "30 H7 k6", "Ø30k6", "30k6", "30 H7", "30 H", "30", "3", "1 3/16 in", "1 3/16", "½ in", "30,02 mm",
    "30.02 @ 38C", "30.02 @", "6206", "6206 C3", "62", "NU 2311", "NU2311", "63/28", "32208", "16101", "61808", "6",
    "H7", "k", "4000 H7", "20 t6", "0.8 a11", "0.5 N9", "?", "9**9", "３０ Ｈ７", "<b>30</b>", "x" * 65, " ", "",
)  # fmt: skip


def callouts():
    """Lines as on a drawing: usual ones, every declared pattern with its defaults, and every beginning of those."""
    whole = []
    for name in NAMES:
        fields = {one.name: one.default or "" for one in catalogue()[name].inputs}
        for one in catalogue()[name].inputs:
            if isinstance(one, Notation) and one.common:
                fields[one.name] = fields[one.name] or one.common[0]
        whole += [re.sub(r"\{\w+=[^}]*\}", "", pattern).format_map(fields) for pattern in catalogue()[name].callouts]
    beginnings = (text[:end] for text in whole for end in range(1, len(text) + 1))
    return list(dict.fromkeys((*WRITTEN, *beginnings)))


def test_a_callout_is_the_same_text(engine):
    asked = [{"text": text} for text in callouts()]
    assert sum(bool(callout(one["text"])) for one in asked) > len(asked) / 3
    assert differences(engine, "callout", asked, lambda one: callout_sheet(one["text"])) == []


def test_a_thing_of_the_shop_reads_the_same(engine):
    asked = []
    for sort, thing in SHOP.items():
        names = [one.name for one in thing.inputs]
        texts = ("", "?", "9**9", "12", "0.5 in", "1 3/16", "45 63 90", "5 kN", "x" * 800)
        tried = [{}, *({name: text} for name in names for text in texts), dict.fromkeys(names, "?"), {"colour": "blue"}]
        asked += [{"sort": sort, "typed": typed} for typed in tried]
    assert asked
    assert differences(engine, "shop", asked, lambda one: shop_json(one["sort"], one["typed"])) == []


def test_a_callout_with_things_of_the_shop_is_the_same_text(engine):
    mine = {one.name: "12" for thing in SHOP.values() for one in thing.inputs}
    asked = [{"text": text, "mine": mine} for text in callouts()]
    assert differences(engine, "callout", asked, lambda one: callout_sheet(one["text"], one["mine"])) == []


def test_a_code_is_the_same_drawing(engine):
    links = [f"http://127.0.0.1:8137{link(name, typed)}" for name in NAMES for typed in every_edge(name)[:12]]
    assert differences(engine, "qr", [{"link": one} for one in links], lambda one: qr(one["link"])) == []


# ------------------------------------------------------------------------------------- the engine's own files


def listed(page):
    """Addresses of the offline copy, as the service worker has them."""
    script = page.request.get("/sw.js").text()
    return {one["url"] for one in json.loads(script.partition("self.OFFLINE = ")[2].partition(";\n")[0])["files"]}


def test_all_that_the_engine_fetches_is_in_the_offline_copy(engine, page):
    engine.ask([["qr", {"link": "http://127.0.0.1/"}]])
    names = {"pyodide.mjs", "pyodide.asm.wasm", "stdlib.zip", "packages.zip", "calc.zip"}
    scripts = {"worker.js", "engine_files.js", "snapshot.js"}
    assert {Path(path).name for path in engine.fetched} == names | scripts
    assert engine.fetched - listed(page) == set()


def test_the_archive_is_the_package(engine, page):
    """Each file as it is, or compiled out of what it is; and what pint says of the units."""
    with zipfile.ZipFile(io.BytesIO(page.request.get(urljoin(engine.scripts, "../calc.zip")).body())) as archive:
        served = {path: archive.read(path) for path in archive.namelist()}
    assert served.pop("calc/conversions.json").decode() == conversions()
    compiled = engine_files.read(CALC.parent / "web").compiled
    there = {path.relative_to(CALC.parent).as_posix(): path for path in CALC.rglob("*")}
    for path, body in served.items():
        source = there.pop(path.removesuffix("c") if path.endswith(".pyc") else path).read_bytes()
        if path.endswith(".pyc"):
            assert compiled[path[:-1]] == (hashlib.sha256(source).hexdigest(), body)
        else:
            assert body == source
    assert [path for path in there.values() if path.is_file() and "__pycache__" not in path.parts] == []
