"""What a line written as on a drawing could mean: best first, and what a beginning could become."""

import pytest

from calc import answer, callout, catalogue
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
    ("29.98; 29.91", "as_found", {"readings": "29.98; 29.91"}),
    ("29.98 29.91", "as_found", {"readings": "29.98 29.91"}),
)


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
