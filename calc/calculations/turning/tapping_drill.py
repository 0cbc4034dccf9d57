"""Tapping drill: what to drill for a metric thread, or what to turn before a screw of it is cut.

The drill is that of ISO 2306 where it is listed, else size less pitch. The hole may be anywhere between the least and
the greatest minor diameter of the nut; more of it makes the tap turn easier and loses less strength than it seems.
"""

from decimal import Decimal

from calc import draw
from calc.formulas import threads
from calc.formulas.threads import Thread
from calc.model import Choice, Following, Notation, Number, Result, Value, Verdict, calculation
from calc.units import settle, show, step, value

LEAD = 5.0  # pitches to drill deeper than the full thread of a blind hole; common practice


@calculation(
    title="Tapping drill",
    question="What do I drill for this thread, or turn for its screw?",
    inputs=(
        Notation("thread", "Thread", threads.read, threads.PATTERN, "M20x1.5",
                 "As on the drawing: M20 for the coarse pitch, M20x1.5 for a fine one.",
                 threads.COMMON, complete=threads.complete),
        Choice("hole", "The hole is", {"blind": "blind", "through": "right through"}, "blind"),
        Number("thread_depth", "Depth of full thread", "length", "25 mm", 0.5, 500,
               "How deep the thread shall be whole, or the thickness it goes through."),
    ),
    sources=("iso-724",),
    callouts=("{thread}", "{thread} tap", "tap {thread}", "{thread} tapping drill", "{thread} x {thread_depth} deep",
              "{thread} through{hole=through}", "{thread} tapping", "tapping {thread}", "tapping drill {thread}"),
)  # fmt: skip
def tapping_drill(thread: Thread, hole: str, thread_depth: float) -> Result:
    """Lengths in mm."""
    size, pitch = thread.diameter, thread.pitch
    rule = float(Decimal(repr(size)) - Decimal(repr(pitch)))
    drill = thread.row.number("drill") if thread.row is not None else rule
    least, root = threads.nut_minor(size, pitch), threads.screw_minor(size, pitch)
    share = threads.engagement(size, drill, pitch)
    deep = thread_depth + (LEAD * pitch if hole == "blind" else 0.0)
    values = [
        value("tapping_drill", "Tapping drill", drill, "length", 2),
        value("hole_depth", "Drill this deep, at full diameter", deep, "length", 2),
        value("minor_least", "Hole of the nut, least", least, "length"),
        *_tolerated(thread),
        value("engagement", "Height of thread that this drill leaves", share, "ratio", 2),
        value("pitch", "Pitch", pitch, "length", 2),
        value("screw_minor", "Minor diameter of the screw", root, "length"),
        value("thread_height", "Depth of the screw’s thread, on radius", (size - root) / 2, "length"),
    ]
    known = {one.name: one for one in values}
    assumptions = [
        "The height of thread is a share of the screw’s, 0.6134 of the pitch; tap makers who count on the sharp "
        "triangle print smaller figures for the same hole.",
        "Right for cutting taps. Forming taps want a wider hole: ask their maker.",
    ]  # fmt: skip
    mind = ""
    if thread.row is None:
        mind = f"{thread.name} is not among the listed threads: check the pitch with a gauge"
        assumptions.append("Size less pitch is the rule behind the listed drills; take the drill nearest above it.")
    elif thread.row.strongest == "M":
        same = "it is size less pitch" if settle(drill) == settle(rule) else "it is from memory"
        assumptions.append(f"Its drill was not seen in print in the list of ISO 2306; {same}.")
    most = known.get("minor_most")
    if most is not None and settle(drill) > settle(most.number):
        mind = "That drill is over the greatest hole of 6H: use one that is smaller"
    row = threads.limits(pitch)
    if row is None:
        assumptions.append("No tolerances are known here for this pitch: the limits of hole and screw are left out.")
    elif "M" in (row.mark("minor_6h"), row.mark("blank_tolerance")):
        which = "hole" if row.mark("blank_tolerance") != "M" else "hole and screw"
        assumptions.append(f"The tolerance of the {which} at this pitch is from memory.")
    if hole == "blind":
        assumptions.append("Five pitches deeper than the thread, for the lead of a second tap: common practice, no "
                           "source. A bottoming tap needs about two, a taper tap eight.")  # fmt: skip
    if thread.left:
        assumptions.append("Left-hand: the hole is the same, the tap is not.")
    if thread.external and "blank_most" in known:
        span = f"between {known['blank_least'].text} and {known['blank_most'].text}"
        verdict = Verdict("mind", f"{mind}.") if mind else Verdict("good", f"Turn the screw {span}.")
        main: tuple[str, ...] = ("blank_most", "blank_least", "screw_minor", "tapping_drill")
    else:
        verdict = Verdict("mind", f"{mind}.") if mind else Verdict(
            "good", f"Drill {show(drill, 'length', 2)}" + (f", {show(deep, 'length', 2)} deep." if hole == "blind"
                                                           else ", right through."))  # fmt: skip
        main = ("tapping_drill", "hole_depth", *(("minor_most", "blank_most") if most is not None else ()))
    return Result(
        values=tuple(values),
        main=main,
        verdict=verdict,
        working=(
            step("d_r = D - P", rule, "mm", "the rule; a listed drill goes before it", D=size, P=pitch),
            step("D_1 = D - 5 / 4 * sqrt(3) / 2 * P", least, "mm", D=size, P=pitch),
            step("d_3 = D - 17 / 12 * sqrt(3) / 2 * P", root, "mm", D=size, P=pitch),
            step("u = (D - d) / (D - d_3)", share, "", "height of thread", D=size, d=drill, d_3=root),
        ),
        cautions=(
            "Tap by hand with the spindle out of gear, or at its slowest with your hand at the switch: a tap that "
            "jams spins the work or breaks. Local rules come first.",
        ),
        assumptions=tuple(assumptions),
        sources=tuple(dict.fromkeys((
            *(thread.row.source if thread.row is not None else ()), *(row.source if row is not None else ()),
            "common-practice"))),
        picture=picture(thread, drill, deep, thread_depth, hole == "blind"),
        following=(
            Following("drilling", "Speed and feed of that drill", {
                "diameter": f"{drill:.9g} mm", "hole_depth": f"{deep:.9g} mm", "hole": hole}),
            Following("centre_drilling", "Centre hole in the end of a screw", {"diameter": f"{size:.9g} mm"}),
        ) if 4 <= size <= 80 else (),
    )  # fmt: skip


