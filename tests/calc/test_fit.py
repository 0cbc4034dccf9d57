"""Limits and fits against what is printed: every row names its publication, every special case its rule."""

import csv
import xml.etree.ElementTree as ElementTree
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.formulas import iso286
from calc.model import Answer, InputError, Refused

DATA = Path(__file__).parents[1] / "data"


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


PUBLISHED = rows("published_limits")
DISAGREEING = rows("published_limits_disagreeing")


def limits(size: object, one: str) -> tuple[Decimal, Decimal]:
    """Upper and lower deviation in µm that the calculation gives for one class, the other part left out."""
    part, other = ("hole", "shaft") if one[0].isupper() else ("shaft", "hole")
    found = answer("fit", {"size": f"{size} mm", part: one, other: ""})
    return exact(found, f"{part}_upper_deviation"), exact(found, f"{part}_lower_deviation")


def exact(found: Answer, name: str) -> Decimal:
    return Decimal(repr(found.value(name).number))


def problem(**typed: str) -> InputError:
    with pytest.raises(Refused) as caught:
        answer("fit", typed)
    (only,) = caught.value.problems
    return only


def sizes_in_step(row: dict[str, str]) -> list[Decimal]:
    """The top of the step, its middle, and just above what the step is over."""
    over, up_to = Decimal(row["over [mm]"]), Decimal(row["size [mm]"])
    bottom = over + Decimal("0.001")
    if over == 0:  # up to 1 mm the standard leaves some classes out; the printed row holds above that
        bottom = Decimal("1.001")
    return [up_to, (over + up_to) / 2, bottom]


# ------------------------------------------------------------------------------------- published limits


def test_there_are_enough_published_limits_and_each_names_its_source():
    assert len(PUBLISHED) >= 600
    assert all(row["source"] and row["mark"] in ("V1", "V2") for row in PUBLISHED)


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: f"{row['class']}-to-{row['size [mm]']}")
def test_published_limits_over_the_whole_step(row):
    printed = Decimal(row["upper [µm]"]), Decimal(row["lower [µm]"])
    for size in sizes_in_step(row):
        assert limits(size, row["class"]) == printed, (size, row["source"])


@pytest.mark.parametrize("row", DISAGREEING, ids=lambda row: f"{row['class']}-to-{row['size [mm]']}")
def test_where_a_publication_prints_otherwise_the_reason_is_known(row):
    printed = Decimal(row["upper [µm]"]), Decimal(row["lower [µm]"])
    ours = Decimal(row["iso_upper [µm]"]), Decimal(row["iso_lower [µm]"])
    for size in sizes_in_step(row):
        assert limits(size, row["class"]) == ours != printed
    assert len(row["reason"]) > 20
    if "width" in row["reason"]:  # a misprint shows in the row itself: its width is not the grade's
        grade, _ = iso286.tolerance(float(row["size [mm]"]), row["class"][1:])
        assert printed[0] - printed[1] != grade == ours[0] - ours[1]


# ---------------------------------------------------------------------------------------- special cases
# (size, class, upper, lower in µm, the rule and where it stands)

