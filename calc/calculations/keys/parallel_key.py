"""Parallel key: which key a shaft takes, how wide and how deep its slots are, and what to measure.

Every depth says where it is measured from. Where the shaft is still to be ground, the slot is cut deeper from the
crown it has now. An old machine may have been made to another standard: a measured key is told apart.
"""

from calc.formulas import keys
from calc.formulas.keys import FITS, NAMES, Key, crown_depth, hub_crown_depth, sagitta
from calc.model import (
    Choice,
    Following,
    InputError,
    Number,
    Result,
    Step,
    Table,
    Value,
    Verdict,
    calculation,
)
from calc.pieces.key_picture import picture
from calc.units import plain, show, step, value

LONG = 40.0  # mm wide, from which a key is longer than the one that is milled by default


@calculation(
    title="Parallel key",
    question="Which key does this shaft take, and how deep is the slot?",
    inputs=(
        *keys.WHICH,
        Choice("fit_class", "Fit of the key", {"free": "free", "normal": "normal", "close": "close"}, "normal",
               "Free slides, normal is for keys that stay, close holds against shock and reversing. Metric only."),
        Number("actual_diameter", "Measured diameter", "length", None, 6, 510,
               "What it measures now; makes bottom to far side true for this shaft.", optional=True),
        Number("grinding_allowance", "Still to be ground off, on diameter", "length", None, 0, 5,
               "Where the slot is cut before the shaft is ground to size.", optional=True),
        Number("measured_width", "Width of the old key", "length", None, 1, 110,
               "Tells which standard the old machine was made to.", optional=True),
        Number("measured_height", "Height of the old key", "length", None, 1, 110,
               "Goes with the width.", optional=True),
    ),
    sources=("iso-286-2",),
    callouts=("key {diameter}", "key {diameter} {fit_class}", "key for {diameter}", "key in {diameter} shaft",
              "{diameter} shaft key", "key on {diameter}", "{diameter} key", "parallel key {diameter}",
              "square key {diameter}{section=square}", "{diameter} square key{section=square}"),
)  # fmt: skip
def parallel_key(
    diameter: float, system: str, section: str, fit_class: str, actual_diameter: float | None,
    grinding_allowance: float | None, measured_width: float | None, measured_height: float | None,
) -> Result:  # fmt: skip
    """Lengths in mm, width limits of the slots as sizes in mm."""
    key = keys.chosen(system, section, diameter)
    if measured_height is not None and measured_width is None:
        raise InputError("measured_width", "Give the width of the old key as well as its height.")
    allowance = grinding_allowance or 0.0
    now, finished = keys.shaft_now(diameter, actual_diameter, grinding_allowance)
    depth, hub = crown_depth(key, finished), hub_crown_depth(key, diameter)
    values = [*_main_values(key, diameter, finished, depth, hub), *_limits(key, fit_class)]
    working = _working(key, diameter, finished, depth, hub)
    main = ("key_width", "key_height", "shaft_depth", "bottom_to_far_side")
    if allowance:
        cut = depth + allowance / 2
        values += [
            value("cut_depth", "Cut now, from the crown before grinding", cut, "length"),
            value("cut_far_side", "Bottom to far side before grinding", now - cut, "length"),
        ]
        working += [
            step("cut_depth = t + a / 2", cut, "mm", "from the crown before grinding", t=depth, a=allowance),
            step("cut_far_side = D - cut_depth", now - cut, "mm", D=now, cut_depth=cut),
        ]
        main = ("key_width", "key_height", "cut_depth", "cut_far_side")
    tables = [_others(diameter)]
    found = keys.alike(measured_width, measured_height) if measured_width is not None else []
    if found:
        tables.insert(0, _which(found, diameter))
    if lengths := _lengths(key):
        tables.append(lengths)
    return Result(
        values=tuple(values),
        main=main,
        verdict=_verdict(key, diameter, finished, fit_class, depth, measured_width is not None, found),
        working=tuple(working),
        cautions=(
            "Take burrs off the slot before measuring; bottom to far side is the surer check.",
            "Guards on the cutter and a clamped shaft come first, with the machine's manual and local rules.",
        ),
        assumptions=_assumptions(key),
        sources=(*dict.fromkeys(one for source in (key.row.source, *(each.row.source for each in found))
                                for one in source),),
        picture=picture(finished, key.width, key.height, depth, hub, _said(key, diameter, finished, fit_class)),
        tables=tuple(tables),
        following=_following(key, diameter, section, fit_class, actual_diameter, grinding_allowance),
    )  # fmt: skip


