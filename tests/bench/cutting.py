"""How the cut list grows with the number of pieces and of different lengths, and how many lists are proved."""

from collections.abc import Iterator
from random import Random
from time import perf_counter

from calc import answer
from tests.bench.kit import Kit
from tests.bench.table import Bar, Row, median_and_p95

BAR = Bar(150)  # ms; the browser takes three to five times as long, and a second there is what one waits for
SIZES = ((60, 12), (120, 12), (250, 12), (500, 12), (60, 20), (250, 20), (500, 20), (250, 40), (500, 40))


def measure(kit: Kit) -> list[Row]:
    rows = []
    for pieces, lengths in SIZES:
        took: list[float] = []
        proved = 0
        for typed in lists(pieces, lengths, kit.samples(few=3, many=20)):
            began = perf_counter()
            found = answer("cut_list", typed)
            took.append(1000 * (perf_counter() - began))
            proved += found.verdict is not None and found.verdict.level == "good"
        bar = BAR if (pieces, lengths) == SIZES[0] else None
        note = f"{proved} of {len(took)} proved"
        rows += median_and_p95("cutting", f"{pieces} pieces of {lengths} lengths", took, bar, note)
    return rows


def lists(pieces: int, lengths: int, count: int) -> Iterator[dict[str, str]]:
    """So many lists at random, the same in every run: bars of 3000 or 6000 for sale, a kerf of 1.5."""
    for place in range(count):
        dice = Random(f"cut {pieces} {lengths} {place}")
        bar = (3000, 6000)[place % 2]
        sizes = dice.sample(range(bar // 20, bar * 6 // 10), lengths)
        wanted = dict.fromkeys(sizes, 1)
        for _ in range(pieces - lengths):
            wanted[dice.choice(sizes)] += 1
        text = ", ".join(f"{many} x {size}" for size, many in wanted.items())
        yield {"pieces": text, "bars": str(bar), "kerf": "1.5"}
