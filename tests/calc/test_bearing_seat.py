"""The bearing seat as it is answered: figures, verdict, cautions, and what is shown beside.

Expected figures name their source.
"""

import pytest

from calc import answer
from calc.model import Answer, Table


def seat(**typed: str | None) -> Answer:
    return answer("bearing_seat", typed)


def number(found: Answer, name: str) -> float:
    return found.value(name).number


def names(found: Answer) -> set[str]:
    return {one.name for one in found.values}


def shown(found: Answer, title: str) -> Table:
    return next(one for one in found.tables if one.title.startswith(title))


def told(found: Answer, *words: str) -> bool:
    """Whether one caution or assumption has all these words."""
    return any(all(word in line for word in words) for line in (*found.cautions, *found.assumptions))


def test_the_seat_of_a_6206():
    """ISO 286-2: 30 k5 is +11/+2. ISO 492: bore 0/-10. SKF fit tables: 2 to 21, probable 4 to 19. Schaeffler: 15."""
    found = seat(bearing="6206")
    assert found.main == ("seat_max", "seat_min")
    assert (found.value("seat_max").text, found.value("seat_min").text) == ("30.011 mm", "30.002 mm")
    assert (found.value("seat_class").text, number(found, "seat_class")) == ("k5", 5.0)
    assert [number(found, name) for name in ("bore", "outside_diameter", "width", "chamfer_min")] == [30, 62, 16, 1]
    assert [number(found, name) for name in ("interference_max", "interference_min")] == [21, 2]
    assert [number(found, name) for name in ("probable_max", "probable_min")] == [19, 4]
    assert found.value("probable_single").text == "15 µm"
    assert "SKF" in found.value("probable_max").label
    assert "Schaeffler" in found.value("probable_single").label


def test_the_same_shaft_in_a_plain_hub_would_be_a_transition_fit():
    """The bore of a bearing lies below nominal: k6 is always tight in it, while k6 in an H7 hub can be loose."""
    assert number(seat(bearing="6206", seat_class="k6"), "interference_min") == 2
    assert answer("fit", {"size": "30", "hole": "H7", "shaft": "k6"}).value("clearance_max").number == 19


def test_the_housing_of_a_6204():
    """ANSI/EASA AR100 table 2-13: 47 H6 is 47.000 to 47.016."""
    found = seat(bearing="6204", part="housing", practice="easa")
    assert (number(found, "seat_min"), number(found, "seat_max")) == (47.0, 47.016)
    assert found.value("seat_class").text == "H6"


def test_form_run_out_roughness_fillet_and_shoulder():
    """SKF: IT5/2 on radius for a Normal bearing, IT4/2 run-out of a grade 5 seat, IT4 shoulder, Ra 0.4. At 30 mm IT4 is
    6 and IT5 is 9 µm (ISO 286-1 table 1). NSK table 11.2, NTN table 14.3: chamfer 1, fillet 1, height 2.5 or 2.75."""
    found = seat(bearing="6206")
    assert (number(found, "cylindricity"), number(found, "cylindricity_diameter")) == (4.5, 9)
    assert "on radius" in found.value("cylindricity").label
    assert (number(found, "run_out"), number(found, "shoulder_run_out"), number(found, "roughness")) == (3, 6, 0.4)
    assert (number(found, "fillet_max"), number(found, "shoulder_height_min")) == (1, 2.75)
    assert number(found, "shoulder_diameter_min") == 35.5
    heights = [row for row in shown(found, "Shoulder and fillet").rows if row[0].startswith("Shoulder height")]
    assert heights == [("Shoulder height, at least", "2.50 mm", "NSK"), ("Shoulder height, at least", "2.75 mm", "NTN")]


def test_the_form_of_a_150_mm_seat():
    """SKF general catalogue, worked example: m6, 9 µm on radius, 18 on diameter."""
    found = seat(bearing="6230", seat_class="m6")
    assert (number(found, "cylindricity"), number(found, "cylindricity_diameter")) == (9, 18)


