"""What a line written as on a drawing could mean: best first, and what a beginning could become."""

import re

import pytest

from calc import answer, catalogue
from calc.callout import callout
from calc.model import Refused
from calc.sheet import callout_sheet

WHOLE = (
    ("30 H7/k6", "fit", {"size": "30", "hole": "H7", "shaft": "k6"}),
    ("30 H7 / k6", "fit", {"size": "30", "hole": "H7", "shaft": "k6"}),
    ("30H7/k6", "fit", {"size": "30", "hole": "H7", "shaft": "k6"}),
    ("30 H7 k6", "fit", {"size": "30", "hole": "H7", "shaft": "k6"}),
    ("Ø30k6", "fit", {"size": "Ø30", "hole": "", "shaft": "k6"}),
    ("⌀ 30 k6", "fit", {"size": "⌀ 30", "hole": "", "shaft": "k6"}),
    ("30 js6", "fit", {"size": "30", "hole": "", "shaft": "js6"}),
    ("30,5 k6", "fit", {"size": "30,5", "hole": "", "shaft": "k6"}),
    ("30 H7", "fit", {"size": "30", "hole": "H7", "shaft": ""}),
    ("３０　Ｈ７", "fit", {"size": "30", "hole": "H7", "shaft": ""}),
    ("30 mm H7/g6", "fit", {"size": "30 mm", "hole": "H7", "shaft": "g6"}),
    ("1 3/16 in", "fit", {"size": "1 3/16 in"}),
    ("1 3/16 in k6", "fit", {"size": "1 3/16 in", "hole": "", "shaft": "k6"}),
    ('1-3/16" H7/k6', "fit", {"size": '1-3/16"', "hole": "H7", "shaft": "k6"}),
    ("1.1875in", "fit", {"size": "1.1875in"}),
    ("30", "fit", {"size": "30"}),
    ("30.02 @ 38C", "thermal_correction", {"reading": "30.02", "part_temperature": "38C"}),
    ("30,02 @ 38 °C", "thermal_correction", {"reading": "30,02", "part_temperature": "38 °C"}),
    ("30.02@38", "thermal_correction", {"reading": "30.02", "part_temperature": "38"}),
    ("1.1819 in @ 100 °F", "thermal_correction", {"reading": "1.1819 in", "part_temperature": "100 °F"}),
    ("6206", "bearing_seat", {"bearing": "6206"}),
    ("6206 C3", "bearing_seat", {"bearing": "6206", "clearance_group": "C3"}),
    ("6206/C3", "bearing_seat", {"bearing": "6206", "clearance_group": "C3"}),
    ("NU 2311", "bearing_seat", {"bearing": "NU 2311"}),
    ("NU2311", "bearing_seat", {"bearing": "NU2311"}),
    ("61808", "bearing_seat", {"bearing": "61808"}),
    ("16101", "bearing_seat", {"bearing": "16101"}),
    ("63/28", "bearing_seat", {"bearing": "63/28"}),
    ("32208", "bearing_seat", {"bearing": "32208"}),
    ("6206 k5", "bearing_seat", {"bearing": "6206", "seat_class": "k5"}),
    ("Key 28", "parallel_key", {"diameter": "28"}),
    ("KEY 28", "parallel_key", {"diameter": "28"}),
    ("key for 1 1/8in", "parallel_key", {"diameter": "1 1/8in"}),
    ("312 CUT", "cut_length", {"finished_length": "312", "bar_length": ""}),
    ("6 OFF 312", "cut_length", {"pieces": "6", "finished_length": "312", "bar_length": ""}),
    ("6 x 312, 2 x 96 From 3000", "cut_list", {"pieces": "6 x 312, 2 x 96", "bars": "3000"}),
    ("40mm bar 1m EN8", "bar_mass", {"size": "40mm", "length": "1m", "material": "EN8"}),
    ("40 BAR 0,3 tir", "bar_clean_up", {"size": "40", "run_out": "0,3"}),
    ("6206 Bearing", "bearing_seat", {"bearing": "6206"}),
    ("30.02 INTO 6206", "mating", {"shaft_reading": "30.02", "bearing": "6206"}),
    ("8x7x40", "key_strength", {"key": "8x7x40"}),
    ("8 × 7 × 40", "key_strength", {"key": "8 × 7 × 40"}),
    ("40 EN8 HSS", "turning", {"diameter": "40", "material": "EN8", "tool_material": "HSS"}),
    (
        "40 en8 cold drawn cobalt hss",
        "turning",
        {"diameter": "40", "material": "en8 cold drawn", "tool_material": "cobalt hss"},
    ),
    ("M20x1.5", "tapping_drill", {"thread": "M20x1.5"}),
    ("M20×1.5", "tapping_drill", {"thread": "M20×1.5"}),
    ("29.98; 29.91", "as_found", {"readings": "29.98; 29.91"}),
    ("29.98 29.91", "as_found", {"readings": "29.98 29.91"}),
)


