"""How strong a part is: its material by name and section, or a yield strength typed from a certificate.

A strength belongs to a section: bar that is thicker than the one it was listed for is weaker, so it is refused there
and not carried on. Strengths in MPa, sections in mm.
"""

import re
from dataclasses import dataclass

from calc import units
from calc.formulas import work_materials
from calc.formulas.work_materials import Found
from calc.model import CalcError, InputError
from calc.tables import Row, matching
from calc.units import show

WEAKEST, STRONGEST = 5.0, 2500.0  # MPa that may be typed
OFFERED = ("C45", "EN8", "EN8 cold drawn", "EN24T", "S355J2", "GG25", "6082-T6", "355 MPa")
PATTERN = work_materials.PATTERN
BRITTLE = 4 / 3  # by how much more safety is wanted where only the tensile strength is known; from memory
SMALL = 16.0  # mm to which a strength "for small sections" is taken; ours, no source
_UNIT = re.compile(r"[\d.,]+ ?(?:mpa|n/mm2|n/mm²|psi)\.?", re.IGNORECASE)


@dataclass(frozen=True)
class Typed:
    """What was typed: a known material, or a yield strength in MPa."""

    found: Found | None
    proof: float | None


@dataclass(frozen=True)
class Strength:
    """Strength of a part. `figure` is the yield strength, or the tensile strength where no yield is listed.

    `state` says which section or state the figure holds for, `confirmed` whether it was seen in print. `tensile` is
    the least tensile strength, None where it is not known.
    """

    label: str
    figure: float
    is_yield: bool
    state: str
    confirmed: bool
    remarks: tuple[str, ...]
    source: tuple[str, ...]
    tensile: float | None = None

    @property
    def wanted(self) -> float:
        """By what the wanted safety is multiplied for this material."""
        return 1.0 if self.is_yield else BRITTLE


def read(text: str) -> Typed:
    """A material by any of its names, or a yield strength with its unit, "355 MPa". CalcError with what to type."""
    clean = units.tidy(text)
    if not _UNIT.fullmatch(clean):
        return Typed(work_materials.read(text), None)
    number, unit = units.read(clean, "pressure")
    proof = units.to_own(number, unit, "pressure")
    if not WEAKEST <= proof <= STRONGEST:
        raise CalcError(f"Give a yield strength from {WEAKEST:g} to {STRONGEST:g} MPa.")
    return Typed(None, proof)


def strength(typed: Typed, field: str, section: float | None) -> Strength:
    """Strength of a part whose greatest section is `section` mm; None where the section is not known.

    InputError at `field` where no strength is listed for that material in that section.
    """
    if typed.proof is not None:
        return Strength(f"yield {show(typed.proof, 'pressure', 0)}", typed.proof, True, "as typed", True, (), ())
    assert typed.found is not None
    material = typed.found.material
    row, state = material.row, material.condition
    if section is not None:
        row, state = _for_section(row, state, material.label, field, section)
    remarks = typed.found.remarks
    if material.iso_group == "K":
        remarks += (f"{material.label}: {material.row.note}.",)
    tensile = next((one.number("tensile_min") for one in (row, material.row) if one.has("tensile_min")), None)
    for column, is_yield in (("proof_min", True), ("tensile_min", False)):
        if row.has(column):
            return Strength(
                material.label, row.number(column), is_yield, state, row.mark(column) != "M", remarks,
                row.source, tensile,
            )  # fmt: skip
    raise InputError(field, f"No strength is listed for {material.label}. Type its yield strength, as 355 MPa.")


def _for_section(row: Row, condition: str, label: str, field: str, section: float) -> tuple[Row, str]:
    """The row that holds for that section, the thinnest listed where it is thinner still, and what it holds for."""
    fitting = [
        one for one in matching("material_sections", material=row.text("material"))
        if re.search(rf"\b{re.escape(one.text('condition'))}\b", condition)
    ]  # fmt: skip
    for one in fitting:
        if section <= one.number("up_to"):
            low, high = one.number("over"), one.number("up_to")
            state = one.text("condition") if len(one.text("condition")) > 1 else f"condition {one.text('condition')}"
            span = f"over {low:g} to {high:g} mm" if low else f"to {high:g} mm"
            return one, f"{state}, {span}{'; thinner is no weaker' if section <= low else ''}"
    ends = [one.number("up_to") for one in fitting] or [float(end) for end in re.findall(r"(\d+) mm", condition)]
    if "small section" in condition:
        ends = [SMALL]
    if ends and section > ends[-1]:
        raise InputError(
            field,
            f"{label} is listed to {ends[-1]:g} mm, thicker bar is weaker. Type the yield strength of this bar, "
            "as 355 MPa.",
        )
    return row, condition
