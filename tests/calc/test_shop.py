"""What a workshop owns: the declarations, lists of speeds and feeds as they are typed, and what is said of them.

Terms of the series of preferred numbers: ISO 3:1973, table 1. Conversions: the inch of 1959 is 25.4 mm.
"""

import importlib
import itertools
import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import catalogue, sheet
from calc.kinds import KINDS
from calc.model import CalcError, Calculation, Choice, Notation, Number, Result
from calc.owned import of_mine, said, said_of, shop_json, things
from calc.run import answer, convert
from calc.shop import LATHE, MILL, PRICES, SAW, SHOP, TOOL
from calc.steps import LONGEST, MOST, Steps
from calc.units import value

SPEEDS, FEEDS = LATHE.pick("speeds", "feeds")
WINDOW = TOOL.pick("feed_window")[0]
EVERY = [(thing, one) for thing in SHOP.values() for one in thing.inputs]


def refusal(one, text):
    with pytest.raises(CalcError) as caught:
        convert(one, text)
    return str(caught.value)


def outcome(one, text):
    try:
        return convert(one, text)
    except CalcError as problem:
        return str(problem)


# --------------------------------------------------------------------------------------------- declarations


@pytest.mark.parametrize(("thing", "one"), EVERY, ids=[f"{thing.name}-{one.name}" for thing, one in EVERY])
def test_every_input_is_of_its_thing_and_says_what_it_is(thing, one):
    assert one.of == thing.name
    assert re.fullmatch(r"[a-z][a-z0-9_]*", one.name)
    assert one.label[0].isupper()
    assert one.default is not None or one.optional
    assert isinstance(one, Choice) or (len(one.help) > 20 and one.help.endswith("."))
    if one.default is not None:
        convert(one, one.default)
    if isinstance(one, Notation):
        for entry in one.common:
            convert(one, entry)


def test_no_two_things_share_the_name_of_an_input():
    names = [one.name for _, one in EVERY]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("thing", SHOP.values(), ids=list(SHOP))
def test_a_thing_is_known_by_figures_that_it_has(thing):
    assert SHOP[thing.name] is thing
    assert len(thing.pick(*thing.figures)) == len(thing.figures) > 0
    with pytest.raises(KeyError):
        thing.pick("no_such_input")


def test_picked_inputs_come_in_the_order_asked_for():
    assert [one.name for one in LATHE.pick("motor_power", "speeds")] == ["motor_power", "speeds"]
    assert LATHE.pick("speeds")[0] is LATHE.inputs[0]


@pytest.mark.parametrize(("one", "series"), [(SPEEDS, 3), (MILL.inputs[0], 3), (FEEDS, 2)])
def test_the_generic_speeds_and_feeds_are_terms_of_the_preferred_numbers(one, series):
    """ISO 3:1973, table 1, series R20, every third term for speeds (R20/3) and every second for feeds (R10)."""
    r20 = "1.00 1.12 1.25 1.40 1.60 1.80 2.00 2.24 2.50 2.80 3.15 3.55 4.00 4.50 5.00 5.60 6.30 7.10 8.00 9.00"
    terms = [float(term) for term in r20.split()]
    places = []
    for speed in convert(one, one.default).values:
        decade = next(power for power in range(-3, 5) if 1 <= round(speed / 10**power, 9) < 10)
        places.append(20 * decade + terms.index(round(speed / 10**decade, 9)))
    assert {after - before for before, after in itertools.pairwise(places)} == {series}


def test_the_generic_chuck_stands_less_than_the_spindle_turns():
    assert convert(*_default(LATHE, "chuck_speed")) < convert(*_default(LATHE, "speeds")).highest


def _default(thing, name):
    one = thing.pick(name)[0]
    return one, one.default


# ---------------------------------------------------------------------------------------- lists and ranges


@pytest.mark.parametrize(
    ("typed", "speeds"),
    [
        ("45 63 90", (45, 63, 90)), ("45, 63, 90", (45, 63, 90)), ("45,63,90", (45, 63, 90)),
        ("45; 63; 90", (45, 63, 90)), ("45;63;90;", (45, 63, 90)), ("45\n63\n90", (45, 63, 90)),
        ("  45   63 ", (45, 63)), ("45 63 90 rev/min", (45, 63, 90)), ("45 rpm, 63 rpm", (45, 63)),
        ("22,4 31,5", (22.4, 31.5)), ("22,4, 31,5", (22.4, 31.5)), ("63", (63,)), ("２２ ３１", (22, 31)),
    ],
)  # fmt: skip
def test_lists_of_speeds_as_they_are_typed(typed, speeds):
    assert convert(SPEEDS, typed) == Steps(speeds, "spindle_speed")


