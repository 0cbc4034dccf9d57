"""A material is found by any of its names, and what is only near is told."""

import pytest

from calc import answer
from calc.formulas import work_materials
from calc.formulas.work_materials import UnknownMaterial, complete, materials, read
from calc.tables import table

# (typed, material, nearness, where the pairing stands)
NAMES = (
    ("EN8", "EN8N", "same", "BS 970:1955, through stockholders' reprints"),
    ("080M40", "EN8N", "same", "BS 970:1991, through stockholders' reprints"),
    ("en 8", "EN8N", "same", "as EN8, as it is written in the shop"),
    ("EN8 cold drawn", "EN8CD", "same", "BS 970, its state typed as well"),
    ("080M40 R", "EN8R", "same", "BS 970, condition letter"),
    ("C45", "C45E_N", "near", "EN 10083-2: the plain grade, from memory"),
    ("1.0503", "C45E_N", "near", "EN 10083-2: number of C45, from memory"),
    ("C45E", "C45E_N", "same", "EN 10083-2:2006"),
    ("W.-Nr. 1.1191", "C45E_N", "same", "EN 10083-2: number of C45E, from memory"),
    ("AISI 1045", "C45E_N", "about", "nearest grade, from memory"),
    ("316L", "EN58J_316", "near", "EN 10088-1: the low-carbon grade, from memory"),
    ("1.4307", "EN58E_304", "near", "EN 10088-1: number of X2CrNi18-9, from memory"),
    ("St37", "S235JR", "near", "DIN 17100, from memory"),
    ("St 52-3", "S355J2", "near", "DIN 17100, from memory"),
    ("S355", "S355J2", "near", "EN 10025-2, from memory"),
    ("POM", "ACETAL", "same", "ISO 1043-1, from memory"),
    ("12L14", "EN1A", "about", "nearest grade, from memory"),
    ("42CrMo4", "42CrMo4", "same", "EN 10083-3:2006"),
    ("1.7225", "42CrMo4", "same", "EN 10083-3:2006"),
    ("1020", "1020", "same", "AISI, stockholders' sheets"),
    ("303", "EN58M_303", "same", "EN 10088-1, AISI name"),
    ("GG25", "GJL250", "same", "DIN name of EN-GJL-250, from memory"),
    ("EN-GJL-250", "GJL250", "same", "EN 1561"),
    ("CZ121", "CW614N", "same", "EN 12167 through a stockholder's sheet"),
    ("6082 T6", "6082T6", "same", "aluminium stockholders' sheets"),
    ("silver steel", "SILVER", "same", "trade name, from memory"),
    ("mild steel", "EN3B", "near", "what the trade calls it, common practice, no source"),
    ("Aluminium", "6082T6", "near", "common practice, no source"),
    ("stainless", "EN58E_304", "near", "common practice, no source"),
    ("cast iron", "GJL250", "near", "common practice, no source"),
    ("brass", "CW614N", "near", "common practice, no source"),
)


@pytest.mark.parametrize(("typed", "material", "nearness", "source"), NAMES, ids=[one[0] for one in NAMES])
def test_a_material_by_its_name(typed, material, nearness, source):
    found = read(typed)
    assert (found.material.name, found.nearness) == (material, nearness), source


def test_every_name_of_the_tables_is_read_and_finds_its_material():
    for row in table("material_names"):
        found = read(row.text("name"))
        possible = {found.material.name, *(one.name for one in found.others)}
        if row.text("nearness") == found.nearness:
            assert row.text("material") in possible, row.text("name")
        else:
            assert row.text("nearness") == "about"
    for one in materials().values():
        assert read(one.label).material == one


def test_c45_and_c45e_are_not_one_number():
    assert read("1.0503").nearness == "near"
    assert read("1.1191").nearness == "same"


def test_other_states_and_nearness_are_told():
    found = read("EN8")
    assert [one.name for one in found.others] == ["EN8CD", "EN8R"]
    assert "EN8, bright cold drawn" in found.remarks[0]
    assert read("EN8 R").remarks == ()
    assert read("AISI 1045").remarks[0].startswith("1045 is not in the tables; the nearest grade")
    assert "C45E" in read("C45").remarks[0]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("unobtainium", "“unobtainium” is not a material known here. Type a grade such as EN8, C45 or 316."),
        ("EN8 soft", "EN8 is known as: EN8, normalised; .* Type one of these, or EN8 alone."),
        ("?", "is not a material known here"),
    ],
)
def test_what_is_not_known_is_refused_with_what_to_type(typed, said):
    with pytest.raises(UnknownMaterial, match=said):
        read(typed)


