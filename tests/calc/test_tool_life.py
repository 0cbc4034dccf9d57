"""Taylor's equation against published examples."""

import pytest

from calc import answer
from calc.formulas import tool_life
from calc.model import Refused

# (speed and life, speed and life, n, tolerance, where it is printed)
PAIRS = (
    (60, 81, 90, 36, 0.5, 0.0005, "examination problem on Taylor's equation"),
    (180, 4.25, 110, 35, 0.233, 0.0007, "examination problem on Taylor's equation"),
    (160, 5, 100, 41, 0.223, 0.0007, "Groover, Fundamentals of Modern Manufacturing, from memory"),
    (284, 10, 232, 60, 0.112871, 0.0006, "ISRO examination 2011, answer recomputed; rev/min at one diameter"),
)


@pytest.mark.parametrize(("v1", "t1", "v2", "t2", "n", "tolerance", "source"), PAIRS)
def test_published_exponents(v1, t1, v2, t2, n, tolerance, source):
    found = tool_life.exponent(v1, t1, v2, t2)
    assert found == pytest.approx(n, abs=tolerance), source
    assert tool_life.life_at(v2, v1, t1, found) == pytest.approx(t2)
    assert tool_life.speed_for(t2, v1, t1, found) == pytest.approx(v2)
    assert tool_life.constant(v1, t1, found) == pytest.approx(tool_life.constant(v2, t2, found))


def test_published_constant_and_changes_of_life():
    # examination problem: 60 m/min, 81 min, n 0.5 give C 540
    assert tool_life.constant(60, 81, 0.5) == pytest.approx(540)
    # ISRO examination 2013: half the speed at n 0.25 lasts 16 times as long
    assert tool_life.life_at(50, 100, 1, 0.25) == pytest.approx(16)
    # KU Leuven, Production technology, 2024: half as fast again at n 0.125 lasts about 1/25, exactly 1/25.63
    assert 1 / tool_life.life_at(150, 100, 1, 0.125) == pytest.approx(25.63, abs=0.002)


@pytest.mark.parametrize("pair", [(100, 10, 120, 12), (100, 10, 100, 12), (100, 10, 120, 10)])
def test_a_faster_speed_that_lasts_as_long_is_no_pair(pair):
    with pytest.raises(ValueError, match="the faster speed must have the shorter life"):
        tool_life.exponent(*pair)


def test_exponents_of_the_classes():
    # KU Leuven, Production technology, 2024, and Groover: HSS 0.08 to 0.20, carbide 0.20 to 0.40, usually 0.25
    known = tool_life.classes()
    assert (known["HSS"].exponent_min, known["HSS"].exponent_max, known["HSS"].usual) == (0.08, 0.2, None)
    assert (known["carbide"].exponent_min, known["carbide"].exponent_max, known["carbide"].usual) == (0.2, 0.4, 0.25)


# ------------------------------------------------------------------------------------------- as it is asked for


def asked(**typed):
    return answer("tool_life", typed)


def refusal(**typed):
    with pytest.raises(Refused) as caught:
        asked(**typed)
    (only,) = caught.value.problems
    return only


def two(v1, t1, v2, t2, **more):
    return asked(known="two", speed=f"{v1}", life=f"{t1}", speed_2=f"{v2}", life_2=f"{t2}", **more)


@pytest.mark.parametrize(("v1", "t1", "v2", "t2", "n", "tolerance", "source"), PAIRS)
def test_two_pairs_give_the_published_exponent(v1, t1, v2, t2, n, tolerance, source):
    one = two(v1, t1, v2, t2, wanted_life=f"{t2}", wanted_speed=f"{v2}")
    assert one.value("exponent").number == pytest.approx(n, abs=tolerance), source
    assert one.value("speed_for_life").number == pytest.approx(v2)
    assert one.value("life_at_speed").number == pytest.approx(t2)
    assert "speed_least" not in {value.name for value in one.values}


def test_two_pairs_give_the_published_constant():
    # examination problem: 60 m/min, 81 min and 90 m/min, 36 min give C 540 m/min
    assert two(60, 81, 90, 36, wanted_speed="70").value("constant").number == pytest.approx(540, abs=0.54)


@pytest.mark.parametrize(
    ("n", "ratio", "times"),
    # ISRO examination 2013: half the speed at n 0.25 lasts 16 times as long. KU Leuven, Production technology, 2024:
    # half as fast again at n 0.125 lasts one part in 25.63
    [("0.25", 0.5, 16), ("0.125", 1.5, 1 / 25.63)],
)  # fmt: skip
def test_published_ratios_of_life(n, ratio, times):
    one = asked(speed="100", life="40", exponent=n, wanted_speed=f"{100 * ratio}")
    assert one.value("life_at_speed").number == pytest.approx(40 * times, rel=1e-4)


