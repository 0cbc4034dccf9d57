"""What a cutting plan says in words, figures and tables."""

from collections.abc import Sequence
from itertools import groupby

from calc.formulas.cutting_notation import NM, Listed, shown
from calc.formulas.cutting_plan import Layout, NotEnough, Plan
from calc.model import Table, Value, Verdict
from calc.pieces.cut_picture import heading
from calc.units import show, value

NO_BREAK = "\u00a0"  # a space at which no line ends

MARKED_ONE_BY_ONE = 12  # equal pieces in a row; the marks of more are told as first, step and last


def millimetres(length: int) -> float:
    return length / NM


def values(plan: Plan, pieces: int) -> list[Value]:
    """Counts as plain numbers, lengths in mm, the yield in percent."""
    choice, lost = plan.choice, plan.bar_length - pieces - plan.kept
    bound = choice.bought_bound + (choice.rack_bound if choice.bought == choice.bought_bound else 0)
    found = [_count("bars_used", "Bars", plan.bars)]
    if plan.either:
        found.append(_count("bars_bought", "Of these bought", choice.bought))
    least = "Fewest bars when as few are bought, proved" if plan.either else "Fewest bars that could do, proved"
    longest = max(one.off_cut for one in plan.layouts)
    return [
        *found,
        _count("lower_bound", least, bound),
        value("waste", "Waste: kerf, trim and scrap", millimetres(lost), "length", 1),
        value("off_cuts", "Off-cuts worth keeping, together", millimetres(plan.kept), "length", 1),
        value("longest_off_cut", "Longest off-cut", millimetres(longest), "length", 1),
        value("yield", "Becomes pieces, of what is used up", _yield(plan, pieces), "percentage", 2),
        _count("layouts", "Different layouts", len(plan.layouts)),
        value("bar_length", "Bars taken, together", millimetres(plan.bar_length), "length", 1),
    ]


def _yield(plan: Plan, pieces: int) -> float:
    return 100 * pieces / (plan.bar_length - plan.kept)


def _count(name: str, label: str, number: int) -> Value:
    return value(name, label, number, "ratio", 0)


def verdict(plan: Plan) -> Verdict:
    """Whether the number of bars is proved, in one sentence."""
    choice = plan.choice
    bars = "1 bar does" if plan.bars == 1 else f"{plan.bars} bars do"
    if plan.either:
        bars += f", {choice.bought or 'none'} of them bought"
    if plan.fewest_proved:
        fewer = "" if plan.bars == 1 else ", and it is proved that fewer do not"
        if plan.either:
            fewer = "; proved: no plan buys fewer, and none that buys as many takes fewer"
        return Verdict("good", f"{bars}{fewer}{_unproved(plan)}.")
    if choice.bought > choice.bought_bound:
        found, least, what = choice.bought, choice.bought_bound, " bought" if plan.either else ""
    else:
        found, least, what = choice.rack, choice.rack_bound, " off the rack" if plan.either else ""
    return Verdict("mind", f"{bars}; not proved the fewest: {found} found{what}, fewer than {least} ruled out.")


def _unproved(plan: Plan) -> str:
    """Which of the lesser wishes are met only as well as was found."""
    wishes = [
        ("shortest bars", plan.choice.shortest),
        ("least waste", plan.kept == plan.kept_bound),
        ("fewest layouts", len(plan.layouts) == plan.layouts_bound),
    ]
    lacking = [wish for wish, proved in wishes if not proved]
    return f"; {_together(lacking)} only as found" if lacking else ""


def layouts(plan: Plan, inch: bool) -> Table:
    """One row for each layout, ready to mark out by."""
    rows = []
    for one in plan.layouts:
        runs = [(piece, len(list(same))) for piece, same in groupby(one.pieces)]
        pieces = ", ".join(f"{count}{NO_BREAK}×{NO_BREAK}{shown(piece, inch, unit=False)}" for piece, count in runs)
        off_cut = shown(one.off_cut, inch, unit=False) + (", keep" if one.kept else "")
        rows.append((one.name, heading(one, inch), pieces, _marks(one, inch), off_cut))
    unit = "in" if inch else "mm"
    columns = ("Layout", "Bars", f"Pieces, {unit}", f"Marks from the raw end, {unit}", f"Off-cut, {unit}")
    note = "Mark out the whole bar first. Saw beyond each mark, so that the kerf lies behind the piece."
    if len(plan.layouts[0].marks) > len(plan.layouts[0].pieces):
        note += " The first mark is the trim: saw on its outer side."
    return Table("Layouts", columns, tuple(rows), note, first=True)


