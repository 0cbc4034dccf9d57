"""Lists of pieces and of bars as they are typed: how they are read, and what is said of one that cannot be."""

import re
from fractions import Fraction

import pytest

from calc.formulas.cutting_notation import NM, read_bars, read_pieces
from calc.model import CalcError


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("6 x 312, 2 x 96", ((312, 6), (96, 2))),
        ("6x312; 2×96 + 1 * 50 and 3 off 20.5", ((312, 6), (96, 2), (50, 1), ("20.5", 3))),
        ("312", ((312, 1),)),
        ("6 @ 312", ((312, 6),)),
        ("2 x 96,5, 3 x 20", (("96.5", 2), (20, 3))),
        ("312 x 6 off", ((312, 6),)),
        ("312 mm x 6", ((312, 6),)),
        ("312,5 x 6", (("312.5", 6),)),
        ("20 x 15 mm", ((15, 20),)),
        ("8 x 7.5", (("7.5", 8),)),
        ("4 x 3 1/4 in", (("82.55", 4),)),
        ('1 x 1 1/64"', (("25.796875", 1),)),
        ("2 x 1 m, 3 x 20 mm", ((1000, 2), (20, 3))),
        ("6 x 312, 2 x 312", ((312, 8),)),
    ],
)
def test_lists_are_read(text, parts):
    assert read_pieces(text).parts == tuple((int(Fraction(length) * NM), count) for length, count in parts)


def test_a_bar_without_a_count_is_bought():
    assert read_bars("3000, 1 x 740").parts == ((3000 * NM, None), (740 * NM, 1))
    assert read_bars("3000, 2 x 3000").parts == ((3000 * NM, None), (3000 * NM, 2))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("6 x 312,2 x 96", "more than one count"),
        ("6 x 312 2 x 96", "more than one count"),
        ("312 x 6", "reads as 312 of 6 mm. Put the count first, or the unit with the length: 312 mm x 6"),
        ("4 x 3 1/4 in, 2 x 5", "Part 2, “2 x 5”, has no unit"),
        ("3 x 20, 0 x 5", "Part 2, “0 x 5”: A count of 0"),
        ("6 x -3", "from 1 to 100000 mm"),
        ("3 x 0.5", "from 1 to 100000 mm"),
        ("6 x 312 kg", "length"),
        ("3 x 20, 6 x", "no length behind it"),
        ("x", "Type"),
        (", ; ", "Type the pieces"),
        ("2001 x 20 mm", "at most 2000"),
        ("; ".join(f"1 x {n}" for n in range(100, 141)), "41 different lengths"),
    ],
)
def test_what_cannot_be_read_says_which_part_and_why(text, message):
    with pytest.raises(CalcError, match=re.escape(message)):
        read_pieces(text)


def test_the_rack_has_a_limit():
    with pytest.raises(CalcError, match="at most 9999"):
        read_bars("9999 mm x 9999; 9999 x 9999")
