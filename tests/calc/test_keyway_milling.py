"""The geometry of milling a keyway: by hand, by its limits, and with quantities that carry units."""

import inspect
import math

import pint
import pytest

from calc.formulas import keys, slot_speeds, work_materials
from calc.formulas import keyway_milling as milling
from calc.model import CalcError
from calc.tables import table

UNITS = pint.UnitRegistry(cache_folder=None)
MM = UNITS.millimetre


def test_the_run_out_of_a_disc_is_half_the_chord_that_it_cuts():
    # Pythagoras by hand: 80 mm disc, 5 mm deep: sqrt(40² - 35²) = sqrt(375) = 19.36.
    assert milling.chord(5, 80) == pytest.approx(19.3649, abs=1e-4)
    # at its own radius it cuts its whole diameter
    assert milling.chord(30, 60) == pytest.approx(30)
    assert milling.chord(0, 60) == 0
    for depth in (0.5, 2.0, 7.5):
        for disc in (40, 63, 100):
            middle = disc / 2 - depth
            assert math.hypot(milling.chord(depth, disc), middle) == pytest.approx(disc / 2)


def test_the_largest_disc_for_a_room_runs_out_just_so_far():
    for depth, room in ((4.0, 12.0), (5.0, 19.0), (12.0, 40.0)):
        assert milling.chord(depth, milling.disc_for(depth, room)) == pytest.approx(room)


def test_the_centre_is_half_the_shaft_and_half_of_what_touches_away():
    # TC 9-524: the table moves by half the shaft and half the cutter, and by the paper between them.
    assert milling.centre_move(28, 8, 0) == 18
    assert milling.centre_move(28, 8, 0.1) == pytest.approx(18.1)


@pytest.mark.parametrize(
    ("way", "at_crown", "at_bottom", "already"),
    [
        # 50 mm shaft, 14 mm cutter, 5.5 deep; 25 - sqrt(625 - 49) = 1 by hand.
        ("crown", 0.1, 5.6, 0),
        ("flat", -1, 4.5, 1),
        ("far", 49.9, 44.4, 0),
        ("over", 0, 5.5, 0),
    ],
)
def test_the_dial_for_each_way_of_touching_off(way, at_crown, at_bottom, already):
    touch = milling.touch(way, 50, 14, 0.1, 80, None)
    assert touch.reading(0) == pytest.approx(at_crown)
    assert touch.reading(5.5) == pytest.approx(at_bottom)
    assert touch.cut == pytest.approx(already)


def test_a_reading_over_shaft_and_disc_sets_the_dial_wherever_the_disc_stands():
    # 50 + 80 when it just touches; measured 133 it is 3 clear, measured 128 it is 2 deep already.
    clear, within = (milling.touch("over", 50, 14, 0.1, 80, over) for over in (133, 128))
    assert (clear.reading(5.5), clear.cut) == (8.5, 0)
    assert (within.reading(5.5), within.cut) == (3.5, 2)
    assert milling.over_cutter(50, 5.5, 80) == 124.5


@pytest.mark.parametrize(
    ("slot", "form", "width", "overall", "travel"),
    [
        # DIN 6885-1: form A has round ends inside its length, form B straight sides of its whole length.
        ("closed", "round", 8, 40, 32),
        ("closed", "square", 8, 48, 40),
        ("closed", "round", 6, 40, 34),
        ("open", "round", 8, 40, 42),
        ("open", "square", 8, 44, 46),
    ],
)
def test_slot_and_travel_of_an_end_mill(slot, form, width, overall, travel):
    found = milling.run(slot, form, 40, width, 4, 80)
    assert (found.slot, found.travel, found.run_out) == (overall, travel, 0)
    assert found.plunges == (slot == "closed")


def test_slot_and_travel_of_a_disc():
    # 80 mm disc, 5 deep, 19.36 of run-out: at both ends of a sled runner, at one of an open slot, which it also needs
    # to start clear of the shaft.
    sled, one_end = (milling.run(slot, "square", 40, 8, 5, 80) for slot in ("sled", "open disc"))
    assert (sled.slot, sled.full, sled.travel) == (pytest.approx(78.7298, abs=1e-4), 40, 40)
    assert (one_end.slot, one_end.full) == (pytest.approx(59.3649, abs=1e-4), 40)
    assert one_end.travel == pytest.approx(40 + 19.3649 + milling.CLEAR, abs=1e-4)


def test_the_arbor_clears_the_crown_only_with_small_collars():
    assert milling.collar(4, 80) == 72


def test_the_time_counts_every_pass_and_the_feed_down():
    # 2 passes of 32 mm at 64 mm/min are 1 min; 4 mm down at half of it 0.125 min.
    closed = milling.run("closed", "round", 40, 8, 4, 80)
    assert milling.cutting_time(closed, 4, 2, 64, 0) == pytest.approx(1.125)
    assert milling.cutting_time(closed, 4, 2, 64, 2) == pytest.approx(2.125)
    outside = milling.run("open", "round", 30, 8, 4, 80)
    assert milling.cutting_time(outside, 4, 1, 64, 0) == pytest.approx(0.5)


