"""Cut length: sums by hand, and the bars that a kerf decides."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.callout import callout
from calc.model import Refused

NAME = "cut_length"
BARE = {"facing": "0", "squareness": "0", "holding": "0"}


def found(name: str, **typed: str) -> float:
    return answer(NAME, typed).value(name).number


@pytest.mark.parametrize(
    ("typed", "expected", "why"),
    [
        ({}, 315.8, "312 + 2 × 1.5 faced + 2 × 0.4 lean (1 mm over 100 mm on 40 mm), by hand"),
        ({"holding": "30 mm"}, 345.8, "30 mm more for the chuck, by hand"),
        ({"parting": "part off"}, 315.0, "a parting tool leaves a square end, by hand"),
        ({**BARE}, 312.0, "nothing allowed, nothing added"),
        ({**BARE, "squareness": "1.5 mm", "diameter": "100 mm"}, 315.0, "1.5 mm at either end, by hand"),
    ],
)
def test_length_to_cut(typed, expected, why):
    assert found("cut_length", **typed) == expected, why


@pytest.mark.parametrize(
    ("bar", "pieces", "most"),
    [("3000 mm", "2", 2), ("3006 mm", "3", 3), ("3005 mm", "2", 2), ("3009 mm", "3", 3)],
)
def test_the_last_cut_is_free_at_the_end_of_the_bar(bar, pieces, most):
    # recomputed: n pieces of 1000 mm with a kerf of 3 mm need n × 1003 - 3
    typed = {**BARE, "finished_length": "1000 mm", "kerf": "3 mm", "bar_length": bar, "pieces": pieces}
    assert found("pieces_in_bar", **typed) == most
    with pytest.raises(Refused, match=f"gives {most}"):
        answer(NAME, {**typed, "pieces": str(most + 1)})


def test_a_bar_that_is_too_short_is_refused_at_its_field():
    with pytest.raises(Refused) as caught:
        answer(NAME, {"bar_length": "300 mm"})
    (only,) = caught.value.problems
    assert only.name == "bar_length"
    assert "1 piece needs 315.80 mm of bar and this one gives 0" in str(only)


def test_the_vice_must_still_hold_what_is_left():
    assert answer(NAME, {"bar_length": "340 mm"}).verdict.level == "mind"
    assert answer(NAME, {"bar_length": "367.3 mm"}).verdict.level == "good"
    assert answer(NAME, {"bar_length": "315.8 mm"}).verdict.level == "good"  # no cut at all
    assert answer(NAME, {"bar_length": "340 mm", "parting": "part off"}).verdict.level == "good"


def test_cautions_belong_to_the_way_it_is_cut():
    assert "Guard" in answer(NAME, {}).cautions[0]
    assert any("whips" in one for one in answer(NAME, {"parting": "part off"}).cautions)


@settings(deadline=None, max_examples=60)
@given(st.integers(1, 400), st.integers(1, 40), st.integers(1, 60))
def test_pieces_cuts_and_rest_make_the_bar(length, pieces, kerf):
    typed = {"finished_length": f"{length}", "pieces": f"{pieces}", "kerf": f"{kerf / 10}", "bar_length": "50 m"}
    one = answer(NAME, typed)
    piece, left = one.value("cut_length").number, one.value("left").number
    assert pieces * (piece + kerf / 10) + left == pytest.approx(50_000)


@settings(deadline=None, max_examples=60)
@given(st.integers(20, 4000), st.integers(1, 40), st.integers(1, 60), st.integers(0, 100))
def test_the_last_cut_takes_only_what_the_bar_still_has(length, pieces, kerf, spare):
    # tenths of a millimetre, exact: pieces, whole cuts between them, what is left of the last cut, and the rest
    bar = pieces * length + (pieces - 1) * kerf + spare
    typed = {**BARE, "finished_length": f"{length / 10}", "pieces": f"{pieces}", "kerf": f"{kerf / 10}"}
    one = answer(NAME, {**typed, "bar_length": f"{bar / 10} mm"})
    last, left = min(kerf, spare), round(one.value("left").number * 10)
    assert pieces * length + (pieces - 1) * kerf + last + left == bar
    assert one.value("pieces_in_bar").number == (bar + kerf) // (length + kerf)


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("312 cut", {"finished_length": "312"}),
        ("6 x 312 cut", {"pieces": "6", "finished_length": "312"}),
        ("6 off 312mm cut", {"pieces": "6", "finished_length": "312mm"}),
        ("12in parted off", {"finished_length": "12in", "parting": "part off"}),
        ("Cut 3 off 1,2 m", {"pieces": "3", "finished_length": "1,2 m"}),
    ],
)
def test_as_it_is_asked_for(text, typed):
    assert callout(text)[0] == (NAME, {**typed, "bar_length": ""})
    assert answer(NAME, dict(callout(text)[0][1])).values


def test_the_same_pieces_go_on_to_a_cut_list_and_the_bar_to_its_clean_up():
    after = {
        one.name: dict(one.typed) for one in answer(NAME, {"pieces": "3", "kerf": "2.5", "bar_length": "6 m"}).following
    }
    assert after["bar_clean_up"] == {"size": "40 mm"}
    # 312 and twice 1.5 faced, twice 0.4 of lean on 40 mm
    assert after["cut_list"] == {"pieces": "3 x 315.8 mm", "kerf": "2.5 mm", "vice_length": "50 mm", "bars": "6000 mm"}
    assert answer("cut_list", after["cut_list"]).value("bars_used").number == 1
    parted = answer(NAME, {"parting": "part off", "bar_length": "", "parting_width": "3"}).following
    assert [one.typed["kerf"] for one in parted if one.name == "cut_list"] == ["3 mm"]


def test_what_is_sawn_is_faced_next_and_what_is_parted_off_asks_for_the_blade():
    sawn = {one.name: one.typed for one in answer(NAME, {}).following}
    # 1.5 faced and 0.4 of lean on 40 mm
    assert sawn["facing"] == {"diameter": "40 mm", "allowance": "1.9 mm"}
    assert answer("facing", sawn["facing"]).value("each").number == pytest.approx(0.95)
    parted = {one.name: one.typed for one in answer(NAME, {"parting": "part off", "parting_width": "2"}).following}
    assert parted["parting"] == {"diameter": "40 mm", "blade": "2 mm"}
    assert "facing" not in parted