def test_the_shoulder_of_a_housing_goes_inwards():
    found = seat(bearing="6206", part="housing")
    assert number(found, "shoulder_diameter_max") == 56.5
    assert "shoulder_diameter_min" not in names(found)


def test_form_of_other_makers_stands_beside_and_memory_is_said():
    rows = shown(seat(bearing="6206"), "Form by the other").rows
    assert any("from memory" in row[3] for row in rows)
    assert {row[2] for row in rows} >= {"on radius", "on diameter", "axial"}


# -------------------------------------------------------------------------------------------- practices


def test_practices_stand_side_by_side_and_the_one_taken_is_named():
    """40 mm, normal rotating load: k5 in SKF, NSK, NTN and ABMA 7, j6 in the DIN type; the limits go with each."""
    found = seat(bearing="6208")
    rows = shown(found, "Seat class by published practice").rows
    first = {row[0]: (row[1], row[2]) for row in rows if not row[0].endswith("or")}
    assert (
        first["SKF catalogue"]
        == first["NSK and NTN catalogues"]
        == first["ANSI/ABMA 7"]
        == ("k5", "40.013 /\u00a040.002")
    )
    assert first["DIN 5425 type (Schaeffler HR 1)"] == ("j6", "40.011 /\u00a039.995")
    assert [row[0] for row in rows if row[4].startswith("taken here")] == ["SKF catalogue"]
    assert told(found, "SKF catalogue: k5", "P over 0.05 C", "Other practices stand beside")


def test_another_practice_may_be_taken():
    found = seat(bearing="6208", practice="din-5425")
    assert found.value("seat_class").text == "j6"
    assert told(found, "Schaeffler HR 1", "j6")


def test_j7_of_one_practice_is_not_the_js7_of_another():
    first = seat(bearing="6206", part="housing", load="not known", slides="yes")
    second = seat(bearing="6206", part="housing", load="not known", slides="yes", practice="nsk-ntn")
    assert (first.value("seat_class").text, second.value("seat_class").text) == ("J7", "JS7")
    assert number(first, "seat_max") == 62.018
    assert number(second, "seat_max") == 62.015


def test_a_load_left_out_is_that_of_a_turning_shaft_and_is_told():
    shaft, housing = seat(bearing="6206"), seat(bearing="6206", part="housing")
    assert (shaft.value("seat_class").text, housing.value("seat_class").text) == ("k5", "H7")
    assert told(shaft, "Load on the ring not given", "rotating")
    assert told(housing, "Load on the ring not given", "stationary")
    assert not told(seat(bearing="6206", load="rotating"), "not given")


def test_your_own_class_overrides_every_practice():
    found = seat(bearing="6206", seat_class="m6")
    assert (found.value("seat_class").text, number(found, "seat_max")) == ("m6", 30.021)
    assert told(found, "m6", "as you set it")
    assert not any(row[4].startswith("taken") for row in shown(found, "Seat class").rows)


# ---------------------------------------------------------------------------------------- other bearings


def test_a_bore_alone_gives_the_seat_and_says_what_is_missing():
    found = seat(bearing="30 mm")
    assert (number(found, "seat_max"), number(found, "interference_max")) == (30.011, 21)
    assert names(found).isdisjoint({"outside_diameter", "width", "chamfer_min", "fillet_max", "mounting_force"})
    assert found.value("mounting_temperature").text == "96 °C"
    assert told(found, "Only the bore is known")
    assert told(found, "chamfer is not in the table")


def test_an_inch_bore_is_answered_with_its_doubt():
    """30.1625 mm belongs to the step over 30 up to 50: k5 is +13/+2 there (ISO 286-2), the bore 0/-12 (ISO 492)."""
    found = seat(bearing="1 3/16 in")
    assert number(found, "seat_max") == pytest.approx(30.1755)
    assert number(found, "interference_max") == 25
    assert told(found, "Unconfirmed", "inch bore", "measure the bore")