STEPS = (
    ("18", "k6", 12, 1, "over 10 up to and including 18: ISO 286-1:2010 table 5"),
    ("18.001", "k6", 15, 2, "the next step begins just above 18: table 5"),
    ("30", "k6", 15, 2, "over 18 up to and including 30: table 5"),
    ("30.001", "k6", 18, 2, "over 30: table 5"),
    ("50", "k6", 18, 2, "up to and including 50: table 5"),
    ("40", "c11", -120, -280, "fine step 30 to 40: table 4"),
    ("40.001", "c11", -130, -290, "fine step 40 to 50, same grade: table 4"),
    ("65", "r6", 60, 41, "fine step 50 to 65: table 5"),
    ("65.001", "r6", 62, 43, "fine step 65 to 80: table 5"),
    ("3150", "h6", 0, -135, "the last step ends at 3150 inclusive: table 1"),
)
LETTER_K_SHAFT = (
    ("30", "k3", 4, 0, "k is 0 in grades up to 3: table 5"),
    ("30", "k4", 8, 2, "k has its own value in grades 4 to 7: table 5"),
    ("30", "k7", 23, 2, "the same"),
    ("30", "k8", 33, 0, "k is 0 above grade 7: table 5"),
    ("560", "k6", 44, 0, "k is 0 in every grade above 500 mm: table 5"),
    ("3", "k6", 6, 0, "k is 0 up to 3 mm: table 5"),
)
LETTERS_J = (
    ("30", "j5", 5, -4, "j5 and j6 share one value: table 4"),
    ("30", "j6", 9, -4, "the same"),
    ("30", "j7", 13, -8, "j7 has its own: table 4"),
    ("3", "j8", 8, -6, "j8 stands only in the first step: table 4"),
    ("30", "J6", 8, -5, "J6, J7 and J8 have one value each: table 2"),
    ("30", "J7", 12, -9, "the same"),
    ("30", "J8", 20, -13, "the same"),
    ("10", "js7", Decimal("7.5"), Decimal("-7.5"), "js is half the grade each way, not rounded: table 4"),
    ("10", "JS7", Decimal("7.5"), Decimal("-7.5"), "JS likewise: table 2"),
    ("560", "js6", 22, -22, "js goes on above 500 mm: table 4"),
)
DELTA = (
    ("30", "K6", 2, -11, "-2 + delta 4: table 2"),
    ("30", "K7", 6, -15, "-2 + delta 8: table 2"),
    ("30", "K8", 10, -23, "-2 + delta 12, K takes delta up to grade 8: table 2"),
    ("30", "M7", 0, -21, "-8 + delta 8: table 2"),
    ("30", "M8", 4, -29, "-8 + delta 12: table 2"),
    ("30", "M9", -8, -60, "no delta above grade 8: table 2"),
    ("30", "N7", -7, -28, "-15 + delta 8: table 3"),
    ("30", "N8", -3, -36, "-15 + delta 12: table 3"),
    ("30", "N9", 0, -52, "N is 0 above grade 8: table 3"),
    ("30", "P6", -18, -31, "-22 + delta 4: table 3"),
    ("30", "P7", -14, -35, "-22 + delta 8: table 3"),
    ("30", "P8", -22, -55, "P to ZC take delta up to grade 7 only: table 3"),
    ("30", "S7", -27, -48, "-35 + delta 8: table 3"),
    ("30", "S8", -35, -68, "no delta in grade 8: table 3"),
    ("3", "K7", 0, -10, "no delta up to 3 mm: tables 2 and 3"),
    ("3", "P7", -6, -16, "the same"),
    ("3", "N9", -4, -29, "N above grade 8 is -4 in the first step: table 3"),
    ("560", "K7", 0, -70, "no delta above 500 mm: table 2"),
    ("560", "M7", -26, -96, "the same"),
    ("560", "P7", -78, -148, "the same: table 3"),
)
EXCEPTIONS = (
    ("250", "M6", -8, -37, "the step before the exception: table 2"),
    ("250.001", "M6", -9, -41, "M6 over 250 to 315 is -9, the rule would give -11: table 2, footnote"),
    ("315", "M6", -9, -41, "the same"),
    ("315.001", "M6", -10, -46, "the step after it"),
    ("280", "M7", 0, -52, "the exception is grade 6 alone"),
    ("3", "K9", 0, -25, "K above grade 8 stands up to 3 mm: table 2"),
    ("560", "K9", 0, -175, "and above 500 mm: table 2"),
)
BEGINNINGS = (
    ("24.001", "t6", 54, 41, "t begins above 24 mm: table 5"),
    ("14.001", "v6", 50, 39, "v begins above 14 mm: table 5"),
    ("18.001", "y6", 76, 63, "y begins above 18 mm: table 5"),
    ("1.001", "a11", -270, -330, "a begins above 1 mm: table 4"),
    ("1", "N8", -4, -18, "N8 stands at 1 mm: table 3"),
    ("1.001", "N9", -4, -29, "N9 above it: table 3"),
    ("1", "h13", 0, -140, "grade 13 is the coarsest up to 1 mm: table 1"),
    ("1.001", "h14", 0, -250, "grade 14 above it: table 1"),
    ("500", "h01", 0, -4, "grades 01 and 0 end at 500 mm: table 1"),
    ("500", "c11", -480, -880, "c ends at 500 mm: table 4"),
    ("500", "zc7", 2663, 2600, "zc ends at 500 mm: table 5"),
    ("10", "cd6", -56, -65, "cd between c and d: table 4"),
    ("600", "d9", -260, -435, "d goes on above 500 mm: table 4"),
    ("3150", "u7", 3410, 3200, "u goes on to 3150 mm: table 5"),
)
GROUPS = {
    "steps": STEPS, "k": LETTER_K_SHAFT, "j": LETTERS_J, "delta": DELTA, "exceptions": EXCEPTIONS,
    "beginnings": BEGINNINGS,
}  # fmt: skip


