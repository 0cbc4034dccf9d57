"""Mass of bar: what a length of round, square, hexagon, tube or flat weighs and costs, and how wide it is over corners.

The section is taken at its nominal size with sharp corners. A price for each metre goes before one for each kilogram,
and where both are given both are shown.
"""

from calc import draw
from calc.formulas import bar_materials, bars
from calc.formulas.bar_materials import Stuff
from calc.formulas.bars import SHAPES, Section
from calc.formulas.work_materials import PATTERN
from calc.model import Choice, Following, Notation, Number, Result, Step, Value, Verdict, calculation
from calc.shop import PRICES
from calc.units import figure, settle, show, step, value

LIFT_MAN, LIFT_WOMAN = 25.0, 16.0  # kg, close to the body at waist height: guideline figures of INDG143
LONG = 3000.0  # mm from which the ends of a carried bar swing wide; common practice, no source


@calculation(
    title="Mass and price of bar",
    question="What does this bar weigh, and what does it cost?",
    inputs=(
        Choice("shape", "Section", SHAPES, "round"),
        Number("size", "Size", "length", "40 mm", 0.5, 2000,
               "Diameter of round or tube, across flats of square or hexagon, width of flat."),
        Number("thickness", "Wall of tube, thickness of flat", "length", None, 0.1, 1000,
               "Leave empty for round, square and hexagon.", optional=True),
        Number("length", "Length of a piece", "length", "1 m", 0.5, 100_000, "With its unit: 1 m, 318 mm, 12 ft."),
        Notation("pieces", "Pieces", bars.read_count, r"\d{1,6}", "1", "How many of that length, a whole number.",
                 ("1", "2", "5", "10")),
        Notation("material", "Material", bar_materials.read, PATTERN, bar_materials.DEFAULT, bar_materials.HELP,
                 bar_materials.COMMON, complete=bar_materials.complete),
        Number("density", "Density instead", "density", None, 500, 25_000,
               "Only for a material that is not in the list.", optional=True),
        *PRICES.pick("price_per_kg", "price_per_m"),
    ),
    sources=("bar-mass-lists",),
    callouts=bars.called(),
)  # fmt: skip
def bar_mass(
    shape: str, size: float, thickness: float | None, length: float, pieces: int, material: Stuff,
    density: float | None, price_per_kg: float | None, price_per_m: float | None,
) -> Result:  # fmt: skip
    """Sizes in mm, density in kg/m³, prices in money for each kg or metre; mass in kg, kg/m, corners in mm."""
    section = bars.section(shape, size, thickness)
    dense = material.density if density is None else density
    per_metre = bars.mass_per_metre(section.area, dense)
    each = per_metre * length / 1000
    mass = each * pieces
    metres = length * pieces / 1000

    values = [
        value("mass", "Mass" if pieces == 1 else f"Mass of {pieces} pieces", mass, "mass", _places(mass)),
        value("mass_each", "Mass of a piece", each, "mass", _places(each)),
        value("mass_per_metre", "Mass for each metre", per_metre, "mass_per_length"),
        value("section_area", "Area of the section", section.area, "area"),
    ]
    if section.corners is not None:
        values.append(value("across_corners", "Across corners", section.corners, "length"))
    working = [
        *section.working,
        step("q = A * rho / 1000000", per_metre, "kg/m", A=section.area, rho=dense),
        step("m = q * L / 1000 * n", mass, "kg", q=per_metre, L=length, n=float(pieces)),
    ]
    priced, costing = _prices(mass, metres, price_per_kg, price_per_m)
    values += priced
    shown = ["mass", *(one.name for one in priced[:1]), *(["across_corners"] if section.corners is not None else [])]
    assumptions = [
        "Nominal size; a bar at the end of its tolerance weighs a little more or less, and so does the invoice.",
    ]
    if section.corners is not None or shape == "flat":
        assumptions.append("Sharp corners: rolled bar has rounded ones, weighs less and is narrower across corners.")
    if density is None:
        unsure = ", from memory" if material.mark == "M" else ""
        assumptions += [f"Density of {material.name}: {show(dense, 'density')}{unsure}.", *material.remarks]
        if shape == "round" and dense == bar_materials.STEEL:
            assumptions.append("Stockholders' lists of round steel bar are reckoned with the same 7850 kg/m³.")
    if priced:
        assumptions.append("The price is that of this length alone, without sawing, delivery, least order or off-cut.")
    return Result(
        values=tuple(values),
        main=tuple(shown),
        verdict=_verdict(mass, each, priced, price_per_kg is not None and price_per_m is not None),
        working=(*working, *costing),
        cautions=_cautions(each, length),
        assumptions=tuple(assumptions),
        sources=tuple(
            dict.fromkeys((*(material.sources if density is None else ()), "hse-indg143", "common-practice"))
        ),
        picture=picture(section),
        following=(
            Following("cut_length", "How long do I saw it?", {"diameter": f"{size:.9g} mm"}),
            Following("fit", "What may it measure when turned?", {"size": f"{size:.9g} mm"}),
            Following("as_found", "What standard size is it near?", {"readings": f"{size:.9g} mm"}),
        ),
    )


