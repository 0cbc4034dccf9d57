"""A minute under load: answers a second and waiting times of one server and of two, errors, memory, and slow clients.

The generator is Python and takes a share of the same processors, so that two servers on a machine with two of them
gain less than they would with a machine to themselves.
"""

import contextlib
import itertools
import socket
import threading
from collections.abc import Callable, Iterator
from time import perf_counter
from urllib.parse import urlencode

from calc import catalogue
from tests.bench import throughput, typed
from tests.bench.kit import Kit
from tests.bench.table import RATIO, Bar, Row, quantile

SLOW = 100  # clients that send a byte now and then
TRICKLE = 0.2  # s between two bytes of one
ONE = "one server"  # which gives each time an answer that it has not given before
STATED = 150  # answers a second that one server is asked for, and does not come near the end of
P99 = Bar(50)
NONE = Bar(0)
EACH = 30  # inputs of each calculation in the mix


class Load:
    """What came of asking in one way: ms of each answer, seconds spent in all, and what went wrong.

    `pace` is how often in a second to ask, over all connections; 0 is as often as there are answers.
    """

    def __init__(self, pace: int = 0) -> None:
        self.pace = pace
        self.waits: list[float] = []
        self.errors: list[str] = []
        self.seconds = 0.0

    @property
    def rate(self) -> float:
        return len(self.waits) / self.seconds


def measure(kit: Kit) -> list[Row]:
    """In turns, so that what else the machine does falls on all alike."""
    number = itertools.count(30_001)
    mixed = itertools.cycle(mix())
    one = (kit.server.port,)
    fit: Callable[[], str] = lambda: f"/api/fit?size={next(number) / 1000}&hole=H7"  # noqa: E731
    two = (kit.server.port, kit.second.port)
    ways: dict[str, tuple[tuple[int, ...], Callable[[], str], int, int]] = {
        "empty view": ((kit.plain.port,), lambda: "/empty", 0, 0),
        ONE: (one, fit, 0, 0),
        "two servers": (two, fit, 0, 0),
        f"one server, asked {STATED} times a second": (one, fit, 0, STATED),
        f"two servers, asked {2 * STATED} times a second": (two, fit, 0, 2 * STATED),
        f"one server, {SLOW} slow clients": (one, fit, SLOW, 0),
        "one server, pages and answers of every calculation": (one, lambda: next(mixed), 0, 0),
    }
    found = {what: Load(pace) for what, (*_, pace) in ways.items()}
    kept = [kit.server.memory]
    for _ in range(kit.samples(few=1, many=6)):
        for what, (ports, path, slow, _) in ways.items():
            with trickling(ports[0], slow):
                press(found[what], ports, path, kit.samples(few=1, many=10))
        kept.append(kit.server.memory)
    return [*(row for what, load in found.items() for row in rows(what, load, found["empty view"])), *memory(kept)]


def rows(what: str, load: Load, empty: Load) -> list[Row]:
    """The rate, its ratio to the empty view, the longest of 99 in 100 waits, and the errors."""
    note = f"{throughput.CONNECTIONS} at once, {load.seconds:.0f} s"
    found = [Row("load", f"{what}: answers a second", load.rate, "/s", None, note, len(load.waits))]
    if load is not empty and not load.pace:
        found.append(
            Row(
                "load",
                f"{what}: to the empty view",
                load.rate / empty.rate,
                RATIO,
                throughput.BAR if what == ONE else None,
            )
        )
    found.append(Row("load", f"{what}: p99", quantile(load.waits, 0.99), "ms", P99, "", len(load.waits)))
    told = "; ".join(dict.fromkeys(load.errors))[:200]
    found.append(Row("load", f"{what}: errors", len(load.errors), "", NONE, told, len(load.waits)))
    return found


def memory(kept: list[float]) -> list[Row]:
    """What the first server holds at the end, and by how much that is more than after its first turn."""
    return [
        Row("load", "memory of one server at the end", kept[-1], "MB"),
        Row("load", "memory of one server, grown since the first turn", kept[-1] - kept[1], "MB"),
    ]


def mix() -> list[str]:
    """Addresses of every calculation in turn, each time with another input: page, pieces for the page, JSON."""
    asked = {name: typed.keyed(name, EACH) for name in catalogue()}
    return [
        f"/{where}/{name}?{urlencode({field: texts[place]})}"
        for place, where in enumerate(itertools.islice(itertools.cycle(("c", "part/sheet", "api")), EACH))
        for name, (field, texts) in asked.items()
    ]


def press(load: Load, ports: tuple[int, ...], path: Callable[[], str], seconds: float) -> None:
    """Ask on a few connections at once, shared between the ports; a connection that fails is counted and made anew."""
    began = perf_counter()
    clock = threading.Event()  # never set: it is only waited for

    def one_connection(port: int) -> None:
        due = began
        while perf_counter() < began + seconds:
            try:
                for wait in throughput.answers(port, path, "", began + seconds):
                    load.waits.append(wait)
                    due += throughput.CONNECTIONS / load.pace if load.pace else 0
                    if due > perf_counter():
                        clock.wait(due - perf_counter())
            except OSError as problem:
                load.errors.append(str(problem))

    threads = [
        threading.Thread(target=one_connection, args=(ports[place % len(ports)],))
        for place in range(throughput.CONNECTIONS)
    ]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    load.seconds += perf_counter() - began


@contextlib.contextmanager
def trickling(port: int, many: int) -> Iterator[None]:
    """So many clients that never come to the end of their request, each with a byte more from time to time."""
    over = threading.Event()

    def trickle() -> None:
        with contextlib.ExitStack() as stack:
            lines = [
                stack.enter_context(socket.create_connection(("127.0.0.1", port), timeout=10)) for _ in range(many)
            ]
            for line in lines:
                line.sendall(b"GET /healthz HTTP/1.1\r\nHost: ")
            ready.set()
            while not over.wait(TRICKLE):
                for line in lines:
                    with contextlib.suppress(OSError):
                        line.sendall(b"x")

    ready = threading.Event()
    thread = threading.Thread(target=trickle)
    thread.start()
    ready.wait(20)
    try:
        yield
    finally:
        over.set()
        thread.join()
