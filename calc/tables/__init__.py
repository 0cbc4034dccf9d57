"""The published tables, read once from the CSV files beside this one, and the bibliography.

Every column heading carries its unit, `over [mm]`, and every row its source and mark; a file that lacks
one is refused. Marks: V2 seen in two independent sources, V1 in one, F computed from the standard's own
formula, M from memory. `weaker` lists the cells of a row that are weaker than its mark. sources.json holds
every publication that a table or a calculation names, and no other.
"""

import csv
import io
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from calc import beside

HERE = Path(__file__).parent
MARKS = ("V2", "V1", "F", "M")  # strongest first
KEEPING = ("source", "mark", "weaker", "note")
WORDS = ("text", "key")

Cell = float | str | None


class BadTable(Exception):
    """A table of ours breaks the rules above: a mistake in the file, not in what a user typed."""


@dataclass(frozen=True)
class Row:
    """One row: cells by column name (numbers as floats in the column's unit, empty cells None)."""

    cells: Mapping[str, Cell]
    source: tuple[str, ...]
    strongest: str
    weaker: Mapping[str, str]
    note: str

    def number(self, column: str) -> float:
        """The figure in that column; LookupError when the publication gives none."""
        cell = self.cells[column]
        if not isinstance(cell, float):
            raise LookupError(f"no figure in column {column}")
        return cell

    def text(self, column: str) -> str:
        """The words in that column, "" when empty."""
        return str(self.cells[column] or "")

    def has(self, column: str) -> bool:
        """Whether the publication gives anything in that column."""
        return self.cells[column] is not None

    def mark(self, column: str) -> str:
        """How well that cell is confirmed, one of MARKS."""
        return self.weaker.get(column, self.strongest)


def weakest(*marks: str) -> str:
    """The weakest of some marks."""
    return max(marks, key=MARKS.index)


@lru_cache(maxsize=64)
def table(name: str) -> tuple[Row, ...]:
    """The rows of `name`.csv in file order. BadTable when a unit, source or mark is missing."""
    path = HERE / f"{name}.csv"
    heading, *lines = csv.reader(io.StringIO(beside.text(path), newline=""))
    columns: list[tuple[str, str]] = []
    for title in heading:
        match = re.fullmatch(r"(\w+) \[([^\]]+)\]", title)
        if match is None:
            raise BadTable(f"{path.name}: the heading {title!r} has no unit")
        columns.append((match[1], match[2]))
    if tuple(column for column, _ in columns[-4:]) != KEEPING:
        raise BadTable(f"{path.name}: the last columns must be {', '.join(KEEPING)}")
    return tuple(_row(path.name, columns, cells) for cells in lines)


def _row(file: str, columns: list[tuple[str, str]], cells: list[str]) -> Row:
    if len(cells) != len(columns):
        raise BadTable(f"{file}: {len(cells)} cells under {len(columns)} headings in {cells}")
    *own, source, mark, weaker, note = cells
    keys = tuple(source.split("+"))
    if mark not in MARKS or not all(key in sources() for key in keys):
        raise BadTable(f"{file}: source {source!r} or mark {mark!r} is not known in {cells}")
    read: dict[str, Cell] = {}
    for (column, unit), cell in zip(columns, own, strict=False):
        read[column] = None if not cell else cell if unit in WORDS else _figure(file, column, cell)
    exceptions = dict(one.split("=", 1) for one in weaker.split())
    if not set(exceptions) <= set(read) or not set(exceptions.values()) <= set(MARKS):
        raise BadTable(f"{file}: {weaker!r} does not fit the columns")
    return Row(MappingProxyType(read), keys, mark, MappingProxyType(exceptions), note)


def _figure(file: str, column: str, cell: str) -> float:
    if not re.fullmatch(r"-?\d+(\.\d+)?(e-?\d+)?", cell):
        raise BadTable(f"{file}: {cell!r} under {column} is not a figure")
    return float(cell)


def step_for(rows: tuple[Row, ...], size: float, over: str = "over", up_to: str = "up_to") -> Row | None:
    """The row whose step holds `size`: over < size <= up to, the upper end included; None past the ends."""
    for row in rows:
        if size <= row.number(up_to) and size > row.number(over):
            return row
    return None


@lru_cache(maxsize=256)
def matching(name: str, **words: str) -> tuple[Row, ...]:
    """The rows of `name`.csv that have these words in these columns, in file order."""
    return tuple(row for row in table(name) if all(row.text(column) == word for column, word in words.items()))


@lru_cache(maxsize=1)
def sources() -> Mapping[str, str]:
    """The bibliography: key to full title."""
    entries = json.loads(beside.text(HERE / "sources.json"))
    return MappingProxyType({key: str(entry["title"]) for key, entry in entries.items()})
