"""Bar as it is bought: its section, its corners, its mass, and how many pieces.

The corners follow from the flats by geometry alone. The mass takes the section as drawn, with sharp corners.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import pi, sqrt
from types import MappingProxyType

from calc.model import CalcError, InputError, Step
from calc.units import show, step

SHAPES: Mapping[str, str] = MappingProxyType(
    {
        "round": "round",
        "square": "square, across flats",
        "hexagon": "hexagon, across flats",
        "tube": "tube, outside diameter and wall",
        "flat": "flat, width and thickness",
    }
)
#: How each section is asked for over the counter, behind its size.
CALLED = (
    ("bar", ""), ("round", "round"), ("round bar", "round"), ("hex", "hexagon"), ("AF hex", "hexagon"),
    ("A/F", "hexagon"), ("square", "square"), ("x {thickness} flat", "flat"), ("x {thickness} tube", "tube"),
)  # fmt: skip
HOLLOW = ("tube", "flat")  # the shapes that need a second size
MOST_PIECES = 10_000
MM2_PER_M2 = 1_000_000.0


def called() -> tuple[str, ...]:
    """The call-outs of a bar by its size: with or without a length and a material, in either order."""
    rests = ("", " {length}", " {material}", " {length} {material}", " {material} {length}")
    plain = tuple(
        f"{{size}} {words}{rest}" + (f"{{shape={shape}}}" if shape else "") for words, shape in CALLED for rest in rests
    )
    return (
        *plain, "{material} {size} bar", "{material} {size} bar {length}", "{size} {material} bar",
        "{size} {material} bar {length}", "{length} of {size} bar", "{length} of {size} {material}",
        "{length} of {size} bar {material}", "{length} of {size} {material} bar",
        *(f"bar {{size}}{rest}" for rest in rests), "hex {size}{shape=hexagon}",
    )  # fmt: skip


def read_count(text: str) -> int:
    """How many pieces, as a whole number: "6", "6 off", "6x". CalcError with a sentence for the user."""
    match = re.fullmatch(r"(\d{1,6}) ?(?:off|x|×|pcs?|pieces?)?", text.strip(), re.IGNORECASE)
    if match is None or not 1 <= int(match[1]) <= MOST_PIECES:
        raise CalcError(f"Give a whole number of pieces from 1 to {MOST_PIECES}.")
    return int(match[1])


@dataclass(frozen=True)
class Section:
    """A section: `size` and `thickness` in mm, `area` in mm², `corners` across the corners in mm where it has any."""

    shape: str
    size: float
    thickness: float | None
    area: float
    corners: float | None
    working: tuple[Step, ...]

    def __str__(self) -> str:
        """As it is asked for over the counter: "Ø 40 round", "25 x 5 flat"."""
        size = f"{self.size:.6g}"
        second = f" × {self.thickness:.6g}" if self.thickness is not None else ""
        return f"{'Ø ' if self.shape in ('round', 'tube') else ''}{size}{second} mm {self.shape}"


def section(shape: str, size: float, thickness: float | None) -> Section:
    """The section of that shape, sizes in mm.

    InputError at `thickness` when it is missing, when this shape has none, or when no such section can be.
    """
    if shape not in HOLLOW and thickness is not None:
        raise InputError("thickness", f"A {shape} bar has one size only. Leave this empty, or choose tube or flat.")
    if shape in HOLLOW and thickness is None:
        what = "wall of the tube" if shape == "tube" else "thickness of the flat"
        raise InputError("thickness", f"Give the {what}, in mm or inch.")
    match shape:
        case "round":
            area = pi * size**2 / 4
            return Section(shape, size, None, area, None, (step("A = pi * d ** 2 / 4", area, "mm²", d=size),))
        case "square":
            area, corners = size**2, size * sqrt(2)
            working = step("A = s ** 2", area, "mm²", s=size), step("e = s * sqrt(2)", corners, "mm", s=size)
            return Section(shape, size, None, area, corners, working)
        case "hexagon":
            area, corners = size**2 * sqrt(3) / 2, 2 * size / sqrt(3)
            working = (
                step("A = s ** 2 * sqrt(3) / 2", area, "mm²", s=size),
                step("e = 2 * s / sqrt(3)", corners, "mm", s=size),
            )
            return Section(shape, size, None, area, corners, working)
    assert thickness is not None
    if shape == "tube":
        if thickness >= size / 2:
            most = show(size / 2, "length")
            raise InputError("thickness", f"Give a wall under {most}, half the outside diameter; a solid bar is round.")
        area = pi * (size - thickness) * thickness
        return Section(shape, size, thickness, area, None,
                       (step("A = pi * (D - t) * t", area, "mm²", "mean circumference times wall", D=size,
                             t=thickness),))  # fmt: skip
    if thickness > size:
        raise InputError("thickness", "The thickness is more than the width. Give the greater side as the size.")
    area = size * thickness
    return Section(shape, size, thickness, area, None, (step("A = b * t", area, "mm²", b=size, t=thickness),))


def mass_per_metre(area: float, density: float) -> float:
    """kg/m of a bar of `area` mm² and `density` kg/m³."""
    return area * density / MM2_PER_M2
