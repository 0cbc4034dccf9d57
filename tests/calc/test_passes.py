"""The cuts of a plan: they chain from start to size, none is past a limit, and fewer would be."""

import math
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.formulas import passes, push_off, turning, work_materials
from calc.formulas.cutting import ForceConstants
from calc.formulas.passes import FACE, FINISH, ROUGH, SEMI, SPRING, Bar, Cut, Job, Limits, Tool, make
from calc.formulas.turning import Pass, Wanted
from calc.model import InputError
from calc.steps import Steps

GEARBOX = Steps((45.0, 63.0, 90.0, 125.0, 180.0, 250.0, 355.0, 500.0, 710.0, 1000.0, 1400.0, 2000.0), "spindle_speed")
STEEL = ForceConstants("classic", "C45E", 2190.0, 0.139, "V1", ("leuven-production",))
SPEEDS = {
    turning.ROUGH: Wanted(24.0, 21.0, 27.0, None, None, (), ()),
    turning.FINISH: Wanted(30.0, 21.0, 40.0, None, None, (), ()),
}
FEEDS = {turning.ROUGH: 0.2, turning.FINISH: 0.1}
JOB = Job(
    Decimal(40), Decimal("30.0065"), Decimal("30.0065"), Decimal("0.15"), Decimal("0.15"), 0, 0.2, 2.0,
    Bar(40.0, "chuck and centre", 290.0, 42.0, 205_000.0),
    Tool(90.0, 0.4, STEEL, 1.2, GEARBOX, 1800.0),
    Limits(0.865, None, 15.0, 0.05, Decimal("0.02")),
    SPEEDS, FEEDS,
)  # fmt: skip


def change(job: Job = JOB, *, bar=None, tool=None, limits=None, **fields) -> Job:
    parts = {"bar": (job.bar, bar), "tool": (job.tool, tool), "limits": (job.limits, limits)}
    changed = {name: replace(one, **fields) for name, (one, fields) in parts.items() if fields}
    return replace(job, **changed, **fields, _gives={})


# ------------------------------------------------------------------------------------------- judged from outside


def power(cut: Cut, tool: Tool) -> float:
    """kW at the edge, from kc1.1 h^-mc at right angles to the axis or not: written out once more."""
    angle = passes.SQUARE if cut.name == FACE else tool.entering_angle
    h = cut.one.feed * math.sin(math.radians(angle))
    kc = tool.constants.kc11 * h**-tool.constants.mc
    return (
        kc * cut.one.depth * cut.one.feed * tool.correction * math.pi * cut.one.diameter * cut.one.speed / 1000 / 60_000
    )


def width_over_thickness(depth: float, feed: float, nose: float) -> float:
    """Of a tool at 90 degrees: edge squared over area, the edge a quarter of the nose's circle and what is straight."""
    edge = nose * math.pi / 2 + depth - nose if depth > nose else nose * math.acos(1 - depth / nose)
    return edge**2 / (depth * feed)


def push(job: Job, cut: Cut, after: float) -> float:
    """mm on diameter at the worst of many places along the cut, the bar already as thin as at the end of the stage."""
    force = cut.one.force * (1.0 if cut.depth < job.tool.nose_radius else 0.5)
    solid = job.bar.free - job.bar.turned
    steps = ((solid, job.bar.diameter), (job.bar.turned, after)) if solid else ((job.bar.turned, after),)
    places = [solid + job.bar.turned * part / 40 for part in range(41)]
    return 2 * max(
        push_off.stepped(job.bar.holding, force, steps, min(at, job.bar.free), job.bar.youngs_modulus) for at in places
    )


def past(job: Job, cut: Cut, stage_end: Decimal) -> bool:
    """Whether a cut is past any limit of the job."""
    wide = width_over_thickness(cut.depth, cut.one.feed, job.tool.nose_radius)
    deep = job.limits.window is not None and cut.depth > job.limits.window[1] * (1 + 1e-9)
    ribbon = cut.name == ROUGH and job.limits.window is None and wide > job.limits.ribbon * (1 + 1e-9)
    strong = power(cut, job.tool) > job.limits.power * (1 + 1e-9)
    soft = push(job, cut, float(stage_end)) > job.limits.push * (1 + 1e-9)
    return deep or ribbon or strong or soft


