"""As found: worn places whose origin is known are found again, and what is missing is told in full."""

import xml.etree.ElementTree as ElementTree
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.formulas import bearings, iso286, worn
from calc.model import Answer, Refused
from calc.run import next_of
from calc.tables import table


def found(readings: str, **typed: str) -> Answer:
    return answer("as_found", {"readings": readings, **typed})


def number(one: Answer, name: str) -> Decimal:
    return Decimal(repr(one.value(name).number))


def sizes(one: Answer) -> list[str]:
    return [row[0] for row in one.tables[0].rows]


def said(one: Answer) -> str:
    assert one.verdict is not None
    return one.verdict.text


# (readings, part, what sat there, size that it was, class, missing at the worst place at most and at least, why)
CASES = (
    ("29.98; 29.91", "shaft", "bearing", "30", "j6", 99, 86,
     "30 is the one bearing bore near (ISO 15); j6 is +9/-4 (ISO 286-2): 30.009 - 29.91 and 29.996 - 29.91"),
    ("35.002; 34.97", "shaft", "bearing", "35", "k5", 43, 32,
     "the least worn place is still k5, +13/+2 (ISO 286-2): 35.013 - 34.97 and 35.002 - 34.97"),
    ("31.745; 31.70", "shaft", "plain", "31.75", "h6", 50, 34,
     "1 1/4 in; h6 over 30 to 50 is 0/-16 (ISO 286-2); 32 h6 would have lost 239 µm"),
    ("25.39; 25.38", "shaft", "plain", "25.4", "h6", 20, 7,
     "1 in; h6 over 18 to 30 is 0/-13 (ISO 286-2); 25 mm is out, for no class puts 25 at 25.39"),
    ("28.00; 27.97", "shaft", "plain", "28", "h6", 30, 17, "h6 over 18 to 30 is 0/-13 (ISO 286-2)"),
    ("19.045; 19.03", "shaft", "plain", "19.05", "h6", 20, 7, "3/4 in; h6 over 18 to 30 is 0/-13 (ISO 286-2)"),
    ("62.02; 62.05", "bore", "bearing", "62", "H7", 50, 20,
     "62 is the outside diameter of a 6206 (ISO 15); H7 over 50 to 80 is +30/0 (ISO 286-2)"),
    ("40.01; 40.06", "bore", "plain", "40", "H7", 60, 35, "H7 over 30 to 50 is +25/0 (ISO 286-2)"),
)  # fmt: skip


@pytest.mark.parametrize(("readings", "part", "sat", "size", "one", "most", "least", "why"), CASES)
def test_what_it_was_and_what_is_missing(readings, part, sat, size, one, most, least, why):
    answered = found(readings, part=part, sat=sat)
    assert number(answered, "nominal_size") == Decimal(size), why
    assert answered.value("limit_max").label == f"Upper limit then, {one}", why
    assert (number(answered, "wear_max"), number(answered, "wear_min")) == (most, least), why


def test_the_inch_fraction_is_named_as_such():
    assert (
        said(found("31.745; 31.70", sat="plain"))
        == "Most likely 1 1/4 in, with 34 to 50 µm missing at the worst place."
    )
    assert sizes(found("25.38", sat="not known"))[0] == "1 in"


def test_a_place_still_within_its_class_is_good():
    answered = found("28.00; 27.99", sat="plain")
    assert answered.verdict is not None
    assert answered.verdict.level == "good"
    assert number(answered, "wear_min") == 0


def test_two_sizes_that_lie_close_are_both_named_with_what_settles_it():
    """1 3/8 in is 34.925 mm: 34.90 may be that, or 35 mm worn by a tenth."""
    answered = found("34.90", sat="not known")
    assert answered.verdict is not None
    assert answered.verdict.level == "mind"
    assert said(answered).startswith("1 3/8 in or 35 mm: measure the part that sat there")
    assert said(found("34.90", sat="bearing")) == (
        "35 mm or 1 3/8 in: read the number on the bearing or measure its ring."
    )


