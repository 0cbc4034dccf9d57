"""The push of the tool and what it does to a held bar, with the working of both. Lengths in mm, forces in N."""

from dataclasses import dataclass, replace
from itertools import pairwise

from calc.formulas import push_off
from calc.formulas.cutting import PUSH_MOST, ForceConstants, sin_degrees, specific_force
from calc.formulas.push_off import Steps
from calc.formulas.turning import Pass, correction
from calc.formulas.work_materials import Found
from calc.model import InputError, Step, Value
from calc.units import plain, settle, show, step, value

DIFFERS = 1.2  # the other family of force constants is named when it is this many times off


@dataclass(frozen=True)
class Push:
    """Radial force from `least` to `most` N; `cut` is the cut it was reckoned from, None where it was typed."""

    least: float
    most: float
    cut: Pass | None
    working: tuple[Step, ...]
    said: tuple[str, ...]
    sources: tuple[str, ...]


def push(
    material: Found, finished: float, depth: float, feed: float, force: float | None, tool_material: str,
    nose_radius: float, entering_angle: float,
) -> Push:  # fmt: skip
    """The push as typed, or by Kienzle from material and cut. InputError where no force constants are known."""
    if force is not None:
        return Push(force, force, None, (), ("The push is the one typed; depth, feed and tool do not count.",), ())
    constants = material.material.force
    if constants is None:
        raise InputError("force", f"No cutting force of {material} is known here. Give the push of the tool itself.")
    factor, why = correction(tool_material)
    cut = _cut(constants, finished, depth, feed, nose_radius, entering_angle, factor)
    (least, most), cutting_force = cut.push or (0.0, 0.0), cut.force or 0.0
    kc = specific_force(constants, cut.chip.thickness)
    shares = least / cutting_force, most / cutting_force
    working = (
        step("h = f * s", cut.chip.thickness, "mm", "chip; s is the sine of the entering angle", f=feed,
             s=sin_degrees(entering_angle)),
        step("kc = k / exp(m * log(h))", kc, "N/mm²", f"{constants.family}, {constants.row}", k=constants.kc11,
             m=constants.mc, h=cut.chip.thickness),
        step("F_c = kc * ap * f * K", cutting_force, "N", "cutting force", kc=kc, ap=depth, f=feed, K=factor),
        step("F = q * F_c", most, "N", "push, at most", q=shares[1], F_c=cutting_force),
    )  # fmt: skip
    said = [
        f"The push is {plain(shares[0])} to {plain(shares[1])} of the cutting force, which is from memory and holds "
        "for a sharp tool near 90°: a worn one pushes harder.",
        why,
    ]
    if shares[1] > PUSH_MOST:
        said.append("The nose or a slanting edge cuts here, so the push may come up to the whole cutting force.")
    unsure = ["of a similar material"] * constants.surrogate + ["from memory"] * (constants.mark == "M")
    if unsure:
        said.append(f"The force constants are {' and '.join(unsure)}: {constants.family}, {constants.row}.")
    said += _other(material, cut)
    return Push(least, most, cut, working, tuple(said), constants.source)


def lighter(push: Push, share: float) -> list[Value]:
    """What keeps to the tolerance: that share of the push and, where the push comes of a cut, the depth for it."""
    values = [value("push_allowed", "The tolerance allows a push of", push.most * share, "force")]
    if push.cut is not None:
        depth = push.cut.depth * share
        if settle(depth) < settle(push.cut.nose_radius):
            whole = replace(push.cut, depth=depth).push
            depth *= push.most * share / whole[1] if whole else 1.0
        values.append(value("depth_allowed", "It allows a depth, on radius, of", depth, "length", 3))
    return values


