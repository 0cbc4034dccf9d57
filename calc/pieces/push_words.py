"""What is said of a bar that the tool pushes away: the rule of practice, the verdict, the tables beside the figure."""

from collections.abc import Iterable, Sequence

from calc.formulas.bar_steps import BarSteps
from calc.formulas.push_off import CENTRE_TO, FREE_TO, FREE_TO_OTHERS, STEADY_FROM, TWO_FROM, Steps, on_diameter
from calc.formulas.turning import Pass
from calc.formulas.work_materials import Found
from calc.model import Following, Table, Verdict
from calc.units import settle, show

FROM = {"chuck": "the jaws", "chuck and centre": "the jaws", "centres": "the headstock centre"}
FURTHEST = 0.1  # share of its length that a bar may bend here; past it the formulas of beams no longer hold
LEAST_TOLD = 0.0001  # mm on diameter
THICKEST = 1000.0  # mm, uncut, that speed and feed are chosen for
CENTRED = (4.0, 500.0)  # mm, ends that a centre hole is known for
STUBBY = 3.0  # diameters under which chuck, spindle and tool post give way as much as the bar
PLANNED = 42.0  # mm, the length to turn that a plan of cuts begins with
GIVEN_UP = 0.5  # share of the depth of cut past which the bar leaves the tool

UPS = {
    "chuck": f"{FREE_TO:g} diameters, some say {FREE_TO_OTHERS:g}",
    "chuck and centre": f"{CENTRE_TO:g} diameters",
    "centres": f"{CENTRE_TO:g} diameters",
}


def practice(holding: str, slenderness: float) -> tuple[str, str]:
    """Level of the rule of practice for a bar so many diameters long, and what it asks for."""
    ratio = settle(slenderness)
    if holding == "chuck":
        if ratio <= settle(FREE_TO):
            return "good", "needs no support"
        if ratio <= settle(FREE_TO_OTHERS):
            return "mind", "is at the limit without a centre"
        if ratio <= settle(CENTRE_TO):
            return "stop", "needs a centre"
        return "stop", "needs a centre" + (" and a steady" if ratio > settle(STEADY_FROM) else "")
    if ratio <= settle(CENTRE_TO):
        return "good", "needs no steady"
    if ratio <= settle(STEADY_FROM):
        return "mind", "is at the limit without a steady"
    if ratio <= settle(TWO_FROM):
        return "stop", "needs a steady"
    return "stop", "needs two rests or a very light cut"


def microns(deflection: float) -> str:
    """A deflection in mm as what it adds to the diameter, a small difference."""
    large = on_diameter(deflection)
    if 0 < large < LEAST_TOLD:
        return f"under {show(LEAST_TOLD * 1000, 'difference', 1)}"
    return show(large * 1000, "difference", 1 if large < 0.01 else 0)


def between(least: float, most: float) -> str:
    """The same of two deflections, once where they read alike, the unit once where both have the same."""
    first, last = microns(least), microns(most)
    if first == last:
        return last
    number, _, unit = first.rpartition(" ")
    alike = last.endswith(f" {unit}") and not first.startswith("under")
    return f"{number if alike else first} to {last}"


def place(at: float) -> str:
    """A place along the bar."""
    return show(at, "length", 0 if settle(at) >= 10 or at == 0 else 1)


def verdict(
    holding: str, slenderness: float, at: float, least: float, most: float, tolerance: float | None,
    depth: float | None,
) -> Verdict:  # fmt: skip
    """One sentence. `least` and `most` are deflections at `at`, `tolerance` is on the diameter, `depth` on radius; mm.

    The tolerance decides where there is one, with the rule of practice beside it; else the rule does.
    """
    level, wants = practice(holding, slenderness)
    ruled = f"by practice a bar of {show(slenderness, 'ratio', 1)} diameters {wants}"
    if depth is not None and most > GIVEN_UP * depth:
        return Verdict(
            "stop", f"The bar would give way by {show(most, 'length', 2)} under a cut of {show(depth, 'length', 2)}: "
            "support it or cut lighter."
        )  # fmt: skip
    if tolerance is None:
        where = "at the free end" if holding == "chuck" else f"{place(at)} from {FROM[holding]}"
        said = f"{ruled[0].upper()}{ruled[1:]}; reckoned, it comes out {microns(most)} too large {where}."
        return Verdict(level, said)
    allowed, big, small = settle(tolerance), settle(on_diameter(most)), settle(on_diameter(least))
    within = show(tolerance * 1000, "difference", 0 if tolerance >= 0.01 else 1)
    if small > allowed:
        return Verdict("stop", f"{microns(most)} too large, {within} is allowed: support it or cut lighter; {ruled}.")
    if big > allowed:
        return Verdict(
            "mind", f"{between(least, most)} too large, {within} is allowed: keep the tool keen; {ruled}."
        )  # fmt: skip
    return Verdict("good" if level == "good" else "mind", f"Within the {within} allowed, reckoned; {ruled}.")


