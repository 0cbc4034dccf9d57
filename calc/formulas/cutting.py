"""Cutting with a single edge and with a twist drill: speed, feed, chip, force, power, finish, time.

Units everywhere: diameters, depths, chips and radii in mm, depths on radius, lengths in mm, cutting speed in m/min,
spindle speed in rev/min, feed in mm/rev, feed rate in mm/min, removal in cm³/min, force in N, specific force in
N/mm², power in kW, torque in N·m, roughness in µm, time in min, angles in degrees. The entering angle is that of
ISO 3002-1, between the cutting edge and the axis of the work; 90 less it is what American books call lead.

Sources: speed, feed, removal, power and Rt as in Mitsubishi Materials, technical data, formula pages; chip section and
force as in KU Leuven, Production technology, 2024; torque, times and Ra of the ideal profile are geometry. A factor
that turns one unit into another has a name, so that the tests can put quantities with units through every formula.
"""

import math
from dataclasses import dataclass

from calc.units import settle

MM_PER_M = 1000.0
MM3_PER_CM3 = 1000.0
W_PER_KW = 1000.0
S_PER_MIN = 60.0
UM_PER_MM = 1000.0
ONE_MM = 1.0  # the chip of 1 mm x 1 mm to which kc1.1 belongs

#: Specific force grows as the edge wears: by this much when it is due for a change. From memory of handbooks.
WORN = 1.3
#: Classic constants hold for carbide at about 100 m/min; at the speeds of HSS take this much more. From memory.
SLOW = 1.2
#: Radial force as a share of the cutting force, sharp tool, entering angle near 90 degrees. From memory.
PUSH_LEAST, PUSH_MOST = 0.25, 0.5


# -------------------------------------------------------------------------------------------- speed and feed


def spindle_speed(cutting_speed: float, diameter: float) -> float:
    """rev/min at which a point on `diameter` moves at `cutting_speed`."""
    return MM_PER_M * cutting_speed / (math.pi * diameter)


def cutting_speed(spindle_speed: float, diameter: float) -> float:
    """m/min of a point on `diameter`; for turning the larger, uncut one."""
    return math.pi * diameter * spindle_speed / MM_PER_M


def diameter_at(cutting_speed: float, spindle_speed: float) -> float:
    """The diameter in mm on which that spindle speed gives that cutting speed."""
    return MM_PER_M * cutting_speed / (math.pi * spindle_speed)


def feed_rate(feed: float, spindle_speed: float) -> float:
    """mm/min along the work."""
    return feed * spindle_speed


def depth_of_cut(larger: float, smaller: float) -> float:
    """Depth in mm on radius between two diameters."""
    return (larger - smaller) / 2


def removal_rate(cutting_speed: float, depth: float, feed: float) -> float:
    """cm³/min reckoned with the speed at one diameter: the outer one over-reads by D/(D - ap), see `mean_diameter`."""
    return cutting_speed * depth * feed * MM_PER_M / MM3_PER_CM3


def mean_diameter(diameter: float, depth: float) -> float:
    """The diameter in the middle of the cut: speed there times section is the true volume."""
    return diameter - depth


def drill_removal_rate(diameter: float, feed_rate: float) -> float:
    """cm³/min of a drill from the solid."""
    return math.pi * diameter**2 / 4 * feed_rate / MM3_PER_CM3


# --------------------------------------------------------------------------------------- chip, force and power


@dataclass(frozen=True)
class Chip:
    """Section of the uncut chip: thickness h, width b and area A, in mm and mm²."""

    thickness: float
    width: float
    area: float

    @property
    def slenderness(self) -> float:
        """b/h: what says whether it curls up short or comes off as a ribbon."""
        return self.width / self.thickness


@dataclass(frozen=True)
class ForceConstants:
    """kc1.1 in N/mm² and mc of one row of one family; families must never be mixed.

    `surrogate`: the row belongs to another, similar material. `mark` is that of the table.
    """

    family: str
    row: str
    kc11: float
    mc: float
    mark: str
    source: tuple[str, ...]
    surrogate: bool = False


def chip(depth: float, feed: float, entering_angle: float) -> Chip:
    """Chip section of a straight edge: h = f sin kappa, b = ap / sin kappa. Holds past the nose radius."""
    sine = sin_degrees(entering_angle)
    return Chip(feed * sine, depth / sine, depth * feed)


def specific_force(constants: ForceConstants, thickness: float) -> float:
    """kc in N/mm² for a chip `thickness` mm thick: kc1.1 / h^mc."""
    return constants.kc11 / math.exp(constants.mc * math.log(thickness / ONE_MM))