def test_a_bearing_has_one_of_the_standard_bores():
    """ISO 15 has no bore of 33 mm."""
    answered = found("33", sat="bearing")
    assert "no metric bearing here has that size" in said(answered)
    assert [after.name for after in next_of(answered)] == ["fit"]


def test_raised_metal_is_thought_of_where_it_explains_more():
    """A bearing seat of 30 mm measures 30.05 only where punch marks or weld stand proud: k6 ends at 30.015."""
    answered = found("30.05")
    assert said(answered).startswith("30 mm with raised metal, or 1 3/16 in worn: ")
    assert any("the metal would stand 50 µm proud" in text for text in answered.cautions)
    assert not any("proud" in text for text in found("29.98; 29.91").cautions)


def test_a_later_reading_above_the_first_is_questioned():
    assert any("raised metal" in text and "larger" in text for text in found("29.91; 29.98").cautions)
    assert any("smaller" in text for text in found("62.05; 62.02", part="bore").cautions)
    assert not any("A later reading" in text for text in found("29.98; 29.91").cautions)


def test_the_order_of_the_readings_changes_no_figure():
    one, other = found("29.98; 29.94; 29.91"), found("29.91; 29.98; 29.94")
    assert [(each.name, each.number) for each in one.values] == [(each.name, each.number) for each in other.values]


def test_readings_of_two_different_diameters_are_refused():
    with pytest.raises(Refused) as caught:
        found("30; 28.9")
    (problem,) = caught.value.problems
    assert problem.name == "readings"
    assert str(problem).startswith("The readings lie 1.100 mm apart, more than wear leaves on one place. Measure each")
    assert number(found("30; 29"), "spread") == 1000


def test_where_no_usual_size_is_near_it_says_so_and_stops():
    with pytest.raises(Refused) as caught:
        found("40.143")
    (problem,) = caught.value.problems
    assert problem.name == "readings"
    assert "No usual size lies within 0.80 mm above 40.143 mm." in str(problem)
    assert "think of 40 mm" in str(problem)


def test_a_shaft_was_never_smaller_than_its_least_worn_place():
    for row in found("30.013; 29.9", doubt="1 µm").tables[1].rows:
        assert row[0] not in ("j5", "j6", "g6", "h6", "k5"), "their upper limits lie at 30.011 and below"


def test_doubt_leaves_a_class_open_that_the_reading_just_passes():
    """k5 at 30 ends at 30.011 (ISO 286-2)."""
    assert "k5" not in [row[0] for row in found("30.014", doubt="2 µm").tables[1].rows]
    assert "k5" in [row[0] for row in found("30.014", doubt="4 µm").tables[1].rows]


def test_classes_of_a_seat_are_those_that_a_practice_gives():
    given_by_someone = {
        word for row in table("bearing_seat_classes")
        if row.text("member") == "shaft" and row.number("over") < 30 <= row.number("up_to")
        for word in (*row.text("class").split(), *row.text("alternative").split())
    }  # fmt: skip
    assert {row[0] for row in found("29.98").tables[1].rows} <= given_by_someone


# ------------------------------------------------------------------------------------------------- repairs


def ways(one: Answer) -> dict[str, str]:
    return {row[0]: row[2] for row in one.tables[2].rows}


def test_ways_to_bring_it_back_follow_from_what_is_missing():
    """Ranges are common practice, no source."""
    little = ways(found("29.998; 29.995"))  # 5 µm short
    assert {little[way] for way in ("retaining compound", "metal spray", "weld-up")} == {"too little is missing"}
    tenth = ways(found("29.98; 29.91"))
    assert (tenth["retaining compound"], tenth["hard chromium plating"]) == ("yes", "yes")
    deep = ways(found("29.98; 29.2"))  # 0.8 mm short
    assert deep["retaining compound"] == "too much is missing"
    assert (deep["metal spray"], deep["weld-up"], deep["sleeve"], deep["make new"]) == ("yes", "yes", "yes", "yes")


