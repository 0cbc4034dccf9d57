"""Push-off of a bar: closed forms as published, stepped bars against finite elements and plain integration."""

import math
from itertools import pairwise
from random import Random

import numpy as np
import pytest
from scipy.integrate import cumulative_trapezoid

from calc.formulas import push_off
from calc.formulas.push_off import HOLDINGS, deflection, second_moment, stepped, stretches, worst, worst_stepped

L, D, E, P = 300.0, 25.0, 205_000.0, 400.0
UNIT = P * L**3 / (E * second_moment(D))


def by_elements(holding, force, steps, at, modulus, steady=None):
    """Deflection under the load by beam elements with cubic shape functions: a stiffness method, exact at the nodes."""
    ends = np.concatenate(([0.0], np.cumsum([length for length, _ in steps])))
    extra = [at] if steady is None else [at, steady]
    nodes = np.unique(np.concatenate((ends, extra)))
    stiffness = np.zeros((2 * len(nodes), 2 * len(nodes)))
    for i, (low, high) in enumerate(pairwise(nodes)):
        step = int(np.searchsorted(ends, (low + high) / 2)) - 1
        h, inertia = high - low, math.pi / 64 * steps[step][1] ** 4
        stiffness[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += (
            modulus * inertia / h**3 * np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                                                 [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])
        )  # fmt: skip
    last = 2 * (len(nodes) - 1)
    held = {"chuck": [0, 1], "chuck and centre": [0, 1, last], "centres": [0, last]}[holding]
    if steady is not None:
        held = [*held, 2 * int(np.searchsorted(nodes, steady))]
    free = [i for i in range(2 * len(nodes)) if i not in held]
    loads = np.zeros(2 * len(nodes))
    place = 2 * int(np.searchsorted(nodes, at))
    loads[place] = force
    found = np.zeros(2 * len(nodes))
    found[free] = np.linalg.solve(stiffness[np.ix_(free, free)], loads[free])
    return found[place]


def a_bar(dice):
    return tuple((dice.uniform(5, 200), dice.uniform(8, 60)) for _ in range(dice.randrange(1, 7)))


# ------------------------------------------------------------------------------------------------ closed forms


def test_the_free_end_of_a_bar_in_the_chuck():
    # P L³/3EI: KU Leuven, Production technology, 2024
    assert worst("chuck", P, L, D, E) == (L, pytest.approx(UNIT / 3))
    assert deflection("chuck", P, L, L / 2, D, E) == pytest.approx(UNIT / 24)


def test_the_middle_of_a_bar_between_centres():
    # P L³/48EI: KU Leuven, Production technology, 2024; sixteen times stiffer than the free end, as there
    at, most = worst("centres", P, L, D, E)
    assert (at, most) == (L / 2, pytest.approx(UNIT / 48))
    assert worst("chuck", P, L, D, E)[1] / most == pytest.approx(16)


def test_a_bar_in_chuck_and_centre_gives_most_at_0_586_of_its_length_not_in_the_middle():
    # 7 P L³/768 EI in the middle: beam formulas of handbooks (fixed at one end, supported at the other)
    at, most = worst("chuck and centre", P, L, D, E)
    assert at / L == pytest.approx(0.586, abs=5e-4)
    assert most == pytest.approx(UNIT / 101.9, rel=2e-4)
    middle = deflection("chuck and centre", P, L, L / 2, D, E)
    assert middle == pytest.approx(7 * UNIT / 768)
    assert most > middle


@pytest.mark.parametrize(("holding", "ratio"), [("chuck", 34.0), ("centres", 2.12), ("chuck and centre", 1)])
def test_one_bar_held_in_three_ways(holding, ratio):
    stiffest = worst("chuck and centre", P, L, D, E)[1]
    assert worst(holding, P, L, D, E)[1] / stiffest == pytest.approx(ratio, rel=2e-3)


@pytest.mark.parametrize("holding", HOLDINGS)
def test_no_place_is_worse_than_the_worst(holding):
    most = worst(holding, P, L, D, E)[1]
    assert max(deflection(holding, P, L, L * part / 997, D, E) for part in range(998)) <= most * (1 + 1e-12)


def test_a_centre_and_a_steady_do_not_give():
    assert deflection("centres", P, L, L, D, E) == deflection("chuck and centre", P, L, L, D, E) == 0
    assert deflection("centres", P, L, 0, D, E) == deflection("chuck", P, L, 0, D, E) == 0
    assert stepped("chuck and centre", P, ((L, D),), L, E) == pytest.approx(0, abs=1e-15)
    assert stepped("centres", P, ((L, D),), 100, E, steady=100) == pytest.approx(0, abs=1e-12)


def test_twice_as_much_on_diameter_and_less_once_the_cut_is_shallower():
    assert push_off.on_diameter(0.01) == 0.02
    # a bar that gives 1 mm under the force of a cut 1 mm deep: half is cut, and half the force gives half a millimetre
    assert push_off.settled(1, 1) == 0.5


# ------------------------------------------------------------------------------------------------ stepped bars


@pytest.mark.parametrize("holding", HOLDINGS)
@pytest.mark.parametrize("share", [0.0, 0.1, 0.25, 0.5, 0.586, 0.9, 1.0])
def test_a_bar_in_steps_of_one_diameter_is_a_plain_bar(holding, share):
    found = stepped(holding, P, ((90, D), (10, D), (200, D)), L * share, E)
    assert found == pytest.approx(deflection(holding, P, L, L * share, D, E), rel=1e-12, abs=1e-15)