def written():
    """Every declared call-out whose fields have a default, with these."""
    for name, one in catalogue().items():
        usual = {field.name: field.default for field in one.inputs if field.default}
        usual.setdefault("thickness", "5")  # of the flat and the tube, which have no usual one
        for pattern in one.callouts:
            if set(re.findall(r"\{(\w+)\}", pattern)) <= set(usual):
                yield name, pattern, re.sub(r"\{\w+=[^}]*\}", "", pattern).format_map(usual)


WRITTEN = tuple(written())


@pytest.mark.parametrize(("name", "pattern", "text"), WRITTEN)
def test_every_declared_callout_leads_to_its_own_calculation_before_all_others(name, pattern, text):
    assert callout(text)[0][0] == name, text


@pytest.mark.parametrize(("name", "pattern", "text"), WRITTEN)
def test_words_between_the_fields_may_stand_in_capitals(name, pattern, text):
    for word in re.findall(r"[a-z]{2,}", re.sub(r"\{[^}]*\}", " ", pattern)):
        text = re.sub(rf"\b{word}\b", word.upper(), text)
    assert callout(text)[0][0] == name, text


@pytest.mark.parametrize("text", ["40mmbar", "4 0 bar", "40 b ar", "40 barEN8", "keyring 28", "312 cutter"])
def test_words_and_figures_do_not_run_together(text):
    assert "parallel_key" not in [name for name, _ in callout(text)]
    assert "bar_mass" not in [name for name, _ in callout(text)]
    assert "cut_length" not in [name for name, _ in callout(text)]


def test_where_a_line_means_two_things_both_are_offered():
    found = callout("40 bar 316")
    assert ("bar_mass", {"size": "40", "material": "316"}) in found
    assert ("bar_mass", {"size": "40", "length": "316"}) in found


WORDS_BEFORE_OR_BEHIND = [
    ("28 key", "parallel_key", {"diameter": "28"}),
    ("22 SQUARE KEY", "parallel_key", {"diameter": "22", "section": "square"}),
    ("28 keyway", "keyway_cut", {"diameter": "28"}),
    ("608 woodruff", "woodruff_key", {"key": "608", "diameter": ""}),
    ("8x7x40 4 kW 960 rpm", "key_strength", {"key": "8x7x40", "power": "4 kW", "speed": "960 rpm"}),
    ("40 to 30 k5", "pass_plan", {"diameter": "40", "wanted": "30 k5"}),
    ("40 EN8 to 30 k5 x 42", "pass_plan", {"diameter": "40", "material": "EN8", "wanted": "30 k5", "length": "42"}),
    ("turn 40 EN8", "turning", {"diameter": "40", "material": "EN8"}),
    ("turning 40", "turning", {"diameter": "40"}),
    ("drill 12 x 40", "drilling", {"diameter": "12", "hole_depth": "40"}),
    ("Reamer 20", "reaming", {"diameter": "20"}),
    ("part 40", "parting", {"diameter": "40"}),
    ("facing 40", "facing", {"diameter": "40"}),
    ("centre drill 40", "centre_drilling", {"diameter": "40"}),
    ("tapping M8", "tapping_drill", {"thread": "M8"}),
    ("steady 35 x 312", "push_off", {"diameter": "35", "length": "312"}),
    ("tool life 30 m/min", "tool_life", {"speed": "30 m/min"}),
    ("bar 40 EN8 1 m", "bar_mass", {"size": "40", "material": "EN8", "length": "1 m"}),
    ("24 A/F", "bar_mass", {"size": "24", "shape": "hexagon"}),
    ("40 bar clean up", "bar_clean_up", {"size": "40"}),
]