def test_a_bore_gets_a_bush_and_a_shaft_a_sleeve():
    assert "bush" in ways(found("62.02; 62.05", part="bore"))
    assert "sleeve" not in ways(found("62.02; 62.05", part="bore"))
    assert "sleeve" in ways(found("29.98"))
    assert "bush" not in ways(found("29.98"))


@pytest.mark.parametrize("word", ["cracks", "hexavalent chromium", "cadmium", "fume", "spray dust", "licensed",
                                  "local rules", "bead edge"])  # fmt: skip
def test_the_cautions_of_the_repairs_are_there(word):
    assert any(word in text for text in found("29.98; 29.91").cautions)


def test_figures_of_makers_and_common_practice_are_told_apart():
    answered = found("29.98; 29.91")
    assert "one maker" in " ".join(cell for row in answered.tables[2].rows for cell in row)
    assert "common practice, no source" in answered.tables[2].note
    assert any("Common practice, no source" in text for text in answered.assumptions)
    assert {"bonded-ring-maker", "spray-powder-maker", "easa-shaft-repair"} <= set(answered.sources)


def test_the_picture_is_to_scale():
    """j6 at 30 is 13 µm wide (ISO 286-2); the readings lie 20 and 90 µm below the line."""
    drawn = ElementTree.fromstring(found("29.98; 29.91").picture)
    space = "{http://www.w3.org/2000/svg}"
    zone = next(one for one in drawn.iter(f"{space}rect") if one.get("class") == "shaft")
    zero = next(float(one.get("y1", "")) for one in drawn.iter(f"{space}line") if one.get("class") == "axis")
    scale = float(zone.get("height", "")) / 13
    depths = [(float(one.get("cy", "")) - zero) / scale for one in drawn.iter(f"{space}circle")]
    assert depths == pytest.approx([20, 90], rel=2e-3)  # drawn to a hundredth


# ---------------------------------------------------------------------------------------------- properties

BORES = [one for one in bearings.bores() if 10 <= one <= 150]


@pytest.mark.parametrize("one", ["k5", "k6", "j6"])
@pytest.mark.parametrize("bore", BORES)
def test_a_worn_bearing_seat_is_known_again(bore, one):
    """Whatever its class let it be, and up to 80 µm worn all over."""
    limits = iso286.deviations(bore, iso286.read_shaft(one))
    for new in (limits.upper, limits.lower):
        for wear in (0, 20, 50, 80):
            reading = Decimal(repr(bore)) + (new - wear) / 1000
            assert number(found(f"{reading} mm"), "nominal_size") == Decimal(repr(bore)), (reading, one, wear)


@pytest.mark.parametrize("size", ["12", "20", "25", "28", "32", "40", "50", "63", "80", "100"])
def test_a_worn_plain_shaft_is_known_again(size):
    for wear in (0, 10, 30):
        reading = Decimal(size) - Decimal("0.005") - Decimal(wear) / 1000
        assert number(found(f"{reading} mm", sat="plain"), "nominal_size") == Decimal(size), (reading, wear)


@settings(max_examples=120, deadline=None)
@given(
    st.decimals(min_value=2, max_value=480, places=3), st.integers(0, 400), st.sampled_from(["shaft", "bore"]),
    st.sampled_from(["bearing", "plain", "not known"]),
)  # fmt: skip
def test_the_origins_stand_in_order_and_each_allows_the_least_worn_reading(reading, wear, part, sat):
    hole = part == "bore"
    left = worn.origins(reading, Decimal(10), hole=hole, seat=sat != "plain", plain=sat != "bearing")
    assert [one.counted for one in left] == sorted(one.counted for one in left)
    for one in left:
        assert (one.lower - reading if hole else reading - one.upper) * 1000 <= 10
        assert 0 <= one.lost <= worn.believed(reading) * 1000
        worst = reading + Decimal(wear) / 1000 if hole else reading - Decimal(wear) / 1000
        most, least = one.missing(worst)
        assert least <= most
        assert most - least <= one.limits.width
        assert least >= one.lost
