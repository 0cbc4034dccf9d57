"""Interference fits, elastic: pressure between two thick-walled cylinders, stress, force, torque, joining temperature.

Interference is always on the diameter; some books count it on the radius. Lengths in mm, stresses in MPa, forces
in N, torque in N·m. Source: Shigley, Mechanical Engineering Design, equations 7-39 to 7-49 (Lamé).
"""

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Elastic:
    """Young's modulus in MPa and Poisson's ratio."""

    modulus: float
    poisson: float


def _hub(d: float, outside: float) -> float:
    return (outside**2 + d**2) / (outside**2 - d**2)


def _shaft(d: float, bore: float) -> float:
    return (d**2 + bore**2) / (d**2 - bore**2)


def _compliance(d: float, outside: float, hub: Elastic, shaft: Elastic, bore: float) -> float:
    """Interference on diameter taken up by each MPa of pressure, in mm/MPa (the denominator of eq. 7-39)."""
    if not 0 <= bore < d < outside:
        raise ValueError("a joint needs 0 <= shaft bore < joint diameter < hub outside diameter")
    of_hub = d / hub.modulus * (_hub(d, outside) + hub.poisson)
    return of_hub + d / shaft.modulus * (_shaft(d, bore) - shaft.poisson)


def pressure(interference: float, d: float, outside: float, hub: Elastic, shaft: Elastic, bore: float = 0.0) -> float:
    """Pressure in the joint for an interference on diameter; `bore` is that of a hollow shaft (eq. 7-39)."""
    return interference / _compliance(d, outside, hub, shaft, bore)


def interference_for(p: float, d: float, outside: float, hub: Elastic, shaft: Elastic, bore: float = 0.0) -> float:
    """Interference on diameter that gives the pressure p (eq. 7-39 turned round)."""
    return p * _compliance(d, outside, hub, shaft, bore)


def pressure_from_growth(growth: float, d: float, outside: float, hub: Elastic) -> float:
    """Pressure in a hub whose bore d has grown by `growth` on diameter."""
    return growth / (d / hub.modulus * (_hub(d, outside) + hub.poisson))


def hub_hoop(p: float, d: float, outside: float) -> float:
    """Hoop stress at the bore of the hub, where it is greatest (tension, eq. 7-46)."""
    return p * _hub(d, outside)


def hub_equivalent(p: float, d: float, outside: float) -> float:
    """Equivalent stress after von Mises at the bore of the hub, to be held against its yield strength."""
    hoop = hub_hoop(p, d, outside)
    return math.sqrt(hoop**2 + hoop * p + p**2)


def shaft_hoop(p: float, d: float, bore: float = 0.0) -> float:
    """Hoop stress at the surface of the shaft (compression, negative, eq. 7-44); -p all through a solid one."""
    return -p * _shaft(d, bore)


def shaft_bore_hoop(p: float, d: float, bore: float) -> float:
    """Hoop stress at the bore of a hollow shaft (compression, negative)."""
    return -2 * p * d**2 / (d**2 - bore**2)


def axial_force(p: float, d: float, length: float, friction: float) -> float:
    """Force to press on or off, and the axial force that the joint holds (eq. 7-48)."""
    return friction * math.pi * d * length * p


def torque(p: float, d: float, length: float, friction: float) -> float:
    """Torque in N·m that the joint holds (eq. 7-49)."""
    return math.pi / 2 * friction * p * length * d**2 / 1000


def holds(force: float, moment: float, p: float, d: float, length: float, friction: float) -> bool:
    """Whether the joint holds an axial force (N) and a torque (N·m) together: sqrt(F² + (2T/d)²) <= mu pi d l p."""
    return math.hypot(force, 2000 * moment / d) <= axial_force(p, d, length, friction)


def smoothed(interference: float, rz_hub: float, rz_shaft: float, share: float = 0.8) -> float:
    """Interference left when the peaks of both surfaces are pressed flat, all in µm.

    `share` of the sum of both Rz is lost: 0.8 in DIN 7190:2001, reported as 0.4 for DIN 7190-1:2017; 0.8 is the
    safer one for what a joint carries.
    """
    return interference - share * (rz_hub + rz_shaft)


def heating(interference: float, d: float, alpha: float) -> float:
    """Temperature rise in K that opens a bore d (mm) by `interference` (mm): dT = I / (alpha d), alpha in 1/K."""
    return interference / (alpha * d)
