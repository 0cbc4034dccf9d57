"""Published cutting speeds and feeds, as each source prints them; sources that differ stand side by side.

A material has groups in order of likeness; the rows of the first group that has any are given, and `group` says which,
so that an answer can tell when another, similar material's figures were taken. Nothing is averaged here.
"""

from dataclasses import dataclass
from functools import lru_cache

from calc.tables import Row, matching

#: Tool materials of the Shop as the tables name them.
TOOLS = {
    "hss": "HSS",
    "cobalt hss": "cobalt HSS",
    "brazed carbide": "brazed carbide",
    "coated carbide": "indexable coated carbide",
}


@dataclass(frozen=True)
class Published:
    """One printed row: speeds in m/min, feeds in mm/rev (None where it prints none), `mark` of its speed."""

    material: str
    group: str
    speed_min: float
    speed_max: float
    feed_min: float | None
    feed_max: float | None
    mark: str
    source: tuple[str, ...]
    note: str


@lru_cache(maxsize=256)
def speeds(operation: str, tool: str, cuts: tuple[str, ...], groups: tuple[str, ...]) -> tuple[Published, ...]:
    """Rows of that operation and tool whose cut is one of `cuts`, of the first of `groups` that has any; else ().

    `tool` as in the table, see TOOLS. Rows that hold only feeds are left out.
    """
    for group in groups:
        found = tuple(
            _published(row, group)
            for row in matching("cutting_speeds", operation=operation, tool=tool)
            if row.text("cut") in cuts and group in row.text("groups").split() and row.has("speed_min")
        )
        if found:
            return found
    return ()


def _published(row: Row, group: str) -> Published:
    feeds = [row.number(name) if row.has(name) else None for name in ("feed_min", "feed_max")]
    return Published(
        row.text("material"), group, row.number("speed_min"), row.number("speed_max"), feeds[0], feeds[1],
        row.mark("speed_min"), row.source, row.note,
    )  # fmt: skip
