"""The tables and the picture of what a worn place once was."""

from collections.abc import Sequence
from decimal import Decimal

from calc import draw
from calc.draw import Markup
from calc.formulas.worn import Origin
from calc.model import Table
from calc.tables import table
from calc.units import figure, show

SIZES, CLASSES = 5, 8  # rows shown at most
HERE = {-1: "too little is missing", 0: "yes", 1: "too much is missing"}


def micrometres(number: Decimal) -> str:
    """A difference as it is shown in a table."""
    return f"{figure(number, tenths(number))} µm"


def limits(origin: Origin) -> str:
    """The limits of size of an origin, lower to upper."""
    lower, upper = (show(float(one), "length", places(one)) for one in (origin.lower, origin.upper))
    return f"{lower.removesuffix(' mm')} to {upper}"


def places(size: Decimal) -> int:
    """Three decimals of a millimetre, more where a size or a limit has them."""
    exponent = size.normalize().as_tuple().exponent
    return min(6, max(3, -exponent if isinstance(exponent, int) else 3))


def tenths(difference: Decimal) -> int:
    """Whole micrometres, with decimals where there are any."""
    exponent = difference.normalize().as_tuple().exponent
    return min(3, max(0, -exponent if isinstance(exponent, int) else 0))


def sizes(best: Sequence[Origin], least_worn: Decimal, worst: Decimal) -> Table:
    """One row for each size, with the class that fits it best."""
    return Table(
        "What it may have been",
        ("Size", "Class, limits then", "Missing at the least worn place", "Missing at the worst place"),
        tuple(
            (one.size.text, f"{one.one}, {limits(one)}", _missing(one, least_worn), _missing(one, worst))
            for one in best[:SIZES]
        ),
        "Likeliest first: the less the least worn place would have lost, the likelier. A size that is rarer counts "
        "as if it had lost up to 0.24 mm more, a rarer class up to 0.04 mm.",
    )


def classes(origins: Sequence[Origin], least_worn: Decimal, worst: Decimal) -> Table:
    """The classes of the likeliest size."""
    size = origins[0].size
    rows = [one for one in origins if one.size == size][:CLASSES]
    return Table(
        f"Classes of {size.text} that are left open",
        ("Class", "As", "Limits then", "Missing at the least worn place", "Missing at the worst place"),
        tuple(
            (str(one.one), "bearing seat" if one.seat else "plain fit", limits(one), _missing(one, least_worn),
             _missing(one, worst))
            for one in rows
        ),
        "A worn place shows the size it had, seldom the class. For the repair take the class that the job wants.",
    )  # fmt: skip


def _missing(origin: Origin, reading: Decimal) -> str:
    most, least = origin.missing(reading)
    return f"{micrometres(least).removesuffix(' µm')} to {micrometres(most)}"


def repairs(missing: Decimal, hole: bool) -> Table:
    """What can be done about `missing` (mm on diameter). Ranges are common practice where no maker is named."""
    rows = []
    for row in table("repair_methods"):
        if ("bore" if hole else "shaft") in row.text("part").split("+"):
            least = Decimal(f"{row.number('least'):g}")
            most = Decimal(f"{row.number('most'):g}") if row.has("most") else None
            place = -1 if missing < least else 1 if most is not None and missing > most else 0
            usual = f"{least} to {most} mm" if most is not None else "any"
            rows.append((row.text("method"), usual, HERE[place], row.text("mind")))
    shown = show(float(missing), "length", places(missing))
    return Table(
        f"Ways to bring it back, {shown} short on diameter",
        ("Way", "Usual for", "Here", "Bear in mind"),
        tuple(rows),
        "Usual ranges on diameter: common practice, no source, but for what one maker is named for. Punch marks and "
        "knurling are no repair: a few crests carry the ring, flatten and fret.",
    )


# ------------------------------------------------------------------------------------------------- picture


def picture(origin: Origin, readings: Sequence[Decimal], hole: bool) -> str:
    """The zone it had and the readings, in micrometres from the nominal size, to one scale."""
    size = origin.size.millimetres
    marks = [(one - size) * 1000 for one in readings]
    ends = [*marks, origin.limits.upper, origin.limits.lower, Decimal(0)]
    top, bottom = float(max(ends)), float(min(ends))
    scale = 120 / (top - bottom)

    def y(deviation: Decimal) -> float:
        return 24 + (top - float(deviation)) * scale

    upper, lower = y(origin.limits.upper), y(origin.limits.lower)
    step = min(26.0, 120 / max(len(marks) - 1, 1))
    places = [(170 + step * place, y(mark)) for place, mark in enumerate(marks)]
    parts: list[Markup] = [
        draw.line(20, y(Decimal(0)), 330, y(Decimal(0)), "axis"),
        draw.label(20, y(Decimal(0)) + (-4 if y(Decimal(0)) > 40 else 14), "0"),
        draw.box(56, upper, 52, max(lower - upper, 1), "hole" if hole else "shaft"),
        draw.label(82, upper - 5, str(origin.one), "middle", "strong"),
        *([draw.path(*places, class_="thin")] if len(places) > 1 else []),
        *(draw.circle(x, height, 3.5, "ring") for x, height in places),
        *_readings(places, marks),
        draw.label(20, 176, "µm from the nominal size, to scale; readings in turn", class_="small"),
    ]
    title = f"The zone {origin.one} of {origin.size.text} and the readings, in micrometres from the nominal size"
    return draw.svg(340, 184, title, *parts)


def _readings(places: Sequence[tuple[float, float]], marks: Sequence[Decimal]) -> list[Markup]:
    """The largest and the smallest reading in figures, where the line between the readings is not."""
    found = []
    for end, offset in ((max(marks), -8), (min(marks), 17)):
        place = marks.index(end)
        x, height = places[place]
        text = figure(end, tenths(end), sign=True)
        if place == 0:
            found.append(draw.label(x - 7, height - 4, text, "end"))
        elif place == len(marks) - 1:
            found.append(draw.label(x + 7, height - 4, text))
        else:
            found.append(draw.label(x, height + offset, text, "middle"))
    return found if max(marks) != min(marks) else found[:1]
