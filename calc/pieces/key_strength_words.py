"""What the strength of a key says in words: verdict, working, what was assumed, and the strengths it took."""

from calc.formulas import key_strength as rule
from calc.formulas.key_strength import COUNTED, KEY_STEEL, METHOD_C, SHARE, SHEAR, Joint
from calc.formulas.keys import NAMES, Key, sagitta
from calc.formulas.strengths import Strength
from calc.formulas.woodruff import NAMES as DISC_NAMES
from calc.formulas.woodruff import chord as chord_at
from calc.model import Step, Table, Verdict
from calc.units import figure, settle, show, step

CAUTIONS = (
    "A key that shears lets go of the load at once. Where that can hurt somebody (hoists, brakes, guards that hold by "
    "this shaft), the code for that machine and a licensed engineer decide, not this figure.",
    "The slot weakens the shaft: at the end of an end-milled one the stress is about 2.2 times that of the plain shaft "
    "in bending and 3 times in torsion (Shigley). The shaft itself is not reckoned here.",
)


def verdict(joint: Joint, long_enough: bool) -> Verdict:
    """`long_enough`: whether there is a length of this key that would do."""
    worst = joint.worst
    at, reduced, wanted = (figure(one, 2) for one in (worst.safety, worst.safety_reduced, worst.wanted))
    where = worst.label[0].lower() + worst.label[1:]
    remedy = "no longer key helps, take two or a bigger shaft"
    if joint.ends == "woodruff":
        remedy = "take a bigger key or a parallel one"
    elif long_enough:
        length = joint.listed_length or joint.least_length
        remedy = f"it takes one {show(length, 'length', 0 if joint.listed_length else 1)} long"
    if settle(worst.share) < 1:
        return Verdict("stop", f"Too weak, {where}: safety {at}, wanted {wanted}; {remedy}.")
    if settle(worst.share_reduced) < 1:
        return Verdict(
            "mind",
            f"Just short, {where}: safety {at} at d/2, but {reduced} at the reduced radius, wanted {wanted}; {remedy}.",
        )
    if settle(joint.method_c) > settle(joint.method_c_allowed):
        return Verdict("mind", "The safety wanted is there, but DIN 6892 method C allows less pressure than this.")
    return Verdict("good", f"It holds; weakest is {where}: safety {reduced}, wanted {wanted}.")


