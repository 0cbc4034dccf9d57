"""What a long calculation knows so far, told while it is still at work.

A calculation calls `found` when it knows something worth showing, and `beat` wherever it has been at work for a while.
Nobody need listen, and the answer is the same whether anybody does: the clock only decides when something is told.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from time import monotonic

from calc.model import Result

FIRST, PAUSE = 0.7, 0.5  # s until something is told, and from one time to the next

Tell = Callable[[Result | None], object]


class Ear:
    """Listens to one calculation. `tell` gets the last that was found since the time before, None as a sign of life."""

    def __init__(self, tell: Tell, clock: Callable[[], float] = monotonic) -> None:
        self._tell, self._clock = tell, clock
        self._due = clock() + FIRST
        self._make: Callable[[], Result] | None = None

    def found(self, make: Callable[[], Result]) -> None:
        """Keep how to make what is known now; it takes the place of what was not told yet."""
        self._make = make

    def beat(self) -> None:
        """Tell, if it is time to."""
        if self._clock() < self._due:
            return
        make, self._make = self._make, None
        self._tell(None if make is None else make())
        self._due = self._clock() + PAUSE


_ear: ContextVar[Ear | None] = ContextVar("ear", default=None)


@contextmanager
def heard_by(ear: Ear | None) -> Iterator[None]:
    """What is told inside goes to `ear`."""
    before = _ear.set(ear)
    try:
        yield
    finally:
        _ear.reset(before)


def found(make: Callable[[], Result]) -> None:
    """Something is known: `make` gives it as a result. It is called later, once, or never, and must change nothing."""
    ear = _ear.get()
    if ear is not None:
        ear.found(make)


def beat() -> None:
    """A sign of life out of a long search."""
    ear = _ear.get()
    if ear is not None:
        ear.beat()
