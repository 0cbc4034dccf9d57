"""What a long calculation tells while it is at work, and that telling changes nothing."""

import json
from itertools import count, pairwise
from random import Random
from time import process_time

import pytest

from calc import answer, answer_json, progress
from calc.model import Refused, Result
from calc.sheet import parts, sheet
from tests.bench.cutting import lists

LONG = {"search": "thorough", **next(lists(250, 20, 1))}


@pytest.fixture
def at_once(monkeypatch):
    """A clock that runs a second on whenever it is looked at: whatever is known is told at the next beat."""
    ticks = count()
    monkeypatch.setattr(progress.Ear.__init__, "__defaults__", (lambda: next(ticks),))


def empty(main):
    return Result(values=(), main=main)


def test_nothing_is_told_before_its_time_and_then_only_the_last():
    now, told, made = [0.0], [], []
    ear = progress.Ear(told.append, lambda: now[0])

    def make(name):
        def result():
            made.append(name)
            return empty((name,))

        return result

    with progress.heard_by(ear):
        progress.found(make("first"))
        progress.beat()
        assert told == []
        now[0] = progress.FIRST
        progress.found(make("second"))
        progress.beat()
        progress.beat()
        assert [one.main for one in told] == [("second",)]
        now[0] += progress.PAUSE
        progress.beat()
        assert told[1:] == [None]
    assert made == ["second"]


def test_nobody_is_told_outside():
    told = []
    with progress.heard_by(progress.Ear(told.append, lambda: 0.0)):
        pass
    progress.found(lambda: empty(()))
    progress.beat()
    assert told == []


def test_each_better_plan_of_a_cut_list_is_told_with_what_is_proved(at_once):
    told = []
    found = answer("cut_list", LONG, told.append)
    plans = [one for one in told if one is not None]
    assert None in told
    assert len(plans) > 1
    bars = [one.value("bars_used").number for one in plans] + [found.value("bars_used").number]
    bounds = [one.value("lower_bound").number for one in plans] + [found.value("lower_bound").number]
    assert bars == sorted(bars, reverse=True)
    assert bounds == sorted(bounds)
    assert bounds[-1] <= bars[-1]
    assert plans[0].verdict.text != found.verdict.text
    pieces = sum(int(part.split(" x ")[0]) for part in LONG["pieces"].split(", "))
    for one in plans:
        cut = [row[1:3] for row in one.tables[0].rows]
        assert pieces == sum(
            int(bars.split(" × ")[0]) * sum(int(run.split()[0]) for run in runs.split(", ")) for bars, runs in cut
        )


def test_a_search_gives_signs_of_life_far_oftener_than_anybody_loses_patience(monkeypatch):
    """The longest silence, with lists as large as may be typed; a slow phone takes twenty times as long."""
    dice = Random("silence")
    sizes = dice.sample(range(900, 2900), 40)
    bars = ", ".join(f"9 x {3000 + 37 * place}" for place in range(39))
    heard = []
    monkeypatch.setattr(progress.Ear, "beat", lambda ear: heard.append(process_time()))
    typed = {"pieces": ", ".join(f"50 x {size}" for size in sizes), "bars": f"6000, {bars}"}
    assert answer("cut_list", typed, lambda found: None).value("bars_used").number > 300
    assert len(heard) > 100
    assert max(after - before for before, after in pairwise(heard)) < 0.5  # s; a twentieth of ten, of twenty allowed


def test_the_answer_is_the_same_whether_anybody_listens(at_once):
    for typed in (*lists(60, 12, 3), *lists(40, 15, 2), {"pieces": "9 x 1000", "bars": "2 x 3000"}):
        alone = sheet("cut_list", typed)
        assert sheet("cut_list", typed, (), lambda text: None) == alone


def test_what_is_told_is_a_sheet_of_its_own(at_once):
    told = []
    final = json.loads(sheet("cut_list", LONG, (), told.append))
    assert "" in told
    plans = [json.loads(text) for text in told if text]
    assert plans
    for one in plans:
        assert list(one) == list(final)
        assert one["problems"] == []
        assert "<svg" in one["detail"]


def test_bars_that_do_not_do_are_never_told_as_a_plan(at_once):
    told = []
    with pytest.raises(Refused, match="left over"):
        answer("cut_list", {"pieces": LONG["pieces"], "bars": "2 x 3000"}, told.append)
    assert set(told) <= {None}


def test_a_field_given_twice_is_refused_whatever_else_is_right():
    typed = {"size": "30", "hole": "Q9"}
    reply = json.loads(sheet("fit", typed, ("size",)))
    assert [one["name"] for one in reply["problems"]] == ["size", "hole"]
    assert "more than once" in reply["problems"][0]["message"]
    assert json.loads(sheet("fit", typed)) == json.loads(json.dumps(parts("fit", typed)))
    assert json.loads(answer_json("fit", {"size": "30"}))["name"] == "fit"
