"""Milling a keyway: printed depths through every way of touching off, the passes, the lengths, and every refusal."""

import csv
from decimal import Decimal
from fractions import Fraction

import pytest

from calc import answer
from calc.callout import callout
from calc.formulas import keys
from calc.model import Refused
from tests.calc.worked import DATA

NAME = "keyway_cut"


def rows(name):
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


METRIC = rows("published_keys_metric")
INCH = rows("published_keyseat_depths_inch")


def number(found, name):
    return found.value(name).number


def ask(**typed):
    return answer(NAME, typed)


def names(found):
    return [one.name for one in found.values]


def test_all_sizes_are_there():
    assert (len(METRIC), len(INCH)) == (26, 30)


@pytest.mark.parametrize("row", METRIC, ids=lambda row: row["key_width [mm]"])
def test_every_metric_size_by_every_way_of_touching_off(row):
    # DIN 6885-1:1968, sheet 1: the depth counts from the crown.
    read = {key.split(" ")[0]: value for key, value in row.items()}
    shaft, depth, width = (float(read[one]) for one in ("up_to", "shaft_depth", "key_width"))
    flat = keys.sagitta(shaft, width)
    expected = {"crown": depth, "flat": depth - flat, "far": shaft - depth, "over": depth}
    for touch, dial in expected.items():
        slot = {"slot": "sled", "disc_diameter": "200"} if touch == "over" else {}
        found = ask(diameter=read["up_to"], touch=touch, paper="0", key_length="500", **slot)
        assert number(found, "dial_stop") == pytest.approx(dial, abs=1e-9), (touch, row["source"])
        assert number(found, "cut_depth") == pytest.approx(depth, abs=1e-9)
        upper = float(read["depth_upper"])
        assert number(found, "dial_stop_last") == pytest.approx(dial + (-upper if touch == "far" else upper), abs=1e-9)


@pytest.mark.parametrize("row", INCH, ids=lambda row: row["shaft [in]"])
@pytest.mark.parametrize(("section", "column"), [("square", "square"), ("rectangular", "flat")])
def test_every_printed_s_of_asme_is_what_is_left_under_the_slot(row, section, column):
    # Machinery's Handbook Pocket Companion, keys, table 1 (ASME B17.1-1967); half the last printed digit.
    typed = {"diameter": f"{row['shaft [in]']} in", "system": "asme", "section": section, "key_length": "6 in",
             "paper": "0"}  # fmt: skip
    assert number(ask(**typed), "far_side") / 25.4 == pytest.approx(float(row[f"{column}_shaft [in]"]), abs=5.1e-4)
    # From the edge of the first full flat the depth is half the height of the key: how B17.1 gives it.
    edge = ask(**typed, touch="flat")
    assert number(edge, "dial_stop") == pytest.approx(number(edge, "key_height") / 2, abs=1e-9)
    assert number(edge, "key_width") == pytest.approx(float(Fraction(row["key_width [in]"])) * 25.4)


@pytest.mark.parametrize(
    ("shaft", "far_side"),
    # Berger, catalogue of standard parts, page 2078.
    [("25", 21), ("35", 30)],
)
def test_printed_bottom_to_far_side(shaft, far_side):
    assert number(ask(diameter=shaft), "far_side") == pytest.approx(far_side, abs=1e-9)


def test_the_centre_is_half_the_shaft_and_half_the_cutter_from_its_side():
    # TC 9-524: half the shaft, half the cutter, and the paper.
    assert number(ask(), "centre_move") == pytest.approx(14 + 4 + 0.1)
    assert number(ask(paper="0", cutter_width="6"), "centre_move") == pytest.approx(17)
    # An edge finder touches without paper; on a shaft that is over size its real diameter counts.
    assert number(ask(finder_diameter="10"), "centre_move") == pytest.approx(19)
    assert number(ask(actual_diameter="28.4"), "centre_move") == pytest.approx(14.2 + 4 + 0.1)