def test_the_class_gives_n_with_its_spread():
    # KU Leuven and Groover: HSS 0.08 to 0.20, no usual one: the middle; carbide 0.20 to 0.40, usually 0.25
    plain, carbide = asked(), asked(tool="carbide")
    assert plain.value("exponent").number == pytest.approx(0.14)
    assert carbide.value("exponent").number == 0.25
    least, taken, most = (plain.value(name).number for name in ("speed_least", "speed_for_life", "speed_most"))
    assert (least, most) == pytest.approx((30 * 0.5**0.2, 30 * 0.5**0.08))
    assert least < taken < most
    assert plain.value("life_least").number < plain.value("life_at_speed").number < plain.value("life_most").number
    assert any("0.08 to 0.20" in said for said in plain.assumptions)


def test_usual_values_are_from_memory_and_minded():
    # Groover, from memory: C 70 m/min for HSS in steel, 500 for carbide, 900 in other work, 3000 for ceramic
    for typed, constant in (({"tool": "HSS"}, 70), ({"tool": "carbide"}, 500), ({"tool": "ceramic"}, 3000),
                            ({"tool": "carbide", "work": "other"}, 900)):  # fmt: skip
        one = asked(known="class", wanted_speed=f"{constant / 2}", **typed)
        assert one.value("constant").number == pytest.approx(constant)
        assert one.verdict.level == "mind"
        assert any("from memory of Groover" in said for said in one.assumptions)
    assert refusal(known="class", tool="ceramic", work="other", wanted_speed="1000").name == "work"


def test_the_other_exponent_is_told_from_taylors():
    wrong = refusal(exponent="4")
    assert wrong.name == "exponent"
    assert "the m of T = C v⁻ᵐ" in str(wrong)
    assert "Type its inverse, 0.250" in str(wrong)
    one = asked(exponent="0.25")
    assert one.value("inverse").number == 4
    assert any("m = 1/n, here 4.00" in said for said in one.assumptions)


def test_an_unusual_exponent_is_said():
    assert any("outside what is usual for HSS" in said for said in asked(exponent="0.5").assumptions)
    assert not any("outside what is usual" in said for said in asked(exponent="0.15").assumptions)


def test_far_from_what_is_known_is_minded():
    assert asked().verdict.level == "good"
    assert "far from the speed that is known" in asked(wanted_speed="14", exponent="0.2").verdict.text


def test_a_second_pair_that_is_not_asked_for_is_said_to_be_idle():
    assert any("not used" in said for said in asked(speed_2="40", life_2="5").assumptions)
    assert not any("not used" in said for said in two(60, 81, 90, 36, wanted_speed="70").assumptions)


def test_life_for_the_most_output():
    # KU Leuven, Production technology, 2024: (1/n - 1) times the time of a change
    one = asked(exponent="0.25", change_time="5 min")
    assert one.value("output_life").number == pytest.approx(15)
    assert one.value("output_speed").number == pytest.approx(30 * 2**0.25)
    assert asked(exponent="1", change_time="5 min").value("output_life").number == 0


def test_a_longer_life_always_wants_a_slower_speed():
    speeds = [float(row[1].split()[0]) for row in asked().tables[0].rows]
    assert speeds == sorted(speeds, reverse=True)
    assert len(speeds) == 5


def test_the_longest_lives_are_cut_off_and_said():
    one = asked(wanted_speed="15")
    assert one.value("life_most").number == 100_000
    assert any("cut off" in said for said in one.assumptions)


def test_every_refusal():
    assert refusal(known="two").name == "speed_2"
    assert refusal(known="two", speed_2="40").name == "life_2"
    assert refusal(known="two", speed_2="40", life_2="40").name == "life_2"
    assert "no tool wears so" in str(refusal(known="two", speed_2="90", life_2="29"))
    assert refusal(known="two", speed_2="40", life_2="10", exponent="0.2").name == "exponent"
    assert refusal(wanted_speed="1000").name == "wanted_speed"
    assert refusal(wanted_speed="1").name == "wanted_speed"


def test_the_speed_for_the_life_goes_on_to_the_cut():
    carbide = asked(known="class", tool="carbide", wanted_life="30")
    (after,) = [one.typed for one in carbide.following if one.name == "turning"]
    assert after["tool_material"] == "coated carbide"
    assert answer("turning", after).value("wanted_speed").number == pytest.approx(
        carbide.value("speed_for_life").number, rel=1e-3
    )
    (after,) = [one.typed for one in asked().following if one.name == "turning"]
    assert after["tool_material"] == "hss"
    assert "turning" not in [one.name for one in asked(known="class", tool="ceramic", wanted_speed="500").following]


def test_the_published_life_for_the_most_output():
    # Groover, Fundamentals of Modern Manufacturing, chapter 24, inputs of a problem, answer recomputed:
    # n 0.13 and 3.5 min to change give (1/0.13 - 1) x 3.5 = 23.42 min
    assert asked(exponent="0.13", change_time="3.5").value("output_life").number == pytest.approx(23.42, abs=0.005)
