"""Clean-up of a bar: the largest diameter that comes out clean, or the least bar to order for a wanted one.

The full reading of the indicator is twice the eccentricity and so lies on the diameter already: it is taken off once.
Skin and centre error lie on the radius and count twice. The bar is taken at the small end of its tolerance.
"""

from decimal import Decimal

from calc import draw
from calc.model import Choice, Following, Number, OutsideTable, Result, Verdict, calculation
from calc.tables import Row, step_for, table
from calc.units import show, step, value

TURNED, ORDERED = "largest finished", "least bar"
MEASURED, ROLLED = "as measured", "hot rolled"
BRIGHT = ("h8", "h9", "h10", "h11")


@calculation(
    title="Will the bar clean up",
    question="What does this bar clean up to, or which do I order?",
    inputs=(
        Choice("asked", "Asked", {TURNED: "largest finished diameter of this bar",
                                  ORDERED: "least bar for this finished diameter"}, TURNED),
        Number("size", "Diameter", "length", "40 mm", 0.5, 2000,
               "Of the bar, or of the finished part where the bar is asked for."),
        Choice("bar", "The bar is",
               {MEASURED: "as measured, at its smallest", "h9": "bright, h9", "h10": "bright, h10", "h8": "bright, h8",
                "h11": "bright, h11", ROLLED: "black, hot rolled to EN 10060"}, "h10",
               "EN 10278 gives drawn and turned bar h10 and ground h9 unless ordered otherwise; the trade in the "
               "United Kingdom says drawn h9, turned h10, ground h8."),
        Number("run_out", "Run-out, full reading of the indicator", "length", "0.3 mm", 0, 100,
               "The greatest along the length to be turned. It is on diameter already."),
        Number("bow", "Or bow, away from straight", "length", "0 mm", 0, 100,
               "Measured with a straight edge and not in the run-out above: it reads double when turned.", aside=True),
        Number("skin", "Skin, scale or seams, deep", "length", "0 mm", 0, 50, "On one side."),
        Number("centre_error", "Centres off, beyond what the run-out shows", "length", "0 mm", 0, 50,
               "On radius: half of what it would add to the reading.", aside=True),
        Number("ovality", "Out of round", "length", "0 mm", 0, 50, "Greatest less least diameter in one place.",
               aside=True),
    ),
    sources=("common-practice",),
    callouts=("{size} bar {run_out} run-out", "{size} bar {run_out} runout", "{size} bar {run_out} run out",
              "{size} bar {run_out} TIR", "{size} clean up", "clean up {size}", "{size} bar clean up",
              "clean up {size} bar"),
)  # fmt: skip
def bar_clean_up(
    asked: str, size: float, bar: str, run_out: float, bow: float, skin: float, centre_error: float, ovality: float
) -> Result:
    """Every length in mm: run_out and ovality on diameter, skin and centre_error on radius, bow off straight."""
    lost = _exact(run_out) + 2 * (_exact(bow) + _exact(skin) + _exact(centre_error)) + _exact(ovality)
    given = {"t": run_out, "b": bow, "s": skin, "c": centre_error, "o": ovality}
    working = [step("a = t + 2 * b + 2 * s + 2 * c + o", float(lost), "mm", "taken off the diameter", **given)]
    values = [value("lost", "Lost on diameter", float(lost), "length", 3)]
    assumptions = ["The run-out is on diameter already and counted once; skin, bow and centre error are counted twice."]
    if asked == TURNED:
        short, source = _short(bar, size)
        finished = _exact(size) - short - lost
        if finished <= 0:
            raise OutsideTable("size", "Nothing is left of this bar. Take a thicker one, or check the readings.")
        working.append(step("d = D - u - a", float(finished), "mm", D=size, u=float(short), a=float(lost)))
        values.insert(0, value("finished", "Largest finished diameter", float(finished), "length", 3))
        main: tuple[str, ...] = ("finished", "lost")
        verdict = Verdict("good", f"It cleans up at {show(float(finished), 'length', 2)}, and at nothing larger.")
        nominal, ordered, small = size, finished, _exact(size) - short
    else:
        wanted = _exact(size) + lost
        found = {system: _least(bar, wanted, system) for system in ("metric", "inch")}
        best = min((one for one in found.values() if one), key=lambda one: one.number("diameter"), default=None)
        if best is None:
            raise OutsideTable(
                "size",
                f"No bar of the lists leaves {show(float(wanted), 'length', 2)} in that finish. Choose another finish, "
                "or ask the stockholder.",
            )
        taken = found["metric"] or best
        nominal, ordered = taken.number("diameter"), _exact(size)
        short, source = _short(bar, nominal)
        small = _exact(nominal) - short
        spare = small - wanted
        working += [
            step("w = d + a", float(wanted), "mm", "least bar as delivered", d=size, a=float(lost)),
            step("D = w + u + r", nominal, "mm", w=float(wanted), u=float(short), r=float(spare)),
        ]
        values.insert(0, value("bar_size", "Least bar to order", nominal, "length", 3))
        inch = found["inch"]
        if inch is not None:
            values.append(value("inch_bar", f"Least inch bar, {inch.text('nominal')}", inch.number("diameter"),
                                "length"))  # fmt: skip
        values.append(value("spare", "Over what is needed", float(spare), "length", 3))
        main = ("bar_size", "spare")
        verdict = Verdict("good", f"Order {taken.text('nominal')} bar: {show(float(spare), 'length', 2)} to spare.")
        if taken.strongest == "M":
            assumptions.append(f"That {taken.text('nominal')} is a usual size is from memory; ask the stockholder.")
    values.append(value("smallest_bar", "The bar at its smallest", float(small), "length", 3))
    if bar in BRIGHT and nominal > 120 and bar == "h8":
        assumptions.append("The h8 limit at this size is the ISO grade, not seen in an extract of EN 10278.")
    return Result(
        values=tuple(values),
        main=main,
        verdict=verdict,
        working=tuple(working),
        cautions=(
            "A bent bar whips: try it at low speed, support what stands out of the headstock; local rules first.",
        ),
        assumptions=tuple(assumptions),
        sources=source,
        picture=picture(nominal, float(ordered)),
        following=(
            Following(
                "pass_plan",
                "Which cuts take it to size?",
                {"diameter": f"{nominal:.9g} mm", "wanted": f"{float(finished) if asked == TURNED else size:.9g} mm"},
            ),
            Following("cut_length", "How long do I saw it?", {"diameter": f"{nominal:.9g} mm"}),
            Following("bar_mass", "What does it weigh and cost?", {"size": f"{nominal:.9g} mm"}),
        ),
    )


