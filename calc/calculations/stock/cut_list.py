"""Cut list: several lengths and quantities out of the bars and off-cuts on the rack, with nothing wasted that need be.

Fewest bars bought come first, then fewest bars, then the shortest that will do, so that off-cuts go before full bars;
then least waste and fewest layouts. The method is exact, and says so where its steps ran out before the proof.
"""

from calc import progress
from calc.formulas import cutting_notation as notation
from calc.formulas import cutting_plan
from calc.formulas.cutting_notation import Listed, shown
from calc.formulas.cutting_plan import NotEnough, Plan, TooLong
from calc.model import Choice, Following, InputError, Notation, Number, Result, Step, calculation
from calc.pieces import cut_words
from calc.pieces.cut_picture import picture
from calc.pieces.cut_words import millimetres
from calc.shop import SAW
from calc.units import settle, step

SEARCHES = {"usual": "usual", "thorough": "thorough, up to eight times longer"}
THOROUGH = 8  # times the usual steps
SHOWN = 12  # layouts whose off-cut is worked out in full


@calculation(
    title="Cut list",
    question="How do I saw these pieces out of the fewest bars?",
    inputs=(
        Notation("pieces", "Pieces", notation.read_pieces, notation.PATTERN, "10 x 312, 5 x 455, 8 x 96",
                 "Count first: 6 x 312, 2 x 96. A comma and a space or a semicolon between parts; 312,5 is a decimal. "
                 "Cut lengths, facing included. In inches give each its unit: 4 x 3 1/4 in.",
                 ("10 x 312, 5 x 455, 8 x 96", "6 x 312, 2 x 96", "9 x 1000", "4 x 3 1/4 in, 6 x 5 1/2 in"),
                 longest=notation.LONGEST_TEXT),
        Notation("bars", "Bars and off-cuts", notation.read_bars, notation.PATTERN, "3 x 3000, 1 x 740",
                 "What is on the rack, count first: 3 x 3000, 1 x 740. A length without a count, 3000, is bought: "
                 "as many as are needed.",
                 ("3 x 3000, 1 x 740", "3000", "6000, 2 x 1250", "5 x 12 ft"), longest=notation.LONGEST_TEXT),
        *SAW.pick("kerf", "vice_length"),
        Number("trim", "Trimmed off each end of a bar", "length", "0 mm", 0, 500,
               "Bent, marked or cropped ends that are of no use, the cut included.", aside=True),
        Number("keep", "Least off-cut worth keeping", "length", "300 mm", 1, 10_000,
               "What goes back to the rack is no waste. Leave empty when nothing is kept.", optional=True),
        Choice("search", "Search", SEARCHES, "usual",
               "The thorough one is for lists of many lengths that the usual one leaves unproved.", aside=True),
    ),
    sources=("gilmore-gomory", "common-practice"),
    callouts=("{pieces} from {bars}", "{pieces} out of {bars}", "cut {pieces} from {bars}"),
)  # fmt: skip
def cut_list(
    pieces: Listed, bars: Listed, kerf: float, vice_length: float, trim: float, keep: float | None, search: str
) -> Result:
    """Pieces and bars in nm, the other lengths in mm."""
    kerf_nm, trim_nm, vice = (_nanometres(one) for one in (kerf, trim, vice_length))
    keep_nm = None if keep is None else _nanometres(keep)
    times = THOROUGH if search == "thorough" else 1

    def result(plan: Plan) -> Result:
        return _result(plan, pieces, kerf_nm, trim_nm, keep_nm, vice_length)

    try:
        plan = cutting_plan.make(
            pieces, bars, kerf_nm, trim_nm, keep_nm, vice, times, lambda make: progress.found(lambda: result(make()))
        )
    except TooLong as problem:
        length, bar, gives = (shown(one, pieces.inch) for one in problem.args)
        trimmed = f", of which the trim leaves {gives}" if trim_nm else ""
        raise InputError(
            "pieces", f"The piece of {length} goes out of no bar: the longest has {bar}{trimmed}. Add a longer bar."
        ) from problem
    except NotEnough as problem:
        raise InputError("bars", cut_words.short_of(problem, pieces)) from problem
    return result(plan)


def _result(plan: Plan, pieces: Listed, kerf: int, trim: int, keep: int | None, vice_length: float) -> Result:
    """Kerf, trim and least off-cut in nm, the vice's length in mm."""
    wanted = sum(length * (count or 0) for length, count in pieces.parts)
    figures = cut_words.values(plan, wanted)
    return Result(
        values=tuple(figures),
        main=("bars_used", "bars_bought", "waste") if plan.either else ("bars_used", "waste", "off_cuts"),
        verdict=cut_words.verdict(plan),
        working=tuple(_working(plan, wanted, millimetres(kerf), millimetres(trim))),
        cautions=tuple(cut_words.cautions(plan, vice_length, pieces.inch)),
        assumptions=(
            "Every cut takes one kerf; the cut behind the last piece is saved where that piece ends with the bar.",
            "Fewest bars bought come first, then fewest bars, shortest bars, least waste, fewest layouts.",
            "Sawn lengths are taken as exact: allowance for facing and for a leaning cut belongs into the piece.",
        ),
        picture=picture(plan, pieces.inch),
        tables=(cut_words.layouts(plan, pieces.inch), cut_words.proof(plan, keep)),
        following=_following(pieces, plan),
    )


def _nanometres(length: float) -> int:
    return int((settle(length) * notation.NM).to_integral_value())


def _working(plan: Plan, wanted: int, kerf: float, trim: float) -> list[Step]:
    pieces, taken, kept = (millimetres(one) for one in (wanted, plan.bar_length, plan.kept))
    lines = [
        step("waste = B - P - O", millimetres(plan.bar_length - wanted - plan.kept), "mm",
             "bars taken, less pieces, less off-cuts worth keeping", B=taken, P=pieces, O=kept),
        step("Y = 100 * P / (B - O)", 100 * wanted / (plan.bar_length - plan.kept), "%", P=pieces, B=taken, O=kept),
    ]  # fmt: skip
    for one in plan.layouts[:SHOWN]:
        lines.append(
            step(
                f"R_{one.name} = max(0, S - t - p - n * k)", millimetres(one.off_cut), "mm",
                f"off-cut of layout {one.name}", S=millimetres(one.bar), t=trim, p=millimetres(sum(one.pieces)),
                n=float(len(one.pieces)), k=kerf,
            )
        )  # fmt: skip
    return lines


def _following(pieces: Listed, plan: Plan) -> tuple[Following, ...]:
    length, count = pieces.parts[0]
    bar = plan.layouts[0]
    return (
        Following(
            "cut_length", "What must be sawn for a finished length?",
            {"finished_length": shown(length), "pieces": str(count), "bar_length": ""},
        ),
        Following("bar_mass", "What do the bars weigh?", {"length": shown(bar.bar), "pieces": str(plan.bars)}),
    )  # fmt: skip
