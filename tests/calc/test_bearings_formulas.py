"""Designations, boundary dimensions, ring tolerances, clearance groups and completion.

Every expected figure names where it comes from. "ISO 492" figures are those of GOST 520-2011, harmonised with it;
dimensions are those of ISO 15 and ISO 355 as makers' full catalogues print them.
"""

import itertools

import pytest

from calc.formulas import bearings, iso286
from calc.formulas.bearings import (
    BALL,
    CYLINDRICAL,
    TAPER,
    Bearing,
    NotInTable,
    bore_limits,
    complete,
    outside_limits,
    radial_clearance,
    read_bearing,
    read_bearing_or_bore,
)
from calc.model import CalcError
from calc.tables import table
from tests.calc.worked import bearing_example

DIMENSIONS = (
    # designation, kind, bore, outside diameter, width, smallest chamfer, where the figures are printed
    ("6206", BALL, 30, 62, 16, 1.0, "ISO 15, dimension series 02, as in nine makers' catalogues"),
    ("6203", BALL, 17, 40, 12, 0.6, "ISO 15, dimension series 02: code 03 is a bore of 17"),
    ("6200", BALL, 10, 30, 9, 0.6, "ISO 15, dimension series 02: code 00 is a bore of 10"),
    ("6201", BALL, 12, 32, 10, 0.6, "ISO 15, dimension series 02: code 01 is a bore of 12"),
    ("6202", BALL, 15, 35, 11, 0.6, "ISO 15, dimension series 02: code 02 is a bore of 15"),
    ("6204", BALL, 20, 47, 14, 1.0, "ISO 15, dimension series 02: code 04 is 5 times 4"),
    ("6308", BALL, 40, 90, 23, 1.5, "ISO 15, dimension series 03"),
    ("6328", BALL, 140, 300, 62, 4.0, "ISO 15, dimension series 03; not the 63/28"),
    ("63/28", BALL, 28, 68, 18, 1.1, "ISO 15, dimension series 03: the figures after the stroke are the bore"),
    ("60/22", BALL, 22, 44, 12, 0.6, "ISO 15, dimension series 10"),
    ("618/5", BALL, 5, 11, 3, 0.15, "ISO 15, dimension series 18"),
    ("608", BALL, 8, 22, 7, 0.3, "ISO 15, dimension series 10: with three figures the last is the bore"),
    ("626", BALL, 6, 19, 6, 0.3, "ISO 15, dimension series 02"),
    ("635", BALL, 5, 19, 6, 0.3, "ISO 15, dimension series 03"),
    ("61808", BALL, 40, 52, 7, 0.3, "ISO 15, dimension series 18"),
    ("61908", BALL, 40, 62, 12, 0.6, "ISO 15, dimension series 19"),
    ("16006", BALL, 30, 55, 9, 0.3, "ISO 15, dimension series 00"),
    ("16100", BALL, 10, 28, 8, 0.3, "makers' catalogues: commercial size, D is 28 and not the 26 of its series"),
    ("16101", BALL, 12, 30, 8, 0.3, "makers' catalogues: commercial size, D is 30 and not the 28 of its series"),
    ("6406", BALL, 30, 90, 23, 1.5, "ISO 15, dimension series 04"),
    ("NU 2311", CYLINDRICAL, 55, 120, 43, 2.0, "ISO 15, dimension series 23"),
    ("NU 2206", CYLINDRICAL, 30, 62, 20, 1.0, "ISO 15, dimension series 22: 62 of 6206, but 20 wide"),
    ("32208", TAPER, 40, 80, 24.75, None, "ISO 355, as in makers' catalogues: T, not the width of a ring"),
    ("30206", TAPER, 30, 62, 17.25, None, "ISO 355, as in makers' catalogues"),
    ("32006", TAPER, 30, 55, 17, None, "ISO 355, as in makers' catalogues: outside diameter of 6006"),
    ("30305", TAPER, 25, 62, 18.25, None, "ISO 355, as in makers' catalogues"),
)  # fmt: skip


@pytest.mark.parametrize(("designation", "kind", "bore", "outside", "width", "chamfer", "source"), DIMENSIONS)
def test_boundary_dimensions(designation, kind, bore, outside, width, chamfer, source):
    found = read_bearing(designation)
    assert (found.designation, found.kind) == (designation, kind), source
    assert (found.bore, found.outside_diameter, found.width, found.chamfer_min) == (bore, outside, width, chamfer), (
        source
    )


