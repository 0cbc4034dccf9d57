"""What a key bears: shear, and pressure on its sides in hub and shaft, over the heights and lengths that really touch.

Lengths in mm, areas in mm², torque in N·m, forces in N, stresses in MPa, power in kW, speed in rev/min. Sources:
DIN 6892 (method C, the simplest of its three) for pressure in the hub; Shigley, Mechanical Engineering Design, keys,
for shear and the shear yield of the distortion-energy theory; the rest is geometry. A factor that turns one unit into
another has a name, so that the tests can put quantities with units through every formula.
"""

from dataclasses import dataclass
from functools import cached_property
from math import atan, pi, sqrt

from calc.formulas import keys, woodruff
from calc.formulas.key_notation import Typed
from calc.formulas.keys import NAMES, SYSTEMS, Key, sagitta
from calc.formulas.strengths import Strength
from calc.formulas.woodruff import Woodruff
from calc.model import InputError
from calc.units import settle, show

MM_PER_M = 1000.0
W_PER_KW = 1000.0
S_PER_MIN = 60.0

COUNTED = 1.3  # times the shaft: the length of contact that counts, DIN 6892; some texts say 1.5
METHOD_C = 0.9  # of the strength of the weakest part, allowed by method C; from memory
SHEAR = 0.577  # of the yield: shear yield by distortion energy (Shigley)
SHARE = {"one": 1.0, "two": 1.5}  # keys that count: of two each carries three quarters (DIN 6892), from memory
KEY_STEEL = 550.0  # MPa, least tensile strength of key steel (BS 4235-1)
ENDS = {
    "round": "both round (form A)",
    "square": "both square (form B)",
    "mixed": "one round, one square (form AB)",
    "woodruff": "Woodruff: width × height × diameter",
}


# -------------------------------------------------------------------------------------------------- stresses


def torque_of(power: float, speed: float) -> float:
    """N·m that a shaft carries at that power and speed."""
    return W_PER_KW * S_PER_MIN * power / (2 * pi * speed)


def force(torque: float, diameter: float) -> float:
    """N at the surface of that diameter."""
    return 2 * MM_PER_M * torque / diameter


def reduced_diameter(diameter: float, height: float) -> float:
    """The diameter in mm on which the force acts in the middle of the key's side in the shaft."""
    return diameter - height / 2


def stress(force: float, area: float) -> float:
    """MPa over that area: shear of the key, or pressure on its side."""
    return force / area


def segment_area(diameter: float, height: float) -> float:
    """Area in mm² of a segment of a circle, up to half of it."""
    r = diameter / 2
    return 2 * r**2 * atan(sqrt(height / (diameter - height))) - (r - height) * sqrt(height * (diameter - height))


# ----------------------------------------------------------------------------------------- slot and contact


@dataclass(frozen=True)
class Slot:
    """The slot in the shaft: its depth from the crown, and the standard key it is made for (None when typed)."""

    depth: float
    standard: Key | Woodruff | None


def slot(key: Typed, ends: str, diameter: float, typed: float | None) -> Slot:
    """The slot as typed, else that of the standard key.

    InputError at `shaft_depth` where none is known, at `diameter` where the key is too wide for the shaft.
    """
    if not key.width < diameter / 2:
        raise InputError("diameter", f"A key {show(key.width, 'length')} wide is over half this shaft. Check both.")
    if typed is not None:
        return Slot(typed, None)
    if ends == "woodruff":
        if disc := woodruff.alike(key.width, key.height, key.length):
            return Slot(woodruff.crown_depth(disc, diameter), disc)
    elif found := _standard(key, diameter):
        return Slot(keys.crown_depth(found, diameter), found)
    raise InputError("shaft_depth", f"No standard key is {key.section}. Measure the slot from the crown of the shaft.")


def _standard(typed: Typed, diameter: float) -> Key | None:
    """The standard key of that width and height, the one made for this shaft first; None for a special."""
    found = [
        one for system in SYSTEMS for one in keys.keys(system)
        if one.depth is not None and abs(one.width - typed.width) < 0.01 and abs(one.height - typed.height) < 0.01
    ]  # fmt: skip
    return min(found, key=lambda one: not one.holds(diameter), default=None)


@dataclass(frozen=True)
class Contact:
    """What touches: the length that counts, its height in hub and shaft, and the areas of one key."""

    length: float
    hub_height: float
    shaft_height: float
    shear_area: float
    hub_area: float
    shaft_area: float


def off_the_ends(ends: str, width: float) -> float:
    """What round ends take off the length of a key before its sides begin to bear."""
    return {"round": width, "mixed": width / 2}.get(ends, 0.0)


