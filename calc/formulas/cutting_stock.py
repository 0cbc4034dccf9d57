"""Which bars to cut a list of pieces from: first the fewest bought, then the fewest bars, then the shortest.

All lengths are whole numbers of one unit. Because a pattern that fits a bar fits every longer one, the fewest bars
are always the longest ones: how many of those are needed is settled by bounds from below and plans from above, which
`cutting_search` closes. Which shorter bars would do as well is asked last.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import gcd
from operator import mul

from calc.formulas.cutting_bound import Bars, Column, Effort, Exhausted, Relaxation, Worths, worths
from calc.formulas.cutting_search import CLOSE, Cut, Job, greedy, pack

LOOKED_AT = 3000  # steps in search of choices of shorter bars
LEAST = 100  # steps without which no search for shorter bars is begun
QUICK = 100_000  # steps, at the most, before the linear relaxation is asked
Run = tuple[int, int]  # of which room, how many bars
Seen = Callable[["Choice"], None]  # told of every plan found and every bound proved on the way


@dataclass(frozen=True)
class Stock:
    """Bars of one length: so many on the rack, and whether any number more can be bought."""

    length: int
    rack: int
    bought: bool = False


@dataclass
class Case:
    """The pieces and the bars of one question, longest first, and what is known about it so far."""

    job: Job
    demand: tuple[int, ...]
    stock: tuple[Stock, ...]
    limits: list[Worths] = field(default_factory=list)
    columns: list[Column] = field(default_factory=list)

    @property
    def rack(self) -> list[int]:
        return [one.rack for one in self.stock]

    def used(self, cuts: Sequence[Cut]) -> list[int]:
        """How many bars of each length a plan takes."""
        return [sum(times for room, _, times in cuts if room == each) for each in range(len(self.stock))]


@dataclass(frozen=True)
class Choice:
    """A plan, how many of its bars are bought and how many come off the rack, and what is certain about it.

    No plan buys fewer than `bought_bound`, and none that buys as many takes fewer than `rack_bound` off the rack.
    `shortest`: no other choice of as many bars is shorter. `missing`: what is called bought cannot be.
    """

    cuts: list[Cut]
    bought: int
    bought_bound: int
    rack: int
    rack_bound: int
    shortest: bool = True
    missing: bool = False


def case(pieces: Sequence[tuple[int, int]], stock: Sequence[Stock], kerf: int, trim: int) -> Case:
    """Pieces as (length, how many), every length once; `trim` comes off each end of each bar, its cut included."""
    pieces = sorted(pieces, reverse=True)
    held = tuple(sorted(stock, key=lambda one: -one.length))
    widths = tuple(length + kerf for length, _ in pieces)
    unit = gcd(*widths)
    rooms = tuple(max(0, one.length - 2 * trim + kerf) // unit for one in held)
    return Case(Job(tuple(width // unit for width in widths), rooms), tuple(count for _, count in pieces), held)


def choose(one: Case, effort: Effort, seen: Seen | None = None) -> Choice:
    """The fewest bars, and what to cut from each.

    More of the longest bars for sale are always there; where none is for sale the longest bars on the rack stand in,
    so that `bought` then says how many of those are missing. So it does where a piece is too long for what is for sale.
    """
    one.limits.append(worths(one.job.widths, one.job.widths, one.demand, one.job.rooms, effort))
    sale = next((room for room, each in enumerate(one.stock) if each.bought), 0)
    many = sum(one.demand)
    known = None
    if one.job.widths[0] > one.job.rooms[sale]:
        short = one.job.rooms[sale]
        long = [have if width > short else 0 for have, width in zip(one.demand, one.job.widths, strict=True)]
        alone = Case(one.job, tuple(long), one.stock, list(one.limits))
        lacking, bound, cuts = _fewest(alone, one.rack, [(0, many)], effort)
        if lacking:
            return Choice(cuts, lacking, bound, 0, 0, missing=True)
        free = [have - taken for have, taken in zip(one.rack, one.used(cuts), strict=True)]
        rest = [have - taken for have, taken in zip(one.demand, long, strict=True)]
        known = cuts + greedy(one.job, rest, [*enumerate(free), (sale, many)])[0]

    def standing(cuts: list[Cut], bought_bound: int, rack_bound: int, shortest: bool = False) -> Choice:
        used = one.used(cuts)
        bought = sum(max(0, taken - have) for taken, have in zip(used, one.rack, strict=True))
        taken = sum(used) - bought
        missing = bought > 0 and not one.stock[sale].bought
        return Choice(cuts, bought, min(bought, bought_bound), taken, min(taken, rack_bound), shortest, missing)

    def buying(least: int, cuts: list[Cut]) -> None:
        if seen is not None:
            seen(standing(cuts, least, 0))

    bought, bought_bound, cuts = _fewest(one, one.rack, [(sale, many)], effort, known, buying)

    def taking(least: int, cuts: list[Cut]) -> None:
        if seen is not None:
            seen(standing(cuts, bought_bound, least))

    free = [bought if room == sale else 0 for room in range(len(one.stock))]
    rack = [(room, have) for room, have in enumerate(one.rack) if have]
    _, rack_bound, cuts = _fewest(one, free, rack, effort, cuts, taking)
    return standing(cuts, bought_bound, rack_bound, shortest=True)


def shorten(one: Case, choice: Choice, effort: Effort, seen: Seen | None = None) -> Choice:
    """The shortest bars of which as many will do: the same choice, or one of less length."""
    choices, certain = _shorter(one, choice)
    best, cuts = len(choices), choice.cuts
    low = 0
    while low < best:  # what is too short is mostly the shorter, so halving soon finds something short
        middle = (low + best) // 2
        found = _quickly(one, choices[middle], effort)
        if found is None:
            low = middle + 1
        else:
            best, cuts = middle, found
            if seen is not None:
                seen(replace(choice, cuts=cuts, shortest=False))
    for bars in choices[:best]:
        if effort.left < LEAST:
            certain = False
            break
        if not _ruled_out(one, bars):
            _relax(one, bars, [], [], effort)
        try:
            found = pack(one.job, one.demand, bars, one.limits, one.columns, Effort(max(0, effort.left // 2)))
        except Exhausted:
            certain = False
        else:
            if found is not None:
                cuts = found
                break
    return replace(choice, cuts=cuts, shortest=certain)


def _ruled_out(one: Case, bars: Sequence[int]) -> bool:
    return any(limit.spare(one.demand, bars) < 0 for limit in one.limits)


def _quickly(one: Case, bars: Sequence[int], effort: Effort) -> list[Cut] | None:
    """A plan of these bars, if one comes to hand."""
    if _ruled_out(one, bars) or effort.left <= 0:
        return None
    effort.left -= CLOSE * sum(bars)
    found, left = greedy(one.job, one.demand, [(room, have) for room, have in enumerate(bars) if have], close=True)
    if not any(left):
        return found
    allowed = Effort(max(0, effort.left // 16))
    effort.left -= allowed.left
    try:
        return pack(one.job, one.demand, bars, one.limits, (), allowed)
    except Exhausted:
        return None
    finally:
        effort.left += max(0, allowed.left)


def _shorter(one: Case, choice: Choice) -> tuple[list[list[int]], bool]:
    """Every choice of as many bars, bought and off the rack, that is shorter, shortest first; False when too many."""
    slots = [(room, choice.bought, 0) for room, each in enumerate(one.stock) if each.bought and choice.bought]
    slots += [(room, each.rack, 1) for room, each in enumerate(one.stock) if each.rack and choice.rack]
    shortest = [min((one.stock[room].length for room, _, of in slots if of == group), default=0) for group in (0, 1)]
    limit = sum(one.stock[room].length * times for room, _, times in choice.cuts)
    found: list[tuple[int, list[int]]] = []
    seen = 0

    def add(place: int, wanted: list[int], bars: list[int], length: int) -> None:
        nonlocal seen
        seen += 1
        if seen > LOOKED_AT or length + sum(map(mul, wanted, shortest)) >= limit:
            return
        at_most, open_still = bars.copy(), wanted.copy()
        for room, most, group in slots[place:]:  # the longest bars stand in for those not yet chosen
            fill = min(most, open_still[group])
            at_most[room] += fill
            open_still[group] -= fill
        if any(open_still) or _ruled_out(one, at_most):
            return
        if place == len(slots):
            found.append((length, bars))
            return
        room, most, group = slots[place]
        for count in range(min(most, wanted[group]), -1, -1):
            left, more = wanted.copy(), bars.copy()
            left[group] -= count
            more[room] += count
            add(place + 1, left, more, length + count * one.stock[room].length)

    add(0, [choice.bought, choice.rack], [0] * len(one.stock), 0)
    found.sort()
    return [bars for _, bars in found], seen <= LOOKED_AT


def _first(runs: Sequence[Run], count: int) -> Iterator[Run]:
    """The first so many bars of the runs."""
    for room, have in runs:
        if count <= 0:
            return
        yield room, min(have, count)
        count -= have


def _with(free: Sequence[int], runs: Sequence[Run], count: int) -> list[int]:
    bars = list(free)
    for room, have in _first(runs, count):
        bars[room] += have
    return bars


def _bound(one: Case, free: Sequence[int], runs: Sequence[Run], least: int = 0) -> int:
    """The least number of bars of the runs, from the first on, that the worths do not rule out."""
    most = sum(have for _, have in runs)
    while least < most and _ruled_out(one, _with(free, runs, least)):
        least += 1
    return least


def _fewest(
    one: Case,
    free: Sequence[int],
    runs: Sequence[Run],
    effort: Effort,
    known: list[Cut] | None = None,
    seen: Callable[[int, list[Cut]], None] = lambda least, plan: None,
) -> tuple[int, int, list[Cut]]:
    """How many bars of the runs are needed besides the free ones, a bound from below, and the plan.

    The runs are longest first; `known` is a plan to better; `seen` is told of every bound with the plan there is.
    """
    best, plan = sum(have for _, have in runs), known
    if plan is not None:
        best = min(best, sum(max(0, used - have) for used, have in zip(one.used(plan), free, strict=True)))
    least = _bound(one, free, runs)
    for close in (False, True):
        begun, rest = greedy(one.job, one.demand, [(room, have) for room, have in enumerate(free) if have], close)
        found, left = greedy(one.job, rest, runs, close)
        used = sum(times for _, _, times in found)
        if not any(left) and (plan is None or used < best):
            best, plan = used, begun + found
    if plan is None:
        raise ValueError("no bar of the runs takes the longest piece")
    seen(least, plan)
    if least < best:
        allowed = Effort(min(effort.left // 12, QUICK))
        effort.left -= allowed.left
        try:
            quick = pack(one.job, one.demand, _with(free, runs, least), one.limits, (), allowed)
            if quick is not None:
                return least, least, quick
            least += 1
        except Exhausted:
            pass
        finally:
            effort.left += max(0, allowed.left)
    if least < best:
        _relax(one, free, runs, plan, effort)
        least = _bound(one, free, runs, least)
        seen(least, plan)
    certain = least
    for count in range(least, best):
        allowed = Effort(effort.left if count == best - 1 else effort.left // 2)
        effort.left -= allowed.left
        try:
            better = pack(one.job, one.demand, _with(free, runs, count), one.limits, one.columns, allowed)
        except Exhausted:
            continue
        finally:
            effort.left += max(0, allowed.left)
        if better is not None:
            return count, certain, better
        if certain == count:
            certain += 1
            seen(certain, plan)
    return best, min(certain, best), plan


def _relax(one: Case, free: Sequence[int], runs: Sequence[Run], plan: Sequence[Cut], effort: Effort) -> None:
    """Add the worths of the linear relaxation to what limits the case, and keep the patterns that it used."""
    many = sum(one.demand)
    bars: list[tuple[int, int | None, int]] = [(room, have, 0) for room, have in enumerate(free) if have]
    bars += [(room, None if have >= many else have, 1) for room, have in runs]
    job = one.job
    relaxed = Relaxation(job.widths, one.demand, [Bars(job.rooms[room], have, price) for room, have, price in bars])
    for place, (room, _, _) in enumerate(bars):
        for cut, pattern, _ in plan:
            if cut == room:
                relaxed.seed(place, pattern)
        for i, width in enumerate(job.widths):
            if fit := min(one.demand[i], job.rooms[room] // width):
                relaxed.seed(place, tuple(fit if j == i else 0 for j in range(len(one.demand))))
    allowed = Effort(max(0, effort.left * 3 // 5))
    effort.left -= allowed.left
    relaxed.solve(allowed)
    effort.left += max(0, allowed.left)
    one.columns = [(share, bars[place][0], pattern) for share, place, pattern in relaxed.columns()]
    patterns = [pattern for _, _, pattern in one.columns]
    one.limits.append(worths(relaxed.prices(), job.widths, one.demand, job.rooms, effort, patterns))