@pytest.mark.parametrize(
    "typed",
    ["40 to 2000 stepless", "stepless 40 to 2000", "40 to 2000", "40-2000", "40 – 2000 stepless", "40..2000",
     "40 … 2000", "from 40 to 2000 rev/min", "40 rpm to 2000 rpm variable", "Stepless: 40 - 2000 rpm"],
)  # fmt: skip
def test_stepless_ranges_as_they_are_typed(typed):
    assert convert(SPEEDS, typed) == Steps((40, 2000), "spindle_speed", stepless=True)


@pytest.mark.parametrize(
    ("typed", "feeds"),
    [
        ("0.05 0.1", (0.05, 0.1)), ("0,05 0,1", (0.05, 0.1)), ("0,05; 0,1", (0.05, 0.1)), (".05 .1", (0.05, 0.1)),
        ("2 4 6 thou/rev", (0.0508, 0.1016, 0.1524)), ("0.002 0.004 in/rev", (0.0508, 0.1016)),
        ("0.05 mm/rev 0.1 mm/rev", (0.05, 0.1)), ("1 thou/rev, 0.05 mm/rev", (0.0254, 0.05)),
    ],
)  # fmt: skip
def test_lists_of_feeds_as_they_are_typed(typed, feeds):
    """2 thou is 0.0508 mm, exactly."""
    assert convert(FEEDS, typed) == Steps(feeds, "feed")


def test_a_unit_after_one_end_of_a_range_counts_for_both():
    assert convert(FEEDS, "2 to 20 thou/rev").values == (0.0508, 0.508)
    assert convert(FEEDS, "2 thou/rev to 20 thou/rev").values == (0.0508, 0.508)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("63 45", "45 rev/min comes after 63 rev/min. Give them in order, from the lowest to the highest."),
        ("45 63 63", "63 rev/min stands twice. Give each speed once."),
        ("2000 to 40", "The range ends at or below where it begins. Give the lower end first: 40 to 2000 stepless."),
        ("40 to 40", "The range ends at or below where it begins. Give the lower end first: 40 to 2000 stepless."),
        ("stepless", "Give the two ends of the stepless range: 40 to 2000 stepless."),
        ("45 63 stepless", "Give the two ends of the stepless range: 40 to 2000 stepless."),
        (";", "Give at least one speed, or a range: 40 to 2000 stepless."),
        ("-45", "Entry 1, “-45”: give values from 1 to 30000 rev/min."),
        ("45 0", "Entry 2, “0”: give values from 1 to 30000 rev/min."),
        ("45 99999", "Entry 2, “99999”: give values from 1 to 30000 rev/min."),
        ("45 1e9", "Entry 2, “1e9”: give values from 1 to 30000 rev/min."),
        (" ".join(str(one) for one in range(1, MOST + 2)), f"That is {MOST + 1} entries; give at most {MOST}."),
    ],
)
def test_what_is_no_list_of_speeds_is_told_why(typed, said):
    assert refusal(SPEEDS, typed) == said


@pytest.mark.parametrize("typed", ["fast", "45 63 mm", "45 x", "nan 45", "45 inf", "45 63*2", "?", "45 to", "45-",
                                   "to 2000", "60 to 300, 250 to 2000", "45 -x", "9**9"])  # fmt: skip
def test_scraps_are_refused_with_the_entry_that_is_wrong(typed):
    said = refusal(SPEEDS, typed)
    assert said.startswith("Entry ")
    assert said.endswith("Part the entries by spaces.")


def test_a_list_may_be_longer_than_a_field_but_not_for_ever():
    longest = " ".join(str(one) for one in range(1000, 1000 + MOST))
    assert 64 < len(longest) < LONGEST
    assert len(convert(SPEEDS, longest).values) == MOST
    assert refusal(SPEEDS, "1" * (LONGEST + 1)).startswith(f"That is longer than {LONGEST} characters.")


def test_a_window_is_a_range_and_may_be_left_out():
    assert convert(WINDOW, "") is None
    assert convert(WINDOW, "0.1 to 0.3") == Steps((0.1, 0.3), "feed", stepless=True)
    assert refusal(WINDOW, "0.1 0.3") == "Give both ends of the range: 0.05 to 0.4."