SIZES = st.decimals(Decimal("20.5"), Decimal(60), places=2)
JOBS = st.builds(
    lambda start, stock, semi, finish, springs, short, holding, reach, motor, allowed, window, nose, least: change(
        start=start, target=start - stock, finished=start - stock, semi=semi, finish=finish,
        springs=springs, short=short,
        bar={"diameter": float(start), "holding": holding, "free": 42.0 + reach},
        tool={"nose_radius": nose},
        limits={"power": motor, "push": allowed, "window": window, "least": least},
    ),
    SIZES,
    st.decimals(Decimal("0.1"), Decimal(18), places=3),
    st.sampled_from([Decimal(0), Decimal("0.05"), Decimal("0.15"), Decimal("0.4")]),
    st.sampled_from([Decimal("0.05"), Decimal("0.15"), Decimal("0.25")]),
    st.integers(0, 2),
    st.sampled_from([0.0, 0.2, 0.5]),
    st.sampled_from(list(push_off.HOLDINGS)),
    st.sampled_from([0.0, 20.0, 150.0, 400.0]),
    st.sampled_from([0.1, 0.4, 0.865, 3.0]),
    st.sampled_from([0.005, 0.02, 0.05, 0.5]),
    st.sampled_from([None, (0.2, 1.0), (0.5, 3.0)]),
    st.sampled_from([0.2, 0.4, 0.8]),
    st.sampled_from([Decimal("0.01"), Decimal("0.02"), Decimal("0.05")]),
)  # fmt: skip


@settings(deadline=None, max_examples=150)
@given(JOBS)
def test_every_plan_ends_on_size_and_keeps_within_its_limits(job):
    try:
        plan = make(job)
    except InputError:
        return  # what is refused, and where, stands below
    at = job.start
    ends = {one.name: one.after for one in plan.cuts}
    for one in plan.along:
        assert one.before == at
        at = one.after
        assert Decimal(repr(one.depth)) == pytest.approx((one.before - one.after) / 2, abs=Decimal("1e-12"))
        assert (one.before - one.after) / 2 >= job.limits.least * (1 - Decimal("1e-20"))
        assert not past(job, one, ends[one.name])
    assert at == job.target  # to the last figure
    rough = plan.of(ROUGH)
    assert len({round(one.before - one.after, 20) for one in rough}) <= 1
    assert len(rough) <= passes.MOST
    for one in plan.of(SPRING):
        assert (one.before, one.after, one.depth) == (job.target, job.target, 0.0)
    assert len(plan.of(SPRING)) == job.springs
    assert [one.name for one in plan.cuts][-1:] == [FACE] * bool(job.short) or not job.short
    for one in plan.of(FACE):
        assert power(one, job.tool) <= job.limits.power * (1 + 1e-9)
    assert all(one.one.speed <= job.tool.chuck_speed and one.one.speed in GEARBOX.values for one in plan.cuts)


@settings(deadline=None, max_examples=60)
@given(JOBS)
def test_fewer_roughing_cuts_would_be_past_a_limit(job):
    try:
        rough = make(job).of(ROUGH)
    except InputError:
        return
    start, end = (rough[0].before, rough[-1].after) if rough else (job.start, job.start)
    for count in range(1, len(rough)):
        step = (start - end) / count
        fewer = [job.cut(ROUGH, start - step * k, start - step * (k + 1), thinnest=end) for k in range(count)]
        assert any(past(job, one, end) for one in fewer), count


# ------------------------------------------------------------------------------------------------ each rule once


def names(job: Job) -> list[str]:
    return [one.name for one in make(job).cuts]


