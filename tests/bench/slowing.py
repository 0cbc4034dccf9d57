"""A slower device: all processes of a browser are stopped for most of each few milliseconds. Linux only.

The browser's own way of slowing a page down leaves its workers, and so the engine, as fast as they were.
"""

import contextlib
import os
import signal
import threading
from collections.abc import Iterator
from pathlib import Path

PROC = Path("/proc")
TURN = 0.020  # seconds in which it runs once and stands still once
AGAIN = 5  # turns until it is looked for new processes


def possible() -> bool:
    return (PROC / "self" / "stat").exists()


@contextlib.contextmanager
def slowed(root: int, rate: int) -> Iterator[None]:
    """Let the process `root` and all that descend from it run only 1/`rate` of the time, while this lasts."""
    over = threading.Event()
    turning = threading.Thread(target=_turn, args=(root, rate, over))
    turning.start()
    try:
        yield
    finally:
        over.set()
        turning.join()


def _turn(root: int, rate: int, over: threading.Event) -> None:
    running = TURN / rate
    while not over.is_set():
        family = _descendants(root)
        for _ in range(AGAIN):
            over.wait(running)
            _tell(family, signal.SIGSTOP)
            over.wait(TURN - running)
            _tell(family, signal.SIGCONT)


def _tell(processes: set[int], what: signal.Signals) -> None:
    for one in processes:
        with contextlib.suppress(ProcessLookupError):
            os.kill(one, what)


def _descendants(root: int) -> set[int]:
    children: dict[int, list[int]] = {}
    for stat in PROC.glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):
            number, _, rest = stat.read_text("utf-8").partition(" (")
            children.setdefault(int(rest.rpartition(") ")[2].split()[1]), []).append(int(number))
    found, coming = set(), [root]
    while coming:
        one = coming.pop()
        found.add(one)
        coming += children.get(one, [])
    return found


def process_of(profile: Path) -> int:
    """The browser that was started with this profile; LookupError when none is."""
    for line in PROC.glob("[0-9]*/cmdline"):
        with contextlib.suppress(OSError):
            words = line.read_bytes().split(b"\0")
            if f"--user-data-dir={profile}".encode() in words and not any(one.startswith(b"--type=") for one in words):
                return int(line.parent.name)
    raise LookupError(f"no browser runs with {profile}")
