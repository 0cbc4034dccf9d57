"""How many answers the server gives in a second, beside the emptiest view under the same waitress."""

import itertools
import socket
import threading
from collections.abc import Callable, Iterator
from time import perf_counter

from tests.bench.kit import Kit
from tests.bench.table import RATIO, Bar, Row, median, quantile

CONNECTIONS = 4
BAR = Bar(0.5, least=True)
Paths = Callable[[], str]


def measure(kit: Kit) -> list[Row]:
    """Bursts in turn, so that what else the machine does falls on all alike; the ratio is of the medians."""
    number = itertools.count(30_001)
    asked: dict[str, tuple[int, Paths, str]] = {
        "empty view": (kit.plain.port, lambda: "/empty", ""),
        "fit, another size each time": (kit.server.port, lambda: f"/api/fit?size={next(number) / 1000}&hole=H7", ""),
        "fit, another size each time, gzip": (
            kit.server.port, lambda: f"/api/fit?size={next(number) / 1000}&hole=H7", "gzip"),
        "fit, the same link": (kit.server.port, lambda: "/api/fit?size=30&hole=H7&shaft=k6", ""),
    }  # fmt: skip
    seconds = kit.samples(few=1, many=2) / 2
    rates: dict[str, list[float]] = {what: [] for what in asked}
    waits: dict[str, list[float]] = {what: [] for what in asked}
    for _ in range(kit.samples(few=2, many=7)):
        for what, (port, path, encoding) in asked.items():
            taken, spent = burst(port, path, encoding, seconds)
            rates[what].append(len(taken) / spent)
            waits[what] += taken
    rows = []
    for what in asked:
        rows.append(Row("server", f"{what}: answers a second", median(rates[what]), "/s", samples=len(rates[what])))
        if what != "empty view":
            share = median(rates[what]) / median(rates["empty view"])
            rows.append(Row("server", f"{what}: to the empty view", share, RATIO, BAR, samples=len(rates[what])))
        note = f"{CONNECTIONS} at once"
        rows.append(Row("server", f"{what}: p99", quantile(waits[what], 0.99), "ms", None, note, len(waits[what])))
    return rows


def burst(port: int, path: Paths, encoding: str, seconds: float) -> tuple[list[float], float]:
    """Ask on a few connections at once for so many seconds: ms of each answer, and the seconds really spent."""
    waits: list[float] = []
    failures: list[BaseException] = []
    began = perf_counter()

    def one_connection() -> None:
        try:
            for wait in answers(port, path, encoding, began + seconds):
                waits.append(wait)
        except BaseException as problem:
            failures.append(problem)

    threads = [threading.Thread(target=one_connection) for _ in range(CONNECTIONS)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    if failures:
        raise failures[0]
    return waits, perf_counter() - began


def answers(port: int, path: Paths, encoding: str, until: float) -> Iterator[float]:
    """Ask and read on one connection that stays open; ConnectionError for anything but a 200."""
    accept = f"Accept-Encoding: {encoding}\r\n" if encoding else ""
    with socket.create_connection(("127.0.0.1", port), timeout=10) as line:
        line.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        while (began := perf_counter()) < until:
            line.sendall(f"GET {path()} HTTP/1.1\r\nHost: 127.0.0.1\r\n{accept}\r\n".encode())
            reply = b""
            while (end := reply.find(b"\r\n\r\n")) < 0:
                reply += _more(line)
            head = reply[:end].lower()
            if not head.startswith(b"http/1.1 200 "):
                raise ConnectionError(f"the server answered {head.splitlines()[0]!r}")
            length = end + 4 + int(head.partition(b"\r\ncontent-length:")[2].split(b"\r\n", 1)[0])
            while len(reply) < length:
                reply += _more(line)
            yield 1000 * (perf_counter() - began)


def _more(line: socket.socket) -> bytes:
    piece = line.recv(65536)
    if not piece:
        raise ConnectionError("the server hung up")
    return piece
