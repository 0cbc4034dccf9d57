"""Woodruff key: its size and number, how deep its slots are and from where, which cutter, and what to measure.

ASME B17.2 gives depths at the edge of the slot, ISO 3912 from the crown: with the shaft's diameter both are shown, and
without it only that of the standard.
"""

from calc.formulas import iso286, keys, woodruff
from calc.formulas.woodruff import DUTIES, INCH, Woodruff
from calc.model import Choice, Following, InputError, Notation, Number, OutsideTable, Result, Value, calculation
from calc.pieces import woodruff_words as words
from calc.pieces.woodruff_picture import picture
from calc.units import value


@calculation(
    title="Woodruff key",
    question="How deep is the slot of this Woodruff key, and which cutter?",
    inputs=(
        Notation("key", "Number or size of the key", woodruff.read, woodruff.PATTERN, "5x6.5x16",
                 "The number of an inch key, as 608, or width × height × diameter of a metric one. Leave empty to be "
                 "told the metric key for a shaft.", woodruff.COMMON, optional=True),
        Number("diameter", "Shaft diameter at the key", "length", "18 mm", 3, 100,
               "What it measures in the middle of the slot, on a taper too. Without it only the depths of the "
               "standard are shown.", optional=True),
        Choice("duty", "The key has to", DUTIES, "torque", "Where the key is chosen by the shaft."),
        Choice("fit_class", "Fit of the key", {"free": "free", "normal": "normal", "close": "close"}, "normal",
               "Metric keys only."),
    ),
    sources=("shigley-keys",),
    callouts=(
        "woodruff {key}{diameter=}", "woodruff key {key}{diameter=}", "woodruff {key} on {diameter}",
        "{key} woodruff{diameter=}", "woodruff key {key} on {diameter}", "woodruff {key} x {diameter}",
    ),
)  # fmt: skip
def woodruff_key(key: Woodruff | None, diameter: float | None, duty: str, fit_class: str) -> Result:
    """Lengths in mm; `diameter` None leaves out what depends on the shaft."""
    chosen = key or _for_shaft(diameter, duty)
    if diameter is not None and not chosen.width < diameter / 2:
        raise InputError("diameter", f"The {chosen} key is over half as wide as this shaft. Check both.")
    sunk = words.Sunk(chosen, diameter)
    if diameter is not None and sunk.from_crown > diameter / 2:
        raise InputError("diameter", f"The slot of the {chosen} key goes past the middle of this shaft. Check both.")
    values = [
        *_depths(sunk),
        value("slot_length", "Slot, length on the surface of the shaft", sunk.slot_length, "length"),
        value("key_width", "Key, width", chosen.width, "length"),
        value("key_height", "Key, greatest height", chosen.height, "length"),
        value("key_diameter", "Key, diameter of its disc", chosen.disc, "length"),
        value("cutter_width", "Cutter, width", chosen.width, "length"),
        value("cutter_diameter", "Cutter, diameter", chosen.disc, "length"),
        value("from_shoulder", "Middle of the slot from a shoulder, at least", chosen.disc / 2, "length"),
        *_limits(chosen, fit_class),
    ]
    names = [one.name for one in values]
    main = ("crown_depth", "bottom_to_far_side", "over_key") if diameter is not None else (names[0], "slot_length")
    return Result(
        values=tuple(values),
        main=main,
        verdict=words.verdict(sunk, duty),
        working=words.working(sunk),
        cautions=words.CAUTIONS,
        assumptions=words.assumptions(sunk, fit_class),
        sources=words.sources(sunk),
        picture=picture(sunk),
        tables=tuple(words.tables(sunk)),
        following=_following(sunk),
    )


def _for_shaft(diameter: float | None, duty: str) -> Woodruff:
    if diameter is None:
        raise InputError("key", "Give the number or the size of the key, or the diameter of the shaft.")
    found = woodruff.for_shaft(diameter, duty)
    if found is None:
        spans = [one.shafts[duty] for one in woodruff.known() if duty in one.shafts]
        raise OutsideTable(
            "diameter",
            f"To {DUTIES[duty]}, ISO 3912 has keys for shafts over {spans[0][0]:g} up to {spans[-1][1]:g} mm. Give a "
            "diameter inside that, or the key.",
        )
    return found


