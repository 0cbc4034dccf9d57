"""Tool life by Taylor's equation, v T^n = C: the speed for a wanted life, and the life at a wanted speed.

From one speed whose life is known and the exponent of its class, from two of one's own, or from the usual values of
the class, each with its spread. German and Indian texts write T = C v^-m for the same: their m is 1/n.
"""

from calc.formulas import tool_life as taylor
from calc.formulas.tool_life import CLASS, LONGEST, ONE, TWO, Known, ToolClass
from calc.model import Choice, Following, InputError, Number, OutsideTable, Result, Step, Value, calculation
from calc.pieces import life_words as words
from calc.units import figure, settle, show, step, value

STEEL, OTHER = "steel", "other"


@calculation(
    title="Tool life",
    question="How long does the edge last, and how fast may it cut?",
    inputs=(
        Choice("known", "Known", {ONE: "a speed and its life", TWO: "two speeds with their lives",
                                  CLASS: "nothing: usual values"}, ONE),
        Choice("tool", "Edge", {"HSS": "HSS", "carbide": "carbide", "ceramic": "ceramic"}, "HSS"),
        Number("speed", "A speed", "cutting_speed", "30 m/min", 0.5, 2000, "At which the life was seen."),
        Number("life", "Its life", "time", "30 min", 0.1, 10_000, "Minutes in the cut, from sharp to worn."),
        Number("speed_2", "Another speed", "cutting_speed", None, 0.5, 2000,
               "Only where two are known: same tool, work, feed and depth.", optional=True),
        Number("life_2", "And its life", "time", None, 0.1, 10_000, "Minutes, worn as far as at the first speed.",
               optional=True),
        Number("exponent", "Taylor’s n, where it is known", "ratio", None, 0.02, 50,
               "Of v Tⁿ = C. Leave empty for that of the class. A figure over 1 is the m of other texts.",
               optional=True),
        Choice("work", "Work", {STEEL: "steel", OTHER: "cast iron and non-ferrous"}, STEEL,
               "Counts only for usual values.", aside=True),
        Number("wanted_life", "Wanted life", "time", "60 min", 0.1, 10_000, "How long an edge shall last."),
        Number("wanted_speed", "Or a wanted speed", "cutting_speed", "33 m/min", 0.5, 2000,
               "To see how long the edge lasts at it."),
        Number("change_time", "Time to change or grind the edge", "time", None, 0.1, 600,
               "For the life that gives the most output. Leave empty when it does not matter.", optional=True),
    ),
    sources=("leuven-production", "groover-tool-life"),
    callouts=("tool life {speed} {life}", "tool life {speed}"),
)  # fmt: skip
def tool_life(
    known: str, tool: str, speed: float, life: float, speed_2: float | None, life_2: float | None,
    exponent: float | None, work: str, wanted_life: float, wanted_speed: float, change_time: float | None,
) -> Result:  # fmt: skip
    """Speeds in m/min, lives and change_time in min."""
    kind = taylor.classes()[tool]
    if exponent is not None and exponent > 1:
        raise InputError(
            "exponent",
            f"{figure(exponent, 2)} is over 1: that is the m of T = C v⁻ᵐ, as German and Indian texts write it. Type "
            f"its inverse, {figure(1 / exponent, 3)}.",
        )
    if exponent is not None and known == TWO:
        raise InputError("exponent", "Two pairs give n themselves. Leave it empty, or choose a speed and its life.")
    base, working = _base(known, kind, speed, life, speed_2, life_2, exponent, work)
    constant = taylor.constant(base.speed, base.life, base.n)
    at_life = taylor.speed_for(wanted_life, base.speed, base.life, base.n)
    lasts = _life(base, wanted_speed)
    slow, fast = base.spread(lambda n: taylor.speed_for(wanted_life, base.speed, base.life, n))
    short, long = base.spread(lambda n: taylor.life_at(wanted_speed, base.speed, base.life, n))
    values = [
        value("speed_for_life", f"Speed for {words.minutes(wanted_life)}", at_life, "cutting_speed", 1),
        value("life_at_speed", f"Life at {show(wanted_speed, 'cutting_speed', 1)}", lasts, "time", 1),
        value("exponent", "Taylor’s n", base.n, "ratio"),
        value("constant", "C, the speed for a minute", constant, "cutting_speed", 1),
        value("inverse", "1/n, the m of other texts", 1 / base.n, "ratio", 2),
    ]
    if settle(base.least) != settle(base.most):
        values[2:2] = [
            value("speed_least", "That speed, least", slow, "cutting_speed", 1),
            value("speed_most", "That speed, most", fast, "cutting_speed", 1),
            value("life_least", "That life, least", max(short, 0.0), "time", 1),
            value("life_most", "That life, most", min(long, LONGEST), "time", 1),
        ]
    working += [
        step("C = v * T ** n", constant, "m/min", v=base.speed, T=base.life, n=base.n),
        step("v_w = v * (T / T_w) ** n", at_life, "m/min", v=base.speed, T=base.life, T_w=wanted_life, n=base.n),
        step("T_s = T * (v / v_s) ** (1 / n)", lasts, "min", T=base.life, v=base.speed, v_s=wanted_speed, n=base.n),
    ]
    if change_time is not None:
        values += _output(base, change_time)
        working.append(step("T_p = (1 / n - 1) * t_c", (1 / base.n - 1) * change_time, "min", "life for most output",
                            n=base.n, t_c=change_time))  # fmt: skip
    return Result(
        values=tuple(values),
        main=("speed_for_life", "life_at_speed"),
        verdict=words.verdict(base, known, wanted_life, wanted_speed, at_life, lasts),
        working=tuple(working),
        cautions=(
            "An edge can chip long before it is worn: look at it with the spindle stopped. Local rules come first.",
        ),
        assumptions=words.assumptions(base, known, kind, exponent, long, speed_2 is not None or life_2 is not None),
        tables=(words.lives(base),),
        following=(
            *_turned(tool, at_life),
            Following("facing", "Speed and feed for a face", {}),
            Following("drilling", "Speed and feed for a hole", {}),
        ),
    )


