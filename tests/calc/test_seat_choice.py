"""The class, form, finish and fillet that each practice gives a seat; expected figures name the practice's table."""

import pytest

from calc.formulas import iso286, seat_choice
from calc.formulas.bearings import read_bearing
from calc.formulas.seat_choice import Wanted
from calc.tables import table
from tests.calc.worked import bearing_example

CLASSES = (
    # practice, designation, part, load, heaviness, slides, class, source
    ("skf", "6206", "shaft", "rotating", "normal", False, "k5", "SKF: ball, over 17 up to 100, over 0.05 C"),
    ("skf", "6208", "shaft", "rotating", "normal", False, "k5", "SKF: the same at 40 mm"),
    ("nsk-ntn", "6208", "shaft", "rotating", "normal", False, "k5", "NSK, NTN: ball, over 18 up to 100"),
    ("abma-7", "6208", "shaft", "rotating", "normal", False, "k5", "ABMA 7: ball, over 18"),
    ("din-5425", "6208", "shaft", "rotating", "normal", False, "j6", "Schaeffler HR 1: ball up to 50"),
    ("skf", "6220", "shaft", "rotating", "normal", False, "k5", "SKF: 100 belongs to over 17 up to 100"),
    ("skf", "6221", "shaft", "rotating", "normal", False, "m5", "SKF: over 100 up to 140"),
    ("abma-7", "6221", "shaft", "rotating", "normal", False, "k5", "ABMA 7 keeps k5 above 100"),
    ("skf", "6203", "shaft", "rotating", "light", False, "js5", "SKF: up to 17"),
    ("nsk-ntn", "6203", "shaft", "rotating", "light", False, "js5", "NSK: up to 18; NTN prints h5"),
    ("abma-7", "6203", "shaft", "rotating", "light", False, "h5", "ABMA 7: h5, not h6 as a reprint has it"),
    ("skf", "6206", "shaft", "stationary", "normal", True, "g6", "SKF, NSK, NTN: ring must slide"),
    ("skf", "6206", "shaft", "stationary", "normal", False, "h6", "SKF, NSK, NTN: ring need not slide"),
    ("skf", "NU 2311", "shaft", "rotating", "normal", False, "n5", "SKF: cylindrical roller, over 50 up to 65"),
    ("skf", "32208", "shaft", "rotating", "normal", False, "k6", "SKF: taper roller up to 40"),
    ("nsk-ntn", "NU 2220", "shaft", "rotating", "heavy", False, "n6", "NSK, NTN: roller, over 50 up to 140"),
    ("skf", "6206", "housing", "stationary", "normal", False, "H7", "SKF, NSK, NTN"),
    ("easa", "6206", "housing", "stationary", "normal", False, "H6", "ANSI/EASA AR100 table 2-14: a grade closer"),
    ("abma-7", "6206", "housing", "stationary", "normal", False, "H6", "ABMA 7: H6, H7 where wider is allowed"),
    ("skf", "6206", "housing", "rotating", "light", False, "M7", "SKF: one step tighter than the DIN type"),
    ("skf", "6206", "housing", "rotating", "normal", False, "N7", "SKF"),
    ("skf", "6206", "housing", "rotating", "very heavy", False, "P7", "SKF"),
    ("din-5425", "6206", "housing", "rotating", "light", False, "K7", "Schaeffler HR 1"),
    ("din-5425", "6206", "housing", "rotating", "normal", False, "M7", "Schaeffler HR 1"),
    ("din-5425", "6206", "housing", "rotating", "heavy", False, "N7", "Schaeffler HR 1"),
    ("skf", "6206", "housing", "not known", "normal", True, "J7", "SKF prints J7 where NSK and NTN print JS7"),
    ("nsk-ntn", "6206", "housing", "not known", "normal", True, "JS7", "NSK, NTN"),
    ("skf", "6206", "housing", "not known", "heavy", False, "K7", "SKF, NSK, NTN"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("practice", "designation", "part", "load", "heaviness", "slides", "wanted", "source"), CLASSES
)
def test_seat_classes_by_practice(practice, designation, part, load, heaviness, slides, wanted, source):
    found = seat_choice.choose(practice, read_bearing(designation), Wanted(part, load, heaviness, slides))
    assert found is not None
    assert str(found.seat_class) == wanted, source


def test_j_and_js_are_different_classes():
    """ISO 286-2 at 62 mm: J7 +18/-12, JS7 +15/-15; at 30 mm: j6 +9/-4, js6 +6.5/-6.5."""
    for size, first, second in ((62.0, "J7", "JS7"), (30.0, "j6", "js6")):
        assert iso286.deviations(size, seat_choice.read_class(first)) != iso286.deviations(
            size, seat_choice.read_class(second)
        )
    assert iso286.deviations(62.0, iso286.read_hole("J7")).upper == 18
    assert iso286.deviations(62.0, iso286.read_hole("JS7")).upper == 15


def test_the_din_type_stands_one_step_looser_than_the_catalogues_in_a_housing_under_rotating_load():
    looser = {"light": ("K7", "M7"), "normal": ("M7", "N7")}
    for heaviness, (din, catalogue) in looser.items():
        wanted = Wanted("housing", "rotating", heaviness, False)
        for practice, expected in (("din-5425", din), ("skf", catalogue), ("nsk-ntn", catalogue)):
            found = seat_choice.choose(practice, read_bearing("6206"), wanted)
            assert found is not None
            assert str(found.seat_class) == expected


def test_other_classes_and_load_limits_are_kept_with_the_first():
    found = seat_choice.choose("nsk-ntn", read_bearing("6208"), Wanted("shaft", "rotating", "normal", False))
    assert found is not None
    assert [str(one) for one in found.others] == ["k6"]
    assert "0.12 C (NTN) or 0.13 C (NSK)" in found.row.text("load_limit")


def test_what_a_practice_does_not_print_is_not_made_up():
    wanted = Wanted("shaft", "rotating", "heavy", False)
    assert seat_choice.choose("nsk-ntn", read_bearing("6206"), wanted) is None
    assert seat_choice.choose("abma-7", read_bearing("32208"), Wanted("shaft", "stationary", "normal", False)) is None
    assert seat_choice.choose("easa", read_bearing("6206"), Wanted("shaft", "rotating", "normal", False)) is None


def test_special_conditions_stand_apart():
    """SKF, NSK and NTN: G7 when heat comes through the shaft, H8 in simple or split housings."""
    found = seat_choice.special_cases("skf", read_bearing("6206"), Wanted("housing", "stationary", "normal", True))
    assert {(str(one.seat_class), one.condition) for one in found} >= {
        ("G7", "heat through the shaft"),
        ("H8", "simple or split housing"),
    }


# ------------------------------------------------------------------------------------- form and finish


def test_form_is_counted_on_radius():
    typed, expected, source = bearing_example("form tolerance")
    row = seat_choice.cylindricity("shaft", "Normal")
    width, _ = seat_choice.share_of_grade(row.text("grade"), typed["bore [mm]"])
    assert width == expected["form_on_radius [µm]"], source
    assert 2 * width == expected["form_on_diameter [µm]"], source
    assert row.text("measured_on") == "radius"


def test_form_by_class_of_the_bearing():
    """SKF: IT5/2 for Normal, IT4/2 for class 6, IT3/2 for 5; a later edition IT4/2 for run-out of grade 5 seats."""
    assert [seat_choice.cylindricity("shaft", one).text("grade") for one in ("Normal", "6", "5")] == [
        "IT5/2",
        "IT4/2",
        "IT3/2",
    ]
    assert seat_choice.run_out("shaft", "Normal", "5").text("grade") == "IT4/2"
    assert seat_choice.run_out("shaft", "Normal", "6").text("grade") == "IT5/2"


def test_shoulder_run_out_differs_between_makers_and_between_balls_and_rollers():
    """SKF and Schaeffler IT4 or IT5, NSK and NTN IT3; the SKF roller tables print IT5 beside m5 and n5."""
    ball = seat_choice.shoulder_run_out("shaft", "Normal", "5", read_bearing("6206"))
    roller = seat_choice.shoulder_run_out("shaft", "Normal", "5", read_bearing("NU 2311"))
    assert ball is not None
    assert roller is not None
    assert (ball.text("grade"), roller.text("grade")) == ("IT4", "IT5")
    others = {
        (row.text("practice"), row.text("grade"))
        for row in seat_choice.other_forms("shaft", "rotating", "Normal")
        if row.text("feature") == "shoulder run-out"
    }
    assert others == {("din-5425", "IT4"), ("nsk-ntn", "IT3")}


def test_roundness_follows_the_load():
    """Schaeffler HR 1: IT4/2 for a rotating, IT5/2 for a stationary load on the shaft."""
    for load, grade in (("rotating", "IT4/2"), ("stationary", "IT5/2")):
        found = [row for row in seat_choice.other_forms("shaft", load, "Normal") if row.text("feature") == "roundness"]
        assert [row.text("grade") for row in found] == [grade]


@pytest.mark.parametrize(
    ("size", "grade", "ra"),
    [(30.0, "5", 0.4), (30.0, "6", 0.8), (30.0, "7", 1.6), (80.0, "5", 0.4), (85.0, "5", 0.8), (85.0, "6", 1.6)],
)  # fmt: skip
def test_roughness_needs_grade_and_diameter(size, grade, ra):
    """SKF general catalogue, roughness of ground seats."""
    found = seat_choice.roughness("shaft", size, grade)
    assert found is not None
    assert found.number("Ra") == ra


def test_no_roughness_is_made_up():
    assert seat_choice.roughness("shaft", 30.0, "8") is None


@pytest.mark.parametrize(
    ("chamfer", "fillet"), [(1.0, 1.0), (1.1, 1.0), (1.5, 1.5), (2.0, 2.0), (2.1, 2.0), (3.0, 2.5), (4.0, 3.0)]
)
def test_the_fillet_stays_inside_the_chamfer(chamfer, fillet):
    """NSK table 11.2 and NTN table 14.3 agree."""
    found = seat_choice.fillet(chamfer)
    assert found is not None
    assert found.number("fillet_max") == fillet <= chamfer


def test_every_chamfer_of_the_table_has_a_fillet():
    for row in table("bearings"):
        if row.has("chamfer_min"):
            assert seat_choice.fillet(row.number("chamfer_min")) is not None, row.text("designation")


def test_shoulder_heights_of_both_makers_are_kept():
    """Chamfer 1.1: NSK 3.25 in its deep groove column, NTN 3.5."""
    found = seat_choice.fillet(1.1)
    assert found is not None
    assert (found.number("shoulder_height_min_nsk"), found.number("shoulder_height_min_ntn")) == (3.25, 3.5)
