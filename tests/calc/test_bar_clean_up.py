"""Clean-up of a bar: run-out is taken off once; tolerances as the standards print them."""

import csv
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import answer
from calc.callout import callout
from calc.model import Refused

NAME = "bar_clean_up"
with (Path(__file__).parents[1] / "data" / "published_bars.csv").open(encoding="utf-8", newline="") as file:
    PUBLISHED = [row for row in csv.DictReader(file) if row["bright_mark"] in ("V1", "V2") or row["rolled_mark"]]
CLEAN = {"run_out": "0"}


def found(name: str, **typed: str) -> float:
    return answer(NAME, typed).value(name).number


def test_full_run_out_is_taken_off_once():
    # 50 mm bar running out 0.8 mm cleans up at 49.2 mm, by hand: half of 0.8 on either side
    assert found("finished", size="50", bar="as measured", run_out="0.8") == 49.2


def test_bow_reads_double():
    assert found("finished", size="50", bar="as measured", run_out="0", bow="0.4") == 49.2


def test_stock_for_a_wanted_diameter():
    # 48 + 0.8 run-out + 0.1 out of round + 2 × 0.25 centre error + 2 × 0.2 skin = 49.8 mm, by hand
    typed = {"asked": "least bar", "size": "48", "bar": "as measured", "run_out": "0.8", "ovality": "0.1",
             "centre_error": "0.25", "skin": "0.2"}  # fmt: skip
    assert found("bar_size", **typed) == 50
    assert found("spare", **typed) == pytest.approx(0.2)
    assert found("inch_bar", **typed) == 50.8


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row["nominal"])
def test_tolerances_of_the_standards(row):
    # EN 10278 (five makers' extracts) and EN 10060:2003, the lower end of each
    size = row["diameter [mm]"]
    for finish, column in (("h9", "h9 [mm]"), ("h10", "h10 [mm]"), ("h11", "h11 [mm]"), ("hot rolled", "rolled [mm]")):
        if row[column]:
            small = found("smallest_bar", size=size, bar=finish, **CLEAN)
            assert float(size) - small == pytest.approx(float(row[column]), abs=1e-9), (finish, row["nominal"])


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"size": "51", "bar": "hot rolled"}, "EN 10060 lists no tolerance"),
        ({"size": "82", "bar": "hot rolled"}, "EN 10060 lists no tolerance"),
        ({"size": "201", "bar": "h9"}, "EN 10278 ends"),
        ({"size": "3", "bar": "h9"}, "EN 10278 ends"),
        ({"size": "5", "run_out": "6"}, "Nothing is left"),
        ({"asked": "least bar", "size": "300"}, "No bar of the lists"),
    ],
)
def test_what_the_standards_do_not_give_is_refused(typed, said):
    with pytest.raises(Refused) as caught:
        answer(NAME, typed)
    (only,) = caught.value.problems
    assert (only.name, said in str(only)) == ("size", True), str(only)


@settings(deadline=None, max_examples=60)
@given(st.integers(5, 150), st.integers(0, 40))
def test_the_bar_ordered_cleans_up_at_what_was_wanted(size, tenths):
    run_out = f"{tenths / 10}"
    bar = found("bar_size", asked="least bar", size=f"{size}", run_out=run_out)
    assert found("finished", size=f"{bar}", run_out=run_out) >= size


def test_as_it_is_asked_for():
    assert callout("40 bar 0.8 runout")[0] == (NAME, {"size": "40", "run_out": "0.8"})


def test_what_cleans_up_goes_on_to_its_plan_of_cuts():
    def planned(**typed):
        return next(one.typed for one in answer(NAME, typed).following if one.name == "pass_plan")

    turned = planned(size="50", bar="as measured", run_out="0.8")
    assert turned == {"diameter": "50 mm", "wanted": "49.2 mm"}  # geometry: 50 less the whole reading
    ordered = planned(asked="least bar", size="48", run_out="0.8")
    assert ordered["wanted"] == "48 mm"
    assert answer("pass_plan", ordered).value("stop_reading").number == 48