def test_every_length_of_these_formulas_is_a_length(monkeypatch):
    monkeypatch.setattr(milling, "ONE_MM", 1 * MM)
    monkeypatch.setattr(milling, "CLEAR", 2 * MM)
    checked = {
        "chord": milling.chord(5 * MM, 80 * MM),
        "disc_for": milling.disc_for(5 * MM, 12 * MM),
        "centre_move": milling.centre_move(28 * MM, 8 * MM, 0.1 * MM),
        "collar": milling.collar(4 * MM, 80 * MM),
        "over_cutter": milling.over_cutter(28 * MM, 4 * MM, 80 * MM),
    }
    for slot in milling.SLOTS:
        found = milling.run(slot, "square", 40 * MM, 8 * MM, 4 * MM, 80 * MM)
        for name in ("slot", "full", "travel"):
            checked[f"run {slot} {name}"] = getattr(found, name)
    assert {str(one.units) for one in checked.values()} == {"millimeter"}
    closed = milling.run("closed", "square", 40 * MM, 8 * MM, 4 * MM, 80 * MM)
    assert milling.cutting_time(closed, 4 * MM, 2, UNITS.Quantity(64, "mm/min"), 0).check("[time]")
    named = {name.split(" ")[0] for name in checked} | {"cutting_time", "touch", "read_teeth"}
    functions = {
        name for name, one in inspect.getmembers(milling, inspect.isfunction) if one.__module__ == milling.__name__
    }
    assert functions == named


@pytest.mark.parametrize(("text", "teeth"), [("2", 2), ("18 teeth", 18), ("4 flute", 4), ("3z", 3)])
def test_teeth_are_counted(text, teeth):
    assert milling.read_teeth(text) == teeth


@pytest.mark.parametrize("text", ["0", "61", "2.5", "two", "-2"])
def test_teeth_are_a_whole_number(text):
    with pytest.raises(CalcError, match="whole number of teeth from 1 to 60"):
        milling.read_teeth(text)


# --------------------------------------------------------------------------------------- speeds and feeds


@pytest.mark.parametrize(
    ("name", "cutter", "low", "high", "why"),
    [
        ("EN3B", "hss", 15, 28, "handout, mild steel, face milling x 0.6: 15 to 21; from memory 18 to 28"),
        ("C45", "hss", 18, 28, "from memory"),
        ("GG25", "hss", 9, 18, "handout, cast iron, face milling x 0.6"),
        ("6082-T6", "hss", 36, 90, "handout, aluminium, face milling x 0.6"),
        ("316", "hss", 5.4, 16, "handout, stainless, face milling x 0.6: 5.4 to 12; from memory 10 to 16"),
        ("EN24T", "hss", 12, 18, "hardened and tempered, from memory"),
        ("EN3B", "carbide", 45.7, 121.9, "tool maker's table: 150 to 400 ft/min"),
        ("C45", "carbide", 38.1, 91.4, "tool maker's table: 125 to 300 ft/min"),
    ],
)
def test_slotting_speeds_stand_as_they_were_found(name, cutter, low, high, why):
    found = slot_speeds.speed(work_materials.read(name), cutter, by_disc=False)
    assert (found.low, found.high) == (low, high), why
    assert found.taken == ((low + high) / 2 if cutter == "hss" else low)


@pytest.mark.parametrize(
    ("name", "cutter"),
    [("Ti-6Al-4V", "hss"), ("EN30B", "hss"), ("EN31", "hss"), ("ACETAL", "hss"), ("EN24T", "carbide")],
)
def test_where_no_slotting_speed_is_known_none_is_made_up(name, cutter):
    assert slot_speeds.speed(work_materials.read(name), cutter, by_disc=False) is None


def test_a_disc_of_carbide_has_no_published_figures():
    c45 = work_materials.read("C45")
    assert slot_speeds.speed(c45, "carbide", by_disc=True) is None
    assert slot_speeds.tooth_feed(c45, "carbide", by_disc=True, width=8) is None
    assert slot_speeds.tooth_feed(c45, "hss", by_disc=True, width=8).taken == slot_speeds.DISC_FEED


def test_the_feed_is_that_of_the_next_smaller_cutter_listed_and_never_lies_between():
    c45 = work_materials.read("C45")
    at_8, at_9, at_10 = (slot_speeds.tooth_feed(c45, "hss", False, width) for width in (8, 9.9, 10))
    assert (at_8.low, at_8.high) == (0.03, 0.05)  # from memory, the table's row of 8 mm
    assert at_9 == at_8
    assert at_10.taken == pytest.approx(0.05)
    assert slot_speeds.tooth_feed(c45, "hss", False, 2.9) is None
    # the tool maker's table: 0.002 in for each tooth of a 1/2 in cutter in medium carbon steel
    assert slot_speeds.tooth_feed(c45, "carbide", False, 12.7).taken == pytest.approx(0.051)


def test_stainless_and_hardened_steel_get_less_feed():
    plain = slot_speeds.tooth_feed(work_materials.read("C45"), "hss", False, 8)
    for name in ("316", "EN24T", "42CrMo4"):
        hard = slot_speeds.tooth_feed(work_materials.read(name), "hss", False, 8)
        assert hard.taken == pytest.approx(0.7 * plain.taken)  # from memory
        assert any("30 %" in one for one in hard.remarks)


def test_a_stand_in_group_is_told():
    found = slot_speeds.speed(work_materials.read("EN9"), "hss", by_disc=False)
    assert any("high carbon" in one and "medium carbon" in one for one in found.remarks)


def test_the_rows_that_are_asked_for_are_in_the_table():
    known = {(row.text("tool"), row.text("cut")) for row in table("cutting_speeds")}
    assert {one for rows in slot_speeds.ROWS.values() for one in rows} <= known


def test_the_first_full_flat_lies_deeper_on_a_smaller_shaft():
    flats = [keys.sagitta(diameter, 8) for diameter in (22.1, 25, 28, 30)]
    assert flats == sorted(flats, reverse=True)
