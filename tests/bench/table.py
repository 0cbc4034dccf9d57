"""The table: what was measured, the bar where there is one, and the arithmetic on the samples."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

RATIO = "×"
#: Decimals by unit; a figure below ten of its unit gets one more.
DECIMALS = {"ms": 1, "kB": 1, "MB": 2, "/s": 0, RATIO: 2, "": 0}
HEADING = ("what", "figure", "unit", "bar", "", "samples")


@dataclass(frozen=True)
class Bar:
    """What a figure must keep to: `at most` a limit in the row's unit or, with `least`, at least."""

    limit: float
    least: bool = False

    def keeps(self, figure: float) -> bool:
        return figure >= self.limit if self.least else figure <= self.limit


@dataclass(frozen=True)
class Row:
    """One line of the table. `samples` is how many it rests on, 0 for what is counted and not timed; `note` says under
    which condition, where that is not plain.
    """

    group: str
    what: str
    figure: float
    unit: str
    bar: Bar | None = None
    note: str = ""
    samples: int = 0

    @property
    def standing(self) -> str:
        """ "within" or "beyond" its bar, "" where there is none."""
        if self.bar is None:
            return ""
        return "within" if self.bar.keeps(self.figure) else "beyond"


def quantile(samples: Sequence[float], share: float) -> float:
    """The sample below or at which that share of them lies (nearest rank, so always one that was measured)."""
    if not samples:
        raise ValueError("nothing was measured")
    return sorted(samples)[max(0, math.ceil(share * len(samples)) - 1)]


def median(samples: Sequence[float]) -> float:
    """The middle sample, between the middle two of an even number."""
    return statistics.median(samples)


def median_and_p95(
    group: str, what: str, samples: Sequence[float], bar: Bar | None = None, note: str = ""
) -> list[Row]:
    """Two rows in ms; the bar is on the 95th percentile."""
    return [
        Row(group, f"{what}, median", median(samples), "ms", None, note, len(samples)),
        Row(group, f"{what}, p95", quantile(samples, 0.95), "ms", bar, note, len(samples)),
    ]


def ratio(group: str, what: str, samples: Sequence[float], against: Sequence[float], bar: Bar | None = None) -> Row:
    """One row: the median of some samples over the median of others taken in turn with them."""
    return Row(group, what, median(samples) / median(against), RATIO, bar, "", len(samples))


def figure(number: float, unit: str) -> str:
    """A figure as printed; it is rounded here and nowhere before."""
    decimals = DECIMALS[unit]
    if unit in ("ms", "kB") and abs(number) < 10:
        decimals += 1
    return f"{number:,.{decimals}f}".replace(",", " ")


def printed(rows: Sequence[Row]) -> str:
    """The table as text: a heading for each group, columns lined up, figures flush right."""
    cells = [HEADING, *(_cells(row) for row in rows)]
    widths = [max(len(line[column]) for line in cells) for column in range(len(HEADING))]
    lines = [_line(HEADING, widths), _line(tuple("-" * width for width in widths), widths)]
    group = ""
    for row, line in zip(rows, cells[1:], strict=True):
        if row.group != group:
            group = row.group
            lines += ["", group.upper()]
        lines.append(_line(line, widths) + (f"  ({row.note})" if row.note else ""))
    return "\n".join(lines)


def records(rows: Sequence[Row]) -> list[dict[str, object]]:
    """The rows as plain records, figures as measured."""
    return [
        {
            "group": row.group,
            "what": row.what,
            "figure": row.figure,
            "unit": row.unit,
            "bar": row.bar and row.bar.limit,
            "sense": row.bar and ("at least" if row.bar.least else "at most"),
            "standing": row.standing,
            "note": row.note,
            "samples": row.samples,
        }
        for row in rows
    ]


def _cells(row: Row) -> tuple[str, ...]:
    bar = "" if row.bar is None else f"{'≥' if row.bar.least else '≤'} {figure(row.bar.limit, row.unit)}"
    return row.what, figure(row.figure, row.unit), row.unit, bar, row.standing, str(row.samples or "")


def _line(cells: Sequence[str], widths: Sequence[int]) -> str:
    what, number, unit, bar, standing, samples = (
        cell.rjust(width) if place in (1, 3, 5) else cell.ljust(width)
        for place, (cell, width) in enumerate(zip(cells, widths, strict=True))
    )
    return f"{what}  {number} {unit}  {bar}  {standing}  {samples}".rstrip()
