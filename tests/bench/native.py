"""Answer times of this Python: the calculation and its JSON, and the calculation and its HTML."""

from collections.abc import Callable
from time import perf_counter

from calc import answer_json, catalogue
from calc.sheet import sheet
from tests.bench.kit import LEAST, Kit
from tests.bench.table import Row, median_and_p95
from tests.bench.typed import Typed, answered

WAYS: dict[str, Callable[[str, Typed], str]] = {"JSON": answer_json, "sheet": sheet}


SECONDS = 20


def measure(kit: Kit) -> list[Row]:
    rows = []
    share = kit.patience(SECONDS) / len(catalogue()) / len(WAYS)
    for name in catalogue():
        inputs = answered(name, kit.samples(few=20, many=200))
        for way, function in WAYS.items():
            function(name, {})  # tables are read once in a process
            rows += median_and_p95("native", f"{name}, {way}", timed(function, name, inputs, share))
    return rows


def timed(function: Callable[[str, Typed], str], name: str, inputs: list[Typed], seconds: float) -> list[float]:
    """ms of one answer after the other, for so many seconds."""
    took: list[float] = []
    end = perf_counter() + seconds
    for typed in inputs:
        began = perf_counter()
        function(name, typed)
        now = perf_counter()
        took.append(1000 * (now - began))
        if now > end and len(took) >= LEAST:
            break
    return took