def _depths(sunk: words.Sunk) -> list[Value]:
    """Depths of both slots, that of the standard's datum first where the shaft is not known."""
    key, d = sunk.key, sunk.diameter
    edge = key.datum == "edge"
    if d is None:
        at, to = ("edge", "from the edge of the slot") if edge else ("crown", "from the crown")
        return [
            value(f"{at}_depth", f"Shaft slot, depth {to}", key.depth, "length"),
            *_span(f"{at}_depth", f"Depth {to}", key.depth, key.depth_tolerance),
            value(f"hub_{at}_depth", f"Hub slot, depth {to}{'' if edge else ' of the bore'}", key.hub_depth, "length"),
            *_span(f"hub_{at}_depth", f"Hub slot, depth {to}", key.hub_depth, key.hub_tolerance),
        ]
    crown, hub = sunk.from_crown, woodruff.hub_crown_depth(key, d)
    far, over, across = d - crown, d - crown + key.height, d + hub
    f = keys.sagitta(d, key.width)
    lowest = None if key.least_height is None else d - crown - key.depth_tolerance + key.least_height
    return [
        value("crown_depth", "Shaft slot, depth from the crown", crown, "length"),
        *_span("crown_depth", "Depth from the crown", crown, key.depth_tolerance),
        value("edge_depth", "Shaft slot, depth from the edge of the slot", crown - f, "length"),
        value("bottom_to_far_side", "Shaft slot, bottom to far side", far, "length"),
        value("bottom_to_far_side_max", "Bottom to far side, greatest", far, "length"),
        value("bottom_to_far_side_min", "Bottom to far side, least", far - key.depth_tolerance, "length"),
        value("over_key", "Far side to the top of the key", over, "length"),
        *([value("over_key_min", "Far side to the top of the key, least", lowest, "length")] if lowest else []),
        value("hub_crown_depth", "Hub slot, depth from the crown of the bore", hub, "length"),
        *_span("hub_crown_depth", "Hub slot, depth from the crown", hub, key.hub_tolerance),
        value("hub_edge_depth", "Hub slot, depth from the edge of the slot", hub + f, "length"),
        value("hub_across", "Hub slot, bottom to far side of the bore", across, "length"),
        *_span("hub_across", "Hub slot to far side", across, key.hub_tolerance),
    ]


def _span(name: str, label: str, least: float, tolerance: float) -> list[Value]:
    return [
        value(f"{name}_max", f"{label}, greatest", least + tolerance, "length"),
        value(f"{name}_min", f"{label}, least", least, "length"),
    ]


def _limits(key: Woodruff, fit_class: str) -> list[Value]:
    """Limits of the key of ASME B17.2; widths of the slots of ISO 3912."""
    if key.system == "asme":
        assert key.least_height is not None
        sizes = {
            ("key_width", "Key, width"): (key.width, key.width + float(woodruff.WIDTH_OVER * INCH)),
            ("key_height", "Key, height"): (key.least_height, key.height),
            ("key_diameter", "Key, diameter"): (key.disc + float(woodruff.DISC_UNDER * INCH), key.disc),
        }
    else:
        sizes = {}
        for named, written in zip(
            (("shaft_slot", "Shaft slot, width"), ("hub_slot", "Hub slot, width")), keys.FITS[fit_class], strict=True
        ):
            try:
                found = iso286.deviations(key.width, iso286.read_hole(written))
            except iso286.NotInStandard:  # N9 for a key of 1 mm
                continue
            sizes[named] = (key.width + float(found.lower) / 1000, key.width + float(found.upper) / 1000)
    return [
        value(f"{name}_{end}", f"{label}, {word}", size, "length", 4)
        for (name, label), span in sizes.items()
        for (end, word), size in zip((("min", "least"), ("max", "greatest")), span, strict=True)
    ]


def _following(sunk: words.Sunk) -> tuple[Following, ...]:
    key, d = sunk.key, sunk.diameter
    size = f"{key.width:.9g} x {key.height:.9g} x {key.disc:.9g} mm"
    strength = {"key": size, "ends": "woodruff"}
    if d is None:
        return (Following("key_strength", "Does it carry the torque?", strength),)
    at = f"{d:.9g} mm"
    return (
        Following("key_strength", "Does it carry the torque?", {**strength, "diameter": at}),
        Following("parallel_key", "Which parallel key would do instead?", {"diameter": at}),
        Following("fit", "What may the shaft measure?", {"size": at, "hole": "H7", "shaft": "h6"}),
    )
