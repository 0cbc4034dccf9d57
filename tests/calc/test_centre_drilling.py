"""Centre holes: the published sizes, the step edges of the diameter, and every refusal."""

import math

import pytest

from calc import answer
from calc.callout import callout
from calc.model import Refused
from calc.tables import table

NAME = "centre_drilling"


def found(name, **typed):
    return answer(NAME, typed).value(name).number


@pytest.mark.parametrize(
    ("diameter", "pilot", "mouth", "depth", "cut_off"),
    [
        # DIN 332-1:1986, form A; the upper end of a step belongs to it
        ("8", 1, 2.12, 1.9, 3), ("8.01", 1.6, 3.35, 2.9, 5), ("12", 1.6, 3.35, 2.9, 5), ("18", 2, 4.25, 3.7, 6),
        ("25", 2.5, 5.3, 4.6, 7), ("25.1", 3.15, 6.7, 5.9, 9), ("40", 3.15, 6.7, 5.9, 9), ("40.1", 4, 8.5, 7.4, 11),
        ("80", 4, 8.5, 7.4, 11), ("180", 6.3, 13.2, 11.5, 18), ("180.1", 10, 21.2, 18.4, 28),
        ("500", 10, 21.2, 18.4, 28),
    ],
)  # fmt: skip
def test_form_a_by_the_diameter_of_the_work(diameter, pilot, mouth, depth, cut_off):
    typed = {"diameter": diameter, "kept": "cut off"}
    names = ("pilot", "mouth", "depth", "cut_off")
    assert tuple(found(name, **typed) for name in names) == (pilot, mouth, depth, cut_off)


@pytest.mark.parametrize(
    ("diameter", "guard", "depth"),
    # DIN 332-1:1986, form B
    [("12", 5, 3.4), ("18", 6.3, 4.3), ("25", 8, 5.4), ("40", 10, 6.8), ("80", 12.5, 8.6), ("180", 18, 12.9)],
)
def test_form_b_has_a_guard(diameter, guard, depth):
    typed = {"diameter": diameter, "form": "B"}
    assert (found("guard", **typed), found("depth", **typed)) == (guard, depth)


def test_pilot_and_cone_of_60_degrees_make_the_depth():
    # ISO 866 prints the pilot's length, DIN 332-1 the whole depth: the cone between is sqrt(3)/2 of its widening
    for row in table("centre_holes"):
        if row.text("form") == "A":
            cone = math.sqrt(3) / 2 * (row.number("mouth") - row.number("pilot"))
            assert row.number("pilot_length") + cone == pytest.approx(row.number("depth"), abs=0.06)


def test_the_widest_edge_sets_the_speed():
    # NAVEDTRA 14345: 22.85 m/min in the middle; on 6.7 mm 1086 rev/min, on the 10 mm of form B 727
    assert found("spindle_speed") == 1000
    assert found("spindle_speed", form="B") == 710
    assert found("spindle_speed", chuck_speed="600 rev/min") == 500


def test_what_is_from_memory_or_not_held_is_said():
    said = " ".join(answer(NAME, {}).assumptions)
    assert "Bodies of centre drills are from memory" in said
    assert "DIN 332-7" in said
    assert "more than half of this end" not in said
    assert "more than half of this end" in " ".join(answer(NAME, {"diameter": "4.2"}).assumptions)


def test_the_call_out_of_the_drawing():
    assert "ISO 6411 - A 3.15/6.7" in answer(NAME, {}).verdict.text
    assert "ISO 6411 - B 4/12.5" in answer(NAME, {"diameter": "60", "form": "B"}).verdict.text


def test_length_to_cut_off_only_where_it_is_cut_off():
    assert "cut_off" not in {one.name for one in answer(NAME, {}).values}


@pytest.mark.parametrize(
    ("typed", "field"),
    [({"speeds": "1500", "diameter": "500"}, "speeds"), ({"chuck_speed": "20 rev/min"}, "chuck_speed"),
     ({"diameter": "3.9"}, "diameter"), ({"material": "porridge"}, "material")],
)  # fmt: skip
def test_every_refusal(typed, field):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    assert [one.name for one in caught.value.problems] == [field]


@pytest.mark.parametrize(
    ("text", "typed"),
    [("40 centre", {"diameter": "40"}), ("Ø30 centre hole", {"diameter": "Ø30"}),
     ("25 centre B", {"diameter": "25", "form": "B"})],
)  # fmt: skip
def test_as_it_is_asked_for(text, typed):
    assert callout(text)[0] == (NAME, typed)


def test_what_is_to_be_minded_of_the_material_is_told():
    assert any("dust of cast iron" in one for one in answer(NAME, {"material": "GG25"}).cautions)
    assert not any("dust" in one for one in answer(NAME, {}).cautions)