def test_a_bar_with_its_middle_half_twice_as_stiff():
    # Ugural, Mechanical Design of Machine Components, example 9.6: 3 W L³/256 EI under a load in the middle
    thick = D * 2**0.25
    found = stepped("centres", P, ((L / 4, D), (L / 2, thick), (L / 4, D)), L / 2, E)
    assert found == pytest.approx(3 * UNIT / 256)


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("steadied", [False, True], ids=["", "steady"])
@pytest.mark.parametrize("holding", HOLDINGS)
def test_stepped_bars_bend_as_finite_elements_do(holding, steadied, seed):
    dice = Random(seed)
    steps = a_bar(dice)
    length = push_off.whole(steps)
    steady = length * dice.uniform(0.2, 0.8) if steadied else None
    at = length * dice.uniform(0.02, 0.98)
    expected = by_elements(holding, P, steps, at, E, steady)
    assert stepped(holding, P, steps, at, E, steady) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize("holding", HOLDINGS)
def test_a_stepped_bar_bends_as_its_curvature_integrates(holding):
    # the curvature M/EI summed up twice by the trapezoidal rule, the far support's reaction by superposition
    steps, at, length = ((42.0, 30.0), (100.0, 35.0), (38.0, 30.0), (60.0, 22.0)), 160.0, 240.0
    x = np.linspace(0, length, 240_001)
    stiffness = E * np.select([x < 42, x < 142, x < 180], [second_moment(d) for _, d in steps[:3]], second_moment(22))

    def bent(place):
        """The line of the bar held in the chuck with 1 N at `place`."""
        slope = cumulative_trapezoid(np.maximum(place - x, 0) / stiffness, x, initial=0)
        return cumulative_trapezoid(slope, x, initial=0)

    load, end = bent(at), bent(length)
    if holding == "chuck and centre":
        load = load - end * load[-1] / end[-1]
    if holding == "centres":
        load = load - end * at / length  # no moment where the chuck was
        load = load - load[-1] * x / length
    expected = P * float(np.interp(at, x, load))
    assert stepped(holding, P, steps, at, E) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize("holding", HOLDINGS)
@pytest.mark.parametrize("seed", range(12))
def test_the_worst_place_of_a_stepped_bar_is_found(holding, seed):
    steps = a_bar(Random(seed))
    at, most = worst_stepped(holding, P, steps, E)
    length = push_off.whole(steps)
    tried = max(stepped(holding, P, steps, min(length * part / 499, length), E) for part in range(500))
    assert most >= tried * (1 - 1e-6)
    assert stepped(holding, P, steps, at, E) == most


@pytest.mark.parametrize("holding", HOLDINGS)
def test_the_worst_place_of_a_plain_bar_is_that_of_the_closed_form(holding):
    at, most = worst_stepped(holding, P, ((100, D), (200, D)), E)
    expected = worst(holding, P, L, D, E)
    assert at == pytest.approx(expected[0], abs=0.05)
    assert most == pytest.approx(expected[1], rel=1e-7)


@pytest.mark.parametrize("holding", HOLDINGS)
def test_a_steady_in_the_middle_leaves_less(holding):
    assert worst_stepped(holding, P, ((L, D),), E, steady=L / 2)[1] < worst(holding, P, L, D, E)[1]


def test_a_steady_in_the_middle_between_centres():
    # two equal spans, load in the middle of one: 23 P l³/1536 EI with l the span, by the three-moment equation
    span = L / 2
    found = stepped("centres", P, ((L, D),), span / 2, E, steady=span)
    assert found == pytest.approx(23 * P * span**3 / (1536 * E * second_moment(D)))


@pytest.mark.parametrize("holding", HOLDINGS)
def test_the_stretches_make_up_the_whole(holding):
    steps = ((42, 30), (100, 35), (38, 30))
    found = stretches(holding, P, steps, 120, E)
    assert [one.start for one in found] == [0, 42, 120, 142]
    assert sum(one.length for one in found) == 180
    assert math.fsum(one.share for one in found) == pytest.approx(stepped(holding, P, steps, 120, E))


@pytest.mark.parametrize("holding", HOLDINGS)
def test_it_is_in_proportion_to_the_force_and_against_the_modulus(holding):
    steps = ((42, 30), (100, 35))
    one = stepped(holding, 100, steps, 90, E)
    assert stepped(holding, 250, steps, 90, E) == pytest.approx(2.5 * one)
    assert stepped(holding, 100, steps, 90, E / 3) == pytest.approx(3 * one)


def test_a_place_beside_the_bar_or_an_unknown_holding_is_refused():
    with pytest.raises(ValueError, match="not on a bar"):
        deflection("chuck", P, L, L + 1, D, E)
    with pytest.raises(ValueError, match="not on a bar"):
        stepped("chuck", P, ((L, D),), -1, E)
    with pytest.raises(ValueError, match="not on a bar"):
        stepped("chuck", P, ((L, D),), 10, E, steady=L + 1)
    with pytest.raises(ValueError, match="no such holding"):
        deflection("vice", P, L, 10, D, E)
    with pytest.raises(ValueError, match="no such holding"):
        stepped("vice", P, ((L, D),), 10, E)
