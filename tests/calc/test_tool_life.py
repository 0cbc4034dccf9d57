"""Taylor's equation against published examples."""

import pytest

from calc.formulas import tool_life

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
