"""The Shop: what a workshop owns, declared once as inputs.

A calculation that needs a lathe puts the very inputs of LATHE among its own, `*LATHE.pick("speeds", "feeds")`. So a
link, the API and the command line carry its figures and need no storage, and the Shop's own page is made of the same
declarations. The figures that stand here are those of a plausible small shop, nobody's in particular: round numbers,
common practice, no source; speeds and feeds are terms of the series R20/3 and R10 of ISO 3.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from calc import steps
from calc.model import Choice, Input, Notation, Number


@dataclass(frozen=True)
class Thing:
    """One sort of thing. `figures` names the inputs that tell one from another in a line; `several` may be owned."""

    name: str
    label: str
    plural: str
    inputs: tuple[Input, ...]
    figures: tuple[str, ...]
    several: bool = True

    def pick(self, *names: str) -> tuple[Input, ...]:
        """Those inputs, in the order asked for; KeyError for one that this thing does not have."""
        known = {one.name: one for one in self.inputs}
        return tuple(known[name] for name in names)


def _thing(
    name: str, label: str, plural: str, inputs: tuple[Input, ...], figures: tuple[str, ...], several: bool = True
) -> Thing:
    return Thing(name, label, plural, tuple(replace(one, of=name) for one in inputs), figures, several)


SPEED_PATTERN = FEED_PATTERN = r"[\d., ]+"
_read_speeds = steps.reader("spindle_speed", 1, 30_000, "speed")
_read_feeds = steps.reader("feed", 0.001, 10, "feed")

LATHE = _thing(
    "lathe", "Lathe", "Lathes",
    (
        Notation("speeds", "List of spindle speeds (rev/min)", _read_speeds, SPEED_PATTERN,
                 "45 63 90 125 180 250 355 500 710 1000 1400 2000",
                 "All that the gearbox gives, from the slowest to the fastest, parted by spaces. "
                 "For a drive without steps its two ends: 40 to 2000 stepless.",
                 ("45 63 90 125 180 250 355 500 710 1000 1400 2000", "40 to 2000 stepless"), longest=steps.LONGEST),
        Notation("feeds", "List of feeds (mm/rev)", _read_feeds, FEED_PATTERN,
                 "0.04 0.05 0.063 0.08 0.1 0.125 0.16 0.2 0.25 0.315 0.4",
                 "Those along the bed for each turn, from the finest to the coarsest, parted by spaces. "
                 "With thou/rev after the last one all are in thou.",
                 ("0.04 0.05 0.063 0.08 0.1 0.125 0.16 0.2 0.25 0.315 0.4", "0.02 to 0.4 stepless"),
                 longest=steps.LONGEST),
        Number("motor_power", "Motor power", "power", "1.5 kW", 0.05, 100,
               "On the plate of the motor: what it gives for good, not for a minute."),
        Number("efficiency", "Share of it that reaches the tool", "ratio", "75 %", 0.3, 1,
               "Belts, gears and bearings take the rest: 70 to 80 % is usual for a geared head."),
        Number("between_centres", "Greatest distance between centres", "length", "750 mm", 50, 20_000,
               "From nose centre to tailstock centre, tailstock at the end of the bed."),
        Number("swing_bed", "Swing over the bed", "length", "330 mm", 50, 3000,
               "The greatest diameter that turns over the bed."),
        Number("swing_slide", "Swing over the cross-slide", "length", "200 mm", 20, 2500,
               "The greatest diameter that passes over the cross-slide."),
        Number("chuck_speed", "Greatest safe speed of the chuck", "spindle_speed", "1800 rev/min", 10, 20_000,
               "Stamped on the chuck or faceplate that is on now. An old or cast-iron one stands less: ask its maker."),
        Number("slide_division", "One division of the cross-slide dial", "length", "0.05 mm", 0.0005, 1,
               "What the dial says for one line, before asking whether it counts on diameter or on radius."),
        Choice("slide_counts", "The cross-slide dial counts on", {"diameter": "diameter", "radius": "radius"},
               "diameter",
               "Turn in by 1.00 on the dial: if the bar gets 1 mm smaller it counts on diameter, if 2 mm on radius."),
        Number("topslide_division", "One division of the topslide dial", "length", "0.05 mm", 0.0005, 1,
               "The topslide counts its own travel."),
        Choice("has_steady", "Steady", {"yes": "with a steady", "no": "without a steady"}, "yes",
               "A fixed or travelling steady that fits the bar."),
    ),
    ("speeds", "motor_power"),
)  # fmt: skip

MILL = _thing(
    "mill", "Mill", "Mills",
    (
        Notation("mill_speeds", "List of the mill’s speeds (rev/min)", _read_speeds, SPEED_PATTERN,
                 "90 125 180 250 355 500 710 1000 1400 2000",
                 "All of them, from the slowest to the fastest, parted by spaces; or 60 to 3000 stepless.",
                 ("90 125 180 250 355 500 710 1000 1400 2000", "60 to 3000 stepless"), longest=steps.LONGEST),
    ),
    ("mill_speeds",),
)  # fmt: skip

SAW = _thing(
    "saw", "Saw", "Saws",
    (
        Number("kerf", "Kerf", "length", "1.5 mm", 0.05, 20,
               "The width of the cut, blade and set together: measure a cut, not the blade."),
        Number("vice_length", "Least length that the vice holds", "length", "50 mm", 0, 1000,
               "What has to stay in the jaws for the last cut."),
    ),
    ("kerf", "vice_length"),
)  # fmt: skip

TOOL_MATERIALS = MappingProxyType(
    {
        "hss": "HSS",
        "cobalt hss": "cobalt HSS",
        "brazed carbide": "brazed carbide",
        "coated carbide": "coated carbide, indexable",
    }
)

TOOL = _thing(
    "tool", "Tool", "Tools",
    (
        Choice("tool_material", "Tool material", TOOL_MATERIALS, "hss"),
        Number("nose_radius", "Nose radius", "length", "0.4 mm", 0.01, 20,
               "On the box of an insert; honed on a ground tool, measure it or take 0.2 to 0.4 mm."),
        Number("entering_angle", "Entering angle", "angle", "90°", 10, 100,
               "Between the cutting edge and the axis of the work: 90° faces a square shoulder."),
        Notation("feed_window", "Feeds that the chip breaker is made for", steps.window("feed", 0.001, 10), r"[\d., ]+",
                 None, "From the box of the insert, as 0.1 to 0.3. Leave empty for a ground tool.",
                 ("0.05 to 0.2", "0.1 to 0.3", "0.15 to 0.5"), optional=True),
        Notation("depth_window", "Depths that the chip breaker is made for", steps.window("length", 0.01, 50),
                 r"[\d., ]+", None, "From the box of the insert, on radius: 0.5 to 3. Leave empty for a ground tool.",
                 ("0.2 to 1.5", "0.5 to 3", "1 to 5"), optional=True),
        Number("least_infeed", "Least in-feed that still cuts", "length", "0.02 mm", 0.001, 2,
               "On radius. A keen ground edge takes 0.01 to 0.02 mm, a coated insert about 0.05; with less it rubs."),
    ),
    ("tool_material", "nose_radius"),
)  # fmt: skip

_NO_CURRENCY = "In whatever money you reckon in; only the number is typed."

PRICES = _thing(
    "prices", "Prices", "Prices",
    (
        Number("price_per_kg", "Material, per kg", "money", "3", 0, 1_000_000, _NO_CURRENCY, optional=True),
        Number("price_per_m", "Material, per metre", "money", None, 0, 1_000_000,
               "When it is bought by length. Leave empty to reckon by mass.", optional=True),
        Number("hourly_rate", "Hourly rate", "money", "50", 0, 1_000_000, _NO_CURRENCY),
        Number("set_up_charge", "Set-up charge", "money", "30", 0, 1_000_000, "Once for a job, whatever the number."),
        Number("minimum_charge", "Minimum charge", "money", "50", 0, 1_000_000, "No job leaves the shop for less."),
        Number("margin", "Margin, of the price", "percentage", None, 0, 95,
               "The part of the selling price that is kept: cost 80 at 20 % sells for 100. Give this or the mark-up.",
               optional=True),
        Number("mark_up", "Mark-up, on the cost", "percentage", "20 %", 0, 1000,
               "What is put on top of the cost: cost 80 at 20 % sells for 96. Give this or the margin.",
               optional=True),
    ),
    ("price_per_kg", "hourly_rate"),
    several=False,
)  # fmt: skip

#: Every sort of thing by name, in the order of the page.
SHOP: Mapping[str, Thing] = MappingProxyType({one.name: one for one in (LATHE, MILL, SAW, TOOL, PRICES)})
