"""A keyway as it will be cut: everything that the answer says about it, worked out once."""

from dataclasses import dataclass

from calc.formulas import cutting, keys, slot_speeds
from calc.formulas import keyway_milling as milling
from calc.formulas.keys import Key, Span
from calc.formulas.keyway_milling import DISC, Run, Touch
from calc.formulas.slot_speeds import Speed, ToothFeed
from calc.formulas.work_materials import Found
from calc.model import InputError
from calc.steps import Steps
from calc.units import settle, show

MOST_PASSES = 40
DEEPEST, DEEPEST_DISC = 0.25, 0.5  # of the cutter's width in one pass; common practice, no source
OVERCUT = 0.02  # mm by which a full-width cut comes out over the cutter, about; common practice, no source
WIDENED = 3  # times the cutter is the widest slot that three cuts leave clean
HIGHEST = 50.0  # mm over the shaft from which a reading over the disc is surely a slip


@dataclass(frozen=True)
class Asked:
    """What was typed about cutter and slot, lengths in mm; `width` of the cutter where it was typed."""

    slot: str
    form: str
    length: float
    width: float | None
    disc: float
    touch: str
    paper: float
    over: float | None
    finder: float | None
    largest: float | None
    room: float | None


@dataclass(frozen=True)
class Plan:
    """The cut. `depth` from the crown that the shaft has now; `side` is the move to each side that widens the slot."""

    key: Key
    fit_class: str
    now: float
    finished: float
    final_depth: float
    depth: float
    asked: Asked
    width: float
    span: Span | None
    target: float
    side: float
    touch: Touch
    touching: float
    paper: float
    move: float
    passes: int
    run: Run

    @property
    def each(self) -> float:
        """Depth of each pass, mm."""
        return (self.depth - self.touch.cut) / self.passes

    @property
    def by_disc(self) -> bool:
        return self.asked.slot in DISC

    @property
    def stop(self) -> float:
        """The dial at full depth, mm."""
        return self.touch.reading(self.depth)

    @property
    def blocked(self) -> bool:
        """Whether a run-out reaches what comes next on the shaft."""
        return self.asked.room is not None and settle(self.run.run_out) > settle(self.asked.room)

    @property
    def oversize(self) -> bool:
        """Whether one cut of the cutter's own width would come out wider than the slot may be."""
        return self.span is not None and self.side == 0 and settle(self.width + OVERCUT) > settle(self.span[1])

    def said(self, size: float) -> str:
        """A length as the standard of the key is written: in mm or in inches."""
        return show(size, "length", 3) if self.key.system == "metric" else show(size, "length", 4, unit="inch")


@dataclass(frozen=True)
class Running:
    """How the cutter runs; None where it is not known. Speeds in m/min and rev/min, feeds in mm, times in min."""

    speed: Speed | None
    feed: ToothFeed | None
    diameter: float
    teeth: int | None
    spindle: float | None
    slowest: bool
    rate: float | None
    time: float | None


def plan(key: Key, fit_class: str, now: float, finished: float, asked: Asked) -> Plan:
    """Raises InputError where cutter, key and way of touching do not go together."""
    final = keys.crown_depth(key, finished)
    depth = final + (now - finished) / 2
    slots = keys.slot_widths(key, fit_class)
    span = slots[0] if slots else None
    target = sum(span) / 2 if span else key.width
    width = _width(key, asked, span, target)
    narrow = settle(width + OVERCUT) < settle(span[0] if span else key.width)
    side = (target - width) / 2 if narrow else 0.0
    _check(key, asked, now, depth)
    touch = milling.touch(asked.touch, now, width, asked.paper, asked.disc, asked.over)
    _check_over(asked, now, depth, touch)
    remaining = depth - touch.cut
    share = DEEPEST_DISC if asked.slot in DISC else DEEPEST
    largest = asked.largest if asked.largest is not None else share * width
    passes = cutting.passes(remaining, largest)
    if passes > MOST_PASSES:
        least = show(remaining / MOST_PASSES, "length", 2)
        raise InputError("largest_pass", f"That makes {passes} passes. Give over {least} for each.")
    touching, paper = (width, asked.paper) if asked.finder is None else (asked.finder, 0.0)
    return Plan(
        key, fit_class, now, finished, final, depth, asked, width, span, target, side, touch, touching, paper,
        milling.centre_move(now, touching, paper), passes,
        milling.run(asked.slot, asked.form, asked.length, width, depth, asked.disc),
    )  # fmt: skip


