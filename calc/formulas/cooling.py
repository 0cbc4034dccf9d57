"""Cooling in air: how long a warm part takes to settle, as an estimate with its range.

Lumped cooling takes the part as one temperature all through, which holds while the Biot number is small.
"""

import math
from dataclasses import dataclass

from calc.formulas.thermal import REFERENCE, Material
from calc.model import Step, Value
from calc.units import show, step, value

STILL_AIR = (8.0, 15.0)  # W/(m²·K), radiation included; from memory of heat-transfer handbooks
LUMPED_TO = 0.1  # Biot number up to which the inside of a part cools along with its skin


@dataclass(frozen=True)
class Wait:
    """What an answer gains by a waiting time; all empty when none was asked for."""

    values: tuple[Value, ...] = ()
    working: tuple[Step, ...] = ()
    cautions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


def bar_length(diameter: float, length: float | None = None) -> float:
    """Volume over surface of a bar, in the unit of `diameter`: d/4 when long, d L / (4 L + 2 d) with both its ends."""
    return diameter / 4 if length is None else diameter * length / (4 * length + 2 * diameter)


def biot(diameter: float, film: float, conductivity: float) -> float:
    """Biot number of a long bar: diameter in m, film coefficient in W/(m²·K), conductivity in W/(m·K)."""
    return film * bar_length(diameter) / conductivity


def cooling_minutes(diameter: float, material: Material, film: float, start: float, end: float) -> float:
    """Minutes for a long bar (diameter in mm) to come from `start` to `end` kelvin off the air, 0 when it is there.

    Lumped cooling t = rho c (V/A) / h · ln(start / end); it holds while `biot` is under LUMPED_TO.
    """
    if abs(start) <= abs(end):
        return 0.0
    constant = material.density * material.specific_heat * bar_length(diameter / 1000) / film
    return constant * math.log(abs(start / end)) / 60


def wait(size: float, part: Material, temperature: float, air: float, doubt: float) -> Wait:
    """How long until a long bar of `size` mm is within `doubt` µm of the size it settles at in that air (°C).

    No time is given where the Biot number says that lumped cooling does not hold.
    """
    slow, fast = STILL_AIR
    number = biot(size / 1000, fast, part.conductivity)
    if number >= LUMPED_TO:
        too_thick = (
            f"No waiting time: at {show(size, 'length', 0)} the inside lags behind the skin (Biot number {number:.2g}; "
            f"the estimate holds under {LUMPED_TO:g}). Wait until the whole part shows the air's temperature."
        )
        of_biot = step("Bi = h * d / 4 / k", number, h=fast, d=size / 1000, k=part.conductivity)
        return Wait(working=(of_biot,), cautions=(too_thick,), sources=("cengel-lumped",))
    start, end = temperature - air, doubt / (1000 * size * part.alpha)
    shortest, longest = (cooling_minutes(size, part, film, start, end) for film in (fast, slow))
    steps = [step("dT = doubt / (1000 * L_20 * alpha)", end, "K", doubt=doubt, L_20=size, alpha=part.alpha)]
    for name, film, result in (("t_min", fast, shortest), ("t_max", slow, longest)):
        if result > 0:
            steps.append(
                step(f"{name} = rho * c / h * L_20 / 4000 * log(dT_0 / dT) / 60", result, "min",
                     rho=part.density, c=part.specific_heat, h=film, L_20=size, dT_0=abs(start), dT=end)
            )  # fmt: skip
    settled = 1000 * size * part.alpha * (air - REFERENCE)
    still_off = (
        f"In this air it settles {show(abs(settled), 'difference', 1)} {'above' if settled > 0 else 'below'} its size "
        "at 20 °C: correct the reading even after the wait."
    )
    return Wait(
        values=(
            value("waiting_time_min", "Wait, at the least (estimate)", shortest, "time", 0 if shortest >= 10 else 1),
            value("waiting_time_max", "Wait, at the most (estimate)", longest, "time", 0 if longest >= 10 else 1),
        ),
        working=tuple(steps),
        cautions=(still_off,) if abs(settled) > doubt else (),
        assumptions=(
            "The wait is an estimate: a long bar of the reading's diameter in still air, "
            f"{slow:g} to {fast:g} W/(m²·K) from memory, specific heat and conductivity partly so; a chuck, a draught "
            "or a hollow part changes it.",
        ),
        sources=("cengel-lumped",),
    )