def test_the_dial_counts_the_paper_and_the_first_flat():
    # By hand: 4 deep in 28; 14 - sqrt(196 - 16) = 0.5836 to the first full flat.
    assert number(ask(), "dial_stop") == pytest.approx(4.1)
    assert number(ask(touch="flat"), "dial_stop") == pytest.approx(3.4164, abs=5e-5)
    assert number(ask(touch="far"), "dial_stop") == pytest.approx(28 - 0.1 - 4)
    over = ask(slot="sled", touch="over", over_reading="109")
    assert number(over, "dial_stop") == pytest.approx(5)
    assert number(over, "over_cutter") == pytest.approx(104)


def test_each_way_of_touching_off_is_told_beside_the_one_that_was_chosen():
    table = next(one for one in ask(slot="sled").tables if one.title == "Ways to touch off")
    stops = [row[1] for row in table.rows]
    assert stops == ["4.100 mm", "3.416 mm", "23.900 mm upwards", "4.000 mm"]
    assert "104.000 mm over the highest tooth" in table.note
    assert len(next(one for one in ask().tables if one.title == "Ways to touch off").rows) == 3


def test_a_slot_cut_before_grinding_is_deeper_by_half_the_allowance():
    # By hand: 28 finished with 0.4 to grind: 4 + 0.2 from the rough crown, 28.4 - 4.2 = 24.2 to the far side.
    found = ask(grinding_allowance="0.4", paper="0")
    assert number(found, "dial_stop") == pytest.approx(4.2)
    assert number(found, "far_side") == pytest.approx(24.2)
    assert number(found, "centre_move") == pytest.approx(14.2 + 4)
    assert any("28.400 mm" in one for one in found.assumptions)


def test_passes_are_of_equal_depth_none_is_deeper_than_asked_and_the_last_ends_on_the_dial():
    for largest in ("0.3", "0.5", "1", "1.37", "2", "4", "50"):
        for touch in ("crown", "flat", "far"):
            found = ask(largest_pass=largest, touch=touch)
            table = next(one for one in found.tables if one.title == "Passes")
            count, each = int(number(found, "passes")), number(found, "pass_depth")
            assert len(table.rows) == count
            assert each <= float(largest) + 1e-9
            assert (count - 1) * float(largest) < count * each - 1e-9 or count == 1
            assert table.rows[-1][2] == found.value("dial_stop").text
            dials = [float(row[2].split(" ")[0]) for row in table.rows]
            first = {"crown": 0.1, "flat": 0.0, "far": 27.9}[touch]
            steps = [abs(after - before) for before, after in zip([first, *dials], dials, strict=False)]
            assert steps == pytest.approx([each] * count, abs=1.1e-3)


def test_the_usual_pass_is_a_quarter_of_an_end_mill_and_half_a_disc():
    # Common practice, no source: 4 deep by 8 wide.
    assert number(ask(), "passes") == 2
    assert number(ask(slot="sled"), "passes") == 1
    # exactly at the limit it is not one more
    assert number(ask(largest_pass="1"), "passes") == 4


def test_the_dial_is_told_in_lines_and_in_turns():
    def last(**typed):
        return next(one for one in ask(**typed).tables if one.title == "Passes").rows[-1][3]

    assert last() == "205.0"
    assert last(dial_turn="2") == "2 + 5.0"
    assert last(dial_turn="4.1") == "1 + 0.0"
    assert last(dial_division="0.001 in", dial_turn="0.1 in") == "1 + 61.4"  # 4.1 mm are 161.4 thou