@given(st.text(max_size=LONGEST))
def test_any_text_is_a_rising_list_within_limits_or_refused_with_a_sentence(text):
    for one, low, high in ((SPEEDS, 1, 30_000), (FEEDS, 0.001, 10)):
        found = outcome(one, text)
        if isinstance(found, str):
            assert found.endswith(".")
            continue
        assert list(found.values) == sorted(set(found.values))
        assert low <= found.lowest <= found.highest <= high
        assert 1 <= len(found.values) <= (2 if found.stepless else MOST)


# ------------------------------------------------------------------------------------------------- choosing

GEARS = Steps((45.0, 63.0, 90.0), "spindle_speed")
DRIVE = Steps((40.0, 2000.0), "spindle_speed", stepless=True)


@pytest.mark.parametrize(
    ("wanted", "below", "above"),
    [(45, 45, 45), (44.9, None, 45), (62.9, 45, 63), (63, 63, 63), (64, 63, 90), (90, 90, 90), (91, 90, None)],
)
def test_the_step_at_or_below_and_at_or_above(wanted, below, above):
    assert GEARS.at_or_below(wanted) == below
    assert GEARS.at_or_above(wanted) == above


def test_a_speed_that_is_a_step_but_for_the_last_bits_is_that_step():
    assert GEARS.at_or_below(62.999999999999993) == 63
    assert GEARS.at_or_above(63.00000000000001) == 63
    assert Steps((0.1, 0.3), "feed").at_or_below(0.1 + 0.2) == 0.3


@pytest.mark.parametrize(
    ("wanted", "below", "above"), [(39, None, 40), (40, 40, 40), (777.7, 777.7, 777.7), (2100, 2000, None)]
)
def test_a_drive_without_steps_gives_what_is_wanted_within_its_ends(wanted, below, above):
    assert DRIVE.at_or_below(wanted) == below
    assert DRIVE.at_or_above(wanted) == above


@pytest.mark.parametrize(("wanted", "nearest"), [(1, 45), (45, 45), (53, 45), (54, 63), (75, 63), (76, 90), (500, 90)])
def test_the_nearest_step_is_nearest_by_ratio(wanted, nearest):
    """Between 45 and 63 the middle is sqrt(45 × 63) = 53.24; between 63 and 90 it is 75.30."""
    assert GEARS.nearest(wanted) == nearest


def test_the_next_slower_step():
    assert GEARS.slower(90) == 63
    assert GEARS.slower(45) is None
    assert DRIVE.slower(2000) is None


@given(st.lists(st.integers(1, 30_000), min_size=1, max_size=MOST, unique=True), st.floats(0.5, 40_000))
def test_the_step_below_is_below_and_there_is_none_between(speeds, wanted):
    steps = Steps(tuple(float(one) for one in sorted(speeds)), "spindle_speed")
    below, above = steps.at_or_below(wanted), steps.at_or_above(wanted)
    assert below is None or below <= wanted * (1 + 1e-11)
    assert above is None or above >= wanted * (1 - 1e-11)
    assert not [one for one in steps.values if (below or 0) < one < (above or 1e9)]
    assert steps.nearest(wanted) in (below, above)


@pytest.mark.parametrize(
    ("typed", "shown"),
    [("45 63 90", "45 to 90 rev/min in 3 steps"), ("40-2000", "40 to 2000 rev/min stepless"), ("63", "63 rev/min")],
)
def test_steps_in_a_line(typed, shown):
    assert str(convert(SPEEDS, typed)) == shown


# ------------------------------------------------------------------------------------- what is said of a thing


@pytest.mark.parametrize(
    ("thing", "typed", "line"),
    [
        (LATHE, {"speeds": "45 63", "motor_power": "2 hp"}, "45 to 63 rev/min in 2 steps, motor power 2 hp"),
        (LATHE, {"speeds": "63 45"}, "motor power 1.5 kW"),
        (SAW, {"kerf": "1/16 in", "vice_length": "40"}, "kerf 1/16 in, least length that the vice holds 40 mm"),
        (TOOL, {"tool_material": "Cobalt HSS", "nose_radius": "0,8"}, "cobalt HSS, nose radius 0,8 mm"),
        (PRICES, {"price_per_kg": "", "hourly_rate": "45.50"}, "hourly rate 45.50"),
    ],
)
def test_the_main_figures_in_a_line(thing, typed, line):
    assert said(thing, typed) == line


