"""What is said of a keyway that is to be milled: the verdict, what was assumed, and the tables of dial readings."""

from decimal import ROUND_FLOOR, Decimal

from calc.formulas import keyway_milling as milling
from calc.formulas.keys import Key, sagitta
from calc.formulas.work_materials import Found
from calc.model import Table, Verdict
from calc.pieces import turning_words
from calc.pieces.keyway_plan import OVERCUT, Plan, Running
from calc.units import figure, settle, show

CLAMPED = (
    "Clamp the shaft so that it can neither turn nor lift, guard the cutter, keep gloves and sleeves away from it.",
    "Touch off with the spindle turned by hand or on a long strip of paper; measure and clear chips with it stopped.",
)
SLIDES = (
    "Lock the slides that rest, come to every reading from the same side, and on a worn screw feed against the cutter."
)
MEASURED = "Measured with burrs off: bottom to far side, over a slip or the key in the slot, less its height."
LEAST_COLLAR = 16.0  # mm, what an arbor of 10 mm and its collars need, about; ours, no source


def cautions(material: Found) -> tuple[str, ...]:
    """What to mind at the mill, and what belongs to the material."""
    of_material = turning_words.of_material(material.material)
    return (*CLAMPED, *of_material, "The machine’s manual and local rules come first.")


def verdict(plan: Plan, how: Running, material: Found) -> Verdict:
    """The first thing that stands in the way, else what to do."""
    if plan.blocked:
        return Verdict("stop", _blocked(plan))
    if not plan.key.holds(plan.finished):
        return Verdict(
            "mind", f"At its real diameter this shaft falls in another step: keep the {plan.key} of the hub."
        )
    if how.speed is None:
        return Verdict("mind", f"No speed for this cut in {material} was found: type the cutting speed that you use.")
    if how.spindle is None:
        return Verdict("mind", "Even the slowest speed of this mill is too fast for this cutter: take a smaller one.")
    if plan.oversize and plan.span:
        least, most = (plan.said(end) for end in plan.span)
        return Verdict("mind", f"Cut in one width the slot comes out over {most}: take a cutter under {least} "
                               "and cut both sides, or one ground undersize.")  # fmt: skip
    sides = f", then {plan.said(plan.side)} to each side" if plan.side else ""
    several = f"{plan.passes} passes of {plan.said(plan.each)}" if plan.passes > 1 else "one pass"
    return Verdict("good", f"Key {plan.key}: {several}, the dial from 0 to {plan.said(plan.stop)}{sides}.")


def _blocked(plan: Plan) -> str:
    room = plan.asked.room or 0.0
    largest = milling.disc_for(plan.depth, room)
    fits = settle(milling.collar(plan.depth, largest)) > settle(LEAST_COLLAR)
    whole = settle(largest).to_integral_value(ROUND_FLOOR)
    smaller = f"take a disc of {figure(whole, 0)} mm at most, or" if fits else "take"
    return (
        f"The run-out of {show(plan.run.run_out, 'length', 1)} reaches the seat, shoulder or seal track that begins "
        f"after {show(room, 'length', 1)}: {smaller} a slot drill."
    )


def assumptions(plan: Plan, how: Running, material: Found) -> tuple[str, ...]:
    """Short sentences, in the order of the job."""
    said = [
        f"Depths count from the crown of the shaft as it is when cut, {show(plan.now, 'length')}.",
        *_of_standard(plan.key),
        *_width(plan),
    ]
    if plan.touching:
        said.append("To find the centre, what touches reaches down to the axis of the shaft, at its widest.")
    if plan.by_disc and plan.asked.form == "round":
        said.append("A slot by disc is usual for square-ended keys; a round-ended one lies in it just as deep.")
    if not plan.by_disc and plan.asked.form == "square":
        said.append("A slot drill is usual for round-ended keys; a square-ended one leaves its round ends empty.")
    if plan.asked.touch == "far":
        said.append("The shaft lies flat on what the cutter touched; in a vee block its far side does not.")
    if plan.by_disc:
        collar = show(milling.collar(plan.depth, plan.asked.disc), "length", 1)
        reach = show(plan.asked.disc / 2, "length", 1)
        said.append(f"Collars of the arbor clear the crown when under {collar}.")
        said.append(f"A shoulder within {reach} of the full depth may meet the disc, whatever the run-out.")
        if plan.run.plunges:
            said.append("A key in a sled-runner slot can walk along it: hold it by a shoulder, a screw or the hub.")
    elif plan.asked.slot == "closed":
        said.append("The cutter cuts to its centre; for one that does not, drill the end of the slot first.")
    if plan.asked.largest is None:
        share = "half the disc’s thickness" if plan.by_disc else "a quarter of the cutter’s width"
        said.append(f"No pass is deeper than {share}: common practice, no source.")
    said += _lengths(plan)
    said += material.remarks
    said += [*(how.speed.remarks if how.speed else ()), *(how.feed.remarks if how.feed else ())]
    if how.slowest:
        said.append("The slowest speed is over the wanted one, but still within what is published.")
    if how.feed is None:
        said.append("No feed for each tooth of this cutter was found: type one for feed rate and time.")
    if how.teeth is None:
        said.append("Type how many teeth the disc has for feed rate and time.")
    if how.time is not None:
        said.append("Times leave out clamping and finding the centre; the cutter is fed down at half the feed rate.")
    return (*said, MEASURED, SLIDES)


