"""Parallel keys as three standards give them, and the geometry of their keyways. Lengths in mm.

A depth means nothing without its datum: DIN 6885-1 and BS 46-1 measure from the crown of the shaft, ASME B17.1 from
the edge of the slot. Here every depth is brought to the crown, and the others follow from it.
"""

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from math import sqrt

from calc.formulas import iso286
from calc.model import Choice, InputError, Number, OutsideTable
from calc.tables import Row, table
from calc.units import show

SYSTEMS = {
    "metric": "metric, DIN 6885-1 (ISO/R 773, BS 4235-1)",
    "asme": "inch, ASME B17.1",
    "bs46": "inch, BS 46-1:1958",
}
NAMES = {"metric": "DIN 6885-1", "asme": "ASME B17.1", "bs46": "BS 46-1"}
#: How a calculation asks which key it is about.
WHICH = (
    Number("diameter", "Shaft diameter at the key", "length", "28 mm", 6, 500,
           "Finished and nominal, where the key sits: not the thickest part of the shaft.", above=True),
    Choice("system", "Standard", SYSTEMS, "metric"),
    Choice("section", "Section of the key",
           {"usual": "usual for the standard", "square": "square", "rectangular": "rectangular"}, "usual", aside=True),
)  # fmt: skip
TABLES = {"metric": "keys_metric", "asme": "keys_inch_asme", "bs46": "keys_inch_bs46"}
FITS = {"free": ("H9", "D10"), "normal": ("N9", "JS9"), "close": ("P9", "P9")}  # shaft slot, hub slot
TOP_CLEARANCE = float(Decimal("0.005") * Decimal("25.4"))  # mm, over the key in the hub (ASME B17.1)
ALIKE = 0.15  # mm by which a measured key may differ from a standard one; ours, no source

Span = tuple[float, float]


@dataclass(frozen=True)
class Key:
    """One key and its slots for shafts over `over` up to and including `up_to`.

    `depth` is that of the shaft slot from `datum` ("crown" or "edge"), `hub_depth` that of the hub slot from the
    same; None where no depth is known. Limits are (least, greatest), None where they are not known.
    """

    system: str
    section: str
    over: float
    up_to: float
    width: float
    height: float
    datum: str
    depth: float | None
    hub_depth: float | None
    depth_tolerance: float | None
    hub_tolerance: float | None
    lengths: Span | None
    preferred: bool
    row: Row

    def __str__(self) -> str:
        """As it is called: "8 × 7 mm" or "1/4 × 1/4 in"."""
        if self.system == "metric":
            return f"{self.width:g} × {self.height:g} mm"
        return f"{self.row.text('key_width_fraction')} × {self.row.text('key_height_fraction')} in"

    def holds(self, diameter: float) -> bool:
        """Whether the standard gives this key to a shaft of that diameter: over .. up to and including."""
        return self.over < diameter <= self.up_to


@lru_cache(maxsize=3)
def keys(system: str) -> tuple[Key, ...]:
    """Every key of a system, in the order of its table."""
    return tuple(_key(system, row) for row in table(TABLES[system]))


def key_for(system: str, section: str, diameter: float) -> Key | None:
    """The key of that section ("usual", "square", "rectangular") for a shaft; None where there is none."""
    for one in keys(system):
        if one.holds(diameter) and (one.preferred if section == "usual" else one.section == section):
            return one
    return None


def chosen(system: str, section: str, diameter: float) -> Key:
    """As `key_for`, of a key whose slots are known.

    Raises OutsideTable or InputError of the fields `diameter` and `section` that every calculation of keys has.
    """
    low, high = ends(system)
    if not low < diameter <= high:
        raise OutsideTable(
            "diameter",
            f"{NAMES[system]} has keys for shafts over {show(low, 'length')} up to {show(high, 'length')}. "
            "Give a diameter inside that, or choose another standard.",
        )
    key = key_for(system, section, diameter)
    if key is None:
        raise InputError("section", f"{NAMES[system]} has no {section} key for this shaft. Choose the usual one.")
    if key.depth is None:
        raise InputError("section", "The slots of rectangular BS 46-1 keys could not be found. Choose square.")
    return key


