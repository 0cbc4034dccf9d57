"""What the bearing seat refuses and why, how it is written on a drawing, and what comes after it."""

import pytest

from calc import answer
from calc.callout import callout
from calc.formulas import seat_choice
from calc.model import Answer, Refused
from calc.tables import table


def seat(**typed: str) -> Answer:
    return answer("bearing_seat", typed)


REFUSED = (
    # typed, field, what the refusal must say
    ({"bearing": "6240"}, "bearing", "series 62 is here for bores from 3 to 150 mm"),
    ({"bearing": "22206"}, "bearing", "spherical roller"),
    ({"bearing": "6206 K"}, "bearing", "tapered bore"),
    ({"bearing": "31 mm"}, "bearing", "take 30 or 32 mm"),
    ({"bearing": ""}, "bearing", "is needed"),
    ({"bearing": "30 mm", "part": "housing"}, "bearing", "Type the designation"),
    ({"bearing": "6206", "practice": "easa"}, "practice", "SKF catalogue k5"),
    ({"bearing": "6206", "practice": "nsk-ntn", "heaviness": "heavy"}, "practice", "ANSI/ABMA 7 k5"),
    ({"bearing": "6206", "heaviness": "very heavy"}, "practice", "Choose another"),
    ({"bearing": "32208", "practice": "abma-7"}, "practice", "SKF catalogue k6"),
    ({"bearing": "32208", "precision": "5"}, "precision", "class Normal only"),
    ({"bearing": "32208", "precision": "6"}, "precision", "6X has the same limits"),
    ({"bearing": "6206 P6", "precision": "5"}, "precision", "suffix says class 6"),
    ({"bearing": "6206 C3", "clearance_group": "C4"}, "clearance_group", "suffix says C3"),
    ({"bearing": "6206", "seat_class": "H7"}, "seat_class", "for a housing"),
    ({"bearing": "6206", "part": "housing", "seat_class": "k5"}, "seat_class", "for a shaft"),
    ({"bearing": "6206", "seat_class": "h11"}, "seat_class", "grade from 4 to 10"),
    ({"bearing": "6206", "seat_class": "k3"}, "seat_class", "grade from 4 to 10"),
    ({"bearing": "6204", "seat_class": "t6"}, "seat_class", "only over 24 mm"),
    ({"bearing": "6206", "seat_class": "w6"}, "seat_class", "no shaft class letter"),
    ({"bearing": "6206", "hollow_bore": "25 mm"}, "hollow_bore", "up to 24 mm, 0.8 of the seat"),
    ({"bearing": "30 mm", "hollow_bore": "10 mm"}, "hollow_bore", "designation"),
    ({"bearing": "6206", "part": "housing", "hollow_bore": "10 mm"}, "hollow_bore", "inner ring"),
    ({"bearing": "6206", "part": "housing", "warmer": "10"}, "warmer", "inner ring"),
    ({"bearing": "30 mm", "radial_load": "1 kN"}, "radial_load", "width of the inner ring"),
    ({"bearing": "32208", "radial_load": "1 kN"}, "radial_load", "width of the inner ring"),
    ({"bearing": "6206", "radial_load": "0"}, "radial_load", "over 0"),
)  # fmt: skip


@pytest.mark.parametrize(("typed", "field", "said"), REFUSED)
def test_refusals(typed, field, said):
    with pytest.raises(Refused) as caught:
        seat(**typed)
    assert [one.name for one in caught.value.problems] == [field]
    assert said in str(caught.value.problems[0])


def test_a_shaft_too_hollow_for_any_class():
    """r6 on 150 mm: even the tightest class falls short of what a thin wall wants."""
    with pytest.raises(Refused) as caught:
        seat(bearing="NU 2330", heaviness="very heavy", hollow_bore="120 mm")
    (problem,) = caught.value.problems
    assert problem.name == "hollow_bore"
    assert "no class up to r6" in str(problem)


def test_all_problems_are_told_at_once():
    with pytest.raises(Refused) as caught:
        seat(bearing="30 mm", part="housing", seat_class="k5", warmer="10")
    assert [one.name for one in caught.value.problems] == ["bearing", "seat_class", "warmer"]


# ---------------------------------------------------------------------------------------- call-outs, next


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("6206", {"bearing": "6206"}),
        ("608", {"bearing": "608"}),
        ("63/28", {"bearing": "63/28"}),
        ("NU 2311", {"bearing": "NU 2311"}),
        ("6206 C3", {"bearing": "6206", "clearance_group": "C3"}),
        ("6206/C3", {"bearing": "6206", "clearance_group": "C3"}),
        ("6206-2RS1 C3", {"bearing": "6206-2RS1", "clearance_group": "C3"}),
        ("6206 k5", {"bearing": "6206", "seat_class": "k5"}),
    ],
)
def test_callouts(text, typed):
    assert callout(text)[0] == ("bearing_seat", typed)


def test_a_beginning_is_completed():
    assert ("bearing_seat", {"bearing": "6200"}) in callout("620")
    assert ("bearing_seat", {"bearing": "NU 2310"}) in callout("NU 231")


def test_what_comes_next_carries_the_size_to_aim_at():
    found = {one.name: dict(one.typed) for one in seat(bearing="6206").following}
    assert found["mating"] == {"shaft_reading": "30.0065 mm", "bearing": "6206"}
    assert found["thermal_correction"] == {"wanted_size": "30.0065 mm"}
    assert found["fit"] == {"size": "30 mm", "hole": "", "shaft": "k5"}
    housing = {one.name: dict(one.typed) for one in seat(bearing="6206", part="housing").following}
    assert housing["fit"] == {"size": "62 mm", "hole": "H7", "shaft": ""}
    assert "mating" not in housing


def test_the_picture_shows_what_is_turned():
    drawn = seat(bearing="6206").picture
    for text in ("k5", "Ø 30.011", "Ø 30.002", "Ø 35.5 min", "fillet 1 max", "chamfer 1 min", "+11", "−10", "bore"):
        assert f">{text}<" in drawn, text
    assert ">Ø 56.5 max<" in seat(bearing="6206", part="housing").picture


def test_every_class_offered_is_a_seat():
    for row in table("bearing_seat_classes"):
        for text in (row.text("class"), *row.text("alternative").split()):
            assert seat_choice.read_class(text).hole == (row.text("member") == "housing"), row.cells
