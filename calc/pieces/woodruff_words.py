"""What a Woodruff key says in words: verdict, working, what was assumed, and the keys that a shaft takes."""

from dataclasses import dataclass

from calc.formulas import keys, woodruff
from calc.formulas.woodruff import DUTIES, Woodruff
from calc.model import Step, Table, Verdict
from calc.units import settle, show, step

CAUTIONS = (
    "Clamp the shaft, guard the cutter and feed slowly straight in: a Woodruff cutter breaks when it is forced or when "
    "the shaft turns. The machine's manual and local rules come first.",
    "Take burrs off before measuring; over the key, with the key seated, is the surer check.",
)


@dataclass(frozen=True)
class Sunk:
    """A key let into a shaft; `diameter` None where the shaft is not known."""

    key: Woodruff
    diameter: float | None

    @property
    def from_crown(self) -> float:
        """Depth of the slot from the crown, mm; from the edge where the shaft is not known."""
        return self.key.depth if self.diameter is None else woodruff.crown_depth(self.key, self.diameter)

    @property
    def slot_length(self) -> float:
        """Length of the slot on the surface of the shaft, mm."""
        return woodruff.chord(self.key.disc, self.from_crown)


def verdict(sunk: Sunk, duty: str) -> Verdict:
    """Whether the key is one for this shaft, and the depth to cut."""
    key, d = sunk.key, sunk.diameter
    if d is None:
        at = "the edge of the slot" if key.datum == "edge" else "the crown"
        return Verdict("good", f"Key {key}: slot {show(key.depth, 'length', 2)} deep from {at}.")
    deep = show(sunk.from_crown, "length", 2)
    if key.system == "metric":
        low, high = key.shafts.get(duty, (0.0, 0.0))
        if not low < d <= high:
            other = woodruff.for_shaft(d, duty)
            gives = f"the {other} key" if other else "no Woodruff key"
            return Verdict(
                "mind", f"Slot {deep} deep from the crown; to {DUTIES[duty]} ISO 3912 gives this shaft {gives}."
            )
    elif key.width not in [width for width, _ in woodruff.inch_widths(d)]:
        return Verdict("mind", f"Slot {deep} deep from the crown; a key of this width is not usual on such a shaft.")
    return Verdict("good", f"Key {key}: slot {deep} deep from the crown.")


def working(sunk: Sunk) -> tuple[Step, ...]:
    """Depths from one datum to the other, and what is measured."""
    key, d = sunk.key, sunk.diameter
    if d is None:
        return (
            step("L = 2 * sqrt(t * (D - t))", sunk.slot_length, "mm", "length of the slot", t=key.depth, D=key.disc),
        )
    crown, f = sunk.from_crown, keys.sagitta(d, key.width)
    hub = woodruff.hub_crown_depth(key, d)
    steps = [step("f = (d - sqrt(d**2 - b**2)) / 2", f, "mm", "crown over the edges", d=d, b=key.width)]
    if key.datum == "edge":
        steps += [
            step("crown_depth = t_edge + f", crown, "mm", t_edge=key.depth, f=f),
            step("hub_crown_depth = t_hub - f", hub, "mm", t_hub=key.hub_depth, f=f),
        ]
    else:
        steps += [
            step("edge_depth = t - f", crown - f, "mm", t=crown, f=f),
            step("hub_edge_depth = t_hub + f", hub + f, "mm", t_hub=hub, f=f),
        ]
    return (
        *steps,
        step("bottom_to_far_side = d - t", d - crown, "mm", d=d, t=crown),
        step("over_key = d - t + h", d - crown + key.height, "mm", "key seated", d=d, t=crown, h=key.height),
        step("hub_across = d + t_hub", d + hub, "mm", d=d, t_hub=hub),
        step("L = 2 * sqrt(t * (D - t))", sunk.slot_length, "mm", "length of the slot", t=crown, D=key.disc),
    )


def assumptions(sunk: Sunk, fit_class: str) -> tuple[str, ...]:
    """What the figures rest on; all that is computed or from memory is named."""
    key = sunk.key
    row = key.row
    if key.system == "asme":
        said = [
            "ASME B17.2 measures both depths at the edge of the slot: from memory, and borne out by the depths, which "
            "are the least height less half the width.",
            "The last two digits are eighths of an inch of diameter, those before are thirty-seconds of width; the "
            "cutter has the number of its key.",
        ]
        if row.mark("shaft_depth") == "F":
            said.append("The depths of this number are computed by the rule that fits the printed ones.")
        if key.name in ("1628", "2428"):
            said.append("The depth of this number was seen in one place, 0.003 in deeper than the rule of the others.")
    else:
        said = [
            "ISO 3912 measures the depths from the crown: inferred from the contact heights that handbooks list.",
            f"Slots {' in the shaft, '.join(keys.FITS[fit_class])} in the hub, as for parallel keys: unconfirmed for "
            "Woodruff keys.",
        ]
        if key.width <= 1 and fit_class == "normal":
            said.append("ISO 286 has no N9 to 1 mm: no limits of width are given for the slot in this shaft.")
        if key.name == "2.5x3.7x10":
            said.append("A scan of DIN 6888:1956 reads 2.9 mm for the depth in the shaft; ISO 3912 has 2.7.")
        if row.mark("hub_depth") == "M":
            said.append("The depth in the hub is from memory, unconfirmed: measure the hub.")
        if "M" in (row.mark("shaft_depth_upper"), row.mark("hub_depth_upper")):
            more = "; a listing of ISO 3912 has 0.1 mm more" if "listing" in row.note else ""
            said.append(f"The tolerances of the depths are from memory, unconfirmed{more}.")
    if settle(key.height - key.depth) > settle(key.hub_depth):
        said.append(
            "At its greatest height this key would touch the bottom of the hub slot: measure it, ease it if so."
        )
    if sunk.diameter is not None and key.least_height is None:
        said.append("Over the key is for a key of full height: measure yours.")
    said.append(
        "The cutter is taken at the nominal size of the key; a reground one is smaller and cuts a shorter slot."
    )
    return tuple(said)


def tables(sunk: Sunk) -> list[Table]:
    """The keys for this shaft; for a metric key also the shafts that it is for."""
    found = []
    d, key = sunk.diameter, sunk.key
    if d is not None:
        rows = []
        for duty, label in DUTIES.items():
            one = woodruff.for_shaft(d, duty)
            rows.append((f"ISO 3912, to {label}", "none" if one is None else str(one)))
        widths = [fraction for _, fraction in woodruff.inch_widths(d)]
        inch = f"{widths[0]}{f' to {widths[-1]}' if len(widths) > 1 else ''} in wide" if widths else "none"
        rows.append(("Inch (Shigley, table 7-8)", inch))
        found.append(Table("Woodruff keys for this shaft", ("Standard", "Key"), tuple(rows)))
    if key.shafts:
        spans = tuple((f"to {DUTIES[duty]}", f"{low:g}", f"{high:g}") for duty, (low, high) in key.shafts.items())
        note = "The lower end is unconfirmed." if key.row.mark("torque_over") == "M" else ""
        found.append(Table(f"Shafts for {key}", ("Key has", "Over, mm", "Up to, mm"), spans, note))
    return found


def sources(sunk: Sunk) -> tuple[str, ...]:
    """What the figures rest on."""
    key = sunk.key
    found = [*key.row.source]
    if sunk.diameter is not None:
        found.append("shigley-keys")
    if key.system == "metric":
        found.append("iso-286-2")
    found.append("memory")
    return tuple(dict.fromkeys(found))