AS_WRITTEN = (
    # as a turner writes it, designation, sealed, clearance group, precision
    ("6206-2RS1", "6206", True, None, None),
    ("6206 ZZ", "6206", True, None, None),
    ("6206zz", "6206", True, None, None),
    ("62062RS", "6206", True, None, None),
    ("6206.2RSR.C3", "6206", True, "C3", None),
    ("6206 C3", "6206", False, "C3", None),
    ("6206c3", "6206", False, "C3", None),
    ("6206/C3", "6206", False, "C3", None),
    ("6206 C0", "6206", False, "CN", None),
    ("6206 DDU C4", "6206", True, "C4", None),
    ("6206 P6", "6206", False, None, "6"),
    ("6206 P0", "6206", False, None, "Normal"),
    ("6206 P53", "6206", False, "C3", "5"),
    ("6206 TN9", "6206", False, None, None),
    ("  6206 ", "6206", False, None, None),
    ("６２０６", "6206", False, None, None),
    ("NU2311 ECP", "NU 2311", False, None, None),
    ("nu 2311", "NU 2311", False, None, None),
    ("NJ-2311", "NJ 2311", False, None, None),
    ("608 2Z", "608", True, None, None),
    ("6082RS", "608", True, None, None),
    ("63 / 28 C3", "63/28", False, "C3", None),
    ("32208 A", "32208", False, None, None),
)  # fmt: skip


@pytest.mark.parametrize(("typed", "designation", "sealed", "group", "precision"), AS_WRITTEN)
def test_designations_are_read_as_turners_write_them(typed, designation, sealed, group, precision):
    found = read_bearing(typed)
    assert found.designation == designation
    assert (found.sealed, found.clearance_group, found.precision) == (sealed, group, precision)


@pytest.mark.parametrize(
    ("japanese", "designation"), [("6808", "61808"), ("6908", "61908"), ("688", "618/8"), ("698", "619/8")]
)
def test_makers_to_jis_leave_out_a_figure_of_618_and_619(japanese, designation):
    assert read_bearing(japanese) == read_bearing(designation)


@pytest.mark.parametrize(
    ("roller", "ball"),
    [("NU 206", "6206"), ("NJ206", "6206"), ("NUP 206", "6206"), ("N 206", "6206"), ("NU 311", "6311"),
     ("NU 1006", "6006"), ("NJ 406", "6406")],
)  # fmt: skip
def test_cylindrical_rollers_share_the_envelope_of_a_ball_series_and_say_so(roller, ball):
    """ISO 15: types of one dimension series have one bore, outside diameter and width."""
    found, same = read_bearing(roller), read_bearing(ball)
    assert found.kind == CYLINDRICAL
    assert (found.bore, found.outside_diameter, found.width) == (same.bore, same.outside_diameter, same.width)
    assert found.mark == "F"
    assert ball in found.note


def test_wide_series_keep_the_outside_diameter_and_change_the_width():
    """ISO 15 and ISO 355: NU 23 and 323 have the D of 63, NU 22 and 322 that of 62, 320 that of 60."""
    for wide, narrow in (
        ("NU 2311", "6311"),
        ("NU 2206", "6206"),
        ("32208", "6208"),
        ("32308", "6308"),
        ("32008", "6008"),
    ):
        assert read_bearing(wide).outside_diameter == read_bearing(narrow).outside_diameter
        assert (read_bearing(wide).width or 0) > (read_bearing(narrow).width or 0)


def test_the_bore_code_holds_through_the_whole_table():
    """ISO 15: 00 to 03 are 10, 12, 15, 17; from 04 five times the code; after a stroke or with three figures itself."""
    codes = {"00": 10, "01": 12, "02": 15, "03": 17}
    for row in table("bearings"):
        number = row.text("designation").removeprefix("NU")
        tail = number.split("/")[1] if "/" in number else number[-1] if len(number) == 3 else number[-2:]
        literal = "/" in number or len(number) == 3
        assert row.number("bore") == (int(tail) if literal else codes.get(tail, 5 * int(tail))), number


@pytest.mark.parametrize(
    ("designation", "word"),
    [("629", "0.6"), ("16021", "1.5"), ("6406", "1.1"), ("NU 2204", "1.1"), ("NU 2206", "1.1"), ("NU 2216", "2.1"),
     ("NU 2218", "2.1"), ("NU 2310", "2.1"), ("NU 2311", "2.1"), ("16101", "memory")],
)  # fmt: skip
def test_where_makers_disagree_on_a_chamfer_the_other_figure_is_kept(designation, word):
    assert word in read_bearing(designation).note