def _prices(mass: float, metres: float, per_kg: float | None, per_m: float | None) -> tuple[list[Value], list[Step]]:
    """The price taken, and the other one where both can be reckoned."""
    by_mass = None if per_kg is None else mass * per_kg
    by_length = None if per_m is None else metres * per_m
    values, working = [], []
    if by_length is not None and per_m is not None:
        values.append(value("price", "Price, by the metre", by_length, "money"))
        working.append(step("P = l * p_m", by_length, "", "by the metre", l=metres, p_m=per_m))
    if by_mass is not None and per_kg is not None:
        name = "price" if by_length is None else "price_by_mass"
        label = "Price, by mass" if by_length is None else "The other price, by mass"
        values.append(value(name, label, by_mass, "money"))
        working.append(step("P_kg = m * p_kg", by_mass, "", "by mass", m=mass, p_kg=per_kg))
    return values, working


def _verdict(mass: float, each: float, priced: list[Value], both: bool) -> Verdict:
    weighs = show(mass, "mass", _places(mass))
    if both:
        length, kilo = (one.text for one in priced)
        return Verdict("mind", f"Two prices are given: {length} by the metre is taken, by mass it would be {kilo}.")
    heavy = settle(each) > settle(LIFT_WOMAN)
    lift = ", too heavy for one to lift without thought" if heavy else ""
    costs = f" and costs {priced[0].text}" if priced else ", no price given"
    return Verdict("mind" if heavy else "good", f"It weighs {weighs}{costs}{lift}.")


def _cautions(each: float, length: float) -> tuple[str, ...]:
    said = ["Sawn ends are sharp: de-burr them, and wear gloves for carrying, never at a running machine."]
    if settle(each) > settle(LIFT_WOMAN):
        said.append(
            f"A piece of {show(each, 'mass')}: the HSE's guideline figures end at {LIFT_MAN:g} kg for men and "
            f"{LIFT_WOMAN:g} kg for women, close to the body at waist height. Get help or lifting gear; local rules "
            "come first."
        )
    if length >= LONG:
        said.append(
            "A long bar sags and its ends swing wide: look behind, carry it in pairs, prop both sides of a saw."
        )
    return tuple(said)


def _places(mass: float) -> int:
    """Two decimals of a kilogram, more for what weighs less than a tenth of one."""
    exponent = settle(mass).adjusted()
    return 2 if exponent >= -1 else min(9, 1 - exponent)


def picture(section: Section) -> str:
    """The section with its sizes, each drawn to its own scale."""
    x, y, half = 96.0, 92.0, 58.0
    size = figure(section.size, 3).rstrip("0").rstrip(".")
    parts: list[str] = []
    match section.shape:
        case "round" | "tube":
            parts += [draw.circle(x, y, half, "shaft")]
            if section.thickness is not None:
                parts.append(draw.circle(x, y, half * (1 - 2 * section.thickness / section.size), "hole"))
            parts += [draw.line(x - 72, y, x + 72, y, "axis"), draw.line(x, y - 72, x, y + 72, "axis")]
            high = half
        case "square":
            parts += [draw.box(x - half, y - half, 2 * half, 2 * half, "shaft"),
                      draw.line(x - half, y + half, x + half, y - half, "thin")]  # fmt: skip
            high = half
        case "hexagon":
            point = half * 2 / 3**0.5
            corners = ((1, 0), (0.5, 1), (-0.5, 1), (-1, 0), (-0.5, -1), (0.5, -1))
            parts += [
                draw.path(*((x + point * i, y + half * j) for i, j in corners), closed=True, class_="shaft"),
                draw.line(x - point, y, x + point, y, "thin"),
            ]
            high = half
        case _:
            assert section.thickness is not None
            high = max(3.0, half * section.thickness / section.size)
            parts.append(draw.box(x - half, y - high, 2 * half, 2 * high, "shaft"))
    sign = "Ø " if section.shape in ("round", "tube") else ""
    if section.shape == "flat" and section.thickness is not None:
        parts += [draw.upright(178, y - high, y + high, figure(section.thickness, 3).rstrip("0").rstrip(".")),
                  draw.level(x - half, y - high - 14, 2 * half, size)]  # fmt: skip
    else:
        parts.append(draw.upright(178, y - high, y + high, f"{sign}{size}"))
    if section.thickness is not None and section.shape == "tube":
        parts.append(draw.label(184, y + 24, f"wall {figure(section.thickness, 3).rstrip('0').rstrip('.')}"))
    if section.corners is not None:
        parts.append(draw.label(184, y + 24, f"corners {figure(section.corners, 3)}"))
    parts.append(draw.label(16, 178, "sizes in mm", class_="small"))
    return draw.svg(340, 186, f"Section of the bar, {section}", *parts)