@pytest.mark.parametrize(("text", "name", "typed"), WORDS_BEFORE_OR_BEHIND)
def test_a_word_may_stand_before_the_size_or_behind_it(text, name, typed):
    assert callout(text)[0] == (name, typed)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Tool life", "tool_life"),
        ("REAM", "reaming"),
        ("drill", "drilling"),  # a title that begins so, before those that have it further on
        ("parting off", "parting"),
        ("key", "parallel_key"),
        ("steady", "push_off"),
        ("saw", "cut_length"),
    ],
)
def test_words_alone_find_what_they_name(text, name):
    assert callout(text)[0] == (name, {})


def test_a_material_in_small_letters_is_not_offered_twice():
    told = [tuple(text.lower() for text in typed.values()) for name, typed in callout("40 en8") if name == "turning"]
    assert len(set(told)) == len(told)


@pytest.mark.parametrize(("text", "name", "typed"), WHOLE)
def test_what_is_written_on_a_drawing_means_what_it_says(text, name, typed):
    assert callout(text)[0] == (name, typed)


@pytest.mark.parametrize(("text", "name", "typed"), WHOLE)
def test_every_meaning_is_answered_or_refused_and_can_be_shown(text, name, typed):
    for meaning, inputs in callout(text):
        assert set(inputs) <= {one.name for one in catalogue()[meaning].inputs}
    assert answer(name, typed).values
    assert catalogue()[name].title.replace("&", "&amp;") in callout_sheet(text)


@pytest.mark.parametrize(
    ("text", "name", "field", "becomes"),
    [
        ("30 k", "fit", "shaft", {"k6", "k5"}),
        ("30 H", "fit", "hole", {"H7", "H8", "H6", "H11"}),
        ("30 j", "fit", "shaft", {"j6", "js6"}),
        ("30 z", "fit", "shaft", {"z6", "z7", "za6", "za7"}),
        ("30 E", "fit", "hole", {"E6", "E7", "EF6", "EF7"}),
        ("30 H7/", "fit", "hole", {"H7"}),
        ("30 H7/k", "fit", "shaft", {"k6", "k5"}),
        ("NU", "bearing_seat", "bearing", {"NU 202", "NU 203", "NU 204", "NU 205"}),
        ("30.02 @", "thermal_correction", "reading", {"30.02"}),
    ],
)
def test_a_beginning_offers_what_it_could_become(text, name, field, becomes):
    offered = [typed[field] for found, typed in callout(text) if found == name]
    assert becomes <= set(offered)


@pytest.mark.parametrize(
    "text", ["", "  ", "?", "@", "hello", "30 q", "30 H7/k6 extra", "x" * 65, "9**9", "nan", "45 °C", "5000000000"]
)
def test_what_means_nothing_offers_nothing(text):
    assert callout(text) == []


def test_a_size_is_a_fit_before_it_is_anything_else():
    assert [name for name, _ in callout("30.02")][:2] == ["fit", "as_found"]


def test_no_meaning_stands_twice_and_there_are_few():
    for text in ("30", "6", "62", "NU", "30 H", "1 3/16 in"):
        found = [(name, tuple(sorted(typed.items()))) for name, typed in callout(text)]
        assert len(set(found)) == len(found) <= 8


def test_a_class_that_the_standard_lacks_is_still_read_and_then_refused_with_the_reason():
    name, typed = callout("20 t6")[0]
    assert (name, typed["shaft"]) == ("fit", "t6")
    with pytest.raises(Refused, match="only over 24 mm"):
        answer(name, typed)
    assert "only over 24 mm" in callout_sheet("20 t6")


def test_nothing_typed_shows_nothing_and_nonsense_says_what_to_try():
    assert callout_sheet("  ") == ""
    assert "30 H7/k6" in callout_sheet("what is this")