def test_slot_and_travel():
    # DIN 6885-1: form A, length over its round ends; form B, straight over its whole length.
    assert [number(ask(), one) for one in ("slot_length", "cutter_travel")] == [40, 32]
    assert [number(ask(key_form="square"), one) for one in ("slot_length", "cutter_travel")] == [48, 40]
    # 80 mm disc, 4 deep, by hand: sqrt(4 x 76) = 17.436
    sled = ask(slot="sled")
    assert number(sled, "run_out") == pytest.approx(17.4356, abs=1e-4)
    assert number(sled, "slot_length") == pytest.approx(40 + 2 * 17.4356, abs=1e-4)
    assert number(sled, "cutter_travel") == 40
    assert number(ask(slot="open disc"), "slot_length") == pytest.approx(57.4356, abs=1e-4)
    assert "run_out" not in names(ask(to_next="1"))


def test_a_run_out_that_reaches_a_seat_stops_the_job_and_a_smaller_disc_or_a_slot_drill_is_named():
    reached = ask(slot="sled", to_next="12")
    assert reached.verdict.level == "stop"
    # 12²/4 + 4 = 40
    assert "17.4 mm" in reached.verdict.text
    assert "40 mm at most" in reached.verdict.text
    assert "seal track" in reached.verdict.text
    assert ask(slot="sled", to_next="12", disc_diameter="40").verdict.level != "stop"
    assert ask(slot="sled", to_next="18").verdict.level != "stop"
    assert ask(slot="open disc", to_next="12").verdict.level == "stop"
    close = ask(slot="sled", to_next="5")
    assert "take a slot drill" in close.verdict.text
    assert ask(to_next="1").verdict.level != "stop"


def test_a_full_width_cut_is_told_to_come_out_wide_and_a_narrow_cutter_is_moved_to_both_sides():
    # ISO 286-2: 8 N9 is 0 and -36 µm.
    full = ask()
    assert full.verdict.level == "mind"
    assert "8.000 mm" in full.verdict.text
    assert "7.964 mm" in full.verdict.text
    narrow = ask(cutter_width="6")
    assert narrow.verdict.level == "good"
    assert number(narrow, "side_move") == pytest.approx((7.982 - 6) / 2)
    # ground undersize it needs one width only; in a free slot, 8 H9, so does the full one
    ground = ask(cutter_width="7.96")
    assert ground.verdict.level == "good"
    assert "side_move" not in names(ground)
    assert ask(fit_class="free").verdict.level == "good"
    # both sides take two more cuts
    assert number(narrow, "total_time") - number(narrow, "cutting_time") == pytest.approx(number(narrow, "passes") + 2)


def test_speed_feed_and_time_by_hand():
    # (18 + 28)/2 = 23 m/min on 8 mm asks 915 rev/min, the step below is 710; 0.04 mm x 2 teeth x 710 = 56.8 mm/min.
    found = ask()
    assert number(found, "spindle_speed") == 710
    assert number(found, "cutting_speed") == pytest.approx(17.844, abs=1e-3)
    assert number(found, "feed_rate") == pytest.approx(56.8)
    # 2 x 32 mm along and 4 mm down at half the feed
    assert number(found, "cutting_time") == pytest.approx(64 / 56.8 + 4 / 28.4)
    assert number(found, "total_time") == pytest.approx(number(found, "cutting_time") + 2)
    typed = ask(cutting_speed="20", tooth_feed="0.05", teeth="4", mill_speeds="60 to 3000 stepless", handling="0")
    assert number(typed, "spindle_speed") == pytest.approx(795.775, abs=1e-3)
    assert number(typed, "feed_rate") == pytest.approx(4 * 0.05 * 795.775, abs=1e-3)
    assert number(typed, "total_time") == number(typed, "cutting_time")


def test_the_speed_of_a_disc_is_that_of_its_diameter_and_its_teeth_are_asked_for():
    found = ask(slot="sled")
    assert number(found, "spindle_speed") == 90  # 23 m/min on 80 mm asks 91.5
    assert "feed_rate" not in names(found)
    assert any("how many teeth" in one for one in found.assumptions)
    assert number(ask(slot="sled", teeth="18"), "feed_rate") == pytest.approx(18 * 0.05 * 90)