def contact(key: Typed, ends: str, diameter: float, depth: float, chamfer: float, hub_length: float | None) -> Contact:
    """What touches of that key in a slot `depth` deep from the crown. InputError where nothing would.

    In the hub the height runs from the crown up, as method C has it, which leaves out the little between crown and
    edge; in the shaft it ends at the edge of the slot, below the crown. Round ends do not count, neither for shear.
    A Woodruff key is sheared along its chord at the edge: the chord bears in the hub, the segment in the shaft.
    """
    edge = sagitta(diameter, key.width)
    if not edge < depth < key.height:
        raise InputError(
            "shaft_depth",
            f"A slot {show(depth, 'length')} deep from the crown leaves a key {show(key.height, 'length')} high no "
            "side to bear on. Measure both.",
        )
    in_hub, in_shaft = key.height - depth - chamfer, depth - edge - chamfer
    if min(in_hub, in_shaft) <= 0:
        raise InputError("chamfer", "That chamfer takes away the whole side. Measure the short leg of it.")
    longest = COUNTED * diameter if hub_length is None else min(COUNTED * diameter, hub_length)
    if ends != "woodruff":
        bearing = key.length - off_the_ends(ends, key.width)
        if bearing <= 0:
            raise InputError("key", "A key with round ends must be longer than it is wide. Check the length.")
        length = min(bearing, longest)
        return Contact(length, in_hub, in_shaft, key.width * length, in_hub * length, in_shaft * length)
    if key.height > key.length / 2:
        raise InputError("key", "A Woodruff key is less high than half its diameter. Give width x height x diameter.")
    below = depth - edge
    chord = woodruff.chord(key.length, below)
    length = min(chord, longest)
    in_slot = segment_area(key.length, below) * (in_shaft / below) * (length / chord)
    return Contact(length, in_hub, in_shaft, key.width * length, in_hub * length, in_slot)


# ------------------------------------------------------------------------------------------------- judgement


@dataclass(frozen=True)
class Check:
    """One way to fail: its stress at the shaft's surface and at the reduced radius, and the strength against it.

    `wanted` is the safety that it should have; a share is the safety there is of the safety wanted, 1 just enough.
    """

    name: str
    label: str
    stress: float
    stress_reduced: float
    strength: float
    wanted: float

    @property
    def safety(self) -> float:
        """Strength over the stress at the surface."""
        return self.strength / self.stress

    @property
    def safety_reduced(self) -> float:
        """Strength over the stress at the reduced radius."""
        return self.strength / self.stress_reduced

    @property
    def share(self) -> float:
        """Safety at the surface, of the safety wanted."""
        return self.safety / self.wanted

    @property
    def share_reduced(self) -> float:
        """Safety at the reduced radius, of the safety wanted."""
        return self.safety_reduced / self.wanted


@dataclass(frozen=True)
class Joint:
    """Shaft, hub and key under a torque. `torque` in N·m without shock, `count` "one" or "two" keys."""

    torque: float
    shock: float
    diameter: float
    key: Typed
    ends: str
    count: str
    slot: Slot
    contact: Contact
    shaft_part: Strength
    hub_part: Strength
    key_part: Strength
    safety: float

    @property
    def reduced(self) -> float:
        """Reduced diameter, mm."""
        return reduced_diameter(self.diameter, self.key.height)

    @property
    def force(self) -> float:
        """N at the surface, shock included."""
        return force(self.torque * self.shock, self.diameter)

    @property
    def force_reduced(self) -> float:
        """N at the reduced radius, shock included."""
        return force(self.torque * self.shock, self.reduced)

    @cached_property
    def checks(self) -> tuple[Check, ...]:
        """Shear of the key, its side in the hub, its side in the shaft; where two touch the weaker counts."""
        found = []
        for name, label, area, pair, factor in (
            ("shear", "Shear of the key", self.contact.shear_area, (self.key_part,), SHEAR),
            ("hub", "Side in the hub", self.contact.hub_area, (self.hub_part, self.key_part), 1.0),
            ("shaft", "Side in the shaft", self.contact.shaft_area, (self.shaft_part, self.key_part), 1.0),
        ):
            weaker = min(pair, key=lambda one: one.figure / one.wanted)
            loaded = SHARE[self.count] * area
            found.append(
                Check(name, label, stress(self.force, loaded), stress(self.force_reduced, loaded),
                      factor * weaker.figure, self.safety * weaker.wanted)
            )  # fmt: skip
        return tuple(found)

    @cached_property
    def worst(self) -> Check:
        """The check with the least safety of what is wanted: at both radii the same one."""
        return min(self.checks, key=lambda one: one.share)

    @property
    def method_c(self) -> float:
        """Pressure in the hub by method C: at the surface, height of the key less the slot."""
        area = (self.key.height - self.slot.depth) * self.contact.length
        return stress(self.force, SHARE[self.count] * area)

    @property
    def method_c_allowed(self) -> float:
        """What method C allows, by the weakest of the three parts."""
        return METHOD_C * min(one.figure for one in (self.shaft_part, self.hub_part, self.key_part))

    @property
    def needed(self) -> float:
        """Length of contact in mm that gives the wanted safety at the reduced radius, however long that is."""
        return self.contact.length / self.worst.share_reduced

    @property
    def least_length(self) -> float:
        """Length of the whole key with that contact."""
        return self.needed + off_the_ends(self.ends, self.key.width)

    @property
    def listed_length(self) -> float | None:
        """The next length of the series that is made of this metric key; None for other keys or past its end."""
        found = self.slot.standard
        series = keys.series(found) if isinstance(found, Key) else ()
        return next((one for one in series if settle(one) >= settle(self.least_length)), None)


def made_for(found: Key | Woodruff, diameter: float) -> str | None:
    """What to say where a standard key is not the one for this shaft; None where it is, or where no shaft is listed."""
    if isinstance(found, Key):
        if found.holds(diameter):
            return None
        return (
            f"{NAMES[found.system]} gives this key to shafts over {show(found.over, 'length', 2)} up to "
            f"{show(found.up_to, 'length', 2)}."
        )
    spans = found.shafts.values()
    if not spans or any(low < diameter <= high for low, high in spans):
        return None
    low, high = next(iter(spans))
    return f"{woodruff.NAMES[found.system]} gives this key to shafts over {low:g} up to {high:g} mm to carry torque."
