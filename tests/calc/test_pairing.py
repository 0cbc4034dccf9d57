"""Two measured parts, each with its doubt: how sure the word for their fit is, and the size that they stand for."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.formulas.pairing import Band, Pair, nominal_near


def test_shares_of_an_even_doubt_are_even():
    pair = Pair(Band(30.0, 5), Band(30.0, 5))
    assert dict(pair.shares())["push by hand"] == pytest.approx(dict(pair.shares())["tap"], rel=0.2)
    assert sum(share for _, share in pair.shares()) == pytest.approx(1)
    assert [word for word, _ in pair.shares()] == ["slides", "push by hand", "tap", "press"]


def test_the_share_of_a_normal_spread():
    # Normal distribution, one standard deviation: 84.13 % lies below it. The clearance lies one standard deviation
    # under the bound between push and tap (0 µm); the tails past the ends, 0.5 %, are cut, hence the tolerance.
    half = 2.0
    spread = math.hypot(half, half) / 2
    pair = Pair(Band(30.0, half), Band(30.0 + spread / 1000, half))
    assert dict(pair.shares())["tap"] == pytest.approx(0.8413, abs=0.006)


@settings(deadline=None)
@given(likely=st.integers(-60, 60), bore=st.integers(1, 20), shaft=st.integers(1, 20))
def test_the_shares_always_make_a_whole(likely, bore, shaft):
    pair = Pair(Band(30.0, bore), Band(30.0 - likely / 1000, shaft))
    shares = pair.shares()
    assert sum(share for _, share in shares) == pytest.approx(1)
    assert all(share >= 0 for _, share in shares)
    assert pair.sure == (len(shares) == 1)


@pytest.mark.parametrize(
    ("size", "nominal"),
    [(30.012, 30), (29.95, 30), (30.1625, 30.1625), (12.71, 12.7), (30.3, None), (0.2, None), (25.38, 25.4)],
)
def test_the_nominal_size_near_a_bore(size, nominal):
    # 30.1625 mm is 1 3/16 in, 12.7 mm 1/2 in, 25.4 mm 1 in (25.4 mm to the inch, exact).
    assert nominal_near(size) == (pytest.approx(nominal) if nominal else None)
