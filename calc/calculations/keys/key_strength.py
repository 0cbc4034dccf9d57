"""Strength of a key: shear of the key and pressure on its sides, in the hub and in the shaft, against the materials.

The force is taken at the surface of the shaft, d/2, as rules have it, and at the smaller radius where it really acts;
both are shown. Pressure by the simplest rule of DIN 6892, method C, stands beside them under its name.
"""

from calc.formulas import key_notation, strengths, work_materials
from calc.formulas import key_strength as rule
from calc.formulas.key_notation import Typed
from calc.formulas.key_strength import Joint
from calc.formulas.woodruff import Woodruff
from calc.model import Choice, Following, InputError, Notation, Number, Result, Value, calculation
from calc.pieces import key_strength_words as words
from calc.pieces.key_strength_picture import picture
from calc.units import settle, value


def _material(name: str, label: str, default: str, more: str = "") -> Notation:
    return Notation(name, label, strengths.read, strengths.PATTERN, default,
                    f"By any of its names, with its state; or its yield strength, as 355 MPa.{more}",
                    strengths.OFFERED, complete=work_materials.complete)  # fmt: skip


@calculation(
    title="Strength of a key",
    question="Does this key carry the torque, and how long must it be?",
    inputs=(
        Number("torque", "Torque", "torque", None, 0.01, 1_000_000, "Goes before power and speed.", optional=True),
        Number("power", "Power", "power", "4 kW", 0.001, 10_000, "With the speed, where no torque is given.",
               optional=True),
        Number("speed", "Speed", "spindle_speed", "960 rev/min", 0.1, 100_000, "Of this shaft, not of the motor.",
               optional=True),
        Number("shock", "Shock factor", "ratio", "1.5", 1, 5,
               "1 runs steadily; 1.25 to 1.5 a belt drive with light shocks; 1.75 to 2.5 heavy ones. Common practice: "
               "the maker of the machine knows better."),
        Number("diameter", "Shaft diameter at the key", "length", "28 mm", 3, 500, "Where the key sits."),
        Notation("key", "Key: width × height × length", key_notation.read, key_notation.PATTERN, "8x7x40",
                 "As 8x7x40, with A or B before it for its ends, or 1/4 x 1/4 x 1 1/2 in.",
                 ("8x7x40", "A 8x7x40", "B 10x8x50", "6x6x32", "1/4 x 1/4 x 1 1/2 in")),
        Choice("ends", "Ends of the key", rule.ENDS, "round"),
        Choice("count", "Number of keys", {"one": "one", "two": "two, opposite one another"}, "one", aside=True),
        _material("shaft_material", "Material of the shaft", "C45"),
        _material("hub_material", "Material of the hub", "GG25"),
        _material("key_material", "Material of the key", "EN8 cold drawn",
                  " Key steel has 550 MPa tensile strength at least."),
        Number("safety", "Wanted safety", "ratio", "1.5", 1, 10,
               "Against yielding. 1.5 is common practice; more where somebody could be hurt."),
        Number("hub_length", "Length of the hub", "length", None, 1, 1000, "Where it is shorter than the key.",
               optional=True),
        Number("shaft_depth", "Slot in the shaft, from the crown", "length", None, 0.5, 60,
               "Leave empty for a standard key; measure it where key or slot is not standard.", optional=True),
        Number("chamfer", "Chamfer of the key", "length", None, 0, 5,
               "Taken off the height that bears, in hub and shaft. Leave empty to reckon without.", optional=True),
    ),
    sources=("din-6892", "shigley-keys"),
    callouts=("{key}", "key {key}", "{key} key", "{key} {power} {speed}", "key {key} {power} {speed}",
              "{key} {torque}"),
)  # fmt: skip
def key_strength(
    torque: float | None, power: float | None, speed: float | None, shock: float, diameter: float, key: Typed,
    ends: str, count: str, shaft_material: strengths.Typed, hub_material: strengths.Typed,
    key_material: strengths.Typed, safety: float, hub_length: float | None, shaft_depth: float | None,
    chamfer: float | None,
) -> Result:  # fmt: skip
    """Torque in N·m, power in kW, speed in rev/min, lengths in mm, stresses in MPa, factors as plain numbers."""
    ends = key.ends or ends
    slot = rule.slot(key, ends, diameter, shaft_depth)
    joint = Joint(
        torque=_torque(torque, power, speed), shock=shock, diameter=diameter, key=key, ends=ends, count=count,
        slot=slot, contact=rule.contact(key, ends, diameter, slot.depth, chamfer or 0.0, hub_length),
        shaft_part=strengths.strength(shaft_material, "shaft_material", diameter),
        hub_part=strengths.strength(hub_material, "hub_material", None),
        key_part=strengths.strength(key_material, "key_material", min(key.width, key.height)), safety=safety,
    )  # fmt: skip
    worst, nominal = joint.worst, joint.torque
    lengths = _lengths(joint, hub_length)
    values = [
        value("safety", f"Safety at d/2: {worst.label[0].lower()}{worst.label[1:]}", worst.safety, "ratio", 2),
        value("safety_reduced", "Safety at the reduced radius", worst.safety_reduced, "ratio", 2),
        value("torque_carried", "Torque it carries safely, at d/2", nominal * worst.share, "torque"),
        value("torque_carried_reduced", "Torque it carries safely, at the reduced radius",
              nominal * worst.share_reduced, "torque"),
        *lengths,
        value("torque", "Torque to carry, without shock", nominal, "torque"),
        value("force", "Force at d/2, with shock", joint.force, "force"),
        value("force_reduced", "Force at the reduced radius, with shock", joint.force_reduced, "force"),
        value("contact_length", "Length that counts", joint.contact.length, "length"),
        value("hub_height", "Height that bears in the hub", joint.contact.hub_height, "length"),
        value("shaft_height", "Height that bears in the shaft", joint.contact.shaft_height, "length"),
    ]  # fmt: skip
    for one in joint.checks:
        values.append(value(f"{one.name}_stress", f"{one.label}, at d/2", one.stress, "pressure"))
        values.append(value(f"{one.name}_safety", f"{one.label}, safety at d/2", one.safety, "ratio", 2))
    values += [
        value("method_c_pressure", "DIN 6892 method C: pressure in the hub", joint.method_c, "pressure"),
        value("method_c_allowed", "DIN 6892 method C: allowed", joint.method_c_allowed, "pressure"),
    ]
    return Result(
        values=tuple(values),
        main=("safety", "safety_reduced", "torque_carried_reduced", *(one.name for one in lengths[-1:])),
        verdict=words.verdict(joint, bool(lengths)),
        working=words.working(joint, None if torque is not None else power, speed, chamfer or 0.0),
        cautions=words.CAUTIONS,
        assumptions=words.assumptions(joint, torque, power, speed, chamfer, hub_length),
        sources=words.sources(joint),
        picture=picture(joint),
        tables=(words.stresses(joint), words.materials(joint)),
        following=_following(joint, shaft_material),
    )


