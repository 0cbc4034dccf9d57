"""How few bars a list of pieces can need: bounds that hold exactly, found with floats and proved in whole numbers.

A piece of width w (its length and one kerf) goes into bars of a room (length without the trims, and one kerf: the
cut behind the last piece is saved where it ends with the bar). A pattern says how many of each piece one bar gives.

If every piece is given a worth, and no pattern out of a bar is worth more than that bar's top, then bars whose tops
together fall short of the worth of all pieces cannot hold them, whatever the worths are. Good worths are the prices
of the linear relaxation (Gilmore and Gomory), solved here by column generation. Floats only propose the worths:
they are rounded to whole numbers first and the tops found for those, so that no bound rests on a rounding.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from operator import mul

from calc import progress

Counts = tuple[int, ...]  # of each width, in their order
Column = tuple[float, int, Counts]  # how often, out of which room, which pattern

WORTH = 1_000_000  # what a whole bar is worth, about
NIL = 1e-9
TRACE = 1e-4  # what tells one demand from another
SAVING = 1e-7  # a pattern that saves less of a bar's price does not pay
DEAR = 3.0  # price of leaving a piece out, against its share of a bar; raised so many times when it does not do
DEAREST = 100.0
PRICING = 3000  # steps of one search for a pattern that pays
ENOUGH = 150  # steps after which a pattern that pays will do
BOUNDING = 30_000  # steps of one proof of a top


class Exhausted(Exception):
    """The steps allowed for a search are used up."""


class Effort:
    """Steps that a search may still take. Counted, not timed: every machine gives up at the same place."""

    __slots__ = ("left",)

    def __init__(self, steps: int) -> None:
        self.left = steps

    def spend(self, steps: int) -> None:
        """Exhausted when there are not so many left."""
        self.left -= steps
        if self.left < 0:
            raise Exhausted


@dataclass(frozen=True)
class Bars:
    """Bars of one room: how many there are (None for any number), and the price of one against another."""

    room: int
    count: int | None
    price: int


@dataclass(frozen=True)
class Worths:
    """A worth for each width, and for each room the most that one bar's pattern is worth or could be."""

    each: Counts
    tops: tuple[int, ...]

    def spare(self, demand: Sequence[int], bars: Sequence[int]) -> int:
        """By how much the tops of those bars pass the worth of the pieces; below nought they cannot hold them."""
        have = sum(top * count for top, count in zip(self.tops, bars, strict=True))
        return have - sum(worth * count for worth, count in zip(self.each, demand, strict=True))