def slot_widths(key: Key, fit_class: str) -> tuple[Span, Span] | None:
    """Least and greatest width of the slot in the shaft and of that in the hub; None where no limits are known.

    The class of fit counts for metric keys only; a BS 46-1 key has the fit of its standard.
    """
    if key.system == "metric":
        spans = []
        for written in FITS[fit_class]:
            found = iso286.deviations(key.width, iso286.read_hole(written))
            spans.append((key.width + float(found.lower) / 1000, key.width + float(found.upper) / 1000))
        return spans[0], spans[1]
    if key.system == "bs46":
        shaft, hub = (
            (25.4 * key.row.number(f"{one}_width_min"), 25.4 * key.row.number(f"{one}_width_max"))
            for one in ("shaft", "hub")
        )
        return shaft, hub
    return None


def shaft_now(diameter: float, actual: float | None, allowance: float | None) -> Span:
    """What the shaft measures while it is cut, and what it will measure when finished.

    Raises InputError when the finished one is more than 5 % off its nominal diameter.
    """
    now = actual if actual is not None else diameter + (allowance or 0.0)
    finished = now - (allowance or 0.0)
    if abs(finished - diameter) > diameter / 20:
        field = "actual_diameter" if actual is not None else "grinding_allowance"
        raise InputError(field, "That leaves the shaft more than 5 % off its diameter. Check both figures.")
    return now, finished


def ends(system: str) -> Span:
    """The shafts that a system serves: over the first, up to and including the second."""
    return min(one.over for one in keys(system)), max(one.up_to for one in keys(system))


def alike(width: float, height: float | None) -> list[Key]:
    """Keys of every system that a measured one could be, the nearest first."""
    found = []
    for system in SYSTEMS:
        for one in keys(system):
            gaps = [abs(one.width - width), *([] if height is None else [abs(one.height - height)])]
            if max(gaps) <= ALIKE:
                found.append((round(max(gaps), 6), one))
    return [one for _, one in sorted(found, key=lambda pair: pair[0])]


def series(key: Key) -> tuple[float, ...]:
    """The lengths in mm that a metric key is made in, shortest first; empty for the inch keys, which have no series."""
    if key.system != "metric" or key.lengths is None:
        return ()
    low, high = key.lengths
    return tuple(one for one in (row.number("length") for row in table("keys_metric_lengths")) if low <= one <= high)


def sagitta(diameter: float, width: float) -> float:
    """How much the crown stands over the edges of a slot of that width, mm."""
    return (diameter - sqrt(diameter**2 - width**2)) / 2


def crown_depth(key: Key, diameter: float) -> float:
    """Depth of the shaft slot from the crown; LookupError where the table has none."""
    return _known(key.depth) + (sagitta(diameter, key.width) if key.datum == "edge" else 0.0)


def hub_crown_depth(key: Key, diameter: float) -> float:
    """Depth of the hub slot from the crown of the bore; LookupError where the table has none."""
    return _known(key.hub_depth) - (sagitta(diameter, key.width) if key.datum == "edge" else 0.0)


def _known(depth: float | None) -> float:
    if depth is None:
        raise LookupError("no depth is known for this key")
    return depth


def _key(system: str, row: Row) -> Key:
    def cell(name: str) -> float:
        exact = Decimal(repr(row.number(name)))
        return float(exact if system == "metric" else exact * Decimal("25.4"))

    width, height = cell("key_width"), cell("key_height")
    lengths = (cell("length_min"), cell("length_max")) if row.cells.get("length_min") is not None else None
    section = "square" if width == height else "rectangular"
    depth = hub = depth_tolerance = hub_tolerance = None
    preferred = True
    if system == "metric":
        depth, hub = cell("shaft_depth"), cell("hub_depth")
        depth_tolerance, hub_tolerance = cell("shaft_depth_upper"), cell("hub_depth_upper")
    elif system == "asme":
        depth, hub = cell("keyseat_depth"), height / 2 + TOP_CLEARANCE
        preferred = row.text("preferred") == "yes"
    else:
        preferred = section == "square"
        if row.has("shaft_depth_min"):
            depth, hub = cell("shaft_depth_min"), cell("hub_depth_min")
            depth_tolerance, hub_tolerance = cell("shaft_depth_max") - depth, cell("hub_depth_max") - hub
    return Key(system, section, cell("over"), cell("up_to"), width, height, row.text("datum"), depth, hub,
               depth_tolerance, hub_tolerance, lengths, preferred, row)  # fmt: skip