def _torque(torque: float | None, power: float | None, speed: float | None) -> float:
    """The torque as typed, else that of power and speed."""
    if torque is not None:
        return torque
    if power is None and speed is None:
        raise InputError("torque", "Give the torque, or power and speed.")
    if power is None:
        raise InputError("power", "Give the power as well as the speed, or the torque alone.")
    if speed is None:
        raise InputError("speed", "Give the speed as well as the power, or the torque alone.")
    return rule.torque_of(power, speed)


def _lengths(joint: Joint, hub_length: float | None) -> list[Value]:
    """The least length, and the next of the series; nothing where no length of this key would do."""
    longest = rule.COUNTED * joint.diameter if hub_length is None else min(rule.COUNTED * joint.diameter, hub_length)
    if joint.ends == "woodruff" or settle(joint.needed) > settle(longest):
        return []
    found = [value("least_length", "Least length of the key", joint.least_length, "length", 1)]
    if joint.listed_length is not None:
        found.append(value("listed_length", "Next length of the series", joint.listed_length, "length", 0))
    return found


def _following(joint: Joint, shaft: strengths.Typed) -> tuple[Following, ...]:
    size = f"{joint.diameter:.9g} mm"
    found = joint.slot.standard
    slot: tuple[Following, ...] = (Following("parallel_key", "How deep and wide is its slot?", {"diameter": size}),)
    if isinstance(found, Woodruff):
        slot = (Following("woodruff_key", "How deep is its slot?", {"key": found.name, "diameter": size}),)
    elif found is not None and found.holds(joint.diameter):
        same = {"diameter": size, "system": found.system, "section": found.section}
        milled = {**same, "key_length": f"{joint.key.length:.9g} mm"}
        milled |= {} if shaft.found is None else {"material": shaft.found.carried}
        milled |= {} if joint.ends == "mixed" else {"key_form": joint.ends}
        slot = (
            Following("parallel_key", "How deep and wide is its slot?", same),
            Following("keyway_cut", "How do I mill the slot?", milled),
        )
    return (
        *slot,
        Following("fit", "What may the shaft measure?", {"size": size, "hole": "H7", "shaft": "h6"}),
    )