def test_metric_taper_rollers_have_their_own_tolerances_and_no_printed_fit_table():
    """ISO 492 for taper rollers: bore 0/-12 at 30 mm where radial bearings have 0/-10; k6 is +15/+2."""
    found = seat(bearing="30206")
    assert (number(found, "interference_max"), number(found, "interference_min")) == (27, 2)
    assert number(seat(bearing="6206", seat_class="k6"), "interference_max") == 25
    assert told(found, "their own, wider tolerances")
    assert told(found, "up to 30 mm bore or 150 mm outside")
    assert names(found).isdisjoint({"clearance_left_min", "mounting_force", "pressure"})
    assert "mounting_temperature" in names(found)
    assert told(found, "set when the two rings are adjusted")
    assert found.value("width").label == "Assembled width T"


def test_large_taper_rollers_are_not_told_that_the_printed_tables_fail():
    assert not told(seat(bearing="30316"), "printed fit tables do not hold")


@pytest.mark.parametrize(("bearing", "words"), [("6206", "0/−120"), ("6230", "0/−250"), ("32208", "+200/0")])
def test_shoulder_spacing_is_never_set_from_the_nominal_width(bearing, words):
    """ISO 492 (GOST 520-2011): ring width 0/-120 up to 50 mm, 0/-250 at 120 to 180; taper T +200/0."""
    assert told(seat(bearing=bearing), words, "never set the distance of shoulders")


@pytest.mark.parametrize(("precision", "least"), [("Normal", 21), ("6", 19), ("5", 17)])
def test_precision_changes_the_bore(precision, least):
    """ISO 492 at 30 mm: 0/-10, 0/-8, 0/-6 in classes Normal, 6, 5; k5 is +11."""
    assert number(seat(bearing="6206", precision=precision), "interference_max") == least


def test_precision_and_clearance_may_stand_in_the_suffix():
    found = seat(bearing="6206 P53")
    assert number(found, "interference_max") == 17
    assert "C3" in found.value("clearance_left_min").label
    assert told(found, "Precision class 5")
    assert told(seat(bearing="6206"), "Precision class Normal assumed", "two-point reading")


@pytest.mark.parametrize(
    ("bearing", "words"),
    [("16101", "memory"), ("NU 206", "shares with 6206"), ("6406", "1.1"), ("618/8", "measure the width")],
)
def test_a_doubtful_dimension_is_told(bearing, words):
    assert told(seat(bearing=bearing, practice="skf", heaviness="light"), words)


def test_a_thin_ring_and_a_split_housing_are_minded():
    assert told(seat(bearing="61808"), "thin ring")
    assert not told(seat(bearing="6208"), "thin ring")
    assert told(seat(bearing="6206", part="housing", load="rotating"), "split housing", "K at the very most")
    assert not told(seat(bearing="6206", part="housing"), "split housing")


def test_rollers_that_slide_inside_themselves_may_sit_tight_twice():
    assert told(seat(bearing="NU 2311"), "both its rings may sit tight")
    assert told(seat(bearing="6206"), "Do not fit both rings of a ball bearing tight")
    assert not told(seat(bearing="NU 2311"), "Do not fit both rings")


def test_the_smaller_chamfer_of_a_cylindrical_roller_is_minded():
    assert told(seat(bearing="NU 2206"), "without flanges", "smaller chamfer")


# ------------------------------------------------------------------------------------------ how it goes on


def test_heat_or_press():
    """By hand: 21 µm / (12.5e-6 × 30 mm) = 56 K, and 20 to 30 K to spare over 20 °C."""
    found = seat(bearing="6206 C3")
    assert found.verdict is not None
    assert found.verdict.level == "good"
    assert "heat the bearing to 96 to 106 °C" in found.verdict.text
    assert "inner ring with up to 4.7 kN" in found.verdict.text
    assert number(found, "mounting_temperature") == 96


