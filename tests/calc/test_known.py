"""What an engine proves itself by."""

import pytest

from calc import known
from calc.formulas import iso286
from calc.known import PRINTED, Wrong, limits, prove

#: µm; ISO 286-2:2010: H7 over 18 up to 30, g6 over 30 up to 50, u6 over 24 up to 30. 1 1/16 in is 26.9875 mm.
DEVIATIONS = {"30 mm": (0, 21), "41.5 mm": (-25, -9), "1 1/16 in": (48, 61)}
SIZES = {"30 mm": 30, "41.5 mm": 41.5, "1 1/16 in": 26.9875}


def test_the_printed_limits_are_said():
    prove()
    assert {typed for typed, _, _ in PRINTED} == set(DEVIATIONS)


@pytest.mark.parametrize(("typed", "written", "printed"), PRINTED)
def test_what_is_printed_follows_from_the_deviations_of_the_standard(typed, written, printed):
    factor, decimals = (25.4, 5) if typed.endswith("in") else (1, 3)
    ends = [(SIZES[typed] + one / 1000) / factor for one in DEVIATIONS[typed]]
    unit = typed.rsplit(" ", 1)[1]
    assert printed == " to ".join(f"{one:.{decimals}f} {unit}" for one in ends)
    assert limits(typed, written) == printed


def test_an_engine_that_says_otherwise_is_not_used(monkeypatch):
    right = iso286.deviations
    monkeypatch.setattr(known.iso286, "deviations", lambda size, wanted: right(size + 100, wanted))
    with pytest.raises(Wrong, match=r"30 mm H7 is 30\.000 mm to 30\.021 mm and not"):
        prove()


def test_the_limits_are_worked_out_anew_each_time():
    prove()
    prove()
    assert iso286.of_range.cache_info().hits == 0
