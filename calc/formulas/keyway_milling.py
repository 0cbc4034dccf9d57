"""Milling a keyway: where the cutter touches, what the dial says at the bottom, how far the cutter travels.

Lengths in mm, plain geometry. A depth counts from the crown that the shaft has while it is cut. A slot is cut by an
end mill or slot drill, standing over the shaft, or by a disc cutter that runs along it.
"""

import math
import re
from dataclasses import dataclass

from calc.formulas.keys import sagitta
from calc.model import CalcError

ONE_MM = 1.0
MOST_TEETH = 60
CLEAR = 2.0  # mm by which a cutter starts clear of the end of the shaft; common practice, no source
PLUNGE = 0.5  # of the feed along the slot is what a cutter is fed down with; common practice, no source

#: What is cut with which cutter.
SLOTS = {
    "closed": "closed, end mill or slot drill",
    "open": "open at one end, end mill or slot drill",
    "open disc": "open at one end, disc cutter",
    "sled": "sled runner, disc cutter",
}
DISC = frozenset({"open disc", "sled"})
FORMS = {"round": "round-ended", "square": "square-ended"}
TOUCHES = {
    "crown": "crown of the shaft",
    "flat": "first flat as wide as the cutter",
    "far": "what the far side lies on",
    "over": "measured over shaft and disc",
}


def read_teeth(text: str) -> int:
    """How many teeth the cutter has, as a whole number. CalcError with a sentence for the user."""
    match = re.fullmatch(r"(\d{1,3}) ?(?:teeth|tooth|flutes?|z)?", text.strip(), re.IGNORECASE)
    if match is None or not 1 <= int(match[1]) <= MOST_TEETH:
        raise CalcError(f"Give a whole number of teeth from 1 to {MOST_TEETH}.")
    return int(match[1])


def chord(depth: float, disc: float) -> float:
    """Half of what a disc of that diameter cuts along a flat when it is sunk by `depth`: sqrt(t (Dc - t)).

    So far it runs out past the end of the full depth, and so far from the end of the shaft it begins to cut.
    """
    return math.sqrt(depth / ONE_MM * ((disc - depth) / ONE_MM)) * ONE_MM


def disc_for(depth: float, room: float) -> float:
    """The largest disc whose run-out from that depth stays within `room`: room²/t + t."""
    return room**2 / depth + depth


def centre_move(diameter: float, touching: float, paper: float) -> float:
    """From touching the side of the shaft to its axis; `touching` is the width of what touches."""
    return diameter / 2 + touching / 2 + paper


def collar(depth: float, disc: float) -> float:
    """The diameter under which collars and nut of the arbor clear the crown at that depth."""
    return disc - 2 * depth


@dataclass(frozen=True)
class Touch:
    """How the dial counts: it stands at 0 with the cutter `zero` below the crown, then into the shaft or out of it."""

    way: str
    zero: float
    inwards: bool = True

    def reading(self, depth: float) -> float:
        """The dial when the cutter is `depth` below the crown."""
        return depth - self.zero if self.inwards else self.zero - depth

    @property
    def cut(self) -> float:
        """How deep the cutter already is when the dial is set to 0."""
        return max(self.zero, 0.0) if self.inwards else 0.0


def touch(way: str, diameter: float, width: float, paper: float, disc: float, over: float | None) -> Touch:
    """Where the dial is set to 0.

    `crown`: the cutter grips paper on the crown. `flat`: it has cut a flat that is just as wide as itself. `far`: it
    grips paper on what the shaft lies on and is lifted from there. `over`: `over` was measured from the far side of
    the shaft over the top of the disc; where it was not measured the disc just touches the crown.
    """
    if way == "crown":
        return Touch(way, -paper)
    if way == "flat":
        return Touch(way, sagitta(diameter, width))
    if way == "far":
        return Touch(way, diameter - paper, inwards=False)
    return Touch(way, 0.0 if over is None else diameter + disc - over)


def over_cutter(diameter: float, depth: float, disc: float) -> float:
    """From the far side of the shaft over the top of a disc that stands at that depth."""
    return diameter - depth + disc


@dataclass(frozen=True)
class Run:
    """Lengths along the shaft.

    `slot` what is open on the crown from end to end, `full` what has the full depth, `travel` what the cutter moves
    in each pass, `run_out` past each end that runs out, `plunges` whether it is fed down into the work.
    """

    slot: float
    full: float
    travel: float
    run_out: float
    plunges: bool


def run(slot: str, form: str, length: float, width: float, depth: float, disc: float) -> Run:
    """Slot and travel for a key `length` long; `width` is that of the cutter, `disc` the diameter of a disc cutter.

    A round-ended key needs a slot of its own length. A square-ended one needs straight sides of its own length, so
    each round end of the slot adds half the cutter. Under a disc the full depth is as long as either key.
    """
    if slot in DISC:
        out = chord(depth, disc)
        if slot == "sled":
            return Run(length + 2 * out, length, length, out, True)
        return Run(length + out, length, out + CLEAR + length, out, False)
    ends = (2 if slot == "closed" else 1) if form == "square" else 0
    overall = length + ends * width / 2
    travel = overall - width if slot == "closed" else CLEAR + overall
    return Run(overall, overall, travel, 0.0, slot == "closed")


def cutting_time(run: Run, depth: float, passes: int, feed_rate: float, widening: int) -> float:
    """Minutes of cutting: every pass with its feed down, and `widening` more passes along the sides."""
    down = depth / (PLUNGE * feed_rate) if run.plunges else 0.0 * (depth / feed_rate)
    return (passes + widening) * run.travel / feed_rate + down