def test_press_in_figures():
    """Recomputed from NTN table 17.4.1 and equation 17.1 and NSK's smoothing: 6208 at 22 µm gives 5.47 kN and 20.2 MPa;
    40 k5 can be 25 µm tight, and both grow in step with it."""
    found = seat(bearing="6208")
    assert number(found, "mounting_force") == pytest.approx(5470 * 25 / 22, rel=0.002)
    assert number(found, "pressure") == pytest.approx(20.2 * 25 / 22, rel=0.005)
    assert number(found, "removal_force") == pytest.approx(1.5 * number(found, "mounting_force"))


def test_a_small_bore_is_pressed_cold():
    """20 k5 (worked example): 84 K and 20 to spare over 20 °C pass the 120 °C that NSK, NTN and NKE allow."""
    found = seat(bearing="6204 C3")
    assert found.verdict is not None
    assert "cold, since heat would take 124 °C and a bearing may have 120 °C at most" in found.verdict.text


def test_a_sealed_bearing_takes_eighty_degrees():
    """SKF: sealed and greased, 80 °C."""
    found = seat(bearing="6206-2RS C3")
    assert found.verdict is not None
    assert "cold, since heat would take 96 °C and a sealed bearing may have 80 °C at most" in found.verdict.text


def test_the_heat_never_passes_what_the_bearing_stands():
    for bearing in ("6202", "6203", "6204", "6205", "6206", "6208", "6216", "NU 2311", "NU 2330", "6206-2Z", "32208"):
        found = seat(bearing=bearing)
        assert found.verdict is not None
        if "heat the bearing to" in found.verdict.text:
            most = float(found.verdict.text.split(" °C")[0].rsplit(" ", 1)[1])
            assert most <= (80 if "2Z" in bearing else 120), bearing


def test_a_loose_seat_has_neither_force_nor_heat():
    found = seat(bearing="6206", part="housing")
    assert found.verdict is not None
    assert found.verdict.level == "good"
    assert "0 to 43 µm loose" in found.verdict.text
    assert names(found).isdisjoint({"mounting_force", "mounting_temperature", "pressure"})
    assert not told(found, "press")


def test_a_light_fit_needs_no_heat():
    found = seat(bearing="6206", load="stationary", slides="yes")
    assert found.verdict is not None
    assert "by hand, or with a light press on the inner ring" in found.verdict.text


def test_an_outer_ring_is_pressed_by_the_outer_ring():
    found = seat(bearing="6206", part="housing", load="rotating", clearance_group="C4")
    assert found.verdict is not None
    assert "press it in by the outer ring" in found.verdict.text
    assert "warm the housing" in found.verdict.text
    assert told(found, "Push only on the outer ring")


def test_dangers_go_with_the_figures():
    found = seat(bearing="6206")
    for words in (
        ("never hammer",),
        ("Guard the press", "eye protection"),
        ("gloves", "no open flame"),
        ("Local rules",),
    ):
        assert told(found, *words), words


def test_ceilings_on_interference_are_minded():
    """NSK 0.7/1000, NTN 1/1000 of the bore: 30 k5 at 21 µm is on the first, 25 k5 over it, 20 k5 over both."""
    assert not told(seat(bearing="6206"), "/1000 of the bore")
    assert told(seat(bearing="6205"), "over 0.7/1000")
    assert told(seat(bearing="6204"), "over 1/1000")


def test_smoothing_by_each_source_stands_beside():
    """20 mm: NSK I d/(d + 2); NTN 1 to 2.5 µm less when ground and 5 to 7 when turned; NKE 0.4 of Ra. 20 k5: 21 µm."""
    rows = dict(shown(seat(bearing="6204"), "What smoothing leaves").rows)
    assert rows["NSK, ground"] == "19.1"
    assert rows["NTN, ground: 1 to 2.5 less"] == "18.5 to 20.0"
    assert rows["NTN, turned: 5 to 7 less"] == "14.0 to 16.0"
    assert rows["NKE, 0.4 of Ra 0.40"] == "20.8"


