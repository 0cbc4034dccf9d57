"""Whatever is sent is answered or refused: in time, well formed, with every header; and nothing is kept of it.

A few cases in a usual run, the same ones every time; 20,000 with `--long`.
"""

import contextlib
import functools
import gc
import json
import re
import time
import tracemalloc
from html import unescape

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import answer_json, catalogue, sheet
from calc.callout import callout
from calc.model import Choice, Refused
from calc.run import answer
from server import headers
from server.app import create_app
from tests import hostile

CALCULATIONS = tuple(catalogue())
SLOWEST = 1.0  # s of processor time for one answer
HTML, JSON = "text/html; charset=utf-8", "application/json"
REFUSALS = {400, 404, 414, 422}

every = pytest.mark.parametrize("name", CALCULATIONS)


@pytest.fixture(scope="module")
def asking():
    """A function that sends a request as it is; a mistake of ours is raised, not answered with a 500."""
    app = create_app()
    app.config["PROPAGATE_EXCEPTIONS"] = True
    client = app.test_client()

    def ask(asked):
        began = time.thread_time()
        reply = client.get("/", environ_overrides=asked.environ, headers=list(asked.sent))
        return reply, time.thread_time() - began

    return ask


@pytest.fixture
def share(request):
    """How many cases of so many in the long run: all of them there, one in thirty-six otherwise."""
    return lambda many: many if request.config.getoption("--long") else max(10, many // 36)


def tried(count, strategy, test):
    """Run `test` on so many cases, the same in every run; what fails is shown as short as it can be made."""
    settings(
        max_examples=count, derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck)
    )(given(strategy)(test))()


def judge(asked, reply, seconds):
    """All that must hold for every reply."""
    assert seconds < SLOWEST
    assert reply.status_code in REFUSALS or reply.status_code in (200, 304)
    for name, text in headers.SECURITY.items():
        assert reply.headers.getlist(name) == [text]
    assert reply.headers["Cache-Control"] in (headers.ASK_AGAIN, headers.FOR_EVER, headers.KEEP_NOT)
    assert "Set-Cookie" not in reply.headers
    assert "X-Own" not in reply.headers
    if reply.status_code == 304 or reply.content_encoding:
        return
    kind = reply.content_type
    if kind == JSON:
        whole(json.loads(reply.text, parse_constant=pytest.fail), reply.status_code)
    else:
        assert kind in (HTML, "image/svg+xml", "text/plain; charset=utf-8")
        if kind != "text/plain; charset=utf-8":
            assert list(hostile.flaws(reply.text.removeprefix("<!doctype html>"))) == []


def whole(body, status):
    """An answer has figures, a refusal says what is wrong with which field, and markup in either is ours."""
    if "headline" in body:
        assert list(hostile.flaws(body["headline"])) + list(hostile.flaws(body["detail"])) == []
        assert body["title"]
        assert body["spoken"]
    elif status == 200 and "said" not in body:
        assert body["values"]
        assert list(hostile.flaws(body["picture"])) == []
    for problem in body.get("problems", []):
        assert problem["message"].strip()
        assert isinstance(problem["name"], str)
    if status in REFUSALS:
        assert body["problems"]


@every
def test_no_request_breaks_a_calculation(asking, share, name):
    count = share(-(-16_000 // len(CALCULATIONS)))
    seen = []

    def test(asked):
        reply, seconds = asking(asked)
        seen.append(reply.status_code)
        judge(asked, reply, seconds)
        assert reply.status_code not in (400, 404) or asked.query.count(b"&") >= 64
        if asked.path.startswith("/c/") and reply.content_type == HTML and not reply.content_encoding:
            shown_as_typed(asked, reply)

    tried(count, hostile.calculated(name), test)
    assert len(seen) == count
    assert {200, 422} <= set(seen)


def shown_as_typed(asked, reply):
    """What was given for a field, once and plainly encoded, stands in it."""
    if asked.query != hostile.encoded(asked.pairs, "plain") or reply.status_code not in (200, 422):
        return
    inputs = {one.name: one for one in catalogue()[asked.path.removeprefix("/c/")].inputs}
    for field, text in dict(reversed(asked.pairs)).items():
        if field in inputs and not isinstance(inputs[field], Choice):
            box = re.search(
                rf'<(?:input id="{field}"[^>]* value="([^"]*)"|textarea id="{field}"[^>]*>([^<]*)</textarea>)',
                reply.text,
            )
            assert unescape(box[1] if box[1] is not None else box[2]) == text


def test_no_request_breaks_anything_else(asking, share):
    tried(share(4000), hostile.elsewhere(), lambda asked: judge(asked, *asking(asked)))


@every
def test_a_calculation_refuses_in_words_or_answers(share, name):
    """As the command line and the engine in the browser ask, which may have half a character to give."""
    known = {one.name: hostile.texts(hostile.usual(name)[one.name], 64) for one in catalogue()[name].inputs}

    def test(typed, field, odd):
        typed = {**typed, field: odd}
        with contextlib.suppress(Refused):
            assert answer(name, typed).values
        json.loads(answer_json(name, typed), parse_constant=pytest.fail)
        whole(json.loads(sheet.sheet(name, typed), parse_constant=pytest.fail), 200)

    halves = st.sampled_from(hostile.HALVES)
    one = st.sampled_from(tuple(known)).flatmap(
        lambda field: st.tuples(st.just(field), st.one_of(known[field], halves))
    )
    tried(
        share(600),
        st.tuples(st.fixed_dictionaries({}, optional=known), one),
        lambda both: test(both[0], *both[1]),
    )


def test_a_call_out_is_read_or_not(share):
    def test(text):
        began = time.thread_time()
        for name, typed in callout(text):
            assert name in CALCULATIONS
            assert set(typed) <= {one.name for one in catalogue()[name].inputs}
        assert list(hostile.flaws(sheet.callout_sheet(text))) == []
        assert time.thread_time() - began < SLOWEST

    tried(share(3000), st.one_of(hostile.callouts(), st.sampled_from(hostile.HALVES)), test)


# ---------------------------------------------------------------------------------------------- what is kept


def bounded():
    """Every cache of ours that lets go of what is old."""
    kept = [one for one in gc.get_objects() if isinstance(one, functools._lru_cache_wrapper)]
    ours = [one for one in kept if one.__module__.split(".")[0] in ("calc", "server")]
    assert len(ours) > 20
    return [one for one in ours if one.cache_info().maxsize is not None]


def held():
    """Bytes that are in use once every bounded cache has let go."""
    for one in bounded():
        one.cache_clear()
    catalogue()
    callout("30 H7/k6")
    answer("bearing_seat", {})
    gc.collect()
    return tracemalloc.get_traced_memory()[0]


def test_nothing_is_kept_of_what_was_asked(asking, share):
    every_one = st.one_of(*(hostile.calculated(name) for name in CALCULATIONS), hostile.elsewhere())
    requests = hostile.drawn(every_one, share(3000) * 2)
    half = len(requests) // 2
    tracemalloc.start()
    try:
        for one in requests[:half]:
            asking(one)
        before = held()
        for one in requests[half:]:
            asking(one)
        grown = held() - before
    finally:
        tracemalloc.stop()
    assert grown < 128 * 1024 + 20 * half
