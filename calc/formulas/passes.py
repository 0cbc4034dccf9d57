"""The cuts from a bar to size: roughing cuts of equal depth, a semi-finishing one, a finishing one, and their cost.

Sizes are Decimal mm as they read now, depths Decimal mm on radius, so that the last cut ends on the wanted size to the
last figure; feeds in mm/rev, speeds in rev/min, powers in kW at the edge, times in min, pushes in mm on diameter.
The fewest roughing cuts are taken of which none is past a limit. From what slenderness on a chip is a ribbon: `chips`.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property

from calc.formulas import chips, cutting, push_off, turning
from calc.formulas.cutting import ForceConstants
from calc.formulas.turning import Pass, Wanted
from calc.model import InputError
from calc.steps import Steps
from calc.units import settle, show

ROUGH, SEMI, FINISH, SPRING, FACE = "rough", "semi-finish", "finish", "spring pass", "face the shoulder"
MOST = 60  # roughing cuts; a bar that needs more is the wrong bar
SQUARE = 90.0  # entering angle when the point faces a shoulder


@dataclass(frozen=True)
class Bar:
    """The bar as held: `free` mm between the supports or out of the jaws, of which the last `turned` mm are cut."""

    diameter: float
    holding: str
    free: float
    turned: float
    youngs_modulus: float

    def gives(self, after: float) -> tuple[float, float]:
        """How much too large the diameter comes out, in mm for each N, most and least along the cut down to `after`."""
        solid = self.free - self.turned
        steps = ((solid, self.diameter), (self.turned, after)) if solid > 0 else ((self.turned, after),)
        place, most = push_off.worst_stepped(self.holding, 1.0, steps, self.youngs_modulus)
        # the pieces add up to the free length but for a last figure, and no place may lie past their end
        places = (solid, push_off.whole(steps))
        ends = [push_off.stepped(self.holding, 1.0, steps, at, self.youngs_modulus) for at in places]
        return push_off.on_diameter(most if place > solid else max(ends)), push_off.on_diameter(min(ends))


@dataclass(frozen=True)
class Tool:
    """Edge, force and gearbox. `correction` is the factor on the force for the speeds of that tool."""

    entering_angle: float
    nose_radius: float
    constants: ForceConstants | None
    correction: float
    speeds: Steps
    chuck_speed: float


@dataclass(frozen=True)
class Limits:
    """What no cut may pass: power in kW at the edge, depths in mm on radius, push in mm on diameter.

    `window` are the depths that the chip breaker is made for, where known: above it no cut goes, below it one is told
    of. Without it `ribbon` limits roughing: the chip's width over its thickness.
    """

    power: float
    window: tuple[float, float] | None
    ribbon: float
    push: float
    least: Decimal


@dataclass(frozen=True)
class Cut:
    """One cut: from diameter `before` to `after`, `travel` mm long with run-in and run-out, `one` what it does.

    `push` is how much too large it may come out in mm, most and least along it; None where no force is known.
    """

    name: str
    before: Decimal
    after: Decimal
    one: Pass
    travel: float
    push: tuple[float, float] | None

    @property
    def depth(self) -> float:
        """mm on radius; of facing, along the bar."""
        return self.one.depth

    @property
    def time(self) -> float:
        """Minutes."""
        return cutting.cutting_time(self.travel, self.one.feed_rate)


@dataclass(frozen=True)
class Job:
    """Everything a plan rests on. `start` and `target` as read now; `semi`, `finish` on radius; `run`, `short` in mm.

    `finished` is what is left of `target` when it has been polished. `short` is left at the shoulder and faced last; 0
    means that there is none and the cut runs out.
    """

    start: Decimal
    target: Decimal
    finished: Decimal
    semi: Decimal
    finish: Decimal
    springs: int
    short: float
    run: float
    bar: Bar
    tool: Tool
    limits: Limits
    wanted: dict[str, Wanted]
    feeds: dict[str, float]
    _gives: dict[Decimal, tuple[float, float]] = field(default_factory=dict, compare=False, repr=False)

    @property
    def polish(self) -> Decimal:
        """What polishing takes off the diameter."""
        return self.target - self.finished

    @property
    def stock(self) -> Decimal:
        """What is to come off, on radius."""
        return (self.start - self.target) / 2

    def cut(self, name: str, before: Decimal, after: Decimal, thinnest: Decimal | None = None) -> Cut:
        """A cut along the bar. Its stiffness is that at `thinnest`, the diameter at the end of the stage."""
        kind = turning.ROUGH if name == ROUGH else turning.FINISH
        depth = float((before - after) / 2)
        speed = turning.step_below(self.wanted[kind].speed, float(before), self.tool.speeds, self.tool.chuck_speed)
        one = self._pass(float(before), depth, self.feeds[kind], speed, self.tool.entering_angle)
        out = 0.0 if self.short else self.run
        travel = self.run + cutting.run_in(depth, self.tool.entering_angle) + self.bar.turned - self.short + out
        push = None
        if one.push is not None:
            most, least = self._give(after if thinnest is None else thinnest)
            push = most * one.push[1], least * one.push[1]
        return Cut(name, before, after, one, travel, push)

    def facing(self) -> Cut:
        """The shoulder brought to length: out from the finished diameter to that of the bar."""
        outside = self.bar.diameter
        wanted = self.wanted[turning.FINISH].speed
        speed = turning.step_below(wanted, outside, self.tool.speeds, self.tool.chuck_speed)
        one = self._pass(outside, self.short, self.feeds[turning.FINISH], speed, SQUARE)
        travel = (outside - float(self.target)) / 2 + self.run
        return Cut(FACE, Decimal(repr(outside)), self.target, one, travel, None)

    def _pass(self, diameter: float, depth: float, feed: float, speed: float, angle: float) -> Pass:
        tool = self.tool
        return Pass(diameter, depth, feed, speed, angle, tool.nose_radius, tool.constants, tool.correction)

    def _give(self, after: Decimal) -> tuple[float, float]:
        if after not in self._gives:
            self._gives[after] = self.bar.gives(float(after))
        return self._gives[after]

    def past(self, one: Cut) -> str:
        """Which limit this cut is past: "window", "push", "power", or "" for none."""
        limits = self.limits
        if one.name != FACE and limits.window is not None and settle(one.depth) > settle(limits.window[1]):
            return "window"
        if one.name == ROUGH and limits.window is None and settle(slenderness(one.one)) > settle(limits.ribbon):
            return "window"
        if one.push is not None and settle(one.push[0]) > settle(limits.push):
            return "push"
        power = one.one.cutting_power
        return "power" if power is not None and settle(power) > settle(limits.power) else ""


@dataclass(frozen=True)
class Plan:
    """The cuts in order. `held_by` is the limit that one roughing cut fewer would be past, "" for none."""

    job: Job
    cuts: tuple[Cut, ...]
    held_by: str

    def of(self, name: str) -> tuple[Cut, ...]:
        return tuple(one for one in self.cuts if one.name == name)

    @property
    def along(self) -> tuple[Cut, ...]:
        """The cuts that take metal off the diameter."""
        return tuple(one for one in self.cuts if one.name in (ROUGH, SEMI, FINISH))

    @cached_property
    def cutting_time(self) -> float:
        """Minutes of all cuts, run-in and run-out included."""
        return float(sum(settle(one.time) for one in self.cuts))


def make(job: Job, *, done: bool = False) -> Plan:
    """The plan; without a cut along the bar where it is `done`, or less is to come off than the least in-feed.

    InputError naming the field to change where a cut would be past a limit whatever is done.
    """
    cuts: list[Cut] = []
    held_by = ""
    if job.stock >= job.limits.least and not done:
        rough, semi, finish = _stages(job)
        after_semi = job.target + 2 * finish
        after_rough = after_semi + 2 * semi
        if rough:
            roughing, held_by = _roughing(job, after_rough, rough)
            cuts += roughing
        if semi:
            cuts.append(_within(job, job.cut(SEMI, after_rough, after_semi), "semi_finish"))
        cuts.append(_within(job, job.cut(FINISH, after_semi, job.target), "finish"))
        cuts += [job.cut(SPRING, job.target, job.target)] * job.springs
    if job.short:
        cuts.append(_within(job, job.facing(), "shoulder"))
    return Plan(job, tuple(cuts), held_by)


def _stages(job: Job) -> tuple[Decimal, Decimal, Decimal]:
    """What roughing, semi-finishing and finishing take, on radius; a rest too thin to cut goes into its neighbour.

    Where the neighbour grows past a limit by that, the two share equally.
    """
    stock, semi, finish, least = job.stock, job.semi, job.finish, job.limits.least
    rest = stock - finish
    if rest < least:
        whole = job.cut(FINISH, job.start, job.target)
        shared = stock / 2
        if rest > 0 and shared >= least and job.past(whole):
            return Decimal(0), shared, shared
        return Decimal(0), Decimal(0), stock
    if not semi:
        return rest, Decimal(0), finish
    if rest <= semi:
        return Decimal(0), rest, finish
    rough = rest - semi
    if rough >= least:
        return rough, semi, finish
    whole = job.cut(SEMI, job.start, job.target + 2 * finish)
    if rest / 2 >= least and job.past(whole):
        return rest / 2, rest / 2, finish
    return Decimal(0), rest, finish


def _roughing(job: Job, end: Decimal, depth: Decimal) -> tuple[list[Cut], str]:
    """The fewest equal cuts that take `depth` on radius down to diameter `end`, and what forbids one fewer."""
    why = ""
    for count in range(1, MOST + 1):
        each = depth / count
        if each < job.limits.least:
            break

        def place(left: int, each: Decimal = each) -> Decimal:
            return end + 2 * left * each

        def cut(number: int, count: int = count, at: Callable[[int], Decimal] = place) -> Cut:
            before = job.start if number == 0 else at(count - number)
            return job.cut(ROUGH, before, at(count - number - 1), thinnest=end)

        # the first and the last cut forbid most counts, so they are asked before the others are made
        past = next((found for number in dict.fromkeys((count - 1, 0)) if (found := job.past(cut(number)))), "")
        if not past:
            cuts = [cut(number) for number in range(count)]
            past = next((found for one in cuts if (found := job.past(one))), "")
            if not past:
                return cuts, why
        why = past
    raise _hopeless(job, depth, why)


def _hopeless(job: Job, depth: Decimal, why: str) -> InputError:
    finest = show(max(float(job.limits.least), float(depth) / MOST), "length")
    if why == "push":
        return InputError(
            "overhang",
            f"Even roughing cuts of {finest} on radius may push the bar away by more than the "
            f"{show(1000 * job.limits.push, 'difference')} allowed on diameter. Use the tailstock or a steady, set it "
            "shorter, or allow more push-off.",
        )
    if why == "power":
        return InputError(
            "motor_power",
            f"Even roughing cuts of {finest} on radius want more than this motor gives at the tool. Check its power "
            "and its share at the tool, or use finer feeds.",
        )
    off = show(2 * float(depth), "length", 2)
    return InputError(
        "diameter",
        f"Even roughing cuts of {finest} on radius are too deep for the chip, and {off} is to come off the diameter. "
        "Give a bar nearer to the size, or use a coarser feed.",
    )


def _within(job: Job, one: Cut, name: str) -> Cut:
    """The cut itself; InputError at `name` when it is past a limit."""
    past = job.past(one)
    if not past:
        return one
    what = {SEMI: "The semi-finishing cut", FINISH: "The finishing cut", FACE: "Facing the shoulder"}[one.name]
    depth = show(one.depth, "length")
    why = {
        "window": f"is {depth} deep on radius, more than the chip breaker is made for",
        "push": f"of {depth} on radius may push the bar away by {_micrometres(one.push)} on diameter, more than the "
        f"{show(1000 * job.limits.push, 'difference')} allowed",
        "power": f"of {depth} wants more power than the motor gives at the tool",
    }[past]
    rest = ", use the tailstock or a steady, or allow more push-off" if past == "push" else ""
    raise InputError(name, f"{what} {why}. Give less{rest}.")


def _micrometres(push: tuple[float, float] | None) -> str:
    return "" if push is None else show(1000 * push[0], "difference")


def slenderness(one: Pass) -> float:
    """Width over thickness of the chip, the nose counted."""
    return chips.slenderness(one.depth, one.feed, chips.engaged_edge(one.depth, one.entering_angle, one.nose_radius))


def ribbon(group: str) -> tuple[float, bool]:
    """The slenderness from which a chip is a ribbon, and whether it is published for that group of ISO 513."""
    return chips.SLENDER.get(group, chips.SLENDER["P"])[1], group in chips.SLENDER