def working(joint: Joint, power: float | None, speed: float | None, chamfer: float) -> tuple[Step, ...]:
    """`power` is None where the torque was typed."""
    steps = []
    key, contact, share = joint.key, joint.contact, SHARE[joint.count]
    if power is not None and speed is not None:
        steps.append(step("T = 30000 * P / (pi * n)", joint.torque, "N·m", P=power, n=speed))
    edge = sagitta(joint.diameter, key.width)
    d, t, torque, shock = joint.diameter, joint.slot.depth, joint.torque, joint.shock
    steps += [
        step("F = 2000 * K * T / d", joint.force, "N", "at d/2", K=shock, T=torque, d=d),
        step("d_r = d - h / 2", joint.reduced, "mm", "the force acts here in the shaft", d=d, h=key.height),
        step("F_r = 2000 * K * T / d_r", joint.force_reduced, "N", K=shock, T=torque, d_r=joint.reduced),
        step("f = (d - sqrt(d**2 - b**2)) / 2", edge, "mm", "crown over the edges", d=d, b=key.width),
        step("h_hub = h - t - c", contact.hub_height, "mm", "bears in the hub", h=key.height, t=t, c=chamfer),
        step("h_shaft = t - f - c", contact.shaft_height, "mm", "bears in the shaft", t=t, f=edge, c=chamfer),
    ]
    steps += _lengthwise(joint, edge)
    areas = (
        ("shear", "tau = F / (N * b * l)", {"b": key.width, "l": contact.length}),
        ("hub", "p_hub = F / (N * h_hub * l)", {"h_hub": contact.hub_height, "l": contact.length}),
        ("shaft", "p_shaft = F / (N * h_shaft * l)", {"h_shaft": contact.shaft_height, "l": contact.length}),
    )
    for (name, formula, given), one in zip(areas, joint.checks, strict=True):
        if name == "shaft" and joint.ends == "woodruff":
            formula, given = "p_shaft = F / (N * A)", {"A": contact.shaft_area}
        steps.append(step(formula, one.stress, "MPa", "", F=joint.force, N=share, **given))
        if name == "shear":
            steps.append(step("S_shear = 0.577 * R / tau", one.safety, "", "", R=one.strength / SHEAR, tau=one.stress))
        else:
            steps.append(
                step(f"S_{name} = R / p_{name}", one.safety, "", "", **{"R": one.strength, f"p_{name}": one.stress})
            )
    worst = joint.worst
    steps += [
        step("S_r = S * F / F_r", worst.safety_reduced, "", "the least, at the reduced radius", S=worst.safety,
             F=joint.force, F_r=joint.force_reduced),
        step("T_r = T * S_r / S_w", joint.torque * worst.share_reduced, "N·m", "carried with the safety wanted",
             T=joint.torque, S_r=worst.safety_reduced, S_w=worst.wanted),
        step("p_C = F / (N * (h - t) * l)", joint.method_c, "MPa", "DIN 6892 method C", F=joint.force, N=share,
             h=key.height, t=joint.slot.depth, l=contact.length),
    ]  # fmt: skip
    if joint.ends != "woodruff":
        steps.append(
            step("L = l * S_w / S_r + e", joint.least_length, "mm", "e is taken by the ends", l=contact.length,
                 S_w=worst.wanted, S_r=worst.safety_reduced, e=rule.off_the_ends(joint.ends, key.width))
        )  # fmt: skip
    return tuple(steps)


def _lengthwise(joint: Joint, edge: float) -> list[Step]:
    key, contact = joint.key, joint.contact
    if joint.ends == "woodruff":
        below = joint.slot.depth - edge
        chord = chord_at(key.length, below)
        area = rule.segment_area(key.length, below)
        return [
            step("y = t - f", below, "mm", "below the edge of the slot", t=joint.slot.depth, f=edge),
            step("k = 2 * sqrt(y * (D - y))", chord, "mm", "the chord there", y=below, D=key.length),
            step("G = D**2 / 2 * atan(sqrt(y / (D - y))) - (D / 2 - y) * sqrt(y * (D - y))", area, "mm²",
                 "the segment below the chord", y=below, D=key.length),
            step("A = G * h_shaft / y * l / k", contact.shaft_area, "mm²", "of it bears", G=area, y=below, k=chord,
                 h_shaft=contact.shaft_height, l=contact.length),
        ]  # fmt: skip
    ends = rule.off_the_ends(joint.ends, key.width)
    return [step("s = L - e", key.length - ends, "mm", "straight sides", L=key.length, e=ends)]


def assumptions(
    joint: Joint, torque: float | None, power: float | None, speed: float | None, chamfer: float | None,
    hub_length: float | None,
) -> tuple[str, ...]:  # fmt: skip
    """The inputs as typed, None where left out."""
    said = [*_load(joint, torque, power, speed), *_slot(joint)]
    straight = joint.key.length - rule.off_the_ends(joint.ends, joint.key.width)
    if joint.ends == "woodruff":
        said.append("A Woodruff key bears in the hub along its chord at the shaft, and in the shaft with the segment.")
    elif joint.ends != "square":
        said.append("Round ends do not count, neither for pressure nor for shear.")
    if settle(COUNTED * joint.diameter) < settle(straight) and joint.contact.length != hub_length:
        said.append(f"No more than {COUNTED:g} times the shaft counts of the length (DIN 6892); some texts say 1.5.")
    if hub_length is not None and joint.contact.length == hub_length:
        said.append("Only what lies inside the hub counts.")
    if chamfer is None:
        said.append("Chamfers of key and slot are left out: type the key's to see what they take.")
    if joint.count == "two":
        said.append("Of two keys each carries three quarters of its share (DIN 6892): from memory, unconfirmed.")
    said.append(
        "Rules take the force at d/2; in the middle of the key's side in the shaft, at d/2 - h/4, it is greater."
    )
    said.append(f"That method C allows {METHOD_C:g} of the strength of the weakest part is from memory, unconfirmed.")
    said += _materials(joint)
    return tuple(dict.fromkeys(said))