def test_where_no_speed_serves_the_depth_is_told_all_the_same():
    titanium = ask(material="Ti-6Al-4V")
    assert titanium.verdict.level == "mind"
    assert "type the cutting speed" in titanium.verdict.text
    assert "spindle_speed" not in names(titanium)
    assert number(titanium, "dial_stop") == pytest.approx(4.1)
    assert number(ask(material="Ti-6Al-4V", cutting_speed="12"), "spindle_speed") == 355
    fast = ask(slot="sled", material="316", disc_diameter="125")
    assert "too fast" in fast.verdict.text
    # above the wanted speed but still within what is published: 16 m/min on 40 mm are 127 rev/min
    just = ask(slot="sled", material="316", disc_diameter="40", mill_speeds="100 200")
    assert number(just, "spindle_speed") == 100
    assert any("slowest speed is over" in one for one in just.assumptions)


def test_a_key_too_thin_for_the_printed_feeds_asks_for_one():
    thin = ask(diameter="7", key_length="10")
    assert "tooth_feed" not in names(thin)
    assert any("type one for feed rate" in one for one in thin.assumptions)
    assert number(ask(diameter="7", key_length="10", tooth_feed="0.01"), "feed_rate") > 0


def test_how_the_depth_is_measured_is_told():
    # common practice, no source: an anvil is wider than the slot
    assert any("over a slip or the key in the slot, less its height" in one for one in ask().assumptions)


def test_what_is_from_memory_is_told():
    assert any("from memory" in one for one in ask().assumptions)
    assert any("unconfirmed" in one for one in ask(diameter="1 in", system="asme").assumptions)
    assert any("inferred" in one for one in ask(diameter="1 in", system="bs46").assumptions)
    assert "memory" in ask().sources
    assert "carbide-maker-table" in ask(cutter_material="carbide").sources


@pytest.mark.parametrize(
    ("material", "told"), [("GG25", "dust of cast iron"), ("CZ121", "wash hands"), ("Ti-6Al-4V", "titanium chips")]
)
def test_what_is_to_be_minded_of_the_material_is_told(material, told):
    assert any(told in one for one in ask(material=material).cautions)
    assert not any(told in one for one in ask().cautions)
    assert ask(material=material).cautions[-1].endswith("local rules come first.")


def test_the_key_is_the_one_that_the_standard_gives_to_the_shaft():
    # DIN 6885-1: 22 takes 6 x 6, above it 8 x 7; the key of the hub stays where the shaft was worn into another step.
    assert number(ask(diameter="22"), "key_width") == 6
    assert number(ask(diameter="22.1"), "key_width") == 8
    worn = ask(diameter="22.2", actual_diameter="21.95", cutter_width="7.96")
    assert number(worn, "key_width") == 8
    assert "another step" in worn.verdict.text


@pytest.mark.parametrize(
    ("typed", "field", "told"),
    [
        ({"diameter": "12 in", "system": "asme"}, "diameter", "up to 279.400 mm"),
        ({"section": "square"}, "section", "no square key"),
        ({"cutter_width": "8.2"}, "cutter_width", "2.661 mm to 8.000 mm"),
        ({"cutter_width": "2"}, "cutter_width", "2.661 mm to 8.000 mm"),
        ({"key_length": "8"}, "key_length", "over 8.000 mm"),
        (
            {"slot": "sled", "diameter": "290", "key_length": "90", "disc_diameter": "40"},
            "disc_diameter",
            "over 40.000 mm",
        ),
        ({"touch": "over"}, "touch", "Only a disc"),
        ({"slot": "sled", "touch": "over", "over_reading": "104"}, "over_reading", "over 104.000 mm up to 158.000 mm"),
        ({"slot": "sled", "touch": "over", "over_reading": "160"}, "over_reading", "over 104.000 mm up to 158.000 mm"),
        ({"largest_pass": "0.05"}, "largest_pass", "80 passes"),
        ({"actual_diameter": "24"}, "actual_diameter", "5 %"),
        ({"grinding_allowance": "2", "actual_diameter": "32"}, "actual_diameter", "5 %"),
        ({"material": "unobtainium"}, "material", "not a material"),
        ({"teeth": "0"}, "teeth", "from 1 to 60"),
        ({"mill_speeds": "90 45"}, "mill_speeds", "in order"),
    ],
)
def test_what_cannot_be_answered_is_refused(typed, field, told):
    with pytest.raises(Refused) as refusal:
        answer(NAME, typed)
    assert [one.name for one in refusal.value.problems] == [field]
    assert told in str(refusal.value.problems[0])


