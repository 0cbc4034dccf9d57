"""Published speeds and feeds for cutting a slot, and what is taken of them. Speeds in m/min, feed in mm for each tooth.

Sources that differ stand side by side. What no source gives is not made up: the answer asks for it.
"""

from dataclasses import dataclass

from calc.formulas import published_speeds
from calc.formulas.published_speeds import Published
from calc.formulas.work_materials import Found
from calc.tables import Row, matching
from calc.units import settle

CUTTERS = {"hss": "HSS or cobalt HSS", "carbide": "solid carbide"}

#: Rows of the table by material of the cutter: (tool, kind of cut).
ROWS = {
    "hss": (("HSS", "slot"), ("HSS slot drill", "keyway, ap <= 0.5 D")),
    "carbide": (("solid carbide", "end mill"),),
}
#: Speeds for HSS slot drills beside those of the table, and the share of the feed, from memory.
HARD: dict[str, tuple[float, float]] = {
    "alloy-hardened": (12.0, 18.0),
    "austenitic": (10.0, 16.0),
    "free-austenitic": (10.0, 16.0),
    "martensitic": (10.0, 16.0),
    "ph-stainless": (10.0, 16.0),
}
HARD_FEED = 0.7
LIPS = 2  # of a slot drill
DISC_FEED = 0.05  # mm for each tooth of a disc cutter in steel; common practice, no source


@dataclass(frozen=True)
class Speed:
    """`low` to `high` is what is published, `taken` is the wanted one; `rows` are (material, source, low, high)."""

    low: float
    high: float
    taken: float
    rows: tuple[tuple[str, str, float, float], ...]
    sources: tuple[str, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class ToothFeed:
    """mm for each tooth; where the source prints a span, `taken` is its middle."""

    low: float
    high: float
    taken: float
    sources: tuple[str, ...]
    remarks: tuple[str, ...]


def speed(found: Found, cutter: str, by_disc: bool) -> Speed | None:
    """The published speeds for that material; None where nobody prints one.

    Of the span the middle is taken for HSS and the low end for solid carbide, which is printed for stiffer machines.
    """
    if cutter == "carbide" and by_disc:
        return None
    for group in found.material.speed_groups:
        rows = [
            one for tool, cut in ROWS[cutter] for one in published_speeds.speeds("slot milling", tool, (cut,), (group,))
        ]
        said = _said(rows)
        sources = dict.fromkeys(source for one in rows for source in one.source)
        if cutter == "hss" and group in HARD:
            said.append((group.replace("-", " "), "from memory", *HARD[group]))
            sources["memory"] = None
        if said:
            low, high = min(one[2] for one in said), max(one[3] for one in said)
            taken = (low + high) / 2 if cutter == "hss" else low
            return Speed(low, high, taken, tuple(said), tuple(sources), _remarks(found, cutter, group, rows))
    return None


def tooth_feed(found: Found, cutter: str, by_disc: bool, width: float) -> ToothFeed | None:
    """The feed for each tooth of a cutter of that width; None where nobody prints one.

    Printed for some diameters only: that of the next smaller one is taken, never one in between.
    """
    hard = cutter == "hss" and any(group in HARD for group in found.material.speed_groups)
    share = HARD_FEED if hard else 1.0
    if by_disc:
        if cutter == "carbide":
            return None
        said = f"The feed for each tooth of a disc is common practice, no source{_hard(hard)}."
        return ToothFeed(DISC_FEED * share, DISC_FEED * share, DISC_FEED * share, ("memory",), (said,))
    tool, cut = ROWS[cutter][-1]
    groups = ("medium-carbon",) if cutter == "hss" else found.material.speed_groups
    for group in groups:
        rows = [
            row
            for row in matching("cutting_speeds", operation="slot milling", tool=tool, cut=cut)
            if group in row.text("groups").split() and settle(row.number("diameter_min")) <= settle(width)
        ]
        if rows:
            return _feed(max(rows, key=lambda row: row.number("diameter_min")), share, cutter, hard)
    return None


def _feed(row: Row, share: float, cutter: str, hard: bool) -> ToothFeed:
    low, high = (row.number(f"tooth_feed_{end}") * share for end in ("min", "max"))
    remarks = []
    if cutter == "hss":
        size = f"{row.number('diameter_min'):g} mm"
        remarks.append(f"The feed is that of slot drills of {size} in carbon steel, from memory{_hard(hard)}.")
    return ToothFeed(low, high, (low + high) / 2, row.source, tuple(remarks))


def _hard(hard: bool) -> str:
    return ", less 30 % for stainless or hardened steel" if hard else ""


def _said(rows: list[Published]) -> list[tuple[str, str, float, float]]:
    marks = {"M": "from memory", "F": "face milling × 0.6"}
    return list(
        dict.fromkeys((one.material, marks.get(one.mark, "printed"), one.speed_min, one.speed_max) for one in rows)
    )


def _remarks(found: Found, cutter: str, group: str, rows: list[Published]) -> tuple[str, ...]:
    said = []
    if group != found.material.speed_groups[0]:
        first = found.material.speed_groups[0].replace("-", " ")
        said.append(
            f"No slotting speed was found for {first} material: figures of {group.replace('-', ' ')} are taken."
        )
    if cutter == "carbide":
        said.append("The lowest printed speed is taken for carbide: the figures are for stiff machines.")
    elif any(one.mark == "F" for one in rows):
        said.append("Slotting speeds with HSS are face-milling speeds × 0.6, or from memory: start low.")
    else:
        said.append("Slotting speeds with HSS for this material are from memory, not confirmed: start low.")
    return tuple(said)
