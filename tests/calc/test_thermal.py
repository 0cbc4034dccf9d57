"""Growth by warmth and cooling in air, against printed examples; each says from where in tests/data."""

import math

import pytest

from calc.formulas import cooling, thermal
from calc.formulas.thermal import MATERIALS
from calc.tables import table
from tests.calc.worked import worked

FORMULAS = {
    "len_at_20": lambda L, T, alpha_ppm: thermal.size_at_20(L, alpha_ppm * 1e-6, T, 0.0, 20.0),
    "temp_to_shrink": lambda D1, D2, T1, alpha: thermal.shrink_temperature(D1, D2, T1, alpha),
    "biot_cyl": lambda d, h, k: cooling.biot(d, h, k),
    "cyl_VA": lambda d, L, ends: cooling.bar_length(d, L if ends else None),
    "true_at_20": lambda reading, Tw, aw_ppm, Ti, ai_ppm: thermal.size_at_20(
        reading, aw_ppm * 1e-6, Tw, ai_ppm * 1e-6, Ti
    ),
}


@pytest.mark.parametrize(("formula", "inputs", "expected", "tolerance", "source"), worked("thermal"))
def test_worked_examples(formula, inputs, expected, tolerance, source):
    assert FORMULAS[formula](**inputs) == pytest.approx(expected, abs=tolerance), source


def test_every_worked_example_is_tried():
    assert len(worked("thermal")) == 8


def test_a_metre_of_steel_grows_11_5_micrometres_a_degree():
    # Swyt, J. Res. NIST 99 (1994) 31, section 1: steel 11.5 ppm/°C. Tolerance: (alpha dT)² over a metre, 0.13 nm.
    size = thermal.size_at_20(1000, MATERIALS["gauge steel"].alpha, 21, 0.0, 20)
    assert 1000 - size == pytest.approx(0.0115, abs=1e-6)


def test_the_target_on_a_warm_50_mm_part_is_14_4_micrometres_up():
    # By hand: 50 mm · 11.5e-6 · 25 K = 14.375 µm; printed to a tenth.
    target = thermal.reading_for(50, 11.5e-6, 45, 11.5e-6, 20)
    assert 1000 * (target - 50) == pytest.approx(14.4, abs=0.05)


def test_doubt_of_the_correction():
    # JCGM 100:2008, 5.1.2, by hand: 50 mm, 25 K off, 1 ppm doubt: 1.25 µm; and 1 K of doubt at 11.5 ppm: 0.575 µm.
    # Tolerance: the printed digits.
    assert thermal.correction_doubt(50, 0.0, 1e-6, 45) == pytest.approx(1.25, abs=1e-9)
    assert thermal.correction_doubt(50, 11.5e-6, 0.0, 45) == pytest.approx(0.575, abs=1e-9)
    assert thermal.correction_doubt(50, 11.5e-6, 1e-6, 45) == pytest.approx(math.sqrt(1.25**2 + 0.575**2), abs=1e-9)


@pytest.mark.parametrize(("film", "minutes"), [(15, 51), (12, 64), (8, 96)])
def test_time_constant_of_a_50_mm_bar(film, minutes):
    # By hand: 7850 · 470 · 0.0125 / h seconds = 46 100 / h (lumped system analysis, Çengel, chapter 4).
    # The table has 486 J/(kg·K) where the hand calculation took 470: 3.4 %, and half a minute of rounding.
    steel = MATERIALS["carbon steel"]
    found = cooling.cooling_minutes(50, steel, film, math.e, 1.0)
    assert found == pytest.approx(minutes * steel.specific_heat / 470, abs=0.55)


def test_one_kelvin_from_forty_takes_3_7_time_constants():
    # By hand: ln 40 = 3.689; shown to a tenth.
    steel = MATERIALS["carbon steel"]
    ratio = cooling.cooling_minutes(50, steel, 10, 40, 1) / cooling.cooling_minutes(50, steel, 10, math.e, 1)
    assert ratio == pytest.approx(3.7, abs=0.05)


def test_a_cold_part_warms_as_a_warm_one_cools_and_a_settled_one_waits_for_nothing():
    steel = MATERIALS["carbon steel"]
    assert cooling.cooling_minutes(30, steel, 10, -20, 2) == cooling.cooling_minutes(30, steel, 10, 20, 2) > 0
    assert cooling.cooling_minutes(30, steel, 10, 2, 2) == 0
    assert cooling.cooling_minutes(30, steel, 10, 0, 2) == 0


def test_the_300_series_grows_more_than_the_400_series():
    # Callister, table B.6: 304 17.2 ppm/K; ASM: 410 9.9 ppm/K. Lists that swap the two are in circulation.
    assert MATERIALS["stainless steel 304"].alpha == pytest.approx(17.2e-6)
    assert MATERIALS["stainless steel 410"].alpha == pytest.approx(9.9e-6)


def test_every_material_of_the_table_can_be_used():
    assert list(MATERIALS) == [row.text("material") for row in table("expansion")]
    for one in MATERIALS.values():
        assert 0 < one.alpha_doubt < one.alpha < 30e-6
        assert min(one.youngs_modulus, one.poisson, one.density, one.specific_heat, one.conductivity) > 0
