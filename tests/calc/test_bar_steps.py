"""Steps of a bar as written: length x diameter, told apart by a diameter sign, in mm or inches."""

import pytest

from calc.formulas.bar_steps import MOST, Unreadable, read

THREE = ((42, 30), (100, 35), (38, 30))


@pytest.mark.parametrize(
    "text",
    [
        "42 x 30, 100 x 35, 38 x 30",
        "42x30, 100x35, 38x30",
        "42x30,100x35,38x30",
        "42 × 30; 100 × 35; 38 × 30",
        "42*30 + 100*35 + 38*30",
        "42 x 30 and 100 x 35 and 38 x 30",
        "Ø30 x 42, Ø35 x 100, 38 x Ø30",
        "42 x 30 dia, 35 dia x 100, 38 x 30 dia.",
        "42 mm x 30, 100 x 35 mm, 38 x 30",
        " 42  X 30 ,  100 x 35 , 38 x 30 , ",
        "4.2 cm x 3 cm, 100 mm x 35 mm, 38 x 30 mm",
    ],
)
def test_a_shaft_written_in_many_ways(text):
    assert read(text).steps == THREE


def test_decimal_commas_and_inches():
    assert read("42,5 x 30,2, 100 x 35").steps == ((42.5, 30.2), (100, 35))
    # 1 in is 25.4 mm exactly: international inch, 1959
    assert read('1 1/2 x 1.25 in; 4" x 1 3/8"').steps == ((38.1, 31.75), (101.6, 34.925))


def test_one_step_is_enough_and_says_itself():
    assert str(read("312 x 35")) == "312 mm of Ø 35"
    assert str(read("42 x 30, 100.5 x 35")) == "42 mm of Ø 30, 100.5 mm of Ø 35"
    assert read("42 x 30, 100 x 35").thinnest == 30


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (" , ", "length x diameter"),
        ("42", "its length and its diameter"),
        ("42 x", "its length and its diameter"),
        ("42 x 30, 100", "Step 2, “100”: "),
        ("2 x 42 x 30", "between two steps"),
        ("42x30,5,100x35", "between two steps"),
        ("Ø42 x Ø30", "Both figures"),
        ("42 x 0.4", "a diameter from 0.5 to 1000 mm"),
        ("0.05 x 30", "a length from 0.1 to 5000 mm"),
        ("42 x 30, long x 20", "Step 2, “long x 20”: "),
        ("42 kg x 30", "wants a length"),
        ("1.5 in x 1 in, 100 x 35", "its unit"),
        (", ".join(["10 x 10"] * (MOST + 1)), "at most 12"),
    ],
)
def test_what_cannot_be_read_is_refused_with_a_remedy(text, said):
    with pytest.raises(Unreadable, match=r"^[A-Z].*\.$") as refusal:
        read(text)
    assert said in str(refusal.value)
