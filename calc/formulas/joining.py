"""Putting a shaft into a tighter bore: pressure, press force and the temperature that lets it slide on.

Elastic formulas only; they are used up to ELASTIC_TO and refused beyond. A bearing's inner ring counts as a plain
ring out to its raceway, as the makers' catalogues reckon it.
"""

from dataclasses import dataclass

from calc.formulas import interference as lame
from calc.formulas.bearings import BALL, Bearing
from calc.formulas.interference import Elastic
from calc.formulas.thermal import REFERENCE, Material, from_memory
from calc.model import Step, Value
from calc.units import show, step, value

ELASTIC_TO = 2.0  # µm of interference for each mm, near where mild steel begins to yield; common practice, no source
RING_CEILING = 1.0  # µm for each mm of bore: NTN; NSK stops at 0.7
RING_CAREFUL = 0.7
RING_FRICTION = 0.12  # pressing a ring on, NTN table 17.4
HUB_FRICTION = 0.10  # oiled steel on steel, the high end; dry up to 0.20. DIN 7190, from memory
RING_MARGIN = 20.0  # K above what just slides: 20 to 30 (NSK, Koyo)
BEARING_HOTTEST, SEALED_HOTTEST = 120.0, 80.0  # °C: NSK, NTN, NKE; greased and sealed: SKF
#: °C a hub may be heated to, by material; DIN 7190, from memory. Materials not named have no ceiling known here.
HUB_HOTTEST = {"carbon steel": 350.0, "low carbon steel": 350.0, "grey cast iron": 250.0,
               "gauge steel": 120.0, "bearing steel": 120.0}  # fmt: skip
THIN_HUB = 1.3  # outside over bore below which small errors in size change the pressure much


def inner_raceway(bearing: Bearing) -> float | None:
    """Mean diameter of the inner raceway in mm, None when the outside diameter is not known.

    Ball 1.05 (4 d + D) / 5, rollers 1.05 (3 d + D) / 4 (NTN, table 17.4.1); for taper rollers an estimate.
    """
    if bearing.outside_diameter is None:
        return None
    parts = 4 if bearing.kind == BALL else 3
    return 1.05 * (parts * bearing.bore + bearing.outside_diameter) / (parts + 1)


def effective(interference: float, bore: float, *, ground: bool) -> float:
    """Interference left once the seat's roughness is pressed flat, in its own unit; bore in mm.

    I d / (d + 2) for a ground seat, I d / (d + 3) for a turned one (NSK).
    """
    return interference * bore / (bore + (2 if ground else 3))


@dataclass(frozen=True)
class Outer:
    """The part with the bore: `outside` is what the pressure works out to, None when it is not known; mm, °C."""

    material: Material
    outside: float | None
    length: float | None
    hottest: float | None
    ring: bool

    @property
    def friction(self) -> float:
        return RING_FRICTION if self.ring else HUB_FRICTION

    @property
    def margin(self) -> float:
        """Kelvin on top of what just slides: RING_MARGIN, or for a hub a thousandth of its bore to spare."""
        return RING_MARGIN if self.ring else 0.001 / self.material.alpha


def ring(bearing: Bearing | None, steel: Material) -> Outer:
    """The inner ring of a bearing, of which nothing but its bore is known when it is None."""
    if bearing is None:
        return Outer(steel, None, None, BEARING_HOTTEST, ring=True)
    hottest = SEALED_HOTTEST if bearing.sealed else BEARING_HOTTEST
    return Outer(steel, inner_raceway(bearing), bearing.width, hottest, ring=True)


def hub(material: Material, outside: float | None, length: float | None) -> Outer:
    """A plain hub."""
    return Outer(material, outside, length, HUB_HOTTEST.get(material.name), ring=False)


@dataclass(frozen=True)
class Joint:
    """What an interference adds to an answer; all empty when there is none."""

    values: tuple[Value, ...] = ()
    working: tuple[Step, ...] = ()
    cautions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


def join(tight: float, bore: float, shaft: Material, outer: Outer) -> Joint:
    """Pressure, force and temperature for an interference of `tight` µm, the greatest to be reckoned with."""
    if tight <= 0:
        return Joint()
    if tight > ELASTIC_TO * bore:
        return Joint(
            cautions=(
                f"As it is now, at the tightest {show(tight, 'difference', 0)}, more than {ELASTIC_TO:g} µm for each "
                "millimetre: no force or temperature is given, because the parts would yield.",
            )
        )
    parts = (_pressure(tight, bore, shaft, outer), _heat(tight, bore, outer))
    handling = "Press on the ring that takes the fit, never through the balls or rollers." if outer.ring else (
        "Start the press square and lead in with a chamfer; the hub may burst."
    )  # fmt: skip
    return Joint(
        values=tuple(one for part in parts for one in part.values),
        working=tuple(one for part in parts for one in part.working),
        cautions=(
            f"{handling} Guard and eye protection at the press, stand clear of the line of force.",
            *(one for part in parts for one in part.cautions),
            "The machine's manual and the rules of the shop come first.",
        ),
        assumptions=tuple(one for part in parts for one in part.assumptions),
        sources=tuple(dict.fromkeys(one for part in parts for one in part.sources)),
    )