def _main_values(key: Key, diameter: float, finished: float, depth: float, hub: float) -> list[Value]:
    far, across = finished - depth, diameter + hub
    values = [
        value("key_width", "Key, width", key.width, "length"),
        value("key_height", "Key, height", key.height, "length"),
        value("shaft_depth", "Shaft slot, depth from the crown", depth, "length"),
        value("bottom_to_far_side", "Shaft slot, bottom to far side", far, "length"),
        value("corner_depth", "Shaft slot, depth from the edge of the slot",
              depth - sagitta(finished, key.width), "length"),
        value("hub_depth", "Hub slot, depth from the crown of the bore", hub, "length"),
        value("hub_across", "Hub slot, bottom to far side of the bore", across, "length"),
    ]  # fmt: skip
    if key.depth_tolerance is not None and key.hub_tolerance is not None:
        values += [
            value("shaft_depth_max", "Depth from the crown, greatest", depth + key.depth_tolerance, "length"),
            value("shaft_depth_min", "Depth from the crown, least", depth, "length"),
            value("bottom_to_far_side_max", "Bottom to far side, greatest", far, "length"),
            value("bottom_to_far_side_min", "Bottom to far side, least", far - key.depth_tolerance, "length"),
            value("hub_depth_max", "Hub slot, depth from the crown, greatest", hub + key.hub_tolerance, "length"),
            value("hub_depth_min", "Hub slot, depth from the crown, least", hub, "length"),
            value("hub_across_max", "Hub slot to far side, greatest", across + key.hub_tolerance, "length"),
            value("hub_across_min", "Hub slot to far side, least", across, "length"),
        ]
    return values


def _limits(key: Key, fit_class: str) -> list[Value]:
    """Limits of width of key and slots, of the height of the key, and the corner radius."""
    row, slots = key.row, keys.slot_widths(key, fit_class)
    if slots is None:
        return []
    sizes = dict(zip(("shaft_slot", "hub_slot"), slots, strict=True))
    if key.system == "metric":
        for name, size in (("key_width", key.width), ("key_height", key.height)):
            sizes[name] = (size + row.number(f"{name}_lower") / 1000, size + row.number(f"{name}_upper") / 1000)
    else:
        sizes["key_width"] = (25.4 * row.number("key_min"), 25.4 * row.number("key_max"))
    labels = {"shaft_slot": "Shaft slot, width", "hub_slot": "Hub slot, width", "key_width": "Key, width",
              "key_height": "Key, height"}  # fmt: skip
    values = []
    for name, (least, most) in sizes.items():
        values.append(value(f"{name}_max", f"{labels[name]}, greatest", most, "length", 4))
        values.append(value(f"{name}_min", f"{labels[name]}, least", least, "length", 4))
    if key.system == "metric" and row.has("corner_max") and row.mark("corner_max") != "M":
        values.append(value("corner_radius_max", "Corner of the slot, greatest radius", row.number("corner_max"),
                            "length", 2))  # fmt: skip
        values.append(value("corner_radius_min", "Corner of the slot, least radius", row.number("corner_min"),
                            "length", 2))  # fmt: skip
    return values


def _working(key: Key, diameter: float, finished: float, depth: float, hub: float) -> list[Step]:
    f = sagitta(finished, key.width)
    steps = [step("f = (d - sqrt(d**2 - b**2)) / 2", f, "mm", "crown over the edges", d=finished, b=key.width)]
    if key.datum == "edge":
        steps.append(step("shaft_depth = H / 2 + f", depth, "mm", "from the edge to the crown", H=key.height, f=f))
    return [
        *steps,
        step("corner_depth = t - f", depth - f, "mm", "from the edge of the slot", t=depth, f=f),
        step("bottom_to_far_side = d - t", finished - depth, "mm", d=finished, t=depth),
        step("hub_across = D + t_hub", diameter + hub, "mm", D=diameter, t_hub=hub),
    ]


def _verdict(
    key: Key, diameter: float, finished: float, fit_class: str, depth: float, measured: bool, found: list[Key]
) -> Verdict:
    if measured and not found:
        return Verdict("mind", "No standard here has a key like the old one: measure it again, it may be a special.")
    here = [one for one in found if one.holds(diameter)]
    if found and not any(one.system == key.system and str(one) == str(key) for one in here):
        names = " or ".join(dict.fromkeys(f"{one}, {NAMES[one.system]}" for one in here or found))
        return Verdict("mind", f"The old key is {names}, not the {key} given here: keep to what hub and shaft have.")
    if len(here) > 1:
        return Verdict("mind", "More than one standard fits the old key: the table names each.")
    if not key.holds(finished):
        return Verdict("mind", f"At its real diameter this shaft falls in another step: keep the {key} of the hub.")
    fit = f", {' in the shaft, '.join(FITS[fit_class])} in the hub" if key.system == "metric" else ""
    return Verdict("good", f"Key {key}: slot {show(depth, 'length', 2)} deep from the crown{fit}.")


