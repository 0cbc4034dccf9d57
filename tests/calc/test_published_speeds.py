"""Published speeds are found by material and tool, side by side, and a stand-in group is told."""

import pytest

from calc.formulas import work_materials
from calc.formulas.published_speeds import TOOLS, speeds
from calc.shop import TOOL_MATERIALS
from calc.tables import table

ROUGH = ("rough", "general")


# (name, tool, lowest, highest speed in m/min, group, where it is printed)
@pytest.mark.parametrize(
    ("name", "tool", "lowest", "highest", "group", "source"),
    [
        ("EN8", "HSS", 21.3, 27.4, "medium-carbon", "workshop course slides, unit 8: 70 to 90 ft/min for 1045"),
        ("EN8", "brazed carbide", 60, 60, "medium-carbon", "Carvill, Mechanical Engineer's Data Handbook, page 191"),
        ("EN3B", "HSS", 24.4, 45, "low-carbon", "handout 25 to 45, lathe manual 27.4, slides 24.4 to 30.5"),
        ("EN1A", "HSS", 24.4, 45, "low-carbon", "no row for free-cutting steel: low-carbon stands in"),
        ("416", "HSS", 9.1, 18.3, "free-martensitic", "T.O. 1-1A-9, table 2-8: 30 to 60 ft/min for 416"),
        ("GG25", "HSS", 15.2, 30, "grey-iron", "handout 22 to 30, lathe manual 21.3, slides 15.2 to 24.4"),
    ],
)
def test_published_turning_speeds(name, tool, lowest, highest, group, source):
    found = speeds("turning", tool, ROUGH, work_materials.read(name).material.speed_groups)
    assert (min(one.speed_min for one in found), max(one.speed_max for one in found)) == (lowest, highest), source
    assert {one.group for one in found} == {group}


def test_where_nobody_prints_a_speed_there_is_none():
    # no source here has HSS for titanium or for air-hardened EN30B
    for name in ("Ti-6Al-4V", "EN30B"):
        assert speeds("turning", "HSS", ROUGH, work_materials.read(name).material.speed_groups) == ()


def test_speeds_from_memory_are_marked_so():
    found = speeds("turning", "indexable coated carbide", ("rough",), ("medium-carbon",))
    assert [(one.speed_min, one.speed_max, one.mark) for one in found] == [(150, 240, "M")]


def test_rows_that_hold_only_feeds_are_left_out():
    assert speeds("turning", "HSS or carbide", ("rough feed only",), ("low-carbon",)) == ()


def test_every_tool_of_the_shop_has_a_name_in_the_table():
    assert set(TOOLS) == set(TOOL_MATERIALS)
    assert set(TOOLS.values()) <= {row.text("tool") for row in table("cutting_speeds")}


def test_no_speed_has_its_ends_the_wrong_way_round():
    for row in table("cutting_speeds"):
        if row.has("speed_min"):
            assert 0 < row.number("speed_min") <= row.number("speed_max")
