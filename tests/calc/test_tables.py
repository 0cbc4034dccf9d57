"""The table loader refuses what has no unit, source or mark; what is loaded is what the files say."""

import csv

import pytest

from calc import tables
from calc.tables import BadTable, step_for, table

HEADING = "over [mm],up_to [mm],class [text],IT6 [µm],source [key],mark [text],weaker [text],note [text]"
GOOD = "0,3,h6,6,iso-286-1,V2,,\n3,6,,8,iso-286-1+iso-286-2,V1,IT6=F,one print has 9"
NAMES = sorted(path.stem for path in tables.HERE.glob("*.csv"))


@pytest.fixture
def written(tmp_path, monkeypatch):
    """Writes a table beside a copy of the bibliography and loads it by a name of its own."""

    def write(text: str):
        (tmp_path / f"{tmp_path.name}.csv").write_text(text, encoding="utf-8")
        monkeypatch.setattr(tables, "HERE", tmp_path)
        return tables.table(tmp_path.name)

    tables.sources()  # read once, from where it is
    yield write
    tables.table.cache_clear()


def test_rows_keep_their_figures_words_sources_and_marks(written):
    first, second = written(f"{HEADING}\n{GOOD}\n")
    assert (first.number("over"), first.number("IT6"), first.text("class")) == (0.0, 6.0, "h6")
    assert (second.source, second.mark("IT6"), second.mark("over")) == (("iso-286-1", "iso-286-2"), "F", "V1")
    assert second.note == "one print has 9"
    assert (second.has("class"), second.text("class"), second.has("IT6")) == (False, "", True)


def test_rows_are_found_by_their_words_in_the_order_of_the_file():
    found = tables.matching("seat_form", practice="skf", member="shaft")
    assert found == tuple(
        row for row in table("seat_form") if (row.text("practice"), row.text("member")) == ("skf", "shaft")
    )
    assert 0 < len(found) < len(table("seat_form"))
    assert tables.matching("seat_form", practice="hearsay") == ()


def test_an_empty_cell_is_no_figure(written):
    (only,) = written(f"{HEADING}\n0,3,h6,,iso-286-1,V2,,\n")
    with pytest.raises(LookupError, match="no figure in column IT6"):
        only.number("IT6")
    with pytest.raises(LookupError):
        only.number("class")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (HEADING.replace("IT6 [µm]", "IT6") + f"\n{GOOD}", "'IT6' has no unit"),
        (HEADING.replace(",note [text]", "") + "\n0,3,h6,6,iso-286-1,V2,", "the last columns must be source"),
        (f"{HEADING}\n0,3,h6,6,hearsay,V2,,", "source 'hearsay'"),
        (f"{HEADING}\n0,3,h6,6,,V2,,", "source ''"),
        (f"{HEADING}\n0,3,h6,6,iso-286-1+hearsay,V2,,", r"source 'iso-286-1\+hearsay'"),
        (f"{HEADING}\n0,3,h6,6,iso-286-1,,,", "mark ''"),
        (f"{HEADING}\n0,3,h6,6,iso-286-1,V3,,", "mark 'V3'"),
        (f"{HEADING}\n0,3,h6,6,iso-286-1,V2,IT9=F,", "'IT9=F' does not fit"),
        (f"{HEADING}\n0,3,h6,6,iso-286-1,V2,IT6=X,", "'IT6=X' does not fit"),
        (f"{HEADING}\n0,3,h6,6,iso-286-1,V2,", "7 cells under 8 headings"),
        (f"{HEADING}\n0,3,h6,six,iso-286-1,V2,,", "'six' under IT6 is not a figure"),
        (f"{HEADING}\n0,3,h6,nan,iso-286-1,V2,,", "'nan' under IT6 is not a figure"),
        (f"{HEADING}\n0,3,h6,1_0,iso-286-1,V2,,", "'1_0' under IT6 is not a figure"),
    ],
)
def test_a_table_that_breaks_the_rules_is_refused(written, text, said):
    with pytest.raises(BadTable, match=said):
        written(f"{text}\n")


def test_a_step_is_over_its_lower_end_up_to_and_including_its_upper_end(written):
    rows = written(f"{HEADING}\n{GOOD}\n")
    assert step_for(rows, 0.0) is None
    assert step_for(rows, 0.001) is rows[0]
    assert step_for(rows, 3.0) is rows[0]
    assert step_for(rows, 3.001) is rows[1]
    assert step_for(rows, 6.0) is rows[1]
    assert step_for(rows, 6.001) is None


def test_weakest_of_some_marks():
    assert tables.weakest("V2", "F", "V1") == "F"
    assert tables.weakest("V2", "M", "F") == "M"
    assert tables.weakest("V2") == "V2"


def test_there_are_tables():
    assert {"it_grades", "shaft_deviations", "hole_deviations", "bearings"} <= set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_every_table_loads_and_is_plain_text_with_line_feeds(name):
    raw = (tables.HERE / f"{name}.csv").read_bytes()
    assert b"\r" not in raw
    assert raw.endswith(b"\n")
    assert not raw.startswith(b"\xef\xbb\xbf")
    lines = list(csv.reader(raw.decode("utf-8").splitlines()))
    assert len(table(name)) == len(lines) - 1 > 0


@pytest.mark.parametrize("name", NAMES)
def test_no_row_stands_twice(name):
    rows = [tuple(row.cells.items()) for row in table(name)]
    assert len(set(rows)) == len(rows)


@pytest.mark.parametrize("key", tables.sources())
def test_a_publication_has_a_lower_case_key_and_a_full_title(key):
    assert key == key.lower()
    assert " " not in key
    assert len(tables.sources()[key]) > 20


def test_no_publication_stands_twice():
    titles = list(tables.sources().values())
    assert len(set(titles)) == len(titles)