@pytest.mark.parametrize(
    ("size", "one", "upper", "lower", "rule"),
    [pytest.param(*case, id=f"{group}-{case[0]}-{case[1]}") for group, cases in GROUPS.items() for case in cases],
)
def test_special_cases_of_the_standard(size, one, upper, lower, rule):
    assert limits(size, one) == (upper, lower), f"ISO 286-1:2010: {rule}"


REFUSED = (
    # (size, class, what the sentence must say)
    ("20", "t6", "gives t only over 24 mm"),
    ("24", "t6", "gives t only over 24 mm"),
    ("20", "T7", "gives T only over 24 mm"),
    ("10", "v6", "gives v only over 14 mm"),
    ("14", "V7", "gives V only over 14 mm"),
    ("18", "y6", "gives y only over 18 mm"),
    ("0.8", "a11", "does not give a and b for sizes up to 1 mm"),
    ("1", "b11", "does not give a and b for sizes up to 1 mm"),
    ("1", "B11", "does not give A and B for sizes up to 1 mm"),
    ("0.5", "N9", "does not give N in grades above 8 for sizes up to 1 mm"),
    ("5", "K9", "gives K above grade 8 only up to 3 mm and over 500 mm"),
    ("500", "K9", "gives K above grade 8 only up to 3 mm and over 500 mm"),
    ("8", "j8", "gives j8 only up to 3 mm"),
    ("30", "j9", "gives j only in grades 5 to 8"),
    ("30", "J9", "gives J only in grades 6 to 8"),
    ("600", "j6", "gives j only up to 500 mm"),
    ("600", "J7", "gives J only up to 500 mm"),
    ("0.5", "h14", "gives grades IT14 to IT18 only above 1 mm"),
    ("1", "JS14", "gives grades IT14 to IT18 only above 1 mm"),
    ("600", "h0", "gives IT0 only up to 500 mm"),
    ("600", "h01", "gives IT01 only up to 500 mm"),
    ("50.001", "cd6", "gives cd only up to 50 mm"),
    ("60", "EF7", "gives EF only up to 50 mm"),
    *(
        ("600", f"{one}7", f"gives {one} only up to 500 mm")
        for one in ("a", "b", "c", "v", "x", "y", "z", "za", "zb", "zc", "A", "B", "C", "V", "X", "Y", "Z", "ZC")
    ),
)


@pytest.mark.parametrize(("size", "one", "reason"), REFUSED)
def test_what_the_standard_does_not_give_is_refused_with_the_reason(size, one, reason):
    part, other = ("hole", "shaft") if one[0].isupper() else ("shaft", "hole")
    found = problem(**{"size": size, part: one, other: ""})
    assert found.name == part
    assert reason in str(found)
    assert "take" in str(found).lower(), "says what to take instead"


def test_hole_and_shaft_are_refused_together_each_with_its_field():
    with pytest.raises(Refused) as caught:
        answer("fit", {"size": "5", "hole": "K9", "shaft": "t6"})
    assert [one.name for one in caught.value.problems] == ["hole", "shaft"]


@pytest.mark.parametrize(
    ("part", "typed", "said"),
    [
        ("shaft", "H7", "Type h7."),
        ("hole", "js6", "Type JS6."),
        ("hole", "I7", "no hole class letter “I”"),
        ("shaft", "q6", "no shaft class letter “q”"),
        ("shaft", "h19", "no grade 19"),
        ("hole", "7H", "such as H7"),
        ("shaft", "k", "such as k6"),
    ],
)
def test_a_class_that_is_not_one_is_refused_with_what_to_type(part, typed, said):
    found = problem(**{part: typed})
    assert found.name == part
    assert said in str(found)


