"""A plan to saw by: the bars to take, each layout with its running measure, and what is proved about it.

The order of wishes: fewest bars bought, fewest bars, shortest bars, least waste, fewest layouts. Lengths are whole
numbers of a nanometre.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from operator import mul

from calc.formulas.cutting_bound import Effort
from calc.formulas.cutting_layouts import Arranged, Lengths, arrange, standing
from calc.formulas.cutting_notation import Listed
from calc.formulas.cutting_search import greedy
from calc.formulas.cutting_stock import Case, Choice, Stock, case, choose, shorten

#: Steps allowed for the fewest bars, for shorter ones, and for waste and layouts; about a third of a second in all.
STEPS = (200_000, 60_000, 30_000)


class TooLong(Exception):
    """A piece goes out of no bar: (its length, the longest bar, what that gives)."""


class NotEnough(Exception):
    """The bars do not give all pieces: (how many of each are left over, from the longest piece down, bars missing,
    their length, whether fewer are certainly too few)."""


@dataclass(frozen=True)
class Layout:
    """How `times` bars are cut, `bought` of them bought. `pieces` stand in the order of sawing.

    `marks` are measured from the raw end of the bar: the trim if there is one, then the end of every piece. `held` is
    the longer of the two parts that the last cut leaves, None where there is no cut.
    """

    name: str
    bar: int
    times: int
    bought: int
    pieces: tuple[int, ...]
    marks: tuple[int, ...]
    off_cut: int
    kept: bool
    held: int | None


@dataclass(frozen=True)
class Plan:
    """The layouts, and what is proved: no plan keeps more than `kept_bound`, nor needs fewer than `layouts_bound`.

    `either`: there are bars on the rack and more for sale, so that fewest bought is a wish of its own.
    """

    layouts: tuple[Layout, ...]
    choice: Choice
    kept_bound: int
    layouts_bound: int
    either: bool

    @property
    def bars(self) -> int:
        return sum(one.times for one in self.layouts)

    @property
    def bar_length(self) -> int:
        return sum(one.times * one.bar for one in self.layouts)

    @property
    def kept(self) -> int:
        return sum(one.times * one.off_cut for one in self.layouts if one.kept)

    @property
    def fewest_proved(self) -> bool:
        return self.choice.bought == self.choice.bought_bound and self.choice.rack == self.choice.rack_bound


def make(
    pieces: Listed, bars: Listed, kerf: int, trim: int, keep: int | None, vice: int, thorough: int = 1,
    seen: Callable[[Callable[[], Plan]], None] = lambda plan: None,
) -> Plan:  # fmt: skip
    """The best plan found with `thorough` times the usual steps. Raises TooLong and NotEnough.

    `seen` is given, for every better plan or bound on the way, how to make that plan.
    """
    wanted = sorted(((length, count or 0) for length, count in pieces.parts), reverse=True)
    stock = _stock(bars)
    longest = max(one.length for one in stock)
    if wanted[0][0] > longest - 2 * trim:
        raise TooLong(wanted[0][0], longest, max(0, longest - 2 * trim))
    one = case(wanted, stock, kerf, trim)
    lengths = Lengths(tuple(each.length for each in one.stock), tuple(length for length, _ in wanted), kerf, trim, keep)

    def plan(choice: Choice, arranged: Arranged) -> Plan:
        return _plan(one, choice, arranged, lengths, vice)

    def chosen_so_far(choice: Choice) -> None:
        if not choice.missing:
            seen(lambda: plan(choice, standing(one.job, one.demand, choice.cuts, lengths)))

    chosen = choose(one, Effort(STEPS[0] * thorough), chosen_so_far)
    if chosen.missing:
        raise _not_enough(one, chosen)
    chosen_so_far(replace(chosen, shortest=False))
    chosen = shorten(one, chosen, Effort(STEPS[1] * thorough), chosen_so_far)
    chosen_so_far(chosen)
    best = arrange(
        one.job, one.demand, chosen.cuts, one.limits, lengths, Effort(STEPS[2] * thorough),
        lambda arranged: seen(lambda: plan(chosen, arranged)),
    )  # fmt: skip
    return plan(chosen, best)


def _plan(one: Case, chosen: Choice, best: Arranged, lengths: Lengths, vice: int) -> Plan:
    layouts = []
    rack = one.rack
    for place, (room, pattern, times) in enumerate(best.cuts):
        bought = max(0, times - rack[room])
        rack[room] -= times - bought
        cut = [length for length, take in zip(lengths.pieces, pattern, strict=True) for _ in range(take)]
        kept = lengths.kept(room, pattern) > 0
        length = one.stock[room].length
        layouts.append(_layout(name(place), length, times, bought, cut, lengths.kerf, lengths.trim, vice, kept))
    either = any(each.rack for each in one.stock) and any(each.bought for each in one.stock)
    return Plan(tuple(layouts), chosen, best.kept_bound, best.layouts_bound, either)


def name(place: int) -> str:
    """A, B … Z, AA, AB …"""
    return (name(place // 26 - 1) if place >= 26 else "") + chr(ord("A") + place % 26)


def _stock(bars: Listed) -> list[Stock]:
    rack: dict[int, int] = {}
    sale: set[int] = set()
    for length, count in bars.parts:
        rack[length] = rack.get(length, 0) + (count or 0)
        if count is None:
            sale.add(length)
    return [Stock(length, count, length in sale) for length, count in rack.items()]


def _not_enough(one: Case, chosen: Choice) -> NotEnough:
    """The bars missing are of the first length, and are taken to be those cut last; the rack may do better alone."""
    _, alone = greedy(one.job, one.demand, list(enumerate(one.rack)), close=True)
    left = [0] * len(one.demand)
    still = chosen.bought
    for room, pattern, times in reversed(chosen.cuts):
        if room == 0 and still:
            these = min(times, still)
            still -= these
            left = [have + these * take for have, take in zip(left, pattern, strict=True)]
    over = min(alone, left, key=lambda each: sum(map(mul, each, one.job.widths)))
    return NotEnough(over, chosen.bought, one.stock[0].length, chosen.bought_bound == chosen.bought)


def _layout(
    called: str, bar: int, times: int, bought: int, pieces: list[int], kerf: int, trim: int, vice: int, kept: bool
) -> Layout:
    """Longest piece first, unless the last cut then left too little for the vice and the other way round does not."""
    used = trim + sum(pieces) + kerf * (len(pieces) - 1)
    off_cut = max(0, bar - used - kerf)

    def held(order: Sequence[int]) -> int | None:
        if bar > used:
            return max(off_cut, order[-1])
        return max(order[-2:]) if len(order) > 1 else None

    order = pieces
    first = held(order)
    if first is not None and first < vice and (held(pieces[::-1]) or 0) > first:
        order = pieces[::-1]
    ends = accumulate(order, lambda mark, piece: mark + kerf + piece, initial=trim - kerf)
    next(ends)
    marks = ((trim,) if trim else ()) + tuple(ends)
    return Layout(called, bar, times, bought, tuple(order), marks, off_cut, kept, held(order))