UNKNOWN = (
    # typed, what the refusal must say
    ("6240", "series 62 is here for bores from 3 to 150 mm"),
    ("63/29", "series 63"),
    ("NU 2250", "series NU22"),
    ("7206", "angular contact"),
    ("1206", "self-aligning"),
    ("3206", "double-row"),
    ("22206", "spherical roller"),
    ("51106", "thrust"),
    ("30232", "series 302"),
    ("NA4906", "needle"),
    ("LM11949", "inch taper"),
    ("UC206", "insert"),
    ("RLS8", "inch ball"),
    ("QJ206", "four-point"),
    ("6206 K", "tapered bore"),
    ("6206 P4", "Normal, 6 and 5"),
    ("6206 k5", "field of its own"),
    ("6206 H7", "field of its own"),
    ("6206 §", "suffix"),
    ("foo", "number on the ring"),
    ("", "number on the ring"),
)  # fmt: skip


@pytest.mark.parametrize(("typed", "said"), UNKNOWN)
def test_an_unknown_designation_is_refused_with_what_to_do(typed, said):
    with pytest.raises(CalcError, match=said) as caught:
        read_bearing(typed)
    assert str(caught.value).endswith(".")


# ----------------------------------------------------------------------------------------- typed bores


@pytest.mark.parametrize("typed", ["30 mm", "30", "Ø30", "30,0 mm", "３０"])
def test_a_bore_may_stand_for_a_bearing_otherwise_unknown(typed):
    found = read_bearing_or_bore(typed)
    assert (found.designation, found.bore, found.kind, found.mark) == ("", 30.0, BALL, "V2")
    assert found.outside_diameter is found.width is found.chamfer_min is None


def test_an_inch_bore_is_taken_with_a_warning():
    found = read_bearing_or_bore("1 3/16 in")
    assert (found.bore, found.mark) == (30.1625, "M")
    assert "measure the bore" in found.note


def test_bores_are_listed_once_and_in_order():
    assert 30.0 in bearings.bores()
    assert 31.0 not in bearings.bores()
    assert list(bearings.bores()) == sorted(set(bearings.bores()))


def test_a_number_that_is_a_designation_is_the_designation():
    assert read_bearing_or_bore("608").designation == "608"
    assert read_bearing_or_bore("63/28").designation == "63/28"


@pytest.mark.parametrize(
    ("typed", "said"),
    [("31 mm", "take 30 or 32 mm"), ("251 mm", "to 250 mm"), ("0.5 mm", "over 0.6"), ("6240", "series 62"),
     ("30 °C", "number on the ring"), ("-30", "over 0.6")],
)  # fmt: skip
def test_a_bore_that_no_bearing_has_is_refused(typed, said):
    with pytest.raises(CalcError, match=said):
        read_bearing_or_bore(typed)


# ------------------------------------------------------------------------------------- ring tolerances


def test_the_bore_tolerance_lies_below_nominal_where_a_hole_h_lies_above():
    for row in table("bearing_bore_tolerances"):
        assert (row.number("upper"), row.number("lower") < 0) == (0.0, True), row.cells
    assert bore_limits(read_bearing("6204")) == (-10, 0)  # ISO 492, Normal, over 18 up to 30
    assert iso286.deviations(20.0, iso286.read_hole("H7")).lower == 0


STEPS = (
    # bore in mm, lower deviation in µm, source
    (18.0, -8, "ISO 492 table for Normal, over 10 up to 18"),
    (20.0, -10, "over 18 up to 30"),
    (30.0, -10, "over 18 up to 30, the upper end included"),
    (32.0, -12, "over 30 up to 50"),
    (50.0, -12, "over 30 up to 50, the upper end included"),
    (55.0, -15, "over 50 up to 80"),
    (80.0, -15, "over 50 up to 80, the upper end included"),
    (120.0, -20, "over 80 up to 120, the upper end included"),
    (130.0, -25, "over 120 up to 180"),
)  # fmt: skip


@pytest.mark.parametrize(("bore", "lower", "source"), STEPS)
def test_the_upper_end_belongs_to_the_step(bore, lower, source):
    assert bore_limits(Bearing("", BALL, bore, None, None, None, "V2", "")) == (lower, 0), source