def _load(joint: Joint, torque: float | None, power: float | None, speed: float | None) -> list[str]:
    said = []
    if torque is not None and power is not None and speed is not None:
        other = show(rule.torque_of(power, speed), "torque")
        said.append(f"The torque as typed goes first; power and speed, which would give {other}, are left aside.")
    said.append(
        f"Shock factor {figure(joint.shock, 2)}, common practice: friction of the fit and bending do not count."
    )
    return said


def _slot(joint: Joint) -> list[str]:
    found, depth = joint.slot.standard, show(joint.slot.depth, "length", 2)
    if found is None:
        return [f"Slot {depth} deep from the crown, as typed."]
    name = NAMES[found.system] if isinstance(found, Key) else DISC_NAMES[found.system]
    said = [f"Slot {depth} deep from the crown, as {name} has it for this key."]
    if other := rule.made_for(found, joint.diameter):
        said.append(other)
    if found.system == "bs46" or found.row.mark("shaft_depth") in ("F", "M") or found.row.mark("datum") == "M":
        said.append("The depth of that slot from the crown is computed or unconfirmed: measure it.")
    return said


def _materials(joint: Joint) -> list[str]:
    said: list[str] = []
    for one in _parts(joint).values():
        said += one.remarks
        if not one.confirmed:
            said.append(f"The strength of {one.label} is from memory, unconfirmed: ask for a certificate.")
        if not one.is_yield:
            said.append(
                f"{one.label} has no yield strength listed: its tensile strength counts, and a third more safety is "
                "wanted of it; from memory."
            )
    tensile = joint.key_part.tensile
    if tensile is not None and tensile < KEY_STEEL:
        said.append(
            f"BS 4235-1 asks for key steel of at least {KEY_STEEL:g} MPa tensile strength; this has {tensile:g}."
        )
    return said


def stresses(joint: Joint) -> Table:
    """Stress and safety of each check at both radii."""
    rows = []
    for one in joint.checks:
        pair = ((one.stress, one.safety), (one.stress_reduced, one.safety_reduced))
        at, reduced = (f"{show(stress, 'pressure')}, safety {figure(safety, 2)}" for stress, safety in pair)
        rows.append((one.label, at, reduced, figure(one.wanted, 2)))
    return Table("Stress and safety", ("Check", "Force at d/2", "At the reduced radius", "Wanted"), tuple(rows))


def materials(joint: Joint) -> Table:
    """The strengths that were taken, with the section they are listed for."""
    rows = tuple(
        (part, one.label, f"{'yield' if one.is_yield else 'tensile'} {show(one.figure, 'pressure', 0)}"
         f"{'' if one.confirmed else ', unconfirmed'}", one.state)
        for part, one in _parts(joint).items()
    )  # fmt: skip
    return Table("Strengths taken", ("Part", "Material", "Strength", "Listed for"), rows)


def _parts(joint: Joint) -> dict[str, Strength]:
    return {"Shaft": joint.shaft_part, "Hub": joint.hub_part, "Key": joint.key_part}


def sources(joint: Joint) -> tuple[str, ...]:
    """What the figures rest on."""
    found = list(joint.slot.standard.row.source) if joint.slot.standard else []
    for one in _parts(joint).values():
        found += one.source
    tensile = joint.key_part.tensile
    if tensile is not None and tensile < KEY_STEEL:
        found.append("bs-4235-1")
    return (*dict.fromkeys((*found, "memory", "common-practice")),)