def test_names_are_offered_from_a_beginning():
    assert complete("EN8")[0] == "EN8"
    assert complete("080")[:2] == ("080M40", "080A42")
    assert "EN19T" in complete("en1")
    assert complete("crmo")[0] == "42CrMo4"
    assert complete("zzz") == ()
    assert len(complete("e")) == work_materials.OFFERED
    assert complete("") == work_materials.COMMON[: work_materials.OFFERED]
    for one in work_materials.COMMON:
        read(one)


def test_force_constants_of_both_families_are_named_and_not_mixed():
    # KU Leuven, Production technology, 2024: C45 2190/0.139; VDI 3323 group 2: 1500/0.22 in the 2017 and 2022 tables
    one = read("C45").material
    assert one.force is not None
    assert one.other_force is not None
    assert (one.force.family, one.force.kc11, one.force.mc, one.force.mark) == ("classic", 2190, 0.139, "V1")
    assert one.force.source == ("leuven-production",)
    assert (one.other_force.family, one.other_force.kc11, one.other_force.mc) == ("VDI 3323", 1500, 0.22)
    for each in materials().values():
        if each.force is not None and each.other_force is not None:
            assert each.force.family != each.other_force.family
    assert read("acetal").material.force is None


def test_constants_of_a_material_are_those_of_the_row_it_names():
    rows = {row.text("row"): row for row in table("specific_cutting_force")}
    for one in materials().values():
        if one.force is not None and one.force.row != work_materials.A_LIKE_ALLOY:
            row = rows[one.force.row]
            assert (row.text("family"), row.number("kc11"), row.number("mc")) == (
                one.force.family, one.force.kc11, one.force.mc,
            ), one.name  # fmt: skip


def test_figures_keep_their_confirmation_and_what_is_missing_is_none():
    # BS 970 reprints: 080M40 normalised to 150 mm 550 MPa at least; its density is from memory
    en8 = read("EN8").material
    assert (en8.number("tensile_min"), en8.confirmation("tensile_min")) == (550, "V1")
    assert (en8.number("density"), en8.confirmation("density")) == (7850, "M")
    assert en8.number("tensile_max") is None
    # the expansion of austenitic steel is 16, not the 18.5 that holds as a mean to 650 °C: EN 10088-1
    assert read("316").material.number("alpha") == 16
    assert (en8.iso_group, en8.speed_groups) == ("P", ("medium-carbon",))


def test_a_word_of_the_trade_says_what_it_was_taken_for_and_what_else_it_may_be():
    mild, stainless = read("mild steel"), read("stainless")
    assert mild.remarks == ("mild steel is taken as EN3B, cold drawn: the usual bright bar; black bar is softer.",)
    assert [one.name for one in stainless.others] == ["EN58M_303", "EN58J_316"]
    assert "name the grade if you know it" in stainless.remarks[0]


def test_what_is_carried_over_keeps_the_state():
    for text in ("EN8 cold drawn", "EN8", "EN9 R", "1.0503", "316", "C45", "EN24T"):
        found = work_materials.read(text)
        assert work_materials.read(found.carried).material == found.material, text
    assert work_materials.read("C45").carried == "C45"
    assert work_materials.read("EN8 cold drawn").carried == "EN8, bright cold drawn"
    for one in work_materials.materials().values():
        assert work_materials.read(one.label).material == one


def test_constants_of_no_row_are_told_as_those_of_a_like_alloy():
    # 2011 has the middle of what VDI 3323 groups 21 and 22 have, no row of its own
    assert work_materials.read("2011").material.force.row == "a like alloy"
    for name in ("turning", "pass_plan", "push_off", "drilling", "facing", "parting"):
        found = answer(name, {"material": "2011"})
        told = [*found.assumptions, *(one.note for one in found.working)]
        assert any("a like alloy" in one for one in told), name
        assert not any("of ," in one or "row ," in one or one.endswith((", .", ", ")) for one in told), name