def _pressure(tight: float, bore: float, shaft: Material, outer: Outer) -> Joint:
    if outer.outside is None:
        what = "the bearing's designation" if outer.ring else "the hub's outside diameter and length"
        return Joint(assumptions=(f"No press force: give {what} for it.",))
    of_hub = Elastic(outer.material.youngs_modulus, outer.material.poisson)
    of_shaft = Elastic(shaft.youngs_modulus, shaft.poisson)
    p = lame.pressure(tight / 1000, bore, outer.outside, of_hub, of_shaft)
    stress = lame.hub_hoop(p, bore, outer.outside)
    values = [
        value("pressure", "Pressure in the joint, at the tightest", p, "pressure"),
        value("hub_stress", "Hoop stress at the bore, at the tightest", stress, "pressure", 0),
    ]
    working = [
        step(
            "p = I / 1000 / (d / E_h * ((d_o ** 2 + d ** 2) / (d_o ** 2 - d ** 2) + nu_h) + d / E_s * (1 - nu_s))", p,
            "MPa", I=tight, d=bore, d_o=outer.outside, E_h=of_hub.modulus, nu_h=of_hub.poisson,
            E_s=of_shaft.modulus, nu_s=of_shaft.poisson,
        ),
        step("sigma = p * (d_o ** 2 + d ** 2) / (d_o ** 2 - d ** 2)", stress, "MPa", p=p, d=bore, d_o=outer.outside),
    ]  # fmt: skip
    assumptions = [
        "Solid shaft, both parts elastic, nothing taken off for roughness: force and pressure are on the high side."
    ]
    if unsure := from_memory(shaft, outer.material, columns=("youngs_modulus", "poisson")):
        assumptions.append(f"Modulus or Poisson's ratio is from memory for {' and '.join(unsure)}.")
    if outer.ring:
        assumptions.append(f"Inner ring reckoned as a plain ring out to {show(outer.outside, 'length', 1)}, estimated.")
    thin = "Thin hub: a small error in size changes the pressure much, and the outside grows with it."
    cautions = () if outer.ring or outer.outside >= THIN_HUB * bore else (thin,)
    if outer.length is not None:
        force = lame.axial_force(p, bore, outer.length, outer.friction)
        values.insert(0, value("press_force", "Press force, at the tightest", force, "force"))
        working.append(
            step("F = mu * pi * d * L * p", force, "N", mu=outer.friction, d=bore, L=outer.length, p=p)
        )  # fmt: skip
        assumptions.append(
            f"Friction {outer.friction:g}, " + ("clean and oiled; the real force may be larger." if outer.ring else
            "oiled steel, from memory of DIN 7190; dry up to twice the force.")
        )  # fmt: skip
    sources = ("shigley-fits", "ntn-catalogue") if outer.ring else ("shigley-fits", "din-7190")
    return Joint(tuple(values), tuple(working), cautions, tuple(assumptions), sources)


def _heat(tight: float, bore: float, outer: Outer) -> Joint:
    rise = lame.heating(tight / 1000, bore, outer.material.alpha)
    margin = outer.margin
    hot = REFERENCE + rise + margin
    values = [value("temperature_rise", "Rise that just lets it slide", rise, "temperature_difference", 0)]
    working = [
        step("dT = I / 1000 / (alpha * d)", rise, "K", I=tight, alpha=outer.material.alpha, d=bore),
        step("T = 20 + dT + dT_spare", hot, "°C", dT=rise, dT_spare=margin),
    ]
    spare = "20 to 30 K" if outer.ring else "a thousandth of the bore"
    assumptions = [f"Shaft at 20 °C, {spare} to spare for handling, the coefficient taken as at room temperature."]
    sources = ("nsk-catalogue", "ntn-catalogue") if outer.ring else ("din-7190",)
    heat = "Hot parts burn: dry heat-proof gloves, no open flame, nothing wet near hot oil."
    if outer.hottest is None:
        cautions = [heat, f"No ceiling is known here for {outer.material.name}: ask what its temper stands first."]
    elif hot > outer.hottest:
        ceiling = show(outer.hottest, "temperature", 0)
        why = "greased and sealed" if outer.hottest == SEALED_HOTTEST else "the ceiling here"
        return Joint(
            tuple(values), tuple(working),
            (f"Do not heat it: it would take {show(hot, 'temperature', 0)}, over {ceiling} ({why}). Press it, or "
             "take more off the shaft.",),
            tuple(assumptions), sources,
        )  # fmt: skip
    else:
        cautions = [heat, f"Never above {show(outer.hottest, 'temperature', 0)}; measure it."]
        if not outer.ring:
            assumptions.append(f"The ceiling for {outer.material.name} is from memory of DIN 7190.")
    values.append(value("hub_temperature", "Heat the outer part to", hot, "temperature", 0))
    return Joint(tuple(values), tuple(working), tuple(cautions), tuple(assumptions), sources)