RINGS = (
    # designation, class, bore lower, outside lower, source
    ("6206", "Normal", -10, -13, "ISO 492 (GOST 520-2011): bore over 18 up to 30, outside over 50 up to 80"),
    ("6206", "6", -8, -11, "the same, class 6"),
    ("6206", "5", -6, -9, "the same, class 5"),
    ("6220", "Normal", -20, -25, "bore over 80 up to 120, outside over 150 up to 180"),
    ("6214", "Normal", -15, -18, "bore over 50 up to 80, outside over 120 up to 150"),
    ("30206", "Normal", -12, -16, "taper: bore over 18 up to 30 is 12, not the 10 of radial ones; outside over 50"),
    ("32208", "Normal", -12, -16, "taper: bore over 30 up to 50 is 12 in both; outside 16, not the 13 of radial ones"),
    ("30202", "Normal", -12, -14, "taper: bore over 10 up to 18, outside over 30 up to 50"),
    ("30316", "Normal", -15, -25, "taper: past 150 mm outside the limits are those of radial ones"),
)  # fmt: skip


@pytest.mark.parametrize(("designation", "precision", "bore", "outside", "source"), RINGS)
def test_ring_tolerances(designation, precision, bore, outside, source):
    found = read_bearing(designation)
    assert bore_limits(found, precision) == (bore, 0), source
    assert outside_limits(found, precision) == (outside, 0), source


def test_taper_rollers_are_wider_than_radial_bearings_of_the_same_size():
    for taper, radial in (("30206", "6206"), ("32205", "6205"), ("30203", "6203")):
        assert bore_limits(read_bearing(taper))[0] < bore_limits(read_bearing(radial))[0]
        assert outside_limits(read_bearing(taper))[0] < outside_limits(read_bearing(radial))[0]


@pytest.mark.parametrize("precision", ["6", "5"])
def test_taper_rollers_have_no_class_6_or_5_here(precision):
    with pytest.raises(NotInTable, match="Choose Normal"):
        bore_limits(read_bearing("32208"), precision)


def test_a_bore_alone_has_no_outside_limits():
    with pytest.raises(NotInTable, match="Type the designation"):
        outside_limits(read_bearing_or_bore("30 mm"))


# ------------------------------------------------------------------------------------------- clearance


def test_radial_clearance_as_printed():
    typed, expected, source = bearing_example("radial clearance")
    found = radial_clearance(typed["kind"], typed["bore [mm]"])
    for name, figure in expected.items():
        group, end = name.split(" ")[0].split("_")
        assert found[group][end == "max"] == figure, source


def test_the_least_of_c2_is_not_nought_from_24_mm_up():
    """ISO 5753-1: 0 to 24 mm, 1 from over 24 to 100 mm, 2 above."""
    for bore, least in ((20.0, 0), (24.0, 0), (25.0, 1), (30.0, 1), (100.0, 1), (105.0, 2)):
        assert radial_clearance(BALL, bore)["C2"][0] == least, bore


def test_cylindrical_rollers_have_a_table_of_their_own():
    """ISO 5753-1, over 24 up to 30 mm: CN is 5 to 20 in a ball, 20 to 45 in a cylindrical roller bearing."""
    assert radial_clearance(BALL, 30.0)["CN"] == (5, 20)
    assert radial_clearance(CYLINDRICAL, 30.0)["CN"] == (20, 45)


def test_neighbouring_groups_overlap_or_touch():
    for row in table("radial_clearance"):
        groups = list(radial_clearance(row.text("kind"), row.number("up_to")).values())
        for tighter, looser in itertools.pairwise(groups):
            assert tighter[0] < looser[0] <= tighter[1] < looser[1], row.cells


@pytest.mark.parametrize(
    ("kind", "bore", "said"), [(TAPER, 40.0, "adjusted"), (BALL, 240.0, "up to 200"), (BALL, 2.0, "over 2.5")]
)
def test_clearance_that_no_table_holds(kind, bore, said):
    with pytest.raises(NotInTable, match=said):
        radial_clearance(kind, bore)


# ------------------------------------------------------------------------------------------ completion


def test_completion_offers_what_is_met_most_often_first():
    assert complete("62")[:3] == ("6200", "6201", "6202")
    assert complete("63/") == ("63/22", "63/28", "63/32")
    assert complete("NU 231") == tuple(f"NU 231{last}" for last in range(10))
    assert complete("nj 20") == ("NJ 202", "NJ 203", "NJ 204", "NJ 205", "NJ 206", "NJ 207", "NJ 208", "NJ 209")
    assert complete("7") == complete("UC") == complete("") == ()


@pytest.mark.parametrize("beginning", ["6", "63", "N", "NU", "3", "32", "61", "16", "60/"])
def test_everything_offered_can_be_read(beginning):
    offered = complete(beginning)
    assert offered
    assert len(offered) <= 12
    for name in offered:
        assert read_bearing(name).designation == name
