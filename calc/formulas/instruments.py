"""How far a reading can be trusted: greatest error of the instrument, and the doubt it leaves in the shop.

Greatest errors of micrometers are those of DIN 863-1, of calipers those of DIN 862. The newer ISO 3611 and
ISO 13385-1 fix no figure: there the maker's own sheet holds.
"""

import math
from dataclasses import dataclass
from types import MappingProxyType

from calc.model import CalcError
from calc.tables import matching, step_for

INSIDE_EXTRA = 20.0  # µm more for the inside jaws of a caliper, DIN 862
BORE_GAUGE_ERROR = 3.0  # µm, the dial and the two points of a bore gauge; common practice, no source


@dataclass(frozen=True)
class Instrument:
    """One kind of instrument: `table` names its rows, `resolution` and `repeat` in µm (repeat: common practice)."""

    name: str
    shown: str
    table: str
    resolution: float
    repeat: float
    own_error: float = 0.0
    caliper: bool = False


_ALL = (
    Instrument("micrometer 0.001", "micrometer, reads 0.001 mm", "outside micrometer", 1, 1),
    Instrument("micrometer 0.01", "micrometer, reads 0.01 mm", "outside micrometer", 10, 2),
    Instrument("dial bore gauge", "dial bore gauge set with a micrometer", "outside micrometer", 1, 2,
               own_error=BORE_GAUGE_ERROR),
    Instrument("digital caliper", "digital caliper", "fine caliper", 10, 10, caliper=True),
    Instrument("vernier caliper 0.02", "vernier caliper, reads 0.02 mm", "fine caliper", 20, 10, caliper=True),
    Instrument("vernier caliper", "vernier caliper, reads 0.05 mm", "coarse caliper", 50, 20, caliper=True),
)  # fmt: skip
INSTRUMENTS = MappingProxyType({one.name: one for one in _ALL})
#: As options of a Choice: what is typed to what is shown.
OUTSIDE = MappingProxyType({one.name: one.shown for one in _ALL if not one.own_error})
INSIDE = MappingProxyType({one.name: one.shown for one in _ALL if one.own_error or one.caliper})


class NoLimit(CalcError):
    """The standard gives no error for this instrument at this size."""


def greatest_error(instrument: Instrument, size: float, *, inside: bool = False) -> float:
    """The error (µm, either way) that the standard allows the instrument at `size` mm; NoLimit past its table."""
    rows = matching("instrument_errors", instrument=instrument.table)
    row = step_for(rows, size)
    if row is None:
        standard = "DIN 862" if instrument.caliper else "DIN 863-1"
        end = max(row.number("up_to") for row in rows)
        raise NoLimit(
            f"{standard} is tabled here only up to {end:g} mm. Give the measuring doubt, off the maker's sheet."
        )
    extra = INSIDE_EXTRA if inside and instrument.caliper else 0.0
    return math.hypot(row.number("error") + extra, instrument.own_error)


def shop_doubt(error: float, resolution: float, repeat: float = 0.0, temperature: float = 0.0) -> float:
    """Doubt of one reading (±, about 95 in 100), in the unit of its arguments: twice the root of the sum of squares.

    `error` and `temperature` are limits either way and count as evenly spread (over sqrt 3), `resolution` is a whole
    step (over 2 sqrt 3), `repeat` one standard deviation (JCGM 100:2008, 4.3.7 and 5.1.2).
    """
    even = math.sqrt(3)
    return 2 * math.sqrt((error / even) ** 2 + (resolution / (2 * even)) ** 2 + repeat**2 + (temperature / even) ** 2)


def conforms(size: float, low: float, high: float, doubt: float) -> bool | None:
    """True when `size` is proved within the limits, False when proved outside, None when the doubt leaves it open.

    The doubt counts against whoever has to prove (default rule of ISO 14253-1).
    """
    if low + doubt <= size <= high - doubt:
        return True
    if size < low - doubt or size > high + doubt:
        return False
    return None