def test_where_the_main_figures_are_not_asked_for_the_first_two_stand_in():
    assert said(LATHE, {}, LATHE.pick("swing_bed", "swing_slide", "has_steady")) == (
        "swing over the bed 330 mm, swing over the cross-slide 200 mm"
    )


@pytest.mark.parametrize("sort", SHOP)
def test_the_generic_one_can_be_kept(sort):
    kept = json.loads(shop_json(sort, {}))
    assert kept["problems"] == []
    assert kept["said"] == said(SHOP[sort], {}) != ""


def test_what_cannot_be_kept_is_told_in_the_words_of_a_calculation():
    typed = {"kerf": "5 kN", "vice_length": "2 m", "colour": "blue"}
    told = json.loads(shop_json("saw", typed))["problems"]
    assert [one["name"] for one in told] == ["kerf", "vice_length", "colour"]
    for one, problem in zip(SAW.pick("kerf", "vice_length"), told, strict=False):
        assert problem["message"] == refusal(one, typed[one.name])


def test_a_sort_that_nobody_knows():
    with pytest.raises(KeyError):
        shop_json("anvil", {})


# ------------------------------------------------------------------------------------ within a calculation


@pytest.fixture
def turned(monkeypatch):
    """A calculation that takes a lathe and a saw, in the catalogue for as long as the test runs."""

    def function(size, motor_power, speeds, kerf):
        """A speed in rev/min and a power in kW, as they came."""
        return Result((value("speed", "Speed", speeds.highest, "spindle_speed"),
                       value("power", "Power", motor_power, "power")), ("speed", "power"))  # fmt: skip

    size = Number("size", "Size", "length", "40 mm", 1, 500, "The size of the bar.")
    inputs = (size, *LATHE.pick("motor_power", "speeds"), *SAW.pick("kerf"))
    made = Calculation("turned", "Turned", "How?", "fits", inputs, ("iso-1",), function=function)
    everything = {**catalogue(), "turned": made}
    monkeypatch.setattr(importlib.import_module("calc.catalogue"), "catalogue", lambda: everything)
    for user in ("calc.run", "calc.sheet"):
        monkeypatch.setattr(importlib.import_module(user), "look_up", everything.__getitem__)
    return made


def test_things_of_a_calculation_in_the_order_of_the_shop(turned):
    assert {sort: [one.name for one in inputs] for sort, inputs in things(turned).items()} == {
        "lathe": ["motor_power", "speeds"], "saw": ["kerf"],
    }  # fmt: skip
    assert things(catalogue()["fit"]) == {}
    assert said_of(turned, {"kerf": "2 mm"}) == {
        "lathe": "motor power 1.5 kW, 45 to 2000 rev/min in 12 steps", "saw": "kerf 2 mm",
    }  # fmt: skip


def test_typed_figures_answer_and_a_bad_one_is_refused_at_its_field(turned):
    assert answer("turned", {"speeds": "45 63"}).value("speed").number == 63
    parts = json.loads(sheet.sheet("turned", {"speeds": "63 45"}))
    assert [one["name"] for one in parts["problems"]] == ["speeds"]
    assert parts["things"] == {"lathe": "motor power 1.5 kW", "saw": "kerf 1.5 mm"}
    assert json.loads(sheet.sheet("fit", {}))["things"] == {}


def test_a_callout_takes_the_figures_of_what_is_in_use():
    mine = {"price_per_kg": "7", "speeds": "45 63", "size": "999 mm"}
    assert of_mine(catalogue()["bar_mass"], mine) == {"price_per_kg": "7"}
    assert of_mine(catalogue()["fit"], mine) == {}
    (address,) = _addresses("40 bar 1 m", mine)
    assert "price_per_kg=7" in address
    assert "size=40" in address
    assert "speeds" not in address
    (generic,) = _addresses("40 bar 1 m", {})
    assert "price_per_kg" not in generic


def _addresses(text, mine):
    """Where a call-out leads when it is a bar's."""
    return re.findall(r'href="(/c/bar_mass[^"]*)"', sheet.callout_sheet(text, mine))


def test_kinds_of_the_shop_are_known():
    assert {one.kind for _, one in EVERY if isinstance(one, Number)} <= set(KINDS)
