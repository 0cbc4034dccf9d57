"""How far the tool pushes a bar away, held by its ends: plain bars by closed forms, stepped bars by integration.

Units: lengths, places and diameters in mm, forces in N, Young's modulus in MPa; a deflection is in mm, on radius, and
makes the diameter twice as much too large. Places count from the chuck or headstock centre. The force is the radial
one. Jaws are taken as a rigid grip, centres and steadies as rigid points that let the bar turn out of line.

Sources: largest deflections P L³/3EI and P L³/48EI, and the formulas of beams behind them, as in KU Leuven, Production
technology, 2024; a bar gripped at one end and carried at the other follows from those. Only + - * / and the square
root are used, so that every machine comes to the same last figure.
"""

import math
from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from types import MappingProxyType

HOLDINGS = MappingProxyType(
    {"chuck": "chuck, end free", "chuck and centre": "chuck and tailstock centre", "centres": "between centres"}
)
Steps = Sequence[tuple[float, float]]  # (length, diameter) from the chuck or headstock centre on

#: Lengths in diameters up to which practice holds a bar so. Lathe manuals print 3, one text 5, for the chuck alone, and
#: 10 with a centre; that a steady is called for from 12, and two rests or a light cut from 15 on, is from memory.
FREE_TO, FREE_TO_OTHERS = 3.0, 5.0
CENTRE_TO, STEADY_FROM, TWO_FROM = 10.0, 12.0, 15.0

SAMPLES = 4  # places tried in each stretch of a stepped bar before the worst one is closed in upon
NARROWINGS = 20
ONE_MM = 1.0
_GOLDEN = (math.sqrt(5) - 1) / 2


def second_moment(diameter: float) -> float:
    """Second moment of area of a round bar in mm⁴: pi d⁴/64."""
    return math.pi * diameter * diameter * diameter * diameter / 64


def on_diameter(deflection: float) -> float:
    """How much too large the diameter comes out, in mm, where the bar gives way by that much."""
    return 2 * deflection


def settled(deflection: float, depth: float) -> float:
    """The deflection in mm that is left once the cut of `depth` has grown shallower by it, and the force with it.

    `deflection` is that under the force of the full depth. Force in proportion to depth: d = D (ap - d)/ap.
    """
    return depth * deflection / (depth + deflection)


# ----------------------------------------------------------------------------------------------- plain bars


def deflection(
    holding: str, force: float, length: float, at: float, diameter: float, youngs_modulus: float
) -> float:  # fmt: skip
    """Deflection in mm under the tool of a plain bar, the tool standing `at` mm from the chuck or headstock centre.

    `holding` is one of HOLDINGS. ValueError when `at` is not on the bar.
    """
    _on_bar(at, length)
    left = length - at
    bending = force / (youngs_modulus * second_moment(diameter))
    if holding == "chuck":
        return bending * at * at * at / 3
    if holding == "centres":
        return bending * at * at * left * left / (3 * length)
    if holding == "chuck and centre":
        return bending * at * at * at * left * left * (3 * length + left) / (12 * length * length * length)
    raise ValueError(f"no such holding: {holding}")


def worst_place(holding: str, length: float) -> float:
    """Where a plain bar gives way most, in mm: the free end, the middle, or (2 - sqrt 2) L = 0.586 L."""
    shares = {"chuck": 1.0, "centres": 0.5, "chuck and centre": 2 - math.sqrt(2)}
    return shares[holding] * length


def worst(
    holding: str, force: float, length: float, diameter: float, youngs_modulus: float
) -> tuple[float, float]:  # fmt: skip
    """Where a plain bar gives way most and by how much, both in mm."""
    at = worst_place(holding, length)
    return at, deflection(holding, force, length, at, diameter, youngs_modulus)


def alike(holding: str, force: float, length: float, most: float, youngs_modulus: float) -> float:
    """The diameter in mm of a plain bar of that length that gives way by `most` mm at its own worst place."""
    _, of_one_mm = worst(holding, force, length, ONE_MM, youngs_modulus)
    return ONE_MM * math.sqrt(math.sqrt(of_one_mm / most))


# --------------------------------------------------------------------------------------------- stepped bars


