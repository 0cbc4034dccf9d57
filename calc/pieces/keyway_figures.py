"""The figures of a keyway that is to be milled, and the lines of working that lead to them."""

from calc.formulas import cutting
from calc.formulas import keyway_milling as milling
from calc.formulas.keys import sagitta
from calc.model import Step, Value
from calc.pieces.keyway_plan import Plan, Running
from calc.units import step, value


def values(cut: Plan) -> list[Value]:
    """Where to stand, where to stop, how far to go."""
    depth, far, key = cut.depth, cut.now - cut.depth, cut.key
    found = [
        value("key_width", "Key, width", key.width, "length"),
        value("key_height", "Key, height", key.height, "length"),
        value(
            "cutter_width",
            "Disc cutter, thickness" if cut.by_disc else "End mill or slot drill, diameter",
            cut.width,
            "length",
        ),
        value("centre_move", "From touching the side to the centre", cut.move, "length"),
        value("dial_stop", "Dial at full depth, from 0", cut.stop, "length"),
    ]
    if key.depth_tolerance is not None:
        deepest = cut.touch.reading(depth + key.depth_tolerance)
        found.append(value("dial_stop_last", "Dial at the greatest depth allowed", deepest, "length"))
    found += [
        value("cut_depth", "Depth from the crown as it is now", depth, "length"),
        value("edge_depth", "Depth from the edge of the slot", depth - sagitta(cut.now, key.width), "length"),
        value("far_side", "Bottom to far side, to measure now", far, "length"),
        value("flat_depth", "Crown over the edges of the first full flat", sagitta(cut.now, cut.width), "length"),
        value("passes", "Passes", cut.passes, "ratio", 0),
        value("pass_depth", "Depth of each pass", cut.each, "length"),
    ]
    if cut.span:
        found += [value("shaft_slot_max", "Slot, greatest width", cut.span[1], "length", 4),
                   value("shaft_slot_min", "Slot, least width", cut.span[0], "length", 4)]  # fmt: skip
    if cut.side:
        found.append(value("side_move", "To each side of the centre", cut.side, "length"))
    found += [
        value("slot_length", "Slot on the crown, over all", cut.run.slot, "length"),
        value("cutter_travel", "Travel of the cutter in each pass", cut.run.travel, "length"),
    ]
    if cut.by_disc:
        found += [
            value("run_out", "Run-out past the full depth", cut.run.run_out, "length"),
            value("over_cutter", "Over shaft and disc at full depth",
                  milling.over_cutter(cut.now, depth, cut.asked.disc), "length"),
        ]  # fmt: skip
    return found


def run_values(cut: Plan, how: Running, handling: float) -> list[Value]:
    """How fast and how long; `handling` in min for each pass."""
    found = []
    if how.spindle is not None:
        found += [
            value("spindle_speed", "Spindle speed", how.spindle, "spindle_speed"),
            value("cutting_speed", "Cutting speed at it", cutting.cutting_speed(how.spindle, how.diameter),
                  "cutting_speed", 1),
        ]  # fmt: skip
    if how.feed is not None:
        found.append(value("tooth_feed", "Feed for each tooth", how.feed.taken, "length", 4))
    if how.rate is not None and how.time is not None:
        cuts = cut.passes + (2 if cut.side else 0)
        found += [
            value("feed_rate", "Feed rate", how.rate, "feed_rate"),
            value("cutting_time", "Cutting", how.time, "time", 1),
            value("total_time", "Cutting and handling", how.time + handling * cuts, "time", 1),
        ]
    return found


def working(cut: Plan) -> list[Step]:
    """The lines that lead to centre, dial and travel."""
    asked, depth, side = cut.asked, cut.depth, cut.touching
    steps = [
        step("move = D / 2 + s / 2 + p", cut.move, "mm", "from touching the side", D=cut.now, s=side, p=cut.paper),
        step("t = t_key + a / 2", depth, "mm", "from the crown as it is now", t_key=cut.final_depth,
             a=cut.now - cut.finished),
        step("f = (D - sqrt(D**2 - w**2)) / 2", sagitta(cut.now, cut.width), "mm", "a flat as wide as the cutter",
             D=cut.now, w=cut.width),
    ]  # fmt: skip
    dial = {
        "crown": ("dial_stop = t + p", {"t": depth, "p": asked.paper}),
        "flat": ("dial_stop = t - f", {"t": depth, "f": sagitta(cut.now, cut.width)}),
        "far": ("dial_stop = D - p - t", {"D": cut.now, "p": asked.paper, "t": depth}),
        "over": ("dial_stop = M - (D + Dc - t)", {"M": asked.over or cut.now + asked.disc, "D": cut.now,
                                                  "Dc": asked.disc, "t": depth}),
    }  # fmt: skip
    formula, given = dial[asked.touch]
    steps += [
        step(formula, cut.stop, "mm", **given),
        step("each = (t - t0) / n", cut.each, "mm", "t0 is cut when the dial is set", t=depth, t0=cut.touch.cut,
             n=cut.passes),
    ]  # fmt: skip
    if cut.side:
        steps.append(step("side = (b - w) / 2", cut.side, "mm", "b is the slot aimed at", b=cut.target, w=cut.width))
    if cut.by_disc:
        steps.append(step("x = sqrt(t * (Dc - t))", cut.run.run_out, "mm", "run-out", t=depth, Dc=asked.disc))
    return [*steps, *_length_working(cut)]


def _length_working(cut: Plan) -> list[Step]:
    length, width, run = cut.asked.length, cut.width, cut.run
    if cut.asked.slot == "sled":
        return [step("slot = L + 2 * x", run.slot, "mm", L=length, x=run.run_out)]
    if cut.asked.slot == "open disc":
        return [
            step("travel = x + c + L", run.travel, "mm", "it starts c clear", x=run.run_out, c=milling.CLEAR, L=length)
        ]
    straight = cut.asked.form == "square"
    if cut.asked.slot == "closed":
        slot = step("slot = L + w", run.slot, "mm", L=length, w=width) if straight else None
        travel = step("travel = slot - w", run.travel, "mm", slot=run.slot, w=width)
    else:
        slot = step("slot = L + w / 2", run.slot, "mm", L=length, w=width) if straight else None
        travel = step("travel = c + slot", run.travel, "mm", "it starts c clear", c=milling.CLEAR, slot=run.slot)
    return [travel] if slot is None else [slot, travel]


def run_working(cut: Plan, how: Running) -> list[Step]:
    """The lines that lead to speed, feed rate and time."""
    steps = []
    if how.speed is not None:
        wanted = cutting.spindle_speed(how.speed.taken, how.diameter)
        steps.append(step("n_wanted = 1000 * v / (pi * d)", wanted, "rev/min", v=how.speed.taken, d=how.diameter))
    if how.spindle is not None:
        real = cutting.cutting_speed(how.spindle, how.diameter)
        steps.append(step("v = pi * d * n / 1000", real, "m/min", d=how.diameter, n=how.spindle))
    if how.rate is not None and how.time is not None and how.feed is not None and how.teeth is not None:
        steps.append(
            step("rate = n * z * fz", how.rate, "mm/min", n=how.spindle or 0.0, z=how.teeth, fz=how.feed.taken)
        )
        cuts = cut.passes + (2 if cut.side else 0)
        down = (cut.depth - cut.touch.cut) if cut.run.plunges else 0.0
        steps.append(step("time = cuts * travel / rate + down / (k * rate)", how.time, "min", cuts=cuts,
                          travel=cut.run.travel, rate=how.rate, down=down, k=milling.PLUNGE))  # fmt: skip
    return steps
