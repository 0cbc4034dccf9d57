"""Do these pieces go into these bars? A plan that shows it, or a complete search that found none.

Widths and rooms are those of `cutting_bound`, both from the largest down; how many bars of each room there are is
given, so that the question is yes or no. All bars together may spare only so much of each of the worths: that is
what keeps the search short.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from calc import progress
from calc.formulas.cutting_bound import Column, Counts, Effort, Exhausted, Worths, densities, fullest

Cut = tuple[int, Counts, int]  # out of which room, which pattern, in how many bars
BREADTHS = (1, 3, 9)  # patterns tried at each bar before the search that leaves none out
HASTY = 200_000  # steps, at the most, of a search that leaves some out
SHORT = 400  # steps in search of one bar's patterns while not all are wanted
CLOSE = 150  # steps in search of one bar's fullest pattern
SURE = 0.02  # a share so little below a whole number is that number
SET_UP = 5  # steps that it takes to begin
SHARPEST = 3  # limits that a search keeps an eye on


@dataclass(frozen=True)
class Job:
    """The widths of the pieces and the rooms of the bars, both from the largest down."""

    widths: Counts
    rooms: Counts


def greedy(
    job: Job, demand: Sequence[int], runs: Iterable[tuple[int, int]], close: bool = False
) -> tuple[list[Cut], list[int]]:
    """A plan bar by bar, largest piece first, and the pieces that found no bar.

    `runs` are (room, how many) in the order of use; `close` fills each bar as tightly as a short search can.
    """
    left = list(demand)
    plan: list[Cut] = []
    for room, free in runs:
        while free and any(left):
            progress.beat()
            pattern = (_tight if close else _largest_first)(job, left, job.rooms[room])
            if not any(pattern):
                break
            times = min(free, *(have // take for have, take in zip(left, pattern, strict=True) if take))
            plan.append((room, pattern, times))
            free -= times
            left = [have - times * take for have, take in zip(left, pattern, strict=True)]
    return plan, left


def _largest_first(job: Job, left: Sequence[int], rest: int) -> Counts:
    pattern = []
    for width, have in zip(job.widths, left, strict=True):
        take = min(have, rest // width)
        pattern.append(take)
        rest -= take * width
    return tuple(pattern)


def _tight(job: Job, left: Sequence[int], room: int) -> Counts:
    first = next((i for i, have in enumerate(left) if have and job.widths[i] <= room), None)
    if first is None:
        return (0,) * len(left)
    others = [have - (i == first) for i, have in enumerate(left)]
    _, pattern, _, _ = fullest(job.widths, job.widths, others, room - job.widths[first], CLOSE)
    return tuple(take + (i == first) for i, take in enumerate(pattern))


def pack(
    job: Job,
    demand: Sequence[int],
    bars: Sequence[int],
    limits: Sequence[Worths],
    columns: Iterable[Column],
    effort: Effort,
) -> list[Cut] | None:
    """A plan of these bars; None when there is none, which is then certain. Exhausted when neither was found.

    The first of the limits has the widths themselves as its worths.
    """
    if any(one.spare(demand, bars) < 0 for one in limits):
        return None
    columns = list(columns)
    for held_back in (0, 1) if columns else ():
        plan, left, free = _rounded_down(columns, demand, bars, held_back)
        for breadth in BREADTHS:
            rest, _ = _Search(job, limits, effort, breadth).run(left, free)
            if rest is not None:
                return plan + rest
    for wide in (*BREADTHS, None):
        found, whole = _Search(job, limits, effort, wide).run(demand, bars)
        if found is not None or whole:
            return found
    raise Exhausted


def _rounded_down(
    columns: Iterable[Column], demand: Sequence[int], bars: Sequence[int], held_back: int
) -> tuple[list[Cut], list[int], list[int]]:
    """The whole part of a relaxed solution, less `held_back` bars of each pattern, and what it leaves to do."""
    left, free, plan = list(demand), list(bars), []
    for share, room, pattern in columns:
        fits = [have // take for have, take in zip(left, pattern, strict=True) if take]
        times = min(int(share + SURE) - held_back, free[room], *fits)
        if times > 0:
            plan.append((room, pattern, times))
            free[room] -= times
            left = [have - times * take for have, take in zip(left, pattern, strict=True)]
    return plan, left, free


class Patterns:
    """The patterns that one bar may have where only so much can be spared."""

    def __init__(self, job: Job, limits: Sequence[Worths], demand: Sequence[int], bars: Sequence[int]) -> None:
        first, *others = limits
        others.sort(key=lambda one: one.spare(demand, bars) / (max(one.tops) or 1))
        self.job = job
        self.limits = [first, *others[: SHARPEST - 1]]
        self._sharp = self.limits[min(1, len(others))]
        self._shift, self._dense = densities(self._sharp.each, job.widths)

    def spare(self, left: Sequence[int], free: Sequence[int]) -> list[int]:
        """What bars still free could spare of each limit."""
        return [one.spare(left, free) for one in self.limits]

    def listed(
        self, left: Sequence[int], room: int, spare: Sequence[int], effort: Effort, steps: int | None = None,
        times: int = 1, of: int = 1, full: bool = False,
    ) -> Iterator[tuple[int, int, Counts]]:  # fmt: skip
        """Each as (what it spares of the sharpest limit, metal left, pattern), with the largest piece left in it.

        For `times` bars alike that leave a multiple of `of` of every piece. `full`: only those to which no piece can be
        added. Ends without a word after so many `steps`, when given.
        """
        size, widths, each = self.job.rooms[room], self.job.widths, self._sharp.each
        most_left = size - self.limits[0].tops[room] + spare[0] // times
        top = self._sharp.tops[room]
        need = top - spare[min(1, len(spare) - 1)] // times
        items = [i for i, have in enumerate(left) if have]
        last = len(items)
        fillable = [0] * (last + 1)  # what all pieces from a place on would fill
        for place in range(last - 1, -1, -1):
            fillable[place] = fillable[place + 1] + (left[items[place]] // times) * widths[items[place]]
        dense = [self._dense[i] for i in items] + [0]
        shift = self._shift
        counts = [0] * len(left)
        effort.spend(SET_UP)
        began = effort.left

        def fill(place: int, rest: int, worth: int, short: int) -> Iterator[tuple[int, int, Counts]]:
            effort.spend(1)
            if place == last:
                yield top - worth, rest, tuple(counts)
                return
            item = items[place]
            width, have, value = widths[item], left[item], each[item]
            most = have // times
            for count in range(min(most, rest // width), -1 if place else 0, -1):
                after = rest - count * width
                bound = min(short, width) if full and count < most else short  # the rest has to end below it
                over = after - fillable[place + 1]
                if over > most_left or over >= bound:
                    break
                if (of > 1 and (have - times * count) % of) or (
                    worth + count * value + (after * dense[place + 1] >> shift) < need
                ):
                    continue
                if steps is not None and began - effort.left > steps:
                    break
                counts[item] = count
                yield from fill(place + 1, after, worth + count * value, bound)
            counts[item] = 0

        return fill(0, size, 0, size + 1)


class _Search:
    """Depth first: the largest piece left goes into some bar, in every way that may still work."""

    def __init__(self, job: Job, limits: Sequence[Worths], effort: Effort, breadth: int | None) -> None:
        self._job, self._limits, self._breadth, self._account = job, limits, breadth, effort
        self._effort = Effort(max(0, effort.left if breadth is None else min(effort.left // 8, HASTY)))
        self._whole = True

    def run(self, demand: Sequence[int], bars: Sequence[int]) -> tuple[list[Cut] | None, bool]:
        """The plan found, and whether the search left nothing out."""
        began = self._effort.left
        self._patterns = Patterns(self._job, self._limits, demand, bars)
        try:
            found = self._descend(list(demand), list(bars))
        except Exhausted:
            found, self._whole = None, False
        self._account.left -= began - max(0, self._effort.left)
        return found, self._whole

    def _descend(self, left: list[int], free: list[int]) -> list[Cut] | None:
        failed: set[tuple[int, ...]] = set()
        path: list[tuple[int, Counts]] = []
        levels = [self._choices(left, free)]
        while levels:
            if not any(left):
                return [(room, pattern, 1) for room, pattern in path]
            state = (*left, *free)
            if not levels[-1] or state in failed:
                levels.pop()
                failed.add(state)
                if path:
                    room, pattern = path.pop()
                    free[room] += 1
                    left = [have + take for have, take in zip(left, pattern, strict=True)]
                continue
            _, _, pattern, room = levels[-1].pop()
            path.append((room, pattern))
            free[room] -= 1
            left = [have - take for have, take in zip(left, pattern, strict=True)]
            levels.append(self._choices(left, free))
        return None

    def _choices(self, left: Sequence[int], free: Sequence[int]) -> list[tuple[int, int, Counts, int]]:
        """The bars that the largest piece left could be cut from, the best last."""
        progress.beat()
        spare = self._patterns.spare(left, free)
        if not any(left) or min(spare) < 0:
            return []
        first = next(i for i, have in enumerate(left) if have)
        steps = None if self._breadth is None else SHORT
        found: list[tuple[int, int, Counts, int]] = []
        for room, size in enumerate(self._job.rooms):
            if free[room] and size >= self._job.widths[first]:
                began = self._effort.left
                patterns = self._patterns.listed(left, room, spare, self._effort, steps, full=True)
                found += [(-spared, -rest, pattern, room) for spared, rest, pattern in patterns]
                if steps is not None and began - self._effort.left > steps:
                    self._whole = False
        found.sort()
        if self._breadth is not None and len(found) > self._breadth:
            self._whole = False
            del found[: -self._breadth]
        return found
