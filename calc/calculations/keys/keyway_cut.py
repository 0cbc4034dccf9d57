"""Cutting a keyway: where to stand over the shaft, where to stop the dial, how far to travel, how fast.

The key follows from the shaft as in the standards. The depth is told as the dial shows it, for each way of touching
off; a slot cut before the shaft is ground is deeper from the crown it has now. A disc cutter runs out past the slot.
"""

from calc.formulas import keys, slot_speeds, work_materials
from calc.formulas import keyway_milling as milling
from calc.formulas.work_materials import Found
from calc.model import Choice, Following, Notation, Number, Result, calculation
from calc.pieces import keyway_figures, keyway_words
from calc.pieces.keyway_picture import picture
from calc.pieces.keyway_plan import Asked, Plan, Running, plan, running
from calc.shop import MILL
from calc.steps import Steps


@calculation(
    title="Milling a keyway",
    question="How do I mill this keyway: centre, dial, travel and speed?",
    inputs=(
        *keys.WHICH,
        Choice("fit_class", "Fit of the key", {"free": "free", "normal": "normal", "close": "close"}, "normal",
               "Sets the width of the slot: free H9, normal N9, close P9. Metric only."),
        Choice("slot", "Slot and cutter", milling.SLOTS, "closed", "The diameter of a disc is asked further down."),
        Choice("key_form", "Ends of the key", milling.FORMS, "round"),
        Number("key_length", "Length of the key", "length", "40 mm", 1, 1000, "Over all, round ends included."),
        Number("cutter_width", "Width that the cutter cuts", "length", None, 0.5, 110,
               "Diameter of the end mill, thickness of the disc. Left out: as wide as the key.", optional=True),
        Number("disc_diameter", "Diameter of a disc cutter", "length", "80 mm", 10, 500,
               "Counts only where the slot is cut by a disc; measure over opposite teeth.", aside=True),
        Choice("touch", "Touched off on", milling.TOUCHES, "crown",
               "Where the cutter stands when the dial of knee or quill is set to 0."),
        Number("paper", "Paper between", "length", "0.1 mm", 0, 1.27,
               "Measure it: copier paper is about 0.1 mm, cigarette paper 0.02 to 0.03. Give 0 without paper."),
        Number("dial_division", "One division of the dial for depth", "length", "0.02 mm", 0.001, 1.27,
               "Of the knee, or of the quill’s fine feed.", aside=True),
        work_materials.MATERIAL,
        Choice("cutter_material", "Cutter of", slot_speeds.CUTTERS, "hss", aside=True),
        Number("handling", "Beside the cutting, for each pass", "time", "1 min", 0, 60,
               "Winding back, clearing chips, setting the dial.", aside=True),
        Number("to_next", "From the full depth to the next seat, shoulder or seal track", "length", None, 0, 2000,
               "A disc runs out past the full depth of the slot; what it must not reach.", optional=True),
        Number("finder_diameter", "Edge finder, the tip that touches", "length", None, 0.5, 25.4,
               "Its diameter, where it finds the side of the shaft. Left out: the cutter does, with the paper.",
               optional=True),
        Notation("teeth", "Teeth of the cutter", milling.read_teeth, r"\d{1,3}", None,
                 "Left out: 2, as a slot drill has. Count those of a disc.", ("2", "3", "4", "16", "18"),
                 optional=True),
        Number("cutting_speed", "Cutting speed instead", "cutting_speed", None, 1, 1000,
               "Left out: what is published for the material.", optional=True),
        Number("tooth_feed", "Feed for each tooth instead", "length", None, 0.001, 1.27,
               "Left out: what is published, or common practice for a disc.", optional=True),
        Number("largest_pass", "Deepest pass", "length", None, 0.05, 50.8,
               "Left out: a quarter of the width of an end mill, half that of a disc.", optional=True),
        Number("dial_turn", "One turn of that dial", "length", None, 0.1, 25.4,
               "With it the readings are told in turns and lines.", optional=True),
        Number("over_reading", "Measured over shaft and disc with the dial at 0", "length", None, 10, 1100,
               "From the far side of the shaft over the highest tooth, when that is how it is touched off.",
               optional=True),
        Number("actual_diameter", "Measured diameter", "length", None, 6, 510,
               "What it measures now; centre and depth follow it.", optional=True),
        Number("grinding_allowance", "Still to be ground off, on diameter", "length", None, 0, 5.08,
               "Where the slot is cut before the shaft is ground to size.", optional=True),
        *MILL.pick("mill_speeds"),
    ),
    sources=("tc-9-524",),
    callouts=("keyway {diameter}", "keyway {diameter} x {key_length}", "keyway {diameter} {material}",
              "{diameter} keyway", "{diameter} keyway x {key_length}", "mill keyway {diameter}"),
)  # fmt: skip
def keyway_cut(
    diameter: float, system: str, section: str, fit_class: str, slot: str, key_form: str, key_length: float,
    cutter_width: float | None, disc_diameter: float, touch: str, paper: float, dial_division: float,
    material: Found, cutter_material: str, handling: float, to_next: float | None, finder_diameter: float | None,
    teeth: int | None, cutting_speed: float | None, tooth_feed: float | None, largest_pass: float | None,
    dial_turn: float | None, over_reading: float | None, actual_diameter: float | None,
    grinding_allowance: float | None, mill_speeds: Steps,
) -> Result:  # fmt: skip
    """Lengths in mm, speeds in m/min and rev/min, times in min."""
    key = keys.chosen(system, section, diameter)
    now, finished = keys.shaft_now(diameter, actual_diameter, grinding_allowance)
    asked = Asked(slot, key_form, key_length, cutter_width, disc_diameter, touch, paper, over_reading,
                  finder_diameter, largest_pass, to_next)  # fmt: skip
    cut = plan(key, fit_class, now, finished, asked)
    how = running(cut, material, cutter_material, teeth, mill_speeds, cutting_speed, tooth_feed)
    values = [*keyway_figures.values(cut), *keyway_figures.run_values(cut, how, handling)]
    last = "slot_length" if how.spindle is None else "spindle_speed"
    tables = (keyway_words.passes(cut, dial_division, dial_turn), keyway_words.ways(cut), keyway_words.published(how))
    return Result(
        values=tuple(values),
        main=("dial_stop", "centre_move", "cutter_travel", last),
        verdict=keyway_words.verdict(cut, how, material),
        working=(*keyway_figures.working(cut), *keyway_figures.run_working(cut, how)),
        cautions=keyway_words.cautions(material),
        assumptions=keyway_words.assumptions(cut, how, material),
        sources=_sources(cut, how),
        picture=picture(cut),
        tables=tuple(one for one in tables if one is not None),
        following=_following(cut, diameter, section, actual_diameter, grinding_allowance),
    )  # fmt: skip


def _sources(cut: Plan, how: Running) -> tuple[str, ...]:
    named = [*cut.key.row.source, *(["iso-286-2"] if cut.key.system == "metric" else [])]
    for one in (how.speed, how.feed):
        named += one.sources if one is not None else ()
    return tuple(dict.fromkeys(named))


def _following(
    cut: Plan, diameter: float, section: str, actual: float | None, allowance: float | None
) -> tuple[Following, ...]:  # fmt: skip
    key, size = cut.key, f"{diameter:.9g} mm"
    shaft = {"diameter": size, "system": key.system, "section": section, "fit_class": cut.fit_class}
    for name, length in (("actual_diameter", actual), ("grinding_allowance", allowance)):
        if length is not None:
            shaft[name] = f"{length:.9g} mm"
    whole = f"{key.width:.9g} x {key.height:.9g} x {cut.asked.length:.9g} mm"
    return (
        Following("parallel_key", "Limits of key and slots, and what to measure", shaft),
        Following("key_strength", "Does it carry the torque?",
                  {"key": whole, "ends": cut.asked.form, "diameter": size}),
        Following("fit", "What may the shaft measure?", {"size": size, "hole": "H7", "shaft": "h6"}),
    )  # fmt: skip