def test_the_stages_in_their_order():
    assert names(JOB) == [ROUGH, ROUGH, SEMI, FINISH, FACE]
    assert names(change(springs=2)) == [ROUGH, ROUGH, SEMI, FINISH, SPRING, SPRING, FACE]
    assert names(change(semi=Decimal(0), short=0.0)) == [ROUGH, ROUGH, FINISH]


@pytest.mark.parametrize(
    ("left", "expected"),
    [  # on diameter; semi-finishing and finishing take 0.3 each, the least in-feed takes 0.04
        ("0.30", [(FINISH, 0.15)]),
        ("0.20", [(FINISH, 0.10)]),
        ("0.33", [(FINISH, 0.165)]),  # 0.03 is too little for a cut of its own
        ("0.34", [(SEMI, 0.02), (FINISH, 0.15)]),
        ("0.60", [(SEMI, 0.15), (FINISH, 0.15)]),
        ("0.63", [(SEMI, 0.165), (FINISH, 0.15)]),
        ("0.64", [(ROUGH, 0.02), (SEMI, 0.15), (FINISH, 0.15)]),
        ("0.04", [(FINISH, 0.02)]),
        ("0.039", []),
        ("0", []),
        ("-0.01", []),
    ],
)
def test_what_is_left_decides_the_cuts_that_are_left(left, expected):
    plan = make(change(start=JOB.target + Decimal(left)))
    found = [(one.name, pytest.approx(one.depth)) for one in plan.along]
    assert found == expected


def test_a_rest_too_thin_is_shared_where_its_neighbour_would_grow_past_a_limit():
    window = {"window": (0.05, 0.15)}
    cuts = make(change(start=JOB.target + Decimal("0.33"), limits=window)).along
    assert [(one.name, one.depth) for one in cuts] == [(SEMI, pytest.approx(0.0825)), (FINISH, pytest.approx(0.0825))]
    cuts = make(change(start=JOB.target + Decimal("0.63"), limits=window)).along
    assert [one.name for one in cuts] == [ROUGH, SEMI, FINISH]
    assert [one.depth for one in cuts] == [pytest.approx(0.0825), pytest.approx(0.0825), pytest.approx(0.15)]


def test_what_is_done_is_not_cut_again_but_the_shoulder_is_faced():
    assert [one.name for one in make(change(start=Decimal("30.05")), done=True).cuts] == [FACE]
    assert make(change(start=Decimal("30.05"), short=0.0), done=True).cuts == ()


def test_what_holds_a_cut_fewer_off():
    assert make(JOB).held_by == "window"
    assert make(change(limits={"power": 0.3})).held_by == "power"
    assert make(change(bar={"holding": "chuck"})).held_by == "push"
    assert make(change(start=Decimal(34))).held_by == ""


@pytest.mark.parametrize(
    ("changed", "field", "message"),
    [
        ({"limits": {"power": 0.01}}, "motor_power", "more than this motor gives"),
        ({"bar": {"holding": "chuck", "free": 900.0}}, "overhang", "push the bar away"),
        ({"limits": {"window": (0.01, 0.05)}, "semi": Decimal("0.04"), "finish": Decimal("0.04")}, "diameter",
         "too deep for the chip"),
        ({"start": Decimal("30.6"), "limits": {"window": (0.01, 0.1)}}, "semi_finish", "deep on radius"),
        ({"start": Decimal("30.3"), "limits": {"window": (0.01, 0.1)}}, "finish", "deep on radius"),
        ({"start": Decimal("30.3"), "bar": {"holding": "chuck"}, "limits": {"push": 0.001}}, "finish", "push the bar"),
        ({"start": Decimal("30.3"), "limits": {"power": 0.01}}, "finish", "more power"),
        ({"start": Decimal("30.3"), "short": 2.0, "limits": {"power": 0.1}}, "shoulder", "Facing the shoulder"),
        ({"tool": {"chuck_speed": 30.0}}, "chuck_speed", "slowest speed"),
    ],
)  # fmt: skip
def test_what_no_plan_can_keep_is_refused_at_its_field(changed, field, message):
    with pytest.raises(InputError, match=message) as caught:
        make(change(**changed))
    assert caught.value.name == field


