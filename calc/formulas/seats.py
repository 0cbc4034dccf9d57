"""A bearing ring on its seat: interference, what smoothing leaves of it, pressure, force, heat, clearance lost.

Interference is positive, clearance negative. Deviations and interferences are Decimal micrometres as long as they
are limits, floats once they are physics. The pressure formula is Lamé's for two steel cylinders, in the shape
printed by NTN (general catalogue, table 17.4.1); every result of it is an estimate.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from types import MappingProxyType

from calc.formulas.bearings import BALL, CYLINDRICAL, Bearing
from calc.units import settle

YOUNG = 208_000.0  # MPa, the makers' figure for bearing steel and shaft steel
EXPANSION = 12.5e-6  # 1/K, NSK and NTN; Schaeffler counts 11e-6
FRICTION_ON, FRICTION_OFF = 0.12, 0.18  # cylindrical bore (NTN, equation 17.1)
ROOM = 20.0  # °C
MARGIN = (20.0, 30.0)  # K more than the bore needs, so that the ring does not seize half way (NSK, Koyo)
HOT, HOT_SEALED = 120.0, 80.0  # °C, most a bearing may be heated to (NSK, NTN, NKE); greased and sealed (SKF)
SMOOTHING: Mapping[str, float] = MappingProxyType({"ground": 2.0, "turned": 3.0})  # mm in d / (d + ...), NSK
THINNEST = Decimal("0.8")  # shaft bore over shaft, as far as the published example goes
LOSS_SHARES = (0.7, 0.9)  # of the effective interference, where the raceway is not known (NSK, NTN)


@dataclass(frozen=True)
class Limits:
    """Lower and upper deviation of one part in µm."""

    lower: Decimal
    upper: Decimal

    @property
    def width(self) -> Decimal:
        return self.upper - self.lower


def interference(inner: Limits, outer: Limits) -> tuple[Decimal, Decimal]:
    """Greatest and least interference in µm of a part `inner` (shaft, outer ring) in `outer` (bore, housing)."""
    return inner.upper - outer.lower, inner.lower - outer.upper


def probable_exact(most: Decimal, least: Decimal, first: Decimal, second: Decimal) -> tuple[Decimal, Decimal]:
    """The 99 % band before rounding: the middle and half the root of the sum of squares of both tolerances, µm."""
    middle, half = (most + least) / 2, (first * first + second * second).sqrt() / 2
    return middle + half, middle - half


def probable_band(most: Decimal, least: Decimal, first: Decimal, second: Decimal) -> tuple[Decimal, Decimal]:
    """Greatest and least interference of the 99 % band, rounded outward to whole µm.

    Read off the fit tables of the SKF general catalogue, which it reproduces; the rule itself is not printed there.
    """
    high, low = probable_exact(most, least, first, second)
    return high.to_integral_value(ROUND_CEILING), low.to_integral_value(ROUND_FLOOR)


def probable_single(most: Decimal, first: Decimal, second: Decimal) -> Decimal:
    """The single value in µm: both parts a third of their tolerance away from maximum material (Schaeffler HR 1)."""
    return most - (first + second) / 3


# ----------------------------------------------------------------------------------------------- physics


def effective(tight: float, d: float, finish: str) -> float:
    """What smoothing leaves of an interference in µm on a seat of `d` mm: I d / (d + 2) ground, I d / (d + 3) turned.

    Nothing is taken off a clearance. Source: NSK, general catalogue, section 9.
    """
    return tight * d / (d + SMOOTHING[finish]) if tight > 0 else 0.0


def raceway(bearing: Bearing, ring: str) -> float | None:
    """Diameter in mm of the groove or raceway of the "inner" or "outer" ring; None where no formula is published.

    Source: NTN, general catalogue, table 17.4.1, for deep groove ball and cylindrical roller bearings.
    """
    d, outside = bearing.bore, bearing.outside_diameter
    if outside is None or bearing.kind not in (BALL, CYLINDRICAL):
        return None
    if bearing.kind == BALL:
        return 1.05 * (4 * d + outside) / 5 if ring == "inner" else 0.95 * (d + 4 * outside) / 5
    return 1.05 * (3 * d + outside) / 4 if ring == "inner" else 0.98 * (d + 3 * outside) / 4


def pressure(tight: float, size: float, ring_ratio: float, hollow: float = 0.0) -> float:
    """Pressure in MPa from `tight` µm on a seat of `size` mm.

    `ring_ratio` is seat over raceway (inner ring) or raceway over seat (outer ring, in a thick steel housing);
    `hollow` is shaft bore over shaft. Source: NTN, general catalogue, table 17.4.1.
    """
    k, k0 = ring_ratio * ring_ratio, hollow * hollow
    return YOUNG / 2 * (tight / 1000 / size) * (1 - k) * (1 - k0) / (1 - k * k0)


def raceway_share(ring_ratio: float, hollow: float = 0.0) -> float:
    """Share of the effective interference by which the raceway grows (or closes in): k when the shaft is solid."""
    k, k0 = ring_ratio * ring_ratio, hollow * hollow
    return ring_ratio * (1 - k0) / (1 - k * k0)


def force(p: float, size: float, width: float, friction: float) -> float:
    """Force in N to move a ring of `width` mm over a seat of `size` mm under p MPa (NTN, equation 17.1)."""
    return friction * p * math.pi * size * width


def hoop(p: float, ring_ratio: float) -> float:
    """Hoop stress in MPa in the bore of the inner ring: p (1 + k²) / (1 - k²)."""
    k = ring_ratio * ring_ratio
    return p * (1 + k) / (1 - k)


def warming(tight: float, size: float, expansion: float = EXPANSION) -> float:
    """Temperature rise in K that opens a bore of `size` mm by `tight` µm: dT = I / (alpha d)."""
    return tight / 1000 / (expansion * size)


def hollow_need(bearing: Bearing, hollow: float) -> float:
    """How many times the interference a hollow shaft needs for the same grip; `hollow` is its bore over its outside.

    (1 - c² h²) / (1 - h²) with the ring counted as c = d / (0.3 (D - d) + d), the ring ratio of the SKF general
    catalogue. It gives 1.73 where its chart is read as 1.7. Needs a bearing with an outside diameter.
    """
    d, outside = bearing.bore, bearing.outside_diameter
    if outside is None:
        raise ValueError("the outside diameter is needed")
    c = d / (0.3 * (outside - d) + d)
    return (1 - c * c * hollow * hollow) / (1 - hollow * hollow)


def lost_by_load(d: float, load: float, width: float) -> float:
    """Interference in µm that a radial load in N takes from an inner ring, d and width in mm.

    The greater of 0.08 sqrt(d F / B) and, for heavy loads, 0.02 F / B (NSK equations 9.1 and 9.2; NTN). Makers
    switch at 0.2 or at 0.3 of the static rating, which is not held here. With the load in kgf the factors are
    0.25 and 0.2; never mix them.
    """
    return max(0.08 * math.sqrt(d * load / width), 0.02 * load / width)


def lost_by_warmth(d: float, warmer: float) -> float:
    """Interference in µm lost when the bearing runs `warmer` K hotter than its surroundings (NSK 9.3, NTN 7.3)."""
    return 0.0015 * d * warmer


def lost_by_hot_ring(raceway_outer: float, warmer: float) -> float:
    """Radial clearance in µm lost when the inner ring runs `warmer` K hotter than the outer: alpha dT De (NSK, NTN)."""
    return 1000 * EXPANSION * warmer * raceway_outer


@dataclass(frozen=True)
class Need:
    """The interference that the inner ring needs, smoothed, under a load (N) and when it runs warmer (K).

    bore and width in mm; what was not asked is None and counts as nought.
    """

    bore: float
    width: float | None
    load: float | None
    warmer: float | None

    @property
    def asked(self) -> bool:
        return self.load is not None or self.warmer is not None

    @property
    def by_load(self) -> float:
        """In µm."""
        return 0.0 if self.load is None or self.width is None else lost_by_load(self.bore, self.load, self.width)

    @property
    def by_warmth(self) -> float:
        """In µm."""
        return 0.0 if self.warmer is None else lost_by_warmth(self.bore, self.warmer)

    @property
    def total(self) -> float:
        """In µm."""
        return self.by_load + self.by_warmth


# --------------------------------------------------------------------------------------------- clearance


@dataclass(frozen=True)
class Remaining:
    """Radial clearance of one group in µm: before mounting, and what is left of it.

    `worst` pairs the least clearance with the tightest fit, `best` the greatest with the loosest; `likely_min`
    and `likely_max` combine both bands as the root of the sum of squares.
    """

    group: str
    before: tuple[Decimal, Decimal]
    worst: float
    best: float
    likely_min: float
    likely_max: float

    @property
    def likely_none(self) -> bool:
        """Whether the likely band reaches below nought."""
        return settle(self.likely_min) < 0


def remaining(
    groups: Mapping[str, tuple[Decimal, Decimal]],
    extreme: tuple[float, float],
    probable: tuple[float, float],
) -> tuple[Remaining, ...]:
    """What is left by group when the raceway moves by `extreme` and, 99 in 100, by `probable` (greatest, least) µm."""
    found = []
    for group, (low, high) in groups.items():
        middle = float(low + high) / 2 - (probable[0] + probable[1]) / 2
        first, second = float(high - low) / 2, (probable[0] - probable[1]) / 2
        half = math.sqrt(first * first + second * second)
        found.append(
            Remaining(
                group, (low, high), float(low) - extreme[0], float(high) - extreme[1], middle - half, middle + half
            )
        )
    return tuple(found)