def _exact(number: float) -> Decimal:
    return Decimal(repr(number))


def _row(bar: str, nominal: float) -> Row | None:
    if bar == ROLLED:
        rows = table("bar_tolerances_rolled")
        return next((row for row in rows if row.number("from") <= nominal <= row.number("to")), None)
    return step_for(table("bar_tolerances"), nominal)


def _short(bar: str, nominal: float) -> tuple[Decimal, tuple[str, ...]]:
    """How far below its nominal size the bar may be, in mm, and the standard that says so."""
    if bar == MEASURED:
        return Decimal(0), ()
    row = _row(bar, nominal)
    if row is None:
        which = "EN 10060 lists no tolerance" if bar == ROLLED else "EN 10278 ends outside 3 to 200 mm"
        raise OutsideTable("size", f"{which} for {show(nominal, 'length')}. Measure the bar and choose “as measured”.")
    return -_exact(row.number("lower" if bar == ROLLED else f"{bar}_lower")), row.source


def _least(bar: str, wanted: Decimal, system: str) -> Row | None:
    """The least bar of that list which is never smaller than `wanted` mm as delivered."""
    for row in table("bar_sizes"):
        nominal = row.number("diameter")
        if row.text("system") != system or (bar != MEASURED and _row(bar, nominal) is None):
            continue
        if _exact(nominal) - _short(bar, nominal)[0] >= wanted:
            return row
    return None


def picture(bar: float, finished: float) -> str:
    """The finished circle inside the bar that runs out, its offset larger than life."""
    return draw.svg(
        340, 176, "The finished diameter inside a bar that runs out",
        draw.circle(96, 84, 66, "hidden"), draw.circle(102, 84, 54, "shaft"),
        draw.line(20, 84, 176, 84, "axis"), draw.line(102, 12, 102, 156, "axis"),
        draw.label(186, 60, f"bar Ø {show(bar, 'length')}"),
        draw.label(186, 84, f"clean Ø {show(finished, 'length')}", class_="strong"),
        draw.label(20, 170, "run-out not to scale", class_="small"),
    )  # fmt: skip