def test_both_parts_left_out_is_refused():
    found = problem(hole="", shaft="")
    assert found.name == "shaft"
    assert str(found) == "Give a hole class, a shaft class or both, such as H7 and k6."


def test_one_part_alone_has_no_clearance_and_no_verdict():
    found = answer("fit", {"size": "30", "hole": "", "shaft": "k6"})
    assert found.verdict is None
    assert {one.name for one in found.values} == {
        "shaft_upper_deviation", "shaft_lower_deviation", "shaft_max", "shaft_min", "shaft_aim",
    }  # fmt: skip


# ------------------------------------------------------------------------------------------ the two together


@pytest.mark.parametrize(
    ("size", "pair", "most", "least", "word", "level"),
    [
        # H7 at 30 is +21/0, k6 +15/+2: ISO 286-2:2010; the rest of the column likewise
        ("30", "H7/k6", 19, -15, "Transition fit", "mind"),
        ("30", "H7/g6", 41, 7, "Clearance fit", "good"),
        # ISO 286-1:2010, clause 3.3: least clearance nought is still a clearance fit
        ("30", "H7/h6", 34, 0, "Clearance fit", "good"),
        ("30", "H7/s6", -14, -48, "Interference fit", "mind"),
        # ISO 286-1:2010, clause 3.3: greatest clearance nought is still an interference fit
        ("3", "H6/p6", 0, -12, "Interference fit", "mind"),
    ],
)
def test_clearance_and_kind_of_fit(size, pair, most, least, word, level):
    hole, shaft = pair.split("/")
    found = answer("fit", {"size": size, "hole": hole, "shaft": shaft})
    assert (exact(found, "clearance_max"), exact(found, "clearance_min")) == (most, least)
    assert found.verdict is not None
    assert found.verdict.text.startswith(word)
    assert found.verdict.level == level


@pytest.mark.parametrize(
    ("size", "pair", "amounts"),
    [
        ("30", "H7/g6", "7 to 41 µm loose"),
        # ISO 286-1:2010, table 1: IT14 over 400 up to 500 is 1.55 mm
        ("500", "H14/h14", "0 µm to 3.100 mm loose"),
        ("500", "JS14/h14", "2.325 mm loose to 775 µm tight"),
    ],
)
def test_the_verdict_says_a_large_amount_in_millimetres(size, pair, amounts):
    hole, shaft = pair.split("/")
    said = answer("fit", {"size": size, "hole": hole, "shaft": shaft}).verdict
    assert said is not None
    assert amounts in said.text


@pytest.mark.parametrize(
    ("pair", "words"),
    [
        # Common practice, no source: the usual words for the classic fits on a hole H.
        ("H8/f7", ["turns with a film of oil"]),
        ("H7/g6", ["runs free", "slides"]),
        ("H6/h5", ["push by hand"]),
        ("H7/n6", ["press"]),
        ("H7/u6", ["outer part heated", "heat"]),
    ],
)
def test_the_feel_in_the_hand_uses_the_words_of_the_trade(pair, words):
    hole, shaft = pair.split("/")
    said = answer("fit", {"size": "30", "hole": hole, "shaft": shaft}).verdict
    assert said is not None
    assert any(word in said.text for word in words)


def test_limits_of_size_and_the_size_to_aim_at():
    # k6 at 30 is +15/+2: ISO 286-2:2010; the middle is half way
    found = answer("fit", {"size": "30", "hole": "", "shaft": "k6"})
    assert [found.value(name).text for name in ("shaft_max", "shaft_min", "shaft_aim")] == [
        "30.015 mm", "30.002 mm", "30.0085 mm",
    ]  # fmt: skip


def test_an_inch_size_gets_its_limits_in_both_units():
    found = answer("fit", {"size": "1 3/16 in", "hole": "H7", "shaft": ""})
    # 1 3/16 in is 30.1625 mm exactly, and H7 over 30 to 50 mm is +25: ISO 286-2:2010
    assert exact(found, "hole_max") == Decimal("30.1875")
    assert found.value("hole_max").text == "30.1875 mm"