@dataclass(frozen=True)
class Stretch:
    """A piece of the bar of one diameter between two places where something acts or changes.

    `arm` and `end_arm`: the bending moment at its beginning and end for each newton of the tool's push, in mm.
    `share`: the deflection under the tool, in mm, that comes of the bending of this piece.
    """

    start: float
    length: float
    diameter: float
    arm: float
    end_arm: float
    share: float


def stepped(
    holding: str, force: float, steps: Steps, at: float, youngs_modulus: float, steady: float | None = None
) -> float:
    """Deflection in mm under the tool of a stepped bar, the tool standing `at` mm from the chuck or headstock centre.

    `steps` are (length, diameter) in mm, in order; `steady` is where a fixed steady carries the bar besides, if any.
    Exact for stepped bars (shear left out): the strain energy of linear moments, redundant supports by flexibility.
    ValueError when `at` or `steady` is not on the bar.
    """
    return _total(one.share for one in stretches(holding, force, steps, at, youngs_modulus, steady))


def stretches(
    holding: str, force: float, steps: Steps, at: float, youngs_modulus: float, steady: float | None = None
) -> tuple[Stretch, ...]:
    """What each piece of a stepped bar adds to the deflection under the tool; see `stepped`."""
    if holding not in HOLDINGS:
        raise ValueError(f"no such holding: {holding}")
    length = whole(steps)
    carried = _carried(holding, length, steady)
    for place in (at, *carried):
        _on_bar(place, length)
    pieces = _pieces(steps, (at, *carried))
    borne = list(zip(carried, _reactions(_Flexibility(holding, steps), carried, at), strict=True))
    found = []
    for start, span, diameter in pieces:
        arm, end_arm = _arms(holding, length, at, start, span)
        for place, reaction in borne:
            less, end_less = _arms(holding, length, place, start, span)
            arm, end_arm = arm - reaction * less, end_arm - reaction * end_less
        energy = span * (arm * arm + arm * end_arm + end_arm * end_arm)
        share = force * energy / (3 * youngs_modulus * second_moment(diameter))
        found.append(Stretch(start, span, diameter, arm, end_arm, share))
    return tuple(found)


def worst_stepped(
    holding: str, force: float, steps: Steps, youngs_modulus: float, steady: float | None = None
) -> tuple[float, float]:
    """Where a stepped bar gives way most under the tool and by how much, both in mm; of equal places the first."""
    length = whole(steps)
    at = length
    if holding != "chuck" or steady is not None:
        flexibility, carried = _Flexibility(holding, steps), _carried(holding, length, steady)

        def gives(place: float) -> float:
            return _gives(flexibility, carried, place)

        places = [0 * length]
        for start, span, _ in _pieces(steps, () if steady is None else (steady,)):
            places += [start + span * part / SAMPLES for part in range(1, SAMPLES)] + [min(start + span, length)]
        given = [gives(place) for place in places]
        best = given.index(max(given))
        at = _peak(gives, places[max(best - 1, 0)], places[min(best + 1, len(places) - 1)])
        if best == len(places) - 1:
            at = max((at, length), key=gives)
    return at, stepped(holding, force, steps, at, youngs_modulus, steady)


def profile(
    holding: str, force: float, steps: Steps, youngs_modulus: float, between: int = 12
) -> tuple[tuple[float, float, float], ...]:
    """(place, diameter, deflection under a tool there) along the bar, all in mm; the end of a step and the next begin
    at one place. For a picture: near a far centre the last figures of a small deflection are lost.
    """
    length = whole(steps)
    flexibility, carried = _Flexibility(holding, steps), _carried(holding, length, None)
    found = []
    for start, span, diameter in _pieces(steps, ()):
        for part in range(between + 1):
            place = min(start + span * part / between, length)
            gives = _gives(flexibility, carried, place)
            found.append((place, diameter, 64 * force * gives / (math.pi * youngs_modulus)))
    return tuple(found)


def whole(steps: Steps) -> float:
    """Length in mm of all steps together."""
    return _total(length for length, _ in steps)


# ------------------------------------------------------------------------------------------------ inside


def _on_bar(at: float, length: float) -> None:
    if not 0 <= at <= length:
        raise ValueError(f"{at} is not on a bar {length} long")


def _total(parts: Iterable[float]) -> float:
    """Their sum, added in order: quantities with units can be added so, and every Python adds alike."""
    first, *rest = parts
    for one in rest:
        first = first + one
    return first