def _of_standard(key: Key) -> list[str]:
    if key.system == "metric":
        return []
    if key.system == "asme":
        return ["ASME B17.1 gives depth at the edge of the slot; it is brought to the crown. Its limits are "
                "unconfirmed and left out: fit the slot to the key."]  # fmt: skip
    return ["BS 46-1 rests on one extract. That its depths are from the crown is inferred from how they split."]


def _width(plan: Plan) -> list[str]:
    said = []
    if plan.asked.width is None:
        said.append(f"A cutter as wide as the key is taken, {plan.said(plan.width)}.")
    if plan.side == 0:
        said.append(f"A cut of full width comes out some {figure(settle(OVERCUT), 2)} mm over the cutter, from memory: "
                    "try it on scrap.")  # fmt: skip
    elif plan.span is None:
        said.append("The sides are cut to the nominal width of the key.")
    else:
        said.append("The sides are cut to the middle of the limits of the slot.")
    return said


def _lengths(plan: Plan) -> list[str]:
    if plan.key.lengths is None:
        return []
    low, high = plan.key.lengths
    if settle(low) <= settle(plan.asked.length) <= settle(high):
        return []
    return [f"The standard has this key from {plan.said(low)} to {plan.said(high)} long."]


def passes(plan: Plan, division: float, turn: float | None) -> Table:
    """Every pass with its depth and where the dial stops."""
    rows = []
    for one in range(1, plan.passes + 1):
        depth = plan.depth if one == plan.passes else plan.touch.cut + one * plan.each
        reading = plan.touch.reading(depth)
        rows.append((str(one), plan.said(depth), plan.said(reading), lines(reading, division, turn)))
    note = "Depths from the crown, the dial from 0."
    if plan.side:
        note += f" Then at full depth {plan.said(plan.side)} to each side of the centre."
    heading = "Lines" if turn is None else "Turns + lines"
    return Table("Passes", ("Pass", "Depth", "Dial", heading), tuple(rows), note)


def lines(reading: float, division: float, turn: float | None) -> str:
    """A dial reading in lines, to a tenth, or in whole turns and lines: "2 + 5.0"."""
    tenth = Decimal("0.1")
    count = (settle(reading) / settle(division)).quantize(tenth)
    if turn is None:
        return figure(count, 1)
    around = settle(turn) / settle(division)
    turns = int(count // around)
    return f"{turns} + {figure(count - turns * around, 1)}"


def ways(plan: Plan) -> Table:
    """Where the dial stops for every way of touching off."""
    paper, disc = plan.asked.paper, plan.asked.disc
    on = f"cutter grips {show(paper, 'length', 2)} of paper on" if paper else "cutter touches"
    zero = {
        "crown": f"{on} the crown",
        "flat": f"flat is as wide as the cutter, {plan.said(plan.width)}",
        "far": f"{on} what the shaft lies flat on",
        "over": f"disc just touches the crown: {plan.said(plan.now + disc)} over both",
    }
    rows = []
    for way, when in zero.items():
        if way == "over" and not plan.by_disc:
            continue
        reading = milling.touch(way, plan.now, plan.width, paper, disc, None).reading(plan.depth)
        rows.append((when, f"{plan.said(reading)}{' upwards' if way == 'far' else ''}"))
    notes = [f"The edges of that flat lie {plan.said(sagitta(plan.now, plan.width))} below the crown."]
    if plan.by_disc:
        over = milling.over_cutter(plan.now, plan.depth, disc)
        notes.append(f"At full depth shaft and disc measure {plan.said(over)} over the highest tooth.")
    return Table("Ways to touch off", ("The dial is at 0 when the", "It stops at"), tuple(rows), " ".join(notes))


def published(how: Running) -> Table | None:
    """The speeds that were found, side by side."""
    if how.speed is None or not how.speed.rows:
        return None
    rows = tuple(
        (material, f"{low:g} to {high:g} m/min" if low != high else f"{low:g} m/min", source)
        for material, source, low, high in how.speed.rows
    )
    return Table("Published slotting speeds", ("Material", "Speed", "How known"), rows)