def cutting_force(specific_force: float, area: float, correction: float = 1.0) -> float:
    """Fc in N, along the cutting speed. `correction` is for wear, speed and the like."""
    return specific_force * area * correction


def depth_for_force(force: float, specific_force: float, feed: float, correction: float = 1.0) -> float:
    """The depth in mm at which the cutting force becomes `force`; the chip's thickness does not change with it."""
    return force / (specific_force * feed * correction)


def cutting_power(force: float, cutting_speed: float) -> float:
    """kW at the edge."""
    return force * cutting_speed / (S_PER_MIN * W_PER_KW)


def motor_power(cutting_power: float, efficiency: float) -> float:
    """kW that the motor has to give; efficiency as a share of 1."""
    return cutting_power / efficiency


def force_at_power(motor_power: float, efficiency: float, cutting_speed: float) -> float:
    """The cutting force in N that the motor can hold at that cutting speed."""
    return motor_power * efficiency * (S_PER_MIN * W_PER_KW) / cutting_speed


def speed_at_power(motor_power: float, efficiency: float, force: float) -> float:
    """The cutting speed in m/min that the motor can hold against that force."""
    return motor_power * efficiency * (S_PER_MIN * W_PER_KW) / force


def torque(force: float, diameter: float) -> float:
    """N·m about the axis of the work."""
    return force * diameter / 2 / MM_PER_M


# --------------------------------------------------------------------------------------------------- finish


def roughness_rt(feed: float, nose_radius: float) -> float:
    """Rt in µm that feed and nose radius alone leave: f²/(8 r). Holds while the feed is within the nose's arc."""
    return feed**2 / (8 * nose_radius) * UM_PER_MM


def roughness_ra(feed: float, nose_radius: float) -> float:
    """Ra in µm of that ideal profile, a row of arcs of parabola: f²/(18 sqrt 3 r), 0.2566 of Rt."""
    return feed**2 / (18 * math.sqrt(3) * nose_radius) * UM_PER_MM


def feed_for_rt(rt: float, nose_radius: float) -> float:
    """The feed in mm/rev that ideally leaves that Rt in µm: sqrt(8 r Rt)."""
    return math.sqrt(8 * (nose_radius / ONE_MM) * (rt / UM_PER_MM / ONE_MM)) * ONE_MM


# ----------------------------------------------------------------------------------------------------- times


def passes(depth: float, largest: float) -> int:
    """How many equal cuts take `depth` when none may be deeper than `largest`."""
    return max(1, math.ceil(settle(depth / largest)))


def cutting_time(travel: float, feed_rate: float) -> float:
    """Minutes for that travel in mm, run-in and run-out included in it."""
    return travel / feed_rate


def run_in(depth: float, entering_angle: float) -> float:
    """mm that the tool travels from first touch to full depth: ap / tan kappa, nothing at 90 degrees and above."""
    if entering_angle >= 90:
        return 0.0 * depth
    return depth / math.tan(math.radians(entering_angle))


def facing_time(outside: float, inside: float, cutting_speed: float, feed: float, highest: float) -> float:
    """Minutes to face from one diameter to another at constant cutting speed, the spindle not above `highest`.

    Outside the diameter at which `highest` is reached t = pi (Do² - Di²)/(4 vc f), inside it at a fixed speed.
    """
    turns_over = diameter_at(cutting_speed, highest)
    between = min(max(turns_over, inside), outside)
    outer = math.pi * (outside**2 - between**2) / (4 * MM_PER_M * cutting_speed * feed)
    return outer + (between - inside) / 2 / (feed * highest)


# ---------------------------------------------------------------------------------------------------- drilling

LIPS = 2  # of a twist drill


def drill_point(diameter: float, point_angle: float) -> float:
    """Length in mm of the point of a drill: (D/2)/tan(half the point angle)."""
    return diameter / 2 / math.tan(math.radians(point_angle / 2))


def drill_chip(diameter: float, feed: float, point_angle: float) -> Chip:
    """Chip of one lip: half the feed, half the diameter, entering angle half the point angle."""
    return chip(diameter / 2, feed / LIPS, point_angle / 2)


def drill_torque(force: float, diameter: float) -> float:
    """N·m of a drill when `force` N acts on each lip, a quarter of the diameter from the axis."""
    return LIPS * force * diameter / 4 / MM_PER_M


def drill_power(force: float, cutting_speed: float) -> float:
    """kW of a drill when `force` N acts on each lip; the middle of the lip moves at half the speed."""
    return cutting_power(LIPS * force, cutting_speed / 2)


def sin_degrees(angle: float) -> float:
    """Sine of an angle in degrees, 1 exactly at 90."""
    return math.cos(math.radians(angle - 90))