def _turned(tool: str, speed: float) -> tuple[Following, ...]:
    """The cut at that speed, with an edge of that class; the Shop has none of ceramic."""
    edge = {"HSS": "hss", "carbide": "coated carbide"}.get(tool)
    if edge is None:
        return ()
    typed = {"tool_material": edge, "speed_wanted": f"{speed:.4g} m/min"}
    return (Following("turning", "Spindle speed and force at that speed", typed),)


def _base(
    known: str, kind: ToolClass, speed: float, life: float, speed_2: float | None, life_2: float | None,
    exponent: float | None, work: str,
) -> tuple[Known, list[Step]]:  # fmt: skip
    """The pair to start from and the exponent, with the working of an exponent out of two pairs."""
    if known == TWO:
        return _two(speed, life, speed_2, life_2)
    n = exponent if exponent is not None else kind.usual or (kind.exponent_min + kind.exponent_max) / 2
    least, most = (n, n) if exponent is not None else (kind.exponent_min, kind.exponent_max)
    if known == ONE:
        return Known(speed, life, n, least, most), []
    usual = taylor.class_known(kind, work)
    if usual is None:
        raise OutsideTable("work", f"No usual constant is known for {kind.tool} in this work. Choose steel.")
    return Known(usual.speed, usual.life, n, least, most), []


def _two(speed: float, life: float, speed_2: float | None, life_2: float | None) -> tuple[Known, list[Step]]:
    if speed_2 is None:
        raise InputError("speed_2", "Two pairs need a second speed. Give it, or choose what is known.")
    if life_2 is None:
        raise InputError("life_2", "Two pairs need the life at the second speed. Give it, or choose what is known.")
    try:
        n = taylor.exponent(speed, life, speed_2, life_2)
    except ValueError:
        raise InputError(
            "life_2", "The faster of two speeds must have the shorter life. Check which life belongs to which speed."
        ) from None
    if not 0.02 <= n <= 1:
        raise InputError(
            "life_2",
            f"These two pairs give n = {figure(n, 3)}, and no tool wears so: 0.02 to 1 is all that is seen. Check the "
            "figures.",
        )
    line = step("n = log(v_1 / v_2) / log(T_2 / T_1)", n, "", v_1=speed, v_2=speed_2, T_1=life, T_2=life_2)
    return Known(speed, life, n, n, n), [line]


def _life(base: Known, wanted_speed: float) -> float:
    """Minutes at the wanted speed; InputError where the equation is stretched past all sense."""
    slow, fast = taylor.reach(base)
    if not settle(slow) <= settle(wanted_speed) <= settle(fast):
        raise InputError(
            "wanted_speed",
            "At that speed the equation gives a life that nobody has seen. Give a speed from "
            f"{show(slow, 'cutting_speed', 1)} to {show(fast, 'cutting_speed', 1)}.",
        )
    return taylor.life_at(wanted_speed, base.speed, base.life, base.n)


def _output(base: Known, change_time: float) -> list[Value]:
    """The life that gives the most output, (1/n - 1) times the time of a change, and its speed; none at n 1."""
    best = (1 / base.n - 1) * change_time
    found = [value("output_life", "Life for the most output", best, "time", 1)]
    if settle(best) > 0:
        found.append(value("output_speed", "Speed for the most output",
                           taylor.speed_for(best, base.speed, base.life, base.n), "cutting_speed", 1))  # fmt: skip
    return found
