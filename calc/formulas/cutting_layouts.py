"""How to lay the same pieces out in the same bars with less waste, and then in fewer different ways.

An off-cut worth keeping is no waste. As pieces and bars are given, least waste is the most metal in such off-cuts.
Every bar given is used, and the search goes layout by layout, each in as many bars as it is repeated.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import gcd
from operator import mul

from calc import progress
from calc.formulas.cutting_bound import Counts, Effort, Exhausted, Worths
from calc.formulas.cutting_search import HASTY, Cut, Job, Patterns

SHARES = ((1.2, 1), (2.0, 2), (4.0, 3))  # how wasteful a layout may be against the average, and how many are tried
DEEPEST = 40  # layouts that a search may be deep
GROUP = 1500  # steps in search of fewer layouts for a few of them
LOOKED_AT = 300  # steps in search of a layout while not all are wanted


@dataclass(frozen=True)
class Lengths:
    """The bars and pieces as they are, in the order of a job's rooms and widths; `keep` None keeps nothing."""

    bars: Counts
    pieces: Counts
    kerf: int
    trim: int
    keep: int | None

    def off_cut(self, room: int, pattern: Counts) -> int:
        """What is left behind the last cut of a bar; the cut is saved where the last piece ends with the bar."""
        used = sum(take * (piece + self.kerf) for take, piece in zip(pattern, self.pieces, strict=True))
        return max(0, self.bars[room] - self.trim - used)

    def kept(self, room: int, pattern: Counts) -> int:
        """The off-cut when it is worth keeping, else 0."""
        left = self.off_cut(room, pattern)
        return left if self.keep is not None and left >= self.keep else 0

    def most_kept(self, pieces: Sequence[int], bars: Sequence[int]) -> int:
        """No plan of these pieces in these bars keeps more."""
        saved = max(0, self.kerf - self.trim)
        have = sum(count * (bar - self.trim + saved) for count, bar in zip(bars, self.bars, strict=True))
        return have - sum(count * (piece + self.kerf) for count, piece in zip(pieces, self.pieces, strict=True))


@dataclass(frozen=True)
class Arranged:
    """The layouts, what they keep, the most that any could keep, and the fewest layouts that could keep as much."""

    cuts: list[Cut]
    kept: int
    kept_bound: int
    layouts_bound: int


def standing(job: Job, demand: Sequence[int], cuts: Sequence[Cut], lengths: Lengths) -> Arranged:
    """What `cuts` lay out as it is, with what is certain without any search."""
    best = merged(cuts)
    bars = [sum(times for room, _, times in best if room == each) for each in range(len(job.rooms))]
    have = sum(times * lengths.kept(room, pattern) for room, pattern, times in best)
    bound = 0 if lengths.keep is None else max(have, lengths.most_kept(demand, bars))
    return Arranged(best, have, bound, sum(1 for each in bars if each))