def densities(worths: Sequence[int], widths: Sequence[int]) -> tuple[int, list[int]]:
    """A shift, and for each place the greatest worth per width from there on, times 2**shift, rounded up."""
    shift = 2 * max(widths).bit_length() + 2
    most, found = 0, [0]
    for worth, width in zip(reversed(worths), reversed(widths), strict=True):
        most = max(most, -((-worth << shift) // width))
        found.append(most)
    return shift, found[::-1]


def fullest(
    worths: Sequence[int],
    widths: Sequence[int],
    demand: Sequence[int],
    room: int,
    steps: int,
    over: int = -1,
    enough: int | None = None,
) -> tuple[int, Counts, int, int]:
    """The pattern worth most: (worth, pattern, what none is worth more than, steps taken).

    Branch and bound; past `steps` the best found is given and the third figure is larger than the first. Only what
    is worth more than `over` is looked for: where nothing is, the pattern is empty and both figures are `over`.
    Once there is one, the search ends after `enough` steps.
    """
    scale = 2 * max(widths).bit_length() + 2
    order = sorted(
        (i for i in range(len(widths)) if worths[i] > 0 and demand[i] and widths[i] <= room),
        key=lambda i: -((worths[i] << scale) // widths[i]),
    )
    if not order:
        return max(0, over), (0,) * len(widths), max(0, over), 1
    worth, width = [worths[i] for i in order], [widths[i] for i in order]
    most = [demand[i] for i in order]
    shift, dense = densities(worth, width)
    last = len(order)
    counts, kept = [0] * last, [0] * last
    best, value, rest, place, taken = over, 0, room, 0, 0
    while True:
        while place < last and value + (rest * dense[place] >> shift) > best:
            fit = min(rest // width[place], most[place])
            counts[place] = fit
            rest -= fit * width[place]
            value += fit * worth[place]
            place += 1
            taken += 1
        if place == last:
            if value > best:
                best, kept = value, counts.copy()
                steps = steps if enough is None else enough
        elif place:
            # one fewer of the piece before did not pay, so still fewer of it will not: it is the denser one
            place -= 1
            rest += counts[place] * width[place]
            value -= counts[place] * worth[place]
            counts[place] = 0
        place -= 1
        while place >= 0 and not counts[place]:
            place -= 1
        if place < 0 or taken > steps:
            break
        counts[place] -= 1
        rest += width[place]
        value -= worth[place]
        place += 1
    pattern = [0] * len(widths)
    for i, count in zip(order, kept, strict=True):
        pattern[i] = count
    ceiling = best if place < 0 else max(best, room * dense[0] >> shift)
    return best, tuple(pattern), ceiling, taken


def worths(
    each: Sequence[int],
    widths: Sequence[int],
    demand: Sequence[int],
    rooms: Sequence[int],
    effort: Effort,
    known: Iterable[Counts] = (),
) -> Worths:
    """The worths with a top for every room; one too laborious to find exactly is set too high, never too low.

    `known` are patterns that are worth much, from which the search for better ones sets out.
    """
    much = sorted({(sum(map(mul, pattern, each)), sum(map(mul, pattern, widths))) for pattern in known}, reverse=True)
    tops = []
    for room in rooms:
        progress.beat()
        over = next((worth for worth, width in much if width <= room), -1)
        _, _, top, taken = fullest(each, widths, demand, room, min(BOUNDING, max(0, effort.left)), over)
        effort.left -= taken
        tops.append(top)
    return Worths(tuple(each), tuple(tops))


def _times(column: Iterable[tuple[int, float]], row: Sequence[float]) -> float:
    """Their product, added up one by one: newer versions of Python add floats by `sum` in a way of their own."""
    total = 0.0
    for i, times in column:
        total += times * row[i]
    return total


class Relaxation:
    """The linear relaxation: what share of which pattern gives all pieces at the least price.

    Solved by the revised simplex method with an explicit inverse, patterns taken in as they pay.
    """

    def __init__(self, widths: Sequence[int], demand: Sequence[int], bars: Sequence[Bars]) -> None:
        self._widths, self._demand, self._bars = widths, demand, bars
        limited = [place for place, one in enumerate(bars) if one.count is not None]
        self._row = {place: len(widths) + row for row, place in enumerate(limited)}
        longest = max(one.room for one in bars)
        # at the start every piece is left out, dearly, and every limited bar is idle; demands set apart by a trace
        # have no ties, on which the simplex method could go round in circles
        self._levels = [count + TRACE * (i + 1) for i, count in enumerate(demand)]
        self._levels += [float(bars[place].count or 0) for place in limited]
        rows = range(len(self._levels))
        self._inverse = [[float(i == j) for j in rows] for i in rows]
        self._basis: list[tuple[int, Counts] | None] = [None for _ in rows]
        self._left_out = [DEAR * width / longest for width in widths] + [0.0 for _ in limited]
        self._prices = self._left_out.copy()
        self._pool: dict[tuple[int, Counts], list[tuple[int, float]]] = {}
        self._turn = 0

    def seed(self, place: int, pattern: Counts) -> None:
        """Offer a pattern out of the bars of that place."""
        column = [(i, float(count)) for i, count in enumerate(pattern) if count]
        if place in self._row:
            column.append((self._row[place], 1.0))
        self._pool[place, pattern] = column

    def solve(self, effort: Effort) -> None:
        """Go on until no pattern makes it cheaper, or the steps are used up."""
        rows = len(self._levels)
        try:
            while self._improve(effort):
                effort.spend(rows * rows // 8 + len(self._pool))
        except Exhausted:
            pass

    def prices(self) -> list[int]:
        """What each piece adds to the price, as whole worths: about WORTH for a bar full of it."""
        raw = [max(0.0, one) for one in self._prices[: len(self._widths)]]
        longest = max(one.room for one in self._bars)
        top = max(price * (longest // width) for price, width in zip(raw, self._widths, strict=True)) or 1.0
        return [int(WORTH * price / top) for price in raw]

    def columns(self) -> list[Column]:
        """The patterns in use and how often, the most used first."""
        used = [(level, *one) for level, one in zip(self._levels, self._basis, strict=True) if one is not None]
        return sorted((one for one in used if one[0] > NIL), key=lambda one: (-one[0], one[1:]))

    def _improve(self, effort: Effort) -> bool:
        """Take in the pattern that pays best; False when none pays."""
        progress.beat()
        best, entering = min(((self._saved(one), one) for one in self._pool), default=(0.0, None))
        if best > -SAVING:
            best, entering = self._priced(effort)
        if entering is not None and best <= -SAVING:
            self._enter(self._pool[entering], best, entering)
            return True
        return self._idle() or self._dearer()

    def _priced(self, effort: Effort) -> tuple[float, tuple[int, Counts] | None]:
        """A new pattern that pays, and what it saves; the bars are asked in turn."""
        scale = WORTH / (max(self._prices[: len(self._widths)]) or 1.0)
        whole = [int(scale * max(0.0, one)) for one in self._prices[: len(self._widths)]]
        for step in range(len(self._bars)):
            place = (self._turn + step) % len(self._bars)
            bar = self._bars[place]
            idle = self._prices[self._row[place]] if place in self._row else 0.0
            over = max(0, int(scale * (bar.price - idle + SAVING)) + 1)
            _, pattern, _, taken = fullest(whole, self._widths, self._demand, bar.room, PRICING, over, ENOUGH)
            effort.spend(taken)
            if any(pattern) and (place, pattern) not in self._pool:
                self.seed(place, pattern)
                saved = self._saved((place, pattern))
                if saved <= -SAVING:
                    self._turn = place
                    return saved, (place, pattern)
        return 0.0, None

    def _idle(self) -> bool:
        """Take in what costs nothing: a piece too many, or a bar left whole."""
        for row, price in enumerate(self._prices):
            sign = -1.0 if row < len(self._widths) else 1.0
            if sign * price > SAVING:
                self._enter([(row, sign)], -sign * price, None)
                return True
        return False

    def _dearer(self) -> bool:
        """Raise the price of leaving out a piece while that is still done; not without end, as it may have to be."""
        again = False
        for row, price in enumerate(self._left_out):
            if self._levels[row] > NIL and 0 < price < DEAREST:
                more = price * (DEAR - 1)
                self._left_out[row] += more
                self._prices = [have + more * one for have, one in zip(self._prices, self._inverse[row], strict=True)]
                again = True
        return again

    def _saved(self, one: tuple[int, Counts]) -> float:
        return self._bars[one[0]].price - _times(self._pool[one], self._prices)

    def _enter(self, column: list[tuple[int, float]], saved: float, what: tuple[int, Counts] | None) -> None:
        """One step of the simplex method."""
        moves = [_times(column, row) for row in self._inverse]
        least, leaving = float("inf"), -1
        for i, move in enumerate(moves):
            if move > NIL and self._levels[i] / move < least - NIL:
                least, leaving = self._levels[i] / move, i
        if leaving < 0:
            raise Exhausted  # only rounding can bring this about: what was found so far holds
        pivot = moves[leaving]
        turned = [one / pivot for one in self._inverse[leaving]]
        for i, move in enumerate(moves):
            if i != leaving and abs(move) > 1e-12:
                self._inverse[i] = [have - move * one for have, one in zip(self._inverse[i], turned, strict=True)]
                self._levels[i] = max(0.0, self._levels[i] - least * move)
        self._inverse[leaving], self._levels[leaving], self._basis[leaving] = turned, least, what
        self._left_out[leaving] = 0.0
        self._prices = [have + saved * one for have, one in zip(self._prices, turned, strict=True)]