def running(
    cut: Plan, material: Found, cutter: str, teeth: int | None, speeds: Steps, speed: float | None, feed: float | None
) -> Running:
    """`speed` in m/min and `feed` in mm for each tooth where they were typed; else what is published."""
    taken = slot_speeds.speed(material, cutter, cut.by_disc)
    if speed is not None:
        highest = None if taken is None else (taken.high, show(taken.high, "cutting_speed"))
        taken = Speed(speed, speed, speed, (), (), _over("speed", speed, highest))
    per_tooth = slot_speeds.tooth_feed(material, cutter, cut.by_disc, cut.width)
    if feed is not None:
        highest = None if per_tooth is None else (per_tooth.high, show(per_tooth.high, "length", 3))
        per_tooth = ToothFeed(feed, feed, feed, (), _over("feed for each tooth", feed, highest))
    diameter = cut.asked.disc if cut.by_disc else cut.width
    count = teeth if teeth is not None or cut.by_disc else slot_speeds.LIPS
    spindle, slowest = None, False
    if taken is not None:
        spindle = speeds.at_or_below(cutting.spindle_speed(taken.taken, diameter))
        if spindle is None and settle(cutting.cutting_speed(speeds.lowest, diameter)) <= settle(taken.high):
            spindle, slowest = speeds.lowest, True
    rate = time = None
    if spindle is not None and per_tooth is not None and count is not None:
        rate = cutting.feed_rate(per_tooth.taken * count, spindle)
        time = milling.cutting_time(cut.run, cut.depth - cut.touch.cut, cut.passes, rate, 2 if cut.side else 0)
    return Running(taken, per_tooth, diameter, count, spindle, slowest, rate, time)


def _over(what: str, own: float, highest: tuple[float, str] | None) -> tuple[str, ...]:
    """What to say of a figure of one's own that is over the `highest` known, its number and its words."""
    if highest is None or settle(own) <= settle(highest[0]):
        return ()
    return (f"Your {what} is over what is known for this cut, {highest[1]} at most.",)


def _width(key: Key, asked: Asked, span: Span | None, target: float) -> float:
    """The cutter's width: as wide as the key where none is typed."""
    if asked.width is None:
        return key.width
    least, most = target / WIDENED, max(span[1] if span else key.width, key.width)
    if not settle(least) <= settle(asked.width) <= settle(most):
        ends = f"from {show(least, 'length', 3)} to {show(most, 'length', 3)}"
        raise InputError("cutter_width", f"Give a cutter {ends} wide for the {key} key.")
    return asked.width


def _check(key: Key, asked: Asked, now: float, depth: float) -> None:
    if asked.form == "round" and settle(asked.length) <= settle(key.width):
        raise InputError(
            "key_length", f"A round-ended key is longer than it is wide. Give over {show(key.width, 'length')}."
        )
    if asked.slot in DISC and settle(asked.disc) <= settle(2 * depth):
        raise InputError(
            "disc_diameter",
            f"That disc cannot reach {show(depth, 'length')} deep. Give over {show(2 * depth, 'length')}.",
        )
    if asked.touch == "over" and asked.slot not in DISC:
        raise InputError("touch", "Only a disc can be measured over. Choose another way, or a slot for a disc cutter.")


def _check_over(asked: Asked, now: float, depth: float, touch: Touch) -> None:
    if asked.touch != "over" or asked.over is None:
        return
    if settle(touch.zero) >= settle(depth) or settle(touch.zero) < settle(-HIGHEST):
        least, most = milling.over_cutter(now, depth, asked.disc), now + asked.disc + HIGHEST
        raise InputError(
            "over_reading",
            f"Over this shaft and this disc give over {show(least, 'length')} up to {show(most, 'length')}.",
        )