def _assumptions(key: Key) -> tuple[str, ...]:
    said = ["Steps of diameter are over the first figure, up to and including the second.",
            "Sizes hold at 20 °C (ISO 1)."]  # fmt: skip
    if key.system == "metric":
        said.append("The tolerance of bottom to far side is minus; that of the shaft comes on top, so type what it "
                    "measures.")  # fmt: skip
        if key.row.mark("key_width_upper") == "F":
            said.append("Key tolerances at this size are computed from ISO 286-1, not read off the key table.")
        if key.row.mark("corner_max") == "M":
            said.append("The corner radius at this size is unconfirmed and left out.")
        if key.width == 100:
            said.append("One maker's list has a hub depth of 19.4 for this key; three have 19.5.")
    elif key.system == "asme":
        said += ["ASME B17.1 gives depth at the edge of the slot, half the key; it is brought to the crown here. "
                 "The hub has 0.005 in over the key.",
                 "Limits of width and depth of ASME B17.1 are unconfirmed and left out: fit slot to key."]  # fmt: skip
    else:
        said += ["BS 46-1 rests on one extract. That its depths are from the crown is inferred from how they split.",
                 "The fit of the key is the one of the standard; free, normal and close are metric."]  # fmt: skip
    return tuple(said)


def _said(key: Key, diameter: float, finished: float, fit_class: str) -> tuple[str, ...]:
    inch = key.system != "metric"

    def one(size: float) -> str:
        return show(size, "length", 3, unit="inch").removesuffix(" in") if inch else plain(round(size, 3))

    depth, hub = crown_depth(key, finished), hub_crown_depth(key, diameter)
    width = one(key.width) + (" in" if inch else f" {FITS[fit_class][0]}, hub {FITS[fit_class][1]}")
    return width, one(depth), one(finished - depth), f"{one(diameter + hub)} hub", f"Ø {one(finished)}"


def _others(diameter: float) -> Table:
    rows = []
    for system, name in NAMES.items():
        key = keys.key_for(system, "usual", diameter)
        if key is None:
            rows.append((name, "none", ""))
        else:
            depth = show(crown_depth(key, diameter), "length", 2)
            rows.append((name, str(key), depth))
    return Table("This shaft in each standard", ("Standard", "Key", "Slot from the crown"), tuple(rows))


def _which(found: list[Key], diameter: float) -> Table:
    rows = tuple(
        (NAMES[one.system], f"{one}{' (unconfirmed)' if one.row.strongest == 'M' else ''}",
         f"{show(one.over, 'length', 2)} to {show(one.up_to, 'length', 2)}", "yes" if one.holds(diameter) else "no")
        for one in found
    )  # fmt: skip
    return Table("What the old key may be", ("Standard", "Key", "For shafts over, up to", "This shaft"), rows,
                 "The nearest first. Keys within 0.15 mm are listed: a limit of ours, no source.")  # fmt: skip


def _lengths(key: Key) -> Table | None:
    if key.lengths is None:
        return None
    low, high = key.lengths
    if key.system == "metric":
        text = ", ".join(f"{one:g}" for one in keys.series(key)) + " mm"
    else:
        text = f"from {show(low, 'length', 2, unit='inch')} to {show(high, 'length', 2, unit='inch')}"
    return Table("Lengths of this key", ("Lengths",), ((text,),))


def _following(
    key: Key, diameter: float, section: str, fit_class: str, actual: float | None, allowance: float | None
) -> tuple[Following, ...]:
    slot = {"diameter": f"{diameter:.9g} mm", "system": key.system, "section": section, "fit_class": fit_class}
    for name, size in (("actual_diameter", actual), ("grinding_allowance", allowance)):
        if size is not None:
            slot[name] = f"{size:.9g} mm"
    if key.width >= LONG:
        slot["key_length"] = f"{2 * key.width:.9g} mm"
    now = actual if actual is not None else diameter + (allowance or 0.0)
    return (
        Following("keyway_cut", "How do I mill the slot?", slot),
        Following("key_strength", "Does it carry the torque?", _strength(key, diameter)),
        Following("fit", "What may the shaft measure?", {"size": f"{diameter:.9g} mm", "hole": "H7", "shaft": "h6"}),
        Following("as_found", "The place is worn: what was it?", {"readings": f"{now:.9g} mm", "sat": "plain"}),
    )


def _strength(key: Key, diameter: float) -> dict[str, str]:
    """The key as its strength is asked for, about a quarter longer than the shaft is thick: common practice."""
    length = 1.25 * diameter
    if series := keys.series(key):
        length = next((one for one in series if one >= length), series[-1])
    size = " x ".join(f"{one:.9g}" for one in (key.width, key.height, length))
    return {"diameter": f"{diameter:.9g} mm", "key": f"{size} mm"}
