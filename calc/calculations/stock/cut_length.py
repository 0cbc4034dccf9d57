"""Cut length: what to saw off for a finished length, how much bar so many pieces use, and what is left.

Both ends are faced, either sawn end may lean, and a piece for the chuck or a centre may be cut off at the end. Every
piece costs a cut, unless the last one ends with the bar.
"""

from decimal import Decimal

from calc import draw
from calc.formulas import bars
from calc.model import Choice, Following, InputError, Notation, Number, Result, Verdict, calculation
from calc.shop import SAW
from calc.units import show, step, value

SAWN, PARTED = "saw", "part off"
#: As it is written; nothing is said of a bar then.
WRITTEN = (
    "{finished_length} cut", "{finished_length} cut length", "{finished_length} cut {kerf} kerf",
    "cut {finished_length}", "saw {finished_length}", "{finished_length} long",
    "{pieces} x {finished_length} cut", "{pieces} off {finished_length} cut", "{pieces} off {finished_length}",
    "{pieces} off {finished_length} long", "cut {pieces} x {finished_length}", "cut {pieces} off {finished_length}",
    "{finished_length} parted off{parting=part off}",
)  # fmt: skip


@calculation(
    title="Cut length",
    question="How long do I saw it, and what is left of the bar?",
    inputs=(
        Number("finished_length", "Finished length", "length", "312 mm", 0.5, 20_000, "Between the faced ends."),
        Notation("pieces", "Pieces", bars.read_count, r"\d{1,6}", "1", "How many of that length, a whole number.",
                 ("1", "2", "5", "10")),
        Number("diameter", "Bar diameter", "length", "40 mm", 0.5, 2000, "A leaning cut costs more on a thick bar."),
        Number("facing", "Facing at each end", "length", "1.5 mm", 0, 50,
               "1 to 2 mm on a clean saw cut, 2 to 4 mm on a rough one."),
        Number("holding", "Piece for the chuck or a centre", "length", "0 mm", 0, 1000,
               "Cut off at the end: 10 mm or more in the jaws, 5 to 10 mm for a centre hole. 0 when there is none."),
        Choice("parting", "Cut off by", {SAWN: "saw", PARTED: "parting tool in the lathe"}, SAWN),
        Number("parting_width", "Width of the parting tool", "length", "3 mm", 0.3, 20,
               "Counts only when it is parted off in the lathe.", aside=True),
        Number("squareness", "Saw out of square, over 100 mm", "length", "1 mm", 0, 10,
               "0.5 to 1.5 mm is usual. Counts only when it is sawn.", aside=True),
        Number("bar_length", "Length of the bar", "length", "1 m", 0.5, 100_000,
               "To see what is left. Leave empty when it is not known.", optional=True),
        *SAW.pick("kerf", "vice_length"),
    ),
    sources=("common-practice",),
    callouts=tuple(f"{written}{{bar_length=}}" for written in WRITTEN),
)  # fmt: skip
def cut_length(
    finished_length: float, pieces: int, diameter: float, facing: float, holding: float, parting: str,
    parting_width: float, squareness: float, bar_length: float | None, kerf: float, vice_length: float,
) -> Result:  # fmt: skip
    """Every length in mm; squareness in mm over 100 mm of cut."""
    sawn = parting == SAWN
    lean = _exact(squareness) * _exact(diameter) / 100 if sawn else Decimal(0)
    width = _exact(kerf) if sawn else _exact(parting_width)
    cut = _exact(finished_length) + 2 * _exact(facing) + 2 * lean + _exact(holding)
    used = pieces * (cut + width)
    shortest = used - width

    values = [
        value("cut_length", "Cut length", float(cut), "length", 2),
        value("bar_used", f"Bar used, {'cut' if pieces == 1 else 'cuts'} included", float(used), "length", 2),
        value("shortest_bar", "Shortest bar that gives them", float(shortest), "length", 2),
        value("lean", "Lean of a sawn end", float(lean), "length", 2),
    ]
    working = [
        step("L = L_f + 2 * f + 2 * s + h", float(cut), "mm", L_f=finished_length, f=facing, s=float(lean), h=holding),
        step("U = n * (L + k)", float(used), "mm", n=float(pieces), L=float(cut), k=float(width)),
    ]
    left = None
    last_cut = False
    if bar_length is not None:
        bar = _exact(bar_length)
        if bar < shortest:
            most = int((bar + width) // (cut + width))
            raise InputError(
                "bar_length",
                f"{pieces} {'piece needs' if pieces == 1 else 'pieces need'} {show(float(shortest), 'length', 2)} of "
                f"bar and this one gives {most}. Give a longer bar, or fewer pieces.",
            )
        last_cut = bar > shortest
        left = max(Decimal(0), bar - used)
        values += [
            value("left", "Left of the bar", float(left), "length", 2),
            value("pieces_in_bar", "Pieces that this bar gives", int((bar + width) // (cut + width)), "ratio", 0),
        ]
        working.append(step("R = max(0, B - U)", float(left), "mm", B=bar_length, U=float(used)))
    short = sawn and last_cut and left is not None and left < _exact(vice_length)
    cautions = ["Guard down to the work, both sides of a long bar on stands, and no hand near a running blade."]
    if not sawn:
        cautions = ["Parted work can fall or fly: support it without fingers near the cut.",
                    "A bar out of the headstock whips without warning: support it, keep the speed low."]  # fmt: skip
    cautions.append("Sawn ends are sharp and hot: de-burr before handling. Local rules come first.")
    shown = show(float(cut), "length", 2)
    if short and left is not None:
        verdict = Verdict("mind", f"Saw to {shown}; only {show(float(left), 'length', 2)} is left to hold for the last "
                          f"cut, the vice wants {show(vice_length, 'length', 1)}.")  # fmt: skip
    else:
        verdict = Verdict("good", f"{'Saw' if sawn else 'Part off'} to {shown}.")
    assumptions = ["The allowances offered here are common practice, no source; take your own where you know them."]
    if sawn:
        assumptions.append("Either end may lean, as when the bar is turned between cuts.")
    if left is not None and not last_cut:
        assumptions.append("The last piece ends with the bar: it needs no cut of its own.")
    return Result(
        values=tuple(values),
        main=("cut_length", "left") if left is not None else ("cut_length", "bar_used"),
        verdict=verdict,
        working=tuple(working),
        cautions=tuple(cautions),
        assumptions=tuple(assumptions),
        picture=picture(finished_length, float(cut), holding),
        following=(
            Following("bar_mass", "What does that weigh and cost?",
                      {"size": f"{diameter:.9g} mm", "length": f"{float(cut):.9g} mm", "pieces": str(pieces)}),
            Following("bar_clean_up", "What diameter cleans up out of that bar?", {"size": f"{diameter:.9g} mm"}),
            *_list(pieces, float(cut), bar_length, float(width), vice_length),
            Following("facing", "How do I face the ends?",
                      {"diameter": f"{diameter:.9g} mm", "allowance": f"{float(_exact(facing) + lean):.9g} mm"})
            if sawn else Following("parting", "What speed and feed to part it off?",
                                   {"diameter": f"{diameter:.9g} mm", "blade": f"{parting_width:.9g} mm"}),
        ),
    )  # fmt: skip


def _list(pieces: int, cut: float, bar: float | None, width: float, vice: float) -> tuple[Following, ...]:
    """The same pieces in a cut list: out of bars of that length, as many as are needed, or as its rack has them."""
    typed = {"pieces": f"{pieces} x {cut:.9g} mm", "kerf": f"{width:.9g} mm", "vice_length": f"{vice:.9g} mm"}
    if bar is not None:
        typed["bars"] = f"{bar:.9g} mm"
    return (Following("cut_list", "How do these and other pieces share bars?", typed),)


def _exact(number: float) -> Decimal:
    return Decimal(repr(number))


def picture(finished: float, cut: float, holding: float) -> str:
    """The finished part inside the sawn piece; what is faced away is drawn larger than life."""
    right = 250.0 if holding else 300.0
    parts = [
        draw.box(20, 52, 300, 56, "hidden"),
        draw.box(40, 52, right - 40, 56, "shaft"),
        draw.line(10, 80, 330, 80, "axis"),
        draw.level(20, 34, 300, show(cut, "length", 2)),
        draw.level(40, 136, right - 40, show(finished, "length", 2)),
    ]
    if holding:
        parts.append(draw.label(285, 76, "hold", "middle"))
    parts.append(draw.label(20, 160, "dashed: faced or cut away, not to scale", class_="small"))
    return draw.svg(340, 168, "The finished length inside the length to cut", *parts)
