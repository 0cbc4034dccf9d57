"""One bearing ring on one seat: everything that follows from the bearing, the class and the finish."""

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from calc.formulas import iso286, seats
from calc.formulas.bearings import Bearing, bore_limits, outside_limits
from calc.formulas.iso286 import Deviations, ToleranceClass
from calc.formulas.seats import Limits


@dataclass(frozen=True)
class SeatFit:
    """A ring on its seat. `part` is "shaft" or "housing"; `hollow` is the shaft's bore over its outside, 0 when solid.

    Interferences in µm, positive when tight. NotInTable or NotInStandard where a table ends.
    """

    bearing: Bearing
    part: str
    precision: str
    seat_class: ToleranceClass
    finish: str = "ground"
    hollow: float = 0.0

    @property
    def ring(self) -> str:
        """The ring that sits on this seat: "inner" or "outer"."""
        return "inner" if self.part == "shaft" else "outer"

    @property
    def size(self) -> float:
        """Nominal size of the seat in mm; ValueError for the housing of a bearing known by its bore alone."""
        if self.part == "shaft":
            return self.bearing.bore
        if self.bearing.outside_diameter is None:
            raise ValueError("the outside diameter is not known")
        return self.bearing.outside_diameter

    @cached_property
    def seat(self) -> Deviations:
        return iso286.deviations(self.size, self.seat_class)

    @cached_property
    def ring_limits(self) -> Limits:
        read = bore_limits if self.part == "shaft" else outside_limits
        return Limits(*read(self.bearing, self.precision))

    @cached_property
    def extremes(self) -> tuple[Decimal, Decimal]:
        """Greatest and least interference."""
        seat = Limits(self.seat.lower, self.seat.upper)
        inner, outer = (seat, self.ring_limits) if self.part == "shaft" else (self.ring_limits, seat)
        return seats.interference(inner, outer)

    @property
    def probable(self) -> tuple[Decimal, Decimal]:
        """Greatest and least interference of the 99 % band, whole µm rounded outward."""
        return seats.probable_band(*self.extremes, self.ring_limits.width, self.seat.width)

    @property
    def single(self) -> Decimal:
        """The single probable interference, not rounded."""
        return seats.probable_single(self.extremes[0], self.ring_limits.width, self.seat.width)

    @cached_property
    def raceway(self) -> float | None:
        """Diameter of the raceway in mm, None where no formula is published."""
        return seats.raceway(self.bearing, self.ring)

    @cached_property
    def ring_ratio(self) -> float | None:
        """Seat over raceway, or raceway over seat for an outer ring: the k of the pressure formula."""
        if self.raceway is None:
            return None
        return self.size / self.raceway if self.part == "shaft" else self.raceway / self.size

    def effective(self, tight: Decimal) -> float:
        return seats.effective(float(tight), self.size, self.finish)

    def pressure(self, tight: Decimal) -> float | None:
        if self.ring_ratio is None:
            return None
        return seats.pressure(self.effective(tight), self.size, self.ring_ratio, self.hollow)

    def force(self, tight: Decimal, friction: float) -> float | None:
        """Force in N to move the ring, None when its raceway or its width is not known."""
        p = self.pressure(tight)
        if p is None or self.bearing.width is None:
            return None
        return seats.force(p, self.size, self.bearing.width, friction)

    @property
    def shares(self) -> tuple[float, float]:
        """Least and greatest share of the effective interference that is lost as radial clearance."""
        if self.ring_ratio is None:
            return seats.LOSS_SHARES
        share = seats.raceway_share(self.ring_ratio, self.hollow)
        return share, share

    def lost(self, pair: tuple[Decimal, Decimal]) -> tuple[float, float]:
        """Radial clearance lost to a (greatest, least) interference, in µm: greatest, least."""
        return self.shares[1] * self.effective(pair[0]), self.shares[0] * self.effective(pair[1])

    @property
    def ceiling(self) -> float:
        """Most the bearing may be heated to, in °C."""
        return seats.HOT_SEALED if self.bearing.sealed else seats.HOT

    @property
    def heat_to(self) -> tuple[float, float] | None:
        """Temperatures in °C between which the outer part of the pair slips over the other; None when not tight."""
        tight = float(self.extremes[0])
        if tight <= 0:
            return None
        rise = seats.warming(tight, self.size)
        return seats.ROOM + rise + seats.MARGIN[0], seats.ROOM + rise + seats.MARGIN[1]
