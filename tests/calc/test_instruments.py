"""Errors of instruments as their standards print them, and the doubt they leave."""

import math

import pytest

from calc.formulas import instruments
from calc.formulas.instruments import INSTRUMENTS, NoLimit, conforms, greatest_error, shop_doubt
from tests.calc.worked import worked

#: DIN 863-1, outside micrometers, greatest error by range of 25 mm from 0 to 500 mm, in µm.
DIN_863 = (4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 9, 10, 10, 11, 11, 12, 12, 13, 13)
#: DIN 862, calipers: (size in mm, µm of a digital or 0.02 mm one, µm of a 0.05 mm vernier). Printed lengths only.
DIN_862 = (
    (100, 20, 50), (200, 30, 50), (300, 30, 50), (400, 30, 60), (500, 30, 70), (600, 30, 80), (700, 30, 90),
    (800, 40, 100), (900, 40, 110), (1000, 40, 120),
)  # fmt: skip


@pytest.mark.parametrize(("formula", "inputs", "expected", "tolerance", "source"), worked("instrument"))
def test_worked_examples(formula, inputs, expected, tolerance, source):
    assert formula == "mic_mpe"
    found = greatest_error(INSTRUMENTS["micrometer 0.001"], inputs["A"] + 12.5)
    assert found == pytest.approx(expected, abs=tolerance), source


@pytest.mark.parametrize("name", ["micrometer 0.001", "micrometer 0.01"])
@pytest.mark.parametrize(("place", "error"), list(enumerate(DIN_863)))
def test_micrometers_by_range(name, place, error):
    """Both ends of each range: its upper end belongs to it, since that is where the anvils are set."""
    low, high = 25 * place, 25 * (place + 1)
    assert greatest_error(INSTRUMENTS[name], low + 0.001) == error
    assert greatest_error(INSTRUMENTS[name], high) == error


@pytest.mark.parametrize(("size", "fine", "coarse"), DIN_862)
def test_calipers_by_length(size, fine, coarse):
    assert greatest_error(INSTRUMENTS["digital caliper"], size) == fine
    assert greatest_error(INSTRUMENTS["vernier caliper 0.02"], size) == fine
    assert greatest_error(INSTRUMENTS["vernier caliper"], size) == coarse


def test_the_inside_jaws_of_a_caliper_may_err_20_micrometres_more():
    # DIN 862: 20 µm more for inside and depth.
    assert greatest_error(INSTRUMENTS["digital caliper"], 50, inside=True) == 40
    assert greatest_error(INSTRUMENTS["vernier caliper"], 50, inside=True) == 70
    assert greatest_error(INSTRUMENTS["micrometer 0.01"], 50, inside=True) == 4


def test_a_bore_gauge_adds_its_own_error_to_that_of_the_micrometer_it_was_set_with():
    # JCGM 100:2008, 5.1.2: root of the sum of squares; 4 µm of DIN 863-1 and 3 µm of its own make 5.
    assert greatest_error(INSTRUMENTS["dial bore gauge"], 30 / 2, inside=True) == 5


@pytest.mark.parametrize(
    ("name", "size", "standard"),
    [("micrometer 0.01", 500.1, "DIN 863-1"), ("digital caliper", 1000.5, "DIN 862"), ("dial bore gauge", 501, "863")],
)
def test_past_its_table_a_standard_gives_nothing(name, size, standard):
    with pytest.raises(NoLimit, match=standard) as caught:
        greatest_error(INSTRUMENTS[name], size)
    assert "Give the measuring doubt" in str(caught.value)


def test_doubt_in_the_shop_by_hand():
    # JCGM 100:2008, 4.3.7 and 5.1.2: 2 sqrt(16/3 + 100/12 + 4) = 2 sqrt(17.667) = 8.41 µm for a 4 µm error, a 10 µm
    # step and 2 µm of repeat. Tolerance: half the last digit.
    assert shop_doubt(4, 10, 2) == pytest.approx(8.41, abs=0.005)
    assert shop_doubt(0, 0, 0, 3) == pytest.approx(2 * math.sqrt(3), rel=1e-12)


def test_a_finer_instrument_leaves_less_doubt():
    order = ("micrometer 0.001", "micrometer 0.01", "digital caliper", "vernier caliper")
    doubts = []
    for name in order:
        one = INSTRUMENTS[name]
        doubts.append(shop_doubt(greatest_error(one, 30), one.resolution, one.repeat))
    assert doubts == sorted(doubts)
    assert len(set(doubts)) == len(order)


@pytest.mark.parametrize(
    ("size", "proved"),
    [
        (49.979, True),
        (49.996, True),
        (49.998, None),
        (50.003, None),
        (49.972, None),
        (49.9705, False),
        (50.0041, False),
    ],
)
def test_who_has_to_prove_carries_the_doubt(size, proved):
    # ISO 14253-1, default rule, put to 50 h7 (49.975 to 50.000, ISO 286-2) with a doubt of 4 µm.
    assert conforms(size, 49.975, 50.0, 0.004) is proved


def test_every_instrument_is_offered_where_it_can_be_used():
    assert set(instruments.OUTSIDE) | set(instruments.INSIDE) == set(INSTRUMENTS)
    assert "dial bore gauge" not in instruments.OUTSIDE
    assert not any("micrometer" in name for name in instruments.INSIDE)