def test_a_figure_that_no_second_source_confirms_says_so():
    computed = answer("fit", {"size": "30", "hole": "", "shaft": "cd6"}).assumptions
    assert any("computed from the formula" in text for text in computed)
    remembered = answer("fit", {"size": "3", "hole": "", "shaft": "j8"}).assumptions
    assert any("from memory" in text for text in remembered)
    printed = answer("fit", {"size": "30", "hole": "", "shaft": "k6"}).assumptions
    assert not any("formula" in text or "memory" in text for text in printed)


@pytest.mark.parametrize(
    ("size", "one", "said"),
    [
        ("225", "u6", "u6: another handbook table prints 256 (the formula gives 258.1)."),
        ("400", "X7", "X7: another handbook table prints −650 (the formula gives −659.9)."),
        ("30", "j6", "j6: another handbook table prints −3 against the rest."),
        ("800", "h5", "h5: bearing catalogues still print 32 from the older edition."),
        ("800", "JS5", "JS5: bearing catalogues still print 32 from the older edition."),
    ],
)
def test_what_another_print_says_is_told_of_that_class_alone(size, one, said):
    part, other = ("hole", "shaft") if one[0].isupper() else ("shaft", "hole")
    assert said in answer("fit", {"size": size, part: one, other: ""}).assumptions
    for neighbour in ("n7", "k6", "M7"):
        part, other = ("hole", "shaft") if neighbour[0].isupper() else ("shaft", "hole")
        told = answer("fit", {"size": size, part: neighbour, other: ""}).assumptions
        assert not any("print" in text for text in told)


@pytest.mark.parametrize(("hole", "shaft"), [("H7", "k6"), ("H7", "f7"), ("H7", "s6"), ("", "e8"), ("P7", "")])
def test_the_zones_are_drawn_to_one_scale(hole, shaft):
    found = answer("fit", {"size": "30", "hole": hole, "shaft": shaft})
    drawn = ElementTree.fromstring(found.picture)
    space = "{http://www.w3.org/2000/svg}"
    boxes = {one.get("class"): one for one in drawn.iter(f"{space}rect")}
    zero = next(float(one.get("y1", "")) for one in drawn.iter(f"{space}line") if one.get("class") == "axis")
    scales = []
    for part in [part for part, wanted in (("hole", hole), ("shaft", shaft)) if wanted]:
        top, height = float(boxes[part].get("y", "")), float(boxes[part].get("height", ""))
        upper, lower = exact(found, f"{part}_upper_deviation"), exact(found, f"{part}_lower_deviation")
        scales.append(height / float(upper - lower))
        assert zero - top == pytest.approx(float(upper) * scales[0], abs=0.02)  # drawn to a hundredth
    assert scales == pytest.approx([scales[0]] * len(scales), rel=2e-3)


# -------------------------------------------------------------------------------------------- properties

ANY_SIZE = st.decimals(min_value="0.001", max_value="3150", places=3)
ANY_GRADE = st.sampled_from(iso286.GRADES)


@settings(max_examples=150, deadline=None)
@given(ANY_SIZE, st.sampled_from(iso286.HOLE_LETTERS), ANY_GRADE, st.sampled_from(iso286.SHAFT_LETTERS), ANY_GRADE)
def test_the_spread_of_clearance_is_the_sum_of_the_tolerances(size, hole, hole_grade, shaft, shaft_grade):
    typed = {"size": str(size), "hole": hole + hole_grade, "shaft": shaft + shaft_grade}
    try:
        found = answer("fit", typed)
    except Refused as refusal:
        found, refused = None, [one.name for one in refusal.problems]
    if found is None:
        assert refused in (["hole"], ["shaft"], ["hole", "shaft"])
        return
    spread = exact(found, "clearance_max") - exact(found, "clearance_min")
    widths = [iso286.tolerance(float(size), grade)[0] for grade in (hole_grade, shaft_grade)]
    assert spread == sum(widths)
    for part, width in zip(("hole", "shaft"), widths, strict=True):
        assert (exact(found, f"{part}_max") - exact(found, f"{part}_min")) * 1000 == width
