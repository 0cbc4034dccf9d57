"""Reaming: what is left, which drill leaves it, speed and feed, and every refusal."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.callout import callout
from calc.model import Refused

NAME = "reaming"


def found(name, **typed):
    return answer(NAME, typed).value(name).number


def test_hole_before_the_reamer():
    # TM 1-420: 0.13 to 0.25 mm on diameter; tool maker's table for tipped reamers over 7.1 to 22.4 mm: 0.254 to 0.406
    assert (found("bore_least"), found("bore_most")) == (19.75, 19.87)
    tipped = {"diameter": "10", "reamer": "tipped"}
    assert (found("bore_least", **tipped), found("bore_most", **tipped)) == (9.594, 9.746)
    assert any("second text leaves 0.13 to 0.25" in one for one in answer(NAME, tipped).assumptions)


def test_a_usual_drill_where_there_is_one_and_else_a_bore():
    assert (found("drill"), found("left")) == (19.75, 0.25)
    assert answer(NAME, {}).verdict.text == "Drill 19.75 mm, then ream."
    bored = answer(NAME, {"diameter": "20", "reamer": "tipped"})
    assert bored.value("drill").number == 19.5
    assert bored.verdict.level == "mind"
    assert "bore to 19.59 mm to 19.75 mm" in bored.verdict.text


def test_speed_and_feed():
    # half of 22.85 m/min on 20 mm are 182 rev/min; carbide maker's table: 0.051 to 0.076 mm for each flute
    one = answer(NAME, {})
    assert one.value("spindle_speed").number == 180
    assert one.value("feed").number == pytest.approx(6 * 0.0635)
    assert one.value("feed_rate").number == pytest.approx(180 * 6 * 0.0635)
    assert one.value("time").number == pytest.approx(45 / (180 * 6 * 0.0635))
    # tool maker's table of reaming: 316 at 9.1 m/min
    assert found("spindle_speed", material="316", diameter="10") == 250
    assert found("feed", flutes="8") == pytest.approx(8 * 0.0635)


@pytest.mark.parametrize(
    ("typed", "field"),
    [({"diameter": "2.3"}, "diameter"), ({"flutes": "1"}, "flutes"), ({"speeds": "1000"}, "speeds"),
     ({"chuck_speed": "20 rev/min"}, "chuck_speed"), ({"material": "porridge"}, "material")],
)  # fmt: skip
def test_every_refusal(typed, field):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    assert [one.name for one in caught.value.problems] == [field]


@settings(deadline=None, max_examples=80)
@given(st.integers(232, 6350), st.sampled_from(["HSS", "tipped"]))
def test_the_drill_never_leaves_less_than_the_least(hundredths, reamer):
    typed = {"diameter": f"{hundredths / 100}", "reamer": reamer, "speeds": "1 to 20000 stepless"}
    one = answer(NAME, typed)
    drill, least, most = (one.value(name).number for name in ("drill", "bore_least", "bore_most"))
    assert drill <= most < hundredths / 100
    assert (one.verdict.level == "good") == (drill >= least)


@pytest.mark.parametrize(
    ("text", "typed"),
    [("20 ream", {"diameter": "20"}), ("ream 12.7", {"diameter": "12.7"}), ("10 H7 ream", {"diameter": "10"}),
     ("10 ream EN8", {"diameter": "10", "material": "EN8"})],
)  # fmt: skip
def test_as_it_is_asked_for(text, typed):
    assert callout(text)[0] == (NAME, typed)
