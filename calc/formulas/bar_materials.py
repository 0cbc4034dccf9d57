"""What a bar is made of, as far as its mass goes: a grade by any of its names, else a metal, "carbon steel".

Densities in kg/m³.
"""

from dataclasses import dataclass

from calc.formulas import thermal, work_materials
from calc.formulas.work_materials import UnknownMaterial

DEFAULT = "C45"
COMMON = ("C45", "EN8", "EN3B", "EN1A", "EN24T", "303", "316", "GG25", "6082-T6", "CZ121", "carbon steel", "bronze")
STEEL = 7850.0  # kg/m³, what stockholders' lists of steel bar are reckoned with
HELP = "Any name of the grade, EN8, 080M40, C45, 1.0503, 316, or just carbon steel, brass."


@dataclass(frozen=True)
class Stuff:
    """A density with the name that it belongs to, its mark and sources, and what is to be said of the name."""

    name: str
    density: float
    mark: str
    sources: tuple[str, ...]
    remarks: tuple[str, ...] = ()


def read(text: str) -> Stuff:
    """The stuff of that name. UnknownMaterial with what to type instead."""
    try:
        found = work_materials.read(text)
    except UnknownMaterial:
        known = {name.casefold(): one for name, one in thermal.MATERIALS.items()}
        one = known.get(text.strip().casefold())
        if one is None:
            raise
        return Stuff(one.name, one.density, one.row.mark("density"), one.sources)
    material = found.material
    density = material.row.number("density")
    remarks = []
    if found.nearness == "about":
        remarks.append(f"Taken: the density of {material.label}, the nearest; {found.typed} is not in the tables.")
    others = [one.label for one in found.others if one.number("density") not in (density, None)]
    if others:
        remarks.append(f"Taken: {material.label}. {found.typed} may also be of another density: {'; '.join(others)}.")
    mark = material.confirmation("density")
    return Stuff(material.label, density, mark, () if mark == "M" else material.row.source, tuple(remarks))


def complete(started: str) -> tuple[str, ...]:
    """Names that a beginning could become, the grades first."""
    key = started.strip().casefold()
    metals = tuple(name for name in thermal.MATERIALS if key and name.startswith(key))
    return tuple(dict.fromkeys((*work_materials.complete(started), *metals)))[: work_materials.OFFERED]
