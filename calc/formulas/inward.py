"""A cut towards the axis, facing or parting: how fast the edge moves on its way in, and how long it takes.

At a fixed spindle speed the cutting speed falls with the diameter, to nothing at the centre. At constant cutting speed
the spindle gains as the tool goes in, up to a cap; from the diameter where the cap is met it is a fixed speed again.
Diameters in mm, feed in mm/rev, cutting speed in m/min, spindle speeds in rev/min, times in min.
"""

from dataclasses import dataclass

from calc.formulas import cutting
from calc.formulas.holes import spindle_step
from calc.formulas.turning import Wanted
from calc.model import InputError
from calc.steps import Steps
from calc.units import settle, show

FIXED, CONSTANT = "fixed", "constant"


@dataclass(frozen=True)
class Inward:
    """From `outside` to `inside` diameter (0 at the centre). `cap` equals `first` at a fixed spindle speed."""

    outside: float
    inside: float
    feed: float
    first: float
    cap: float

    @property
    def constant(self) -> bool:
        """Whether the spindle gains on the way in."""
        return settle(self.cap) > settle(self.first)

    @property
    def cutting_speed(self) -> float:
        """m/min at the outside, and with a gaining spindle all the way to the cap."""
        return cutting.cutting_speed(self.first, self.outside)

    @property
    def turns_over(self) -> float:
        """The diameter at which the cap is met; the outside at a fixed speed."""
        return self.outside * self.first / self.cap

    def turns_at(self, diameter: float) -> float:
        """rev/min with the edge at that diameter."""
        if diameter <= self.turns_over:
            return self.cap
        return self.outside * self.first / diameter

    def speed_at(self, diameter: float) -> float:
        """m/min with the edge at that diameter."""
        return cutting.cutting_speed(self.turns_at(diameter), diameter)

    @property
    def time_in_cut(self) -> float:
        """Minutes from outside to inside, without run-in and run-out."""
        if self.constant:
            return cutting.facing_time(self.outside, self.inside, self.cutting_speed, self.feed, self.cap)
        return fixed_time(self.outside, self.inside, self.feed, self.first)

    def time(self, run_in: float, run_out: float) -> float:
        """Minutes with so many mm before the outside and after the inside."""
        out = cutting.cutting_time(run_out, cutting.feed_rate(self.feed, self.turns_at(self.inside)))
        return cutting.cutting_time(run_in, cutting.feed_rate(self.feed, self.first)) + self.time_in_cut + out


def fixed_time(outside: float, inside: float, feed: float, spindle_speed: float) -> float:
    """Minutes at a fixed spindle speed: (Do - Di)/2 at n f."""
    return cutting.cutting_time((outside - inside) / 2, cutting.feed_rate(feed, spindle_speed))


def inward(
    mode: str, outside: float, inside: float, feed: float, wanted: Wanted, speeds: Steps, chuck_speed: float,
    share: float = 1.0,
) -> Inward:  # fmt: skip
    """The cut at `share` of the wanted speed on the outside, by the step at or below it or with a spindle that gains.

    InputError at `speeds` or `chuck_speed` when the slowest speed is too fast, at `mode` when a list of steps is asked
    to gain.
    """
    if mode == FIXED:
        step = spindle_step(wanted, outside, speeds, chuck_speed, "speeds", share)
        return Inward(outside, inside, feed, step, step)
    if not speeds.stepless:
        raise InputError(
            "mode",
            "Constant cutting speed needs a spindle without steps, and the list has steps. Choose one spindle speed, "
            "or type the two ends of the range: 40 to 2000 stepless.",
        )
    first = spindle_step(wanted, outside, speeds, chuck_speed, "speeds", share)
    return Inward(outside, inside, feed, first, min(speeds.highest, chuck_speed))


def both_ways(cut: Inward, run_in: float, run_out: float) -> str:
    """How long the same cut takes at a fixed spindle speed, for a sentence; "" when it is at one."""
    if not cut.constant:
        return ""
    fixed = Inward(cut.outside, cut.inside, cut.feed, cut.first, cut.first)
    return show(fixed.time(run_in, run_out), "time", 2)
