"""Growth by warmth: what a warm part measures at 20 °C, and what it should read meanwhile.

An instrument reads true at 20 °C (ISO 1). Warm, its scale has grown as well as the part, so a reading is put
right for the instrument first and then brought down to 20 °C with the part's own coefficient.
"""

import math
from dataclasses import dataclass
from types import MappingProxyType

from calc.tables import Row, table, weakest

REFERENCE = 20.0  # °C, ISO 1
TABLE_HOLDS_TO = 30.0  # K either side of 20 °C: the coefficients are means near room temperature
BURNS_FROM = 55.0  # °C, bare metal touched for more than a moment; common practice, no source
TEMPERATURE_DOUBT = 1.0  # K either way, a touch probe on a turned surface; common practice, no source


@dataclass(frozen=True)
class Material:
    """One material of the expansion table. alpha and alpha_doubt in 1/K, youngs_modulus in MPa, the rest SI."""

    name: str
    grades: str
    alpha: float
    alpha_doubt: float
    youngs_modulus: float
    poisson: float
    density: float
    specific_heat: float
    conductivity: float
    row: Row

    @property
    def sources(self) -> tuple[str, ...]:
        return self.row.source


def _material(row: Row) -> Material:
    return Material(
        row.text("material"), row.text("grades"), row.number("alpha") * 1e-6, row.number("alpha_doubt") * 1e-6,
        row.number("youngs_modulus"), row.number("poisson"), row.number("density"), row.number("specific_heat"),
        row.number("conductivity"), row,
    )  # fmt: skip


MATERIALS = MappingProxyType({one.name: one for one in map(_material, table("expansion"))})
#: The materials as options of a Choice: what is typed to what is shown.
CHOICES = MappingProxyType({name: f"{name} ({one.grades})" for name, one in MATERIALS.items()})
INSTRUMENT_STEEL = "gauge steel"
PART_STEEL = "carbon steel"


def from_memory(*materials: Material, columns: tuple[str, ...]) -> tuple[str, ...]:
    """The names of those materials for which one of `columns` is not read off a publication."""
    return tuple(
        dict.fromkeys(
            one.name for one in materials if weakest("V1", *(one.row.mark(column) for column in columns)) != "V1"
        )
    )


def true_size(reading: float, alpha: float, temperature: float) -> float:
    """What an instrument of expansion `alpha` (1/K) at `temperature` (°C) really spans when it shows `reading`."""
    return reading * (1 + alpha * (temperature - REFERENCE))


def size_at_20(
    reading: float, part: float, part_temperature: float, instrument: float, instrument_temperature: float
) -> float:
    """The size at 20 °C, in the unit of `reading`; `part` and `instrument` are coefficients in 1/K, temperatures °C."""
    return true_size(reading, instrument, instrument_temperature) / (1 + part * (part_temperature - REFERENCE))


def reading_for(
    size: float, part: float, part_temperature: float, instrument: float, instrument_temperature: float
) -> float:
    """What to read now for `size` at 20 °C: the inverse of `size_at_20`."""
    return size * (1 + part * (part_temperature - REFERENCE)) / (1 + instrument * (instrument_temperature - REFERENCE))


def correction_doubt(size: float, alpha: float, alpha_doubt: float, temperature: float) -> float:
    """Doubt (±, µm) that one coefficient and one temperature leave in a size (mm), as root of the sum of squares.

    u = L sqrt((dT u_alpha)² + (alpha u_T)²) with u_T = TEMPERATURE_DOUBT (JCGM 100:2008, 5.1.2).
    """
    return 1000 * size * math.hypot((temperature - REFERENCE) * alpha_doubt, alpha * TEMPERATURE_DOUBT)


def shrink_temperature(size: float, wanted: float, temperature: float, alpha: float) -> float:
    """The temperature (°C) at which a part of `size` at `temperature` measures `wanted`."""
    return temperature + (wanted / size - 1) / alpha


def too_warm(what: str, temperature: float) -> tuple[str, ...]:
    """What to be told about a part that is too far off 20 °C for its coefficient, or hot to the hand."""
    said = []
    if abs(temperature - REFERENCE) > TABLE_HOLDS_TO:
        way = "warm: let it cool" if temperature > REFERENCE else "cold: let it come up"
        said.append(
            f"{what} is more than {TABLE_HOLDS_TO:g} K off 20 °C, too {way}, and measure again before the last cut."
        )
    if temperature > BURNS_FROM:
        said.append(f"{what} is hot enough to burn: gloves only with the spindle stopped, never near turning work.")
    return tuple(said)