def cautions(holding: str, slenderness: float, length: float, between_centres: float) -> tuple[str, ...]:
    """What can hurt, by how the bar is held, and a bar that the lathe does not take."""
    said = []
    if settle(length) > settle(between_centres):
        said.append(f"This lathe takes {show(between_centres, 'length')} between centres; the bar is longer.")
    if holding != "chuck":
        said.append(
            "Keep the tailstock centre greased and ease it as the bar warms and grows; set a steady only with the "
            "spindle stopped. Local rules and the machine’s manual come first."
        )
        if holding == "centres":
            said.append("Guard the tail of the driving dog, and see that the carriage clears it along the whole cut.")
    elif settle(slenderness) > settle(FREE_TO):
        said.append(
            "A slender bar with a free end can climb on the tool, bend and be thrown out: support it first. Local "
            "rules and the machine’s manual come first."
        )
    else:
        said.append("Measure, and take the bar out, only when the spindle has stopped; local rules first.")
    return tuple(said)


def assumed(steps: BarSteps | None, slenderness: float, material: Found) -> tuple[str, ...]:
    """What the figures rest on, apart from the push."""
    said = list(material.remarks)
    if steps:
        said.append(f"Steps taken in place of diameter and length: {steps}; length in diameters of the thinnest.")
    said.append(
        "Jaws hold rigidly, centres and steady do not give. A real chuck does a little: a bar in chuck and centre lies "
        "between that figure and the one between centres, and what the machine gives comes on top."
    )
    if slenderness < STUBBY:
        said.append("So short a bar gives way by shear, and in chuck and tool post, as much as by bending.")
    said.append("It is the error of this cut alone: a light last cut leaves less.")
    if material.material.confirmation("youngs_modulus") == "M":
        modulus = material.material.number("youngs_modulus") or 0.0
        said.append(f"The stiffness, E = {show(modulus, 'pressure', 0)}, is from memory.")
    said.append(
        f"Lathe manuals give {FREE_TO:g} diameters free and {CENTRE_TO:g} with a centre; a steady from "
        f"{STEADY_FROM:g} and two from {TWO_FROM:g} are from memory."
    )
    return tuple(said)


def along(places: Iterable[tuple[str, float, float, float]], holding: str) -> Table:
    """The diameter error along the bar: (what is there, place, least and most deflection in mm) for each place."""
    rows = []
    for what, at, least, most in places:
        rows.append((place(at), what, between(least, most)))
    shape = "Left conical, largest at the free end." if holding == "chuck" else (
        "Left barrel-shaped. A slack tailstock centre leaves it larger towards that end."
    )  # fmt: skip
    return Table("Along the bar", (f"From {FROM[holding]}", "There", "Diameter too large"), tuple(rows), shape)


def held_otherwise(
    rows: Sequence[tuple[str, str, float, float]], length: float, slenderness: float, has_steady: bool
) -> Table:
    """The same push on the same bar, held in each way: (how, key of UPS or "", place, deflection in mm)."""
    cells = tuple(
        (how, UPS.get(rule, "no rule known"), "bends away" if most > FURTHEST * length else microns(most), place(at))
        for how, rule, at, most in rows
    )
    note = f"This bar: {show(slenderness, 'ratio', 1)} diameters. The rule knows nothing of the cut: a heavy one wants "
    note += "a steady earlier, a light finishing cut later."
    if not has_steady:
        note += " This lathe has no steady: a lighter cut, or the bar turned in shorter lengths."
    return Table("Practice and reckoning, held otherwise", ("Held", "By practice to", "Too large", "Worst at"), cells,
                 note)  # fmt: skip


def following(
    holding: str, bar: Steps, material: Found, tool_material: str, cut: Pass | None
) -> tuple[Following, ...]:  # fmt: skip
    """What usually comes next: speed and feed of the cut, the centre hole at the far end, the bar for it."""
    speed = {"tool_material": tool_material}
    speed |= {"diameter": f"{cut.diameter:.9g} mm", "depth": f"{cut.depth:.9g} mm"} if cut else {}
    end, thickest = bar[-1][1], max(diameter for _, diameter in bar)
    centre = Following("centre_drilling", "Which centre hole carries it?",
                       {"diameter": f"{end:.9g} mm", "material": material.material.label})  # fmt: skip
    return (
        *([Following("turning", "Which speed and feed?", {**speed, "material": material.material.label})]
          if cut is not None and cut.diameter <= THICKEST else []),
        *([centre] if holding != "chuck" and CENTRED[0] <= end <= CENTRED[1] else []),
        Following("bar_clean_up", "Will the bar clean up?", {"size": f"{thickest:.9g} mm"}),
        _planned(holding, bar, material, tool_material, cut)
        or Following("cut_length", "How long do I saw it?", {"diameter": f"{thickest:.9g} mm"}),
    )  # fmt: skip


def _planned(
    holding: str, bar: Steps, material: Found, tool_material: str, cut: Pass | None
) -> Following | None:  # fmt: skip
    """All cuts of a plain bar down to that diameter, over as much of it as a plan begins with."""
    if cut is None or len(bar) > 1:
        return None
    ((length, across),) = bar
    typed = {
        "diameter": f"{cut.diameter:.9g} mm", "wanted": f"{across:.9g} mm", "overhang": f"{length:.9g} mm",
        "length": f"{min(length, PLANNED):.9g} mm", "holding": holding, "material": material.material.label,
        "tool_material": tool_material, "nose_radius": f"{cut.nose_radius:.9g} mm",
        "entering_angle": f"{cut.entering_angle:.9g}°",
    }  # fmt: skip
    return Following("pass_plan", "All cuts down to size", typed)