def _marks(one: Layout, inch: bool) -> str:
    told: list[str] = [shown(mark, inch, unit=False) for mark in one.marks[: -len(one.pieces)]]
    ends = zip(one.marks[-len(one.pieces) :], one.pieces, strict=True)
    for _, same in groupby(ends, lambda end: end[1]):
        marks = [mark for mark, _ in same]
        if len(marks) > MARKED_ONE_BY_ONE:
            first, step, last = (shown(one, inch, unit=False) for one in (marks[0], marks[1] - marks[0], marks[-1]))
            told.append(f"{first} and every {step} more up to {last}")
        else:
            told += [shown(mark, inch, unit=False) for mark in marks]
    return "; ".join(told)


def proof(plan: Plan, keep: int | None) -> Table:
    """How far each wish is proved, in the order of the wishes."""
    choice = plan.choice
    rows = []
    if choice.bought or plan.either:
        rows.append(_proved("Bars bought", str(choice.bought), choice.bought_bound, choice.bought))
    if choice.rack or not rows:
        rows.append(_proved("Bars off the rack", str(choice.rack), choice.rack_bound, choice.rack))
    length = show(millimetres(plan.bar_length), "length", 1)
    rows.append(("Length of the bars", length, "proved least" if choice.shortest else "least found, not proved"))
    if keep is not None:
        more = plan.kept_bound - plan.kept
        kept = show(millimetres(plan.kept), "length", 1)
        told = f"at most {show(millimetres(more), 'length', 1)} more could be kept" if more > 0 else "proved most"
        rows.append(("Off-cuts worth keeping", kept, told))
    rows.append(_proved("Layouts", str(len(plan.layouts)), plan.layouts_bound, len(plan.layouts)))
    note = "Wishes in this order, each among the plans that are best by those before it."
    return Table("What is proved", ("Wish", "This plan", "Standing"), tuple(rows), note)


def _proved(what: str, shown_as: str, bound: int, found: int) -> tuple[str, str, str]:
    ruled_out = f"fewer than {bound} ruled out" if bound > 1 else "not proved"
    return what, shown_as, "proved fewest" if bound >= found else f"fewest found; {ruled_out}"


def short_of(problem: NotEnough, pieces: Listed) -> str:
    """What is left over, and how many more bars are needed."""
    left, missing, bar, certain = problem.args
    lengths = sorted((length for length, _ in pieces.parts), reverse=True)
    inch = pieces.inch
    over = [f"{count} × {shown(length, inch)}" for length, count in zip(lengths, left, strict=True) if count]
    least = "at least " if certain else ""
    more = f"{least}{missing} more {'bar' if missing == 1 else 'bars'} of {shown(bar, inch)}"
    return f"Not all pieces come out of these bars: {_together(over)} would be left over. Add {more}."


def _together(parts: Sequence[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def cautions(plan: Plan, vice: float, inch: bool) -> list[str]:
    """What can hurt, and which bars leave too little to hold."""
    short = [one for one in plan.layouts if one.held is not None and millimetres(one.held) < vice]
    told = []
    if short:
        names = _together([one.name for one in short])
        least = shown(min(one.held or 0 for one in short), inch)
        wants = show(vice, "length", 1)
        told.append(
            f"In layout {names} the last cut leaves only {least} to hold and the vice wants {wants}: "
            "never hold a short end by hand; use another bar, a packing piece or another way of holding."
        )
    told += [
        "Guard down to the work, both sides of a long bar on stands, blade stopped before reaching in.",
        "Sawn ends are sharp and hot: de-burr before handling. Local rules and the saw's manual come first.",
    ]
    return told
