"""Tapping drills: the published list, the basic sizes, the limits of crests, and what cannot be read."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.callout import callout
from calc.formulas import threads
from calc.model import Refused
from calc.tables import table

NAME = "tapping_drill"


def found(name, **typed):
    return answer(NAME, typed).value(name).number


def refusal(**typed):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (only,) = caught.value.problems
    assert only.name == "thread"
    return str(only)


@pytest.mark.parametrize(
    ("thread", "drill"),
    [
        # ISO 2306:1972, drills for coarse and fine threads, as far as seen in print
        ("M3", 2.5), ("M4", 3.3), ("M5", 4.2), ("M6", 5), ("M8", 6.8), ("M10", 8.5), ("M12", 10.2), ("M14", 12),
        ("M16", 14), ("M18", 15.5), ("M20", 17.5), ("M22", 19.5), ("M24", 21), ("M27", 24), ("M30", 26.5),
        ("M33", 29.5), ("M36", 32), ("M42", 37.5), ("M48", 43), ("M56", 50.5), ("M64", 58), ("M8x1", 7),
        ("M10x1", 9), ("M10x1.25", 8.8), ("M12x1.25", 10.8), ("M12x1.5", 10.5), ("M22x1.5", 20.5), ("M24x2", 22),
        ("M30x1.5", 28.5), ("M30x2", 28), ("M45x3", 42), ("M52x3", 49),
    ],
)  # fmt: skip
def test_published_drills(thread, drill):
    one = answer(NAME, {"thread": thread})
    assert one.value("tapping_drill").number == drill
    assert not any("not seen in print" in said for said in one.assumptions)


@pytest.mark.parametrize(
    ("thread", "least", "most"),
    # internal thread chart to ASME B1.13M, 6H: minor diameters
    [("M10", 8.376, 8.676), ("M12", 10.106, 10.441), ("M14", 11.835, 12.210), ("M10x1", 8.917, 9.153),
     ("M12x1.25", 10.647, 10.912), ("M12x1.5", 10.376, 10.676), ("M10x0.75", 9.188, 9.378)],
)  # fmt: skip
def test_published_limits_of_the_hole(thread, least, most):
    assert found("minor_least", thread=thread) == pytest.approx(least, abs=0.0006)
    assert found("minor_most", thread=thread) == pytest.approx(most, abs=1e-9)


@pytest.mark.parametrize(
    ("thread", "most", "least", "root"),
    # thread charts to ASME B1.13M and a tool catalogue to ISO 965, 6g: major diameters; minor diameter of ISO 724
    [("M3", 2.980, 2.874, 2.387), ("M6", 5.974, 5.794, 4.773), ("M8", 7.972, 7.760, 6.466),
     ("M10", 9.968, 9.732, 8.160), ("M12x1.25", 11.972, 11.760, 10.466), ("M20x1.5", 19.968, 19.732, 18.160)],
)  # fmt: skip
def test_published_limits_of_the_screw(thread, most, least, root):
    assert found("blank_most", thread=thread) == pytest.approx(most, abs=1e-9)
    assert found("blank_least", thread=thread) == pytest.approx(least, abs=1e-9)
    assert found("screw_minor", thread=thread) == pytest.approx(root, abs=0.0006)


def test_a_bare_call_out_shows_hole_and_screw():
    assert answer(NAME, {}).main == ("tapping_drill", "hole_depth", "minor_most", "blank_most")
    assert answer(NAME, {"thread": "M20x1.7"}).main == ("tapping_drill", "hole_depth")


def test_height_of_thread():
    # tap guides print 0.6134 P for the height of the screw's thread; M10 with 8.5 mm leaves 81.5 % of it
    assert found("thread_height", thread="M10") == pytest.approx(0.6134 * 1.5, abs=0.0002)
    assert found("engagement", thread="M10") == pytest.approx(0.815, abs=0.0005)


@pytest.mark.parametrize("row", table("tapping_drills"), ids=lambda row: row.text("designation"))
def test_every_listed_thread_reads_and_its_drill_lies_within_6h(row):
    thread = threads.read(row.text("designation"))
    assert thread.row == row
    one = answer(NAME, {"thread": row.text("designation")})
    assert one.value("minor_least").number <= row.number("drill") <= one.value("minor_most").number
    assert one.verdict.level == "good"
    assert any("not seen in print" in said for said in one.assumptions) == (row.strongest == "M")


def test_a_thread_that_is_not_listed_is_answered_by_the_rule_and_minded():
    one = answer(NAME, {"thread": "M21x1.5"})
    assert one.value("tapping_drill").number == 19.5
    assert "not among the listed threads" in one.verdict.text
    odd = answer(NAME, {"thread": "M20x1.7"})
    assert "minor_most" not in {value.name for value in odd.values}
    assert any("No tolerances are known" in said for said in odd.assumptions)


def test_a_grade_in_small_letters_is_that_of_a_screw():
    assert answer(NAME, {"thread": "M20x1.5-6g"}).verdict.text == "Turn the screw between 19.732 mm and 19.968 mm."
    assert answer(NAME, {"thread": "M20x1.5 6H"}).verdict.text == "Drill 18.50 mm, 32.50 mm deep."
    assert answer(NAME, {"thread": "M21x1.5 6g"}).verdict.level == "mind"


def test_a_blind_hole_goes_deeper_than_the_thread():
    assert found("hole_depth") == 25 + 5 * 1.5  # common practice
    assert found("hole_depth", hole="through") == 25
    assert any("no source" in said for said in answer(NAME, {}).assumptions)


@pytest.mark.parametrize(
    ("typed", "diameter", "pitch", "left"),
    [("M20", 20, 2.5, False), ("m20 x 1,5", 20, 1.5, False), ("M 20×1.5 LH", 20, 1.5, True), ("M8*1", 8, 1, False),
     ("M12x1.75-6g", 12, 1.75, False), ("M10-6H", 10, 1.5, False), ("M3.5", 3.5, 0.6, False)],
)  # fmt: skip
def test_as_it_is_written(typed, diameter, pitch, left):
    thread = threads.read(typed)
    assert (thread.diameter, thread.pitch, thread.left) == (diameter, pitch, left)


def test_left_hand_and_tolerances_from_memory_are_said():
    assert any("Left-hand" in said for said in answer(NAME, {"thread": "M20x1.5 LH"}).assumptions)
    assert any(
        "hole and screw at this pitch is from memory" in said for said in answer(NAME, {"thread": "M30"}).assumptions
    )
    assert any(
        "of the hole at this pitch is from memory" in said for said in answer(NAME, {"thread": "M6x0.5"}).assumptions
    )


def test_what_cannot_be_read_is_told_what_to_type():
    assert "not a metric thread" in refusal(thread="1/2 BSW")
    assert "no coarse pitch" in refusal(thread="M15")
    assert "at most a quarter of its size" in refusal(thread="M6x2")
    assert "at most a quarter of its size" in refusal(thread="M400x4")


@settings(deadline=None, max_examples=80)
@given(st.integers(2, 300), st.integers(1, 24))
def test_the_rule_always_leaves_a_hole_that_the_nut_allows_from_below(diameter, quarters):
    pitch = quarters / 4
    if pitch > diameter / 4:
        return
    one = answer(NAME, {"thread": f"M{diameter}x{pitch}"})
    drill = one.value("tapping_drill").number
    assert one.value("minor_least").number < drill < diameter
    assert one.value("screw_minor").number < one.value("minor_least").number


@pytest.mark.parametrize(
    ("text", "typed"),
    [("M20x1.5", {"thread": "M20x1.5"}), ("M12", {"thread": "M12"}), ("tap M8", {"thread": "M8"}),
     ("M20x1.5-6g", {"thread": "M20x1.5-6g"}), ("M10 through", {"thread": "M10", "hole": "through"}),
     ("M10 x 20 deep", {"thread": "M10", "thread_depth": "20"})],
)  # fmt: skip
def test_as_it_is_asked_for(text, typed):
    assert callout(text)[0] == (NAME, typed)


@pytest.mark.parametrize(
    ("thread", "drill", "most"),
    # ISO 2306 and ISO 965-1, from memory: no copy of these small sizes was seen
    [("M1.6", 1.25, 1.321), ("M2", 1.6, 1.679), ("M2.5", 2.05, 2.138)],
)
def test_small_threads_have_a_coarse_pitch_and_are_told_to_be_from_memory(thread, drill, most):
    told = answer(NAME, {"thread": thread, "thread_depth": "5"})
    assert told.value("tapping_drill").number == drill
    assert told.value("minor_most").number == pytest.approx(most, abs=0.0005)
    assert any("not seen in print" in one for one in told.assumptions)
    assert any("from memory" in one for one in told.assumptions)