def test_a_reading_over_shaft_and_disc_from_within_the_cut_leaves_the_rest():
    found = ask(slot="sled", touch="over", over_reading="105")
    assert number(found, "dial_stop") == pytest.approx(1)
    assert number(found, "pass_depth") == pytest.approx(1)


def test_the_picture_tells_centre_dial_slot_and_travel():
    drawn = ask().picture
    assert all(f">{text}<" in drawn for text in ("18.1", "4.1", "dial 0", "slot 40", "travel 32", "Ø 28"))
    sled = ask(slot="sled", to_next="20").picture
    assert all(f">{text}<" in sled for text in ("full depth 40", "run-out 17.4", "next 20"))
    inch = ask(diameter="1 in", system="asme", key_length="1 in").picture
    assert ">slot 1<" in inch


def test_a_bigger_disc_or_a_deeper_slot_never_runs_out_less():
    by_disc = [number(ask(slot="sled", disc_diameter=str(one)), "run_out") for one in range(30, 201, 10)]
    assert by_disc == sorted(by_disc)
    shafts = [str(Decimal(one)) for one in (23, 31, 39, 45, 51, 59)]
    by_depth = [number(ask(slot="sled", diameter=one), "run_out") for one in shafts]
    assert by_depth == sorted(by_depth)


def test_it_is_found_as_a_turner_writes_it():
    assert (NAME, {"diameter": "28"}) in callout("keyway 28")
    assert (NAME, {"diameter": "28", "key_length": "40"}) in callout("keyway 28 x 40")


@pytest.mark.parametrize(
    "typed",
    [
        {},
        {"diameter": "1 in", "system": "asme", "key_length": "1 1/2 in"},
        {"key_form": "square", "slot": "sled", "key_length": "30"},
    ],
)
def test_the_same_key_is_carried_over_to_what_comes_next(typed):
    found = ask(**typed)
    after = {one.name: answer(one.name, one.typed) for one in found.following}
    assert number(after["parallel_key"], "key_width") == number(found, "key_width")
    # DIN 6892: a round-ended key bears along its length less its width, a square-ended one along all of it.
    length = {"1 1/2 in": 38.1, "30": 30}.get(typed.get("key_length", ""), 40)
    bears = length if typed.get("key_form") == "square" else length - number(found, "key_width")
    assert number(after["key_strength"], "contact_length") == pytest.approx(bears)


def test_a_speed_or_a_feed_of_his_own_over_what_is_known_is_told():
    # from memory: 18 to 28 m/min, and 0.03 to 0.05 mm for each tooth of 8 mm; 0.05 mm for that of a disc
    def told(**typed):
        return [one for one in ask(**typed).assumptions if one.startswith("Your ")]

    assert "28 m/min at most" in told(cutting_speed="29")[0]
    assert "0.050 mm at most" in told(tooth_feed="0.051")[0]
    assert told(cutting_speed="28", tooth_feed="0.05") == []
    assert "0.050 mm at most" in told(slot="sled", tooth_feed="0.06")[0]
    assert told(material="Ti-6Al-4V", cutting_speed="100", cutter_material="carbide") == []