def _pieces(steps: Steps, places: Sequence[float]) -> list[tuple[float, float, float]]:
    """(start, length, diameter) of the bar cut at the steps' ends and at `places`."""
    found = []
    start = 0 * steps[0][0]
    for length, diameter in steps:
        end = start + length
        edges = [start, *sorted(place for place in dict.fromkeys(places) if start < place < end), end]
        found += [(one, other - one, diameter) for one, other in pairwise(edges)]
        start = end
    return found


def _arms(holding: str, length: float, load: float, start: float, span: float) -> tuple[float, float]:
    """The moment at both ends of a piece for each newton at `load`, the bar held in the chuck alone or by centres."""

    def arm(place: float) -> float:
        if holding != "centres":
            return load - place if place < load else 0 * load
        return -min(place, load) * (length - max(place, load)) / length

    return arm(start), arm(start + span)


def _carried(holding: str, length: float, steady: float | None) -> list[float]:
    """Where the bar is carried besides the chuck alone, or besides the two centres."""
    tailstock = [length] if holding == "chuck and centre" else []
    return tailstock if steady is None else [*tailstock, steady]


class _Flexibility:
    """How far the bar gives way at one place for a push at another, held in the chuck alone or by two centres.

    Up to a factor, 64/(pi E): only ratios of these, and where they are greatest, are asked for.
    """

    def __init__(self, holding: str, steps: Steps) -> None:
        self.length, self.centres = whole(steps), holding == "centres"
        self.edges: list[float] = []
        self.parts: list[tuple[float, float, float, float]] = []
        start = 0 * steps[0][0]
        nought = one = two = 0.0
        for length, diameter in steps:
            softness = 1 / (diameter * diameter * diameter * diameter)
            nought = nought - softness * start
            one = one - softness * start * start / 2
            two = two - softness * start * start * start / 3
            self.edges.append(start)
            self.parts.append((softness, nought, one, two))
            start = start + length
            nought = nought + softness * start
            one = one + softness * start * start / 2
            two = two + softness * start * start * start / 3

    def __call__(self, place: float, other: float) -> float:
        near, far = (place, other) if place <= other else (other, place)
        gives = self._gripped(near, far)
        if self.centres:
            end = self.length
            gives = gives - (
                near * self._gripped(far, end) + far * self._gripped(near, end)
                - near * far * self._gripped(end, end) / end
            ) / end  # fmt: skip
        return gives

    def _gripped(self, near: float, far: float) -> float:
        """The integral of (near - x)(far - x)/d⁴ from the chuck to `near`, by the integrals of 1, x and x² over d⁴."""
        softness, nought, one, two = self.parts[max(bisect_right(self.edges, near) - 1, 0)]
        return (
            near * far * (nought + softness * near)
            - (near + far) * (one + softness * near * near / 2)
            + (two + softness * near * near * near / 3)
        )


def _gives(flexibility: _Flexibility, carried: Sequence[float], at: float) -> float:
    """How far the bar gives way under a push at `at`, up to the factor of `_Flexibility`; never less than nought."""
    gives = flexibility(at, at)
    for place, reaction in zip(carried, _reactions(flexibility, carried, at), strict=True):
        gives = gives - reaction * flexibility(place, at)
    return max(gives, 0 * gives)


def _reactions(flexibility: _Flexibility, carried: Sequence[float], at: float) -> list[float]:
    """What each further support bears of a newton at the tool, so that the bar stays put there."""
    if not carried:
        return []
    first, *second = carried
    a, u = flexibility(first, first), flexibility(first, at)
    if not second:
        return [u / a]
    b, c, v = flexibility(first, second[0]), flexibility(second[0], second[0]), flexibility(second[0], at)
    determinant = a * c - b * b
    return [(u * c - v * b) / determinant, (v * a - u * b) / determinant]


def _peak(under: Callable[[float], float], low: float, high: float) -> float:
    """The place of the greatest value between two others, by golden section."""
    inner, outer = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_inner, at_outer = under(inner), under(outer)
    for _ in range(NARROWINGS):
        if at_inner >= at_outer:
            high, outer, at_outer = outer, inner, at_inner
            inner = high - _GOLDEN * (high - low)
            at_inner = under(inner)
        else:
            low, inner, at_inner = inner, outer, at_outer
            outer = low + _GOLDEN * (high - low)
            at_outer = under(outer)
    return (low + high) / 2