def _tolerated(thread: Thread) -> list[Value]:
    """Limits of the crests: hole of a 6H nut, outside of a 6g screw; none where the pitch has no tolerances here."""
    row = threads.limits(thread.pitch)
    if row is None:
        return []
    upper = thread.diameter + row.number("blank_upper") / 1000
    most = round_down(threads.nut_minor(thread.diameter, thread.pitch)) + row.number("minor_6h") / 1000
    return [
        value("minor_most", "Hole of the nut, most (6H)", most, "length"),
        value("blank_most", "Outside of the screw, most (6g)", upper, "length"),
        value("blank_least", "Outside of the screw, least (6g)", upper - row.number("blank_tolerance") / 1000,
              "length"),
    ]  # fmt: skip


def round_down(basic: float) -> float:
    """A basic size as the tables print it, to three decimals; limits are reckoned from that."""
    return float(settle(basic).quantize(Decimal("0.001")))


def picture(thread: Thread, drill: float, deep: float, whole: float, blind: bool) -> str:
    """The drilled and tapped hole in section, not to scale."""
    left, axis, half, crest = 40.0, 88.0, 24.0, 31.0
    end, run = (184.0 if blind else 200.0), (140.0 if blind else 200.0)
    tip = 14.0 if blind else 0.0
    return draw.svg(
        340, 196, "The tapped hole in section, with its drill and depths",
        draw.box(left, 36, (222.0 if blind else 200.0) - left, 104, "shaft"),
        draw.path((left, axis - half), (end, axis - half), (end + tip, axis), (end, axis + half), (left, axis + half),
                  closed=True, class_="hole"),
        draw.line(left, axis - crest, run, axis - crest, "thin"),
        draw.line(left, axis + crest, run, axis + crest, "thin"),
        draw.line(run, axis - crest, run, axis + crest, "line"),
        draw.line(20, axis, 232, axis, "axis"),
        draw.level(left, 26, run - left, show(whole, "length", 1)),
        draw.level(left, 162, end - left, show(deep, "length", 2)) if blind else draw.label(left, 158, "right through"),
        draw.label(240, axis - 8, thread.name, class_="strong"),
        draw.label(240, axis + 18, f"Ø {show(drill, 'length', 2)}"),
        draw.label(left, 186, "not to scale", class_="small"),
    )  # fmt: skip