@dataclass(frozen=True)
class Held:
    """A bar of some steps, and how stiff its material is (MPa)."""

    bar: Steps
    modulus: float

    def worst(self, holding: str, force: float) -> tuple[float, float]:
        """Place and deflection."""
        if len(self.bar) == 1:
            return push_off.worst(holding, force, *self.bar[0], self.modulus)
        return push_off.worst_stepped(holding, force, self.bar, self.modulus)

    def under(self, holding: str, force: float, at: float) -> float:
        """Deflection with the tool at that place."""
        if len(self.bar) == 1:
            length, diameter = self.bar[0]
            return push_off.deflection(holding, force, length, at, diameter, self.modulus)
        return push_off.stepped(holding, force, self.bar, at, self.modulus)

    def alike(self, holding: str, force: float, most: float) -> float:
        """The diameter of a plain bar of this length that gives way as much at its own worst place."""
        return push_off.alike(holding, force, push_off.whole(self.bar), most, self.modulus)

    def places(self, holding: str, push: Push, worst: float, at: float | None) -> list[tuple[str, float, float, float]]:
        """Quarters of a plain bar, or ends and middles of steps, with the worst place and the one asked for."""
        ends = [0.0]
        for length, _ in self.bar:
            ends.append(ends[-1] + length)
        marks = {float(end): "step" for end in ends[1:-1]}
        if len(self.bar) == 1:
            marks |= {ends[-1] * part / 4: "" for part in (1, 2, 3)}
        else:
            marks |= {(one + other) / 2: "" for one, other in pairwise(ends)}
        far = {"chuck": "free end"}.get(holding, "tailstock centre")
        marks |= {0.0: "headstock centre" if holding == "centres" else "jaws", float(ends[-1]): far}
        if at is not None:
            marks[min(at, ends[-1])] = "asked for"
        marks[worst] = "worst" if settle(worst) != settle(ends[-1]) else f"{far}, worst"
        found = []
        for place, what in sorted(marks.items()):
            most = self.under(holding, push.most, min(place, push_off.whole(self.bar)))
            found.append((what or f"Ø {plain(self._across(place))}", place, most * push.least / push.most, most))
        return found

    def working(self, holding: str, force: float, at: float, most: float) -> list[Step]:
        """The deflection at the worst place, and what it makes of the diameter."""
        told = self._plainly(holding, force, at, most) if len(self.bar) == 1 else self._by_stretches(holding, force, at)
        return [*told, step("e = 2 * y * 1000", push_off.on_diameter(most) * 1000, "µm", "on diameter", y=most)]

    def _plainly(self, holding: str, force: float, at: float, most: float) -> list[Step]:
        length, diameter = self.bar[0]
        inertia = push_off.second_moment(diameter)
        given = {"F": force, "x": at, "E": self.modulus, "I": inertia}
        if holding != "chuck":
            given["L"] = length
        formula = {
            "chuck": "y = F * x**3 / (3 * E * I)",
            "centres": "y = F * x**2 * (L - x)**2 / (3 * E * I * L)",
            "chuck and centre": "y = F * x**3 * (L - x)**2 * (4 * L - x) / (12 * E * I * L**3)",
        }[holding]
        return [
            step("I = pi * d**4 / 64", inertia, "mm⁴", d=diameter),
            step(formula, most, "mm", "under the tool, worst place", **given),
        ]

    def _by_stretches(self, holding: str, force: float, at: float) -> list[Step]:
        """Each stretch with the moments at its ends, which are those of the whole bar so held, and their sum."""
        told, shares = [], {}
        for number, one in enumerate(push_off.stretches(holding, force, self.bar, at, self.modulus), 1):
            note = f"{plain(one.length)} mm from {plain(one.start)} mm on; m and n: moment at its ends for each newton"
            told.append(
                step(f"y{number} = 64 * F * l * (m**2 + m * n + n**2) / (3 * pi * E * d**4)", one.share, "mm", note,
                     F=force, l=one.length, m=one.arm, n=one.end_arm, E=self.modulus, d=one.diameter)
            )  # fmt: skip
            shares[f"y{number}"] = one.share
        total = push_off.stepped(holding, force, self.bar, at, self.modulus)
        return [*told, step(f"y = {' + '.join(shares)}", total, "mm", "under the tool, worst place", **shares)]

    def _across(self, place: float) -> float:
        start = 0.0
        for length, diameter in self.bar:
            start += length
            if place <= start:
                return diameter
        return self.bar[-1][1]


def _cut(
    constants: ForceConstants, finished: float, depth: float, feed: float, nose_radius: float, entering_angle: float,
    factor: float,
) -> Pass:  # fmt: skip
    """The cut, without a spindle speed: nothing asked of it here depends on one."""
    return Pass(finished + 2 * depth, depth, feed, 0.0, entering_angle, nose_radius, constants, factor)


def _other(material: Found, cut: Pass) -> list[str]:
    """A sentence where the other family of constants gives another force by much."""
    constants = material.material.other_force
    if constants is None:
        return []
    mine, other = cut.force or 0.0, replace(cut, constants=constants)
    if other.force is None or other.push is None or 1 / DIFFERS < other.force / mine < DIFFERS:
        return []
    return [f"By the other family, {constants.family}, the push would be {show(other.push[1], 'force')} at most."]