def test_a_turned_seat_keeps_less():
    """NSK: d/(d + 3) of it, and Timken wants a closer fit and Ra 3.2 at most."""
    found = seat(bearing="6206", finish="turned")
    assert number(found, "effective_interference") == pytest.approx(21 * 30 / 33)
    assert told(found, "Ra 3.2")


# ----------------------------------------------------------------------------------------- what is left


def test_clearance_that_may_be_lost_names_the_group_to_take():
    found = seat(bearing="6206")
    assert found.verdict is not None
    assert (found.verdict.level, found.verdict.text.endswith("; CN can lose all its clearance, take C3.")) == (
        "mind",
        True,
    )
    assert number(found, "clearance_left_min") < 0 < number(found, "clearance_left_max")
    assert seat(bearing="6206", clearance_group="C3").verdict != found.verdict
    rows = shown(found, "Radial clearance left").rows
    assert [row[:2] for row in rows] == [
        ("C2", "1 to 11"), ("CN (asked)", "5 to 20"), ("C3", "13 to 28"), ("C4", "23 to 41"),
    ]  # fmt: skip


def test_clearance_that_is_surely_lost_stops():
    found = seat(bearing="6206", seat_class="r6", clearance_group="C2")
    assert found.verdict is not None
    assert found.verdict.level == "stop"
    assert "C2 loses all its clearance" in found.verdict.text


def test_the_worst_pair_is_minded_even_where_the_likely_one_is_well():
    found = seat(bearing="6206 C3")
    assert number(found, "clearance_left_worst") < 0 < number(found, "clearance_left_min")
    assert told(found, "very worst pair", "C3")


def test_cylindrical_rollers_take_their_own_clearance():
    """ISO 5753-1: NU 2311, over 50 up to 65 mm, CN 40 to 70."""
    assert ("CN (asked)", "40 to 70") in [row[:2] for row in shown(seat(bearing="NU 2311"), "Radial clearance").rows]


def test_the_load_and_the_warmth_are_set_against_the_fit():
    """NSK: 0.08 sqrt(40 × 4000 / 18) = 7.54 µm, 0.0015 × 40 × 40 = 2.4 µm (worked example for the second)."""
    found = seat(bearing="6208 C3", radial_load="4 kN", warmer="40")
    assert number(found, "interference_needed") == pytest.approx(7.54 + 2.4, abs=0.01)
    assert found.verdict is not None
    assert found.verdict.level == "mind"
    assert "under that load it needs 9.9 µm" in found.verdict.text
    assert seat(bearing="6208 C3", radial_load="100 N").verdict != found.verdict


def test_a_second_problem_is_not_lost():
    found = seat(bearing="6208", radial_load="4 kN")
    assert found.verdict is not None
    assert "under that load" in found.verdict.text
    assert told(found, "CN can lose all its clearance, take C3")


def test_a_loose_ring_under_rotating_load_stops():
    found = seat(bearing="6206", seat_class="f6")
    assert found.verdict is not None
    assert found.verdict.level == "stop"
    assert "creeps" in found.verdict.text
    assert seat(bearing="6206", seat_class="f6", load="stationary").verdict != found.verdict


def test_a_ring_that_must_slide_and_may_grip_is_minded():
    found = seat(bearing="6206", load="stationary", slides="yes")
    assert found.verdict is not None
    assert found.value("seat_class").text == "g6"
    assert (found.verdict.level, "has to slide" in found.verdict.text) == ("mind", True)


def test_a_hollow_shaft_takes_a_tighter_class():
    """SKF general catalogue, worked example: 6208, hollow to 0.8, needs 1.7 times as much: m6, probable 13 to 33."""
    found = seat(bearing="6208", hollow_bore="32 mm")
    assert found.value("seat_class").text == "m6"
    assert (number(found, "probable_max"), number(found, "probable_min")) == (33, 13)
    assert number(found, "hollow_ratio") == pytest.approx(1.7, abs=0.05)
    assert told(found, "m6 instead", "hollow")
    assert seat(bearing="6208", hollow_bore="4 mm").value("seat_class").text == "k5"