def arrange(
    job: Job,
    demand: Sequence[int],
    cuts: Sequence[Cut],
    limits: Sequence[Worths],
    lengths: Lengths,
    effort: Effort,
    seen: Callable[[Arranged], None] = lambda arranged: None,
) -> Arranged:
    """The best arrangement found of what `cuts` lay out, in the same bars; `seen` is told of every better one."""
    begun = standing(job, demand, cuts, lengths)
    best, have, bound, least = begun.cuts, begun.kept, begun.kept_bound, begun.layouts_bound
    bars = [sum(times for room, _, times in best if room == each) for each in range(len(job.rooms))]
    search = _Layouts(job, limits, lengths)
    allowed = Effort(effort.left // 2)
    while have < bound:
        found = search.run(demand, bars, min(sum(bars), DEEPEST), have + 1, allowed)
        if found is None:
            bound = have if search.whole and sum(bars) <= DEEPEST else bound
            break
        best, have = found, sum(times * lengths.kept(room, pattern) for room, pattern, times in found)
        seen(Arranged(best, have, bound, least))
    effort.left -= effort.left // 2 - max(0, allowed.left)
    while len(best) > least:
        found = _regrouped(best, search, lengths, effort)
        if found is None and len(best) <= DEEPEST:
            found = search.run(demand, bars, len(best) - 1, have, effort)
        if found is None:
            least = len(best) if search.whole and len(best) <= DEEPEST else least
            break
        best = found
        seen(Arranged(best, have, bound, least))
    return Arranged(best, have, bound, least)


def _regrouped(cuts: Sequence[Cut], search: "_Layouts", lengths: Lengths, effort: Effort) -> list[Cut] | None:
    """One layout fewer by laying out anew what two, three or four layouts hold; None when that was not found."""
    allowed = Effort(max(0, effort.left // 2))
    effort.left -= allowed.left
    try:
        for size in (2, 3, 4):
            for group in combinations(cuts, size):
                bars = [sum(times for room, _, times in group if room == each) for each in range(len(lengths.bars))]
                if sum(1 for each in bars if each) == size:
                    continue
                demand = [sum(times * pattern[i] for _, pattern, times in group) for i in range(len(lengths.pieces))]
                keep = sum(times * lengths.kept(room, pattern) for room, pattern, times in group)
                allowed.spend(size)
                part = Effort(min(GROUP, allowed.left))
                allowed.left -= part.left
                found = search.run(demand, bars, size - 1, keep, part, ((0.0, 0),))
                allowed.left += max(0, part.left)
                if found is not None:
                    return merged([*(one for one in cuts if one not in group), *found])
    except Exhausted:
        pass
    finally:
        effort.left += max(0, allowed.left)
    return None


def merged(cuts: Sequence[Cut]) -> list[Cut]:
    """Equal layouts as one, the longest bars first and in them the largest pieces."""
    times: dict[tuple[int, Counts], int] = {}
    for room, pattern, count in cuts:
        times[room, pattern] = times.get((room, pattern), 0) + count
    order = sorted(times, key=lambda one: (one[0], *(-take for take in one[1])))
    return [(room, pattern, times[room, pattern]) for room, pattern in order]


class _Layouts:
    """A search for an arrangement with so few layouts that keeps so much."""

    def __init__(self, job: Job, limits: Sequence[Worths], lengths: Lengths) -> None:
        self._job, self._limits, self._lengths = job, limits, lengths
        self._share, self._breadth = 1.0, 0
        self._effort = Effort(0)
        self.whole = True

    def run(
        self,
        demand: Sequence[int],
        bars: Sequence[int],
        layouts: int,
        keep: int,
        effort: Effort,
        ways: Sequence[tuple[float, int]] = (*SHARES, (0.0, 0)),
    ) -> list[Cut] | None:
        """An arrangement, or None; `whole` then says whether it is certain that there is none."""
        self._patterns = Patterns(self._job, self._limits, demand, bars)
        for self._share, self._breadth in ways:
            self.whole = not self._breadth
            self._effort = Effort(max(0, min(effort.left // 6, HASTY) if self._breadth else effort.left))
            began = self._effort.left
            try:
                found = self._next(tuple(demand), tuple(bars), layouts, keep, None)
            except Exhausted:
                found, self.whole = None, False
            effort.left -= began - max(0, self._effort.left)
            if found is not None:
                return merged(found)
        return None

    def _next(
        self, left: Counts, free: Counts, layouts: int, keep: int, after: tuple[int, int, Counts] | None
    ) -> list[Cut] | None:
        """What is left, in so many layouts that keep so much. Of equal first pieces the larger layout comes first."""
        progress.beat()
        rooms = [room for room, have in enumerate(free) if have]
        if not any(left) or layouts < len(rooms) or (keep > 0 and self._lengths.most_kept(left, free) < keep):
            return None
        if layouts == 1:
            return self._last(left, rooms[0], free[rooms[0]], keep)
        first = next(i for i, have in enumerate(left) if have)
        for room, pattern, times in self._choices(left, free, rooms, layouts):
            if after is not None and after[0] == first and (room, pattern) >= after[1:]:
                continue
            rest = tuple(have - times * take for have, take in zip(left, pattern, strict=True))
            bars = (*free[:room], free[room] - times, *free[room + 1 :])
            still = keep - times * self._lengths.kept(room, pattern)
            if not any(bars):
                if not any(rest) and still <= 0:
                    return [(room, pattern, times)]
                continue
            more = self._next(rest, bars, layouts - 1, still, (first, room, pattern))
            if more is not None:
                return [(room, pattern, times), *more]
        return None

    def _last(self, left: Counts, room: int, times: int, keep: int) -> list[Cut] | None:
        """All that is left as one layout."""
        self._effort.spend(2)
        if gcd(*left) % times:
            return None
        pattern = tuple(have // times for have in left)
        if sum(map(mul, pattern, self._job.widths)) > self._job.rooms[room]:
            return None
        return [(room, pattern, times)] if times * self._lengths.kept(room, pattern) >= keep else None

    def _choices(self, left: Counts, free: Counts, rooms: list[int], layouts: int) -> Iterator[Cut]:
        """Layouts with the largest piece left, the most repeated first."""
        spare = self._patterns.spare(left, free)
        if min(spare) < 0:
            return
        if self._breadth:
            spare = [int(one * self._share / sum(free)) for one in spare]
        first = next(i for i, have in enumerate(left) if have)
        given = 0
        for times in range(min(max(free), left[first]), 0, -1):
            for room in rooms:
                if times > free[room] or (layouts == len(rooms) and times < free[room]):
                    continue
                of = max(1, free[room] - times) if layouts == 2 and len(rooms) == 1 else 1
                if not self._breadth:
                    found = self._patterns.listed(left, room, spare, self._effort, times=times, of=of)
                    yield from ((room, pattern, times) for _, _, pattern in found)
                    continue
                each = [one * times for one in spare]
                best = min(self._patterns.listed(left, room, each, self._effort, LOOKED_AT, times, of), default=None)
                if best is not None:
                    yield room, best[2], times
                    given += 1
                    if given == self._breadth:
                        return