def test_without_a_force_neither_motor_nor_bar_limits():
    plan = make(change(tool={"constants": None}, limits={"power": 0.001, "push": 0.0001}))
    assert [one.push for one in plan.along] == [None] * 4


# ------------------------------------------------------------------------------------------- figures from outside


@pytest.mark.parametrize(
    ("holding", "share", "source"),
    [
        ("chuck", 3.0, "P L³/3EI, KU Leuven, Production technology, 2024"),
        ("centres", 48.0, "P L³/48EI, the same"),
        ("chuck and centre", 101.91, "by hand: the greatest of a³ b² (3L + b)/12 L³, at 0.586 L"),
    ],
)
def test_a_plain_bar_gives_way_by_the_published_formula(holding, share, source):
    bar = Bar(20.0, holding, 300.0, 300.0, 207_000.0)
    most, least = bar.gives(20.0)
    assert most == pytest.approx(2 * 300**3 / (share * 207_000 * math.pi * 20**4 / 64), rel=1e-4), source
    assert least == pytest.approx(0, abs=1e-12)


def test_a_cut_next_to_the_centre_is_judged_where_it_is_and_not_at_the_middle_of_the_bar():
    near, whole = Bar(20.0, "centres", 300.0, 30.0, 207_000.0), Bar(20.0, "centres", 300.0, 300.0, 207_000.0)
    place = push_off.deflection("centres", 1.0, 300.0, 270.0, 20.0, 207_000.0)
    assert near.gives(20.0)[0] == pytest.approx(2 * place)
    assert near.gives(20.0)[0] < whole.gives(20.0)[0] / 5


def test_time_of_a_cut():
    # 9 9/64 in long, 3/128 in feed, 45 rev/min: 8 2/3 min. Ewen and Nelson, Elementary Technical Mathematics
    one = Pass(50.0, 1.0, 3 / 128 * 25.4, 45.0, 90.0, 0.4, None)
    travel = (9 + 9 / 64) * 25.4
    assert Cut(ROUGH, Decimal(50), Decimal(48), one, travel, None).time == pytest.approx(8 + 2 / 3, rel=1e-6)


def test_travel_counts_run_in_run_out_and_the_slant_of_the_edge():
    def travel(**changed: object) -> float:
        return make(change(**changed)).cuts[0].travel

    assert travel() == pytest.approx(42 - 0.2 + 2)  # a shoulder has no run-out
    assert travel(short=0.0) == pytest.approx(42 + 2 + 2)
    slanted = make(change(tool={"entering_angle": 45.0})).cuts[0]
    assert slanted.travel == pytest.approx(42 - 0.2 + 2 + slanted.depth)  # ap/tan 45°, geometry
    facing = make(JOB).cuts[-1]
    assert facing.travel == pytest.approx((40 - 30.0065) / 2 + 2)


def test_the_speed_is_a_step_at_or_below_the_wanted_one_on_the_uncut_diameter():
    for one in make(JOB).along:
        wanted = SPEEDS[turning.ROUGH if one.name == ROUGH else turning.FINISH].speed
        exact = 1000 * wanted / (math.pi * float(one.before))
        assert one.one.speed == max(step for step in GEARBOX.values if step <= exact)


def test_where_nothing_is_published_the_ribbon_of_steel_is_taken():
    # width over thickness of the chip 3 to 15 in steel, 3 to 30 in iron: KU Leuven, Production technology, 2024
    assert passes.ribbon("P") == (15.0, True)
    assert passes.ribbon("K") == (30.0, True)
    assert passes.ribbon("N") == (15.0, False)


def test_the_force_constants_used_here_are_those_of_the_table():
    material = work_materials.read("C45").material
    assert (material.force.kc11, material.force.mc) == (STEEL.kc11, STEEL.mc)
