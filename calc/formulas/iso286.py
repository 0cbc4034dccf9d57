"""Limit deviations of ISO 286-1:2010 and -2:2010, from their tables only, never from their formulas.

All arithmetic is in Decimal micrometres: limits of size are compared, and half an odd grade is exact.
Where an extract of the standard in circulation prints another figure, the row's note says so.
"""

import re
from bisect import bisect_left
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from calc.model import CalcError
from calc.tables import MARKS, Row, step_for, table, weakest

LARGEST = 3150.0  # mm, where ISO 286-1 ends
SMALL = 1.0  # mm, up to which the standard leaves some grades and letters out
ENDS = ("over", "up_to")  # columns of a row's range
HOLE_LETTERS = ("A", "B", "C", "CD", "D", "E", "EF", "F", "FG", "G", "H", "JS", "J", "K", "M", "N", "P", "R", "S",
                "T", "U", "V", "X", "Y", "Z", "ZA", "ZB", "ZC")  # fmt: skip
SHAFT_LETTERS = tuple(letter.lower() for letter in HOLE_LETTERS)
GRADES = ("01", *(str(grade) for grade in range(19)))
#: First size, in mm, for which the standard gives the letter; below it the next stronger letter is used.
BEGINS = {"t": (24.0, "s or u"), "v": (14.0, "u or x"), "y": (18.0, "x or z")}


@dataclass(frozen=True)
class ToleranceClass:
    """A letter and a grade, "H7" or "js6"; a hole has capitals."""

    letter: str
    grade: str

    @property
    def hole(self) -> bool:
        return self.letter.isupper()

    def __str__(self) -> str:
        return self.letter + self.grade


@dataclass(frozen=True)
class Deviations:
    """Upper and lower deviation in micrometres, the grade's width, and the weakest mark behind them."""

    upper: Decimal
    lower: Decimal
    mark: str
    note: str = ""

    @property
    def middle(self) -> Decimal:
        return (self.upper + self.lower) / 2

    @property
    def width(self) -> Decimal:
        return self.upper - self.lower


class NotInStandard(CalcError):
    """ISO 286 gives no limits for this class at this size; the text says why and what is near."""


def read_hole(text: str) -> ToleranceClass:
    """A hole class such as H7; CalcError with what is wrong."""
    return _read(text, hole=True)


def read_shaft(text: str) -> ToleranceClass:
    """A shaft class such as k6; CalcError with what is wrong."""
    return _read(text, hole=False)


def _read(text: str, *, hole: bool) -> ToleranceClass:
    match = re.fullmatch(r"([A-Za-z]{1,2}) ?(?:IT)?(\d{1,2})", text)
    kind, other, example = ("hole", "shaft", "H7") if hole else ("shaft", "hole", "k6")
    if match is None:
        raise CalcError(f"Type a {kind} class as a letter and a grade, such as {example}.")
    letter, grade = match.groups()
    letters = HOLE_LETTERS if hole else SHAFT_LETTERS
    if letter not in letters:
        if letter in (SHAFT_LETTERS if hole else HOLE_LETTERS):
            turned = letter.swapcase() + grade
            which = "capital" if hole else "small"
            raise CalcError(f"{text} is a {other} class; a {kind} class has {which} letters. Type {turned}.")
        raise CalcError(f"ISO 286 has no {kind} class letter “{letter}”. It has {', '.join(letters)}.")
    if grade not in GRADES:
        raise CalcError(f"ISO 286 has no grade {grade}. Grades are 01, 0 and 1 to 18.")
    return ToleranceClass(letter, grade)


def tolerance(size: float, grade: str) -> tuple[Decimal, str]:
    """The width of grade `grade` ("01" to "18") at `size` mm, in micrometres, and its mark."""
    return _tolerance(_row("it_grades", size), size, grade)


def _tolerance(row: Row, size: float, grade: str) -> tuple[Decimal, str]:
    column = f"IT{grade}"
    if size <= SMALL and int(grade) >= 14 and grade != "01":
        raise NotInStandard("ISO 286 gives grades IT14 to IT18 only above 1 mm. Take grade 13 or finer.")
    if not row.has(column):
        raise NotInStandard(f"ISO 286 gives {column} only up to 500 mm. Take grade 1 or coarser.")
    return _exact(row, column), row.mark(column)


def deviations(size: float, tolerance_class: ToleranceClass) -> Deviations:
    """The limit deviations of a class at `size` mm (over 0 up to 3150).

    NotInStandard where ISO 286 gives none, with the reason. Source: ISO 286-1:2010 tables 1 to 5.
    """
    ends = _ends()
    return of_range(ends[bisect_left(ends, size)] if size <= ends[-1] else size, tolerance_class)


@lru_cache(maxsize=1)
def _ends() -> tuple[float, ...]:
    """Every size in mm, smallest first, up to which something holds; between two of them nothing changes."""
    tables = ("it_grades", "hole_deviations", "shaft_deviations", "hole_delta")
    return tuple(sorted({SMALL, *(row.number(end) for name in tables for row in table(name) for end in ENDS)}))


@lru_cache(maxsize=512)  # a bearing seat asks for the same few some ninety times
def of_range(size: float, tolerance_class: ToleranceClass) -> Deviations:
    """As `deviations`, kept for the next time: ask it for the upper end of a range, so that it is asked the same."""
    grades, grade_column = _row("it_grades", size), f"IT{tolerance_class.grade}"
    width, mark = _tolerance(grades, size, tolerance_class.grade)
    letter, grade = tolerance_class.letter, int(tolerance_class.grade)
    if tolerance_class.grade == "01":
        grade = -1
    if letter.lower() == "js":
        note = _note(grades, grade_column, tolerance_class)
        return Deviations(width / 2, -width / 2, mark, note)
    if letter.lower() == "j" and size > 500:
        raise NotInStandard(f"ISO 286 gives {letter} only up to 500 mm; take {'JS' if letter == 'J' else 'js'}.")
    row = _row("hole_deviations" if tolerance_class.hole else "shaft_deviations", size)
    column = _column(letter, grade, tolerance_class.hole)
    _refuse_what_is_missing(size, tolerance_class, grade, row, column)
    base, mark = _exact(row, column), weakest(mark, row.mark(column))
    note = _note(row, column, tolerance_class) or _note(grades, grade_column, tolerance_class)
    if not tolerance_class.hole:
        below_zero = letter in SHAFT_LETTERS[: SHAFT_LETTERS.index("js")]
        return Deviations(base, base - width, mark, note) if below_zero else Deviations(base + width, base, mark, note)
    if letter in HOLE_LETTERS[: HOLE_LETTERS.index("JS")]:
        return Deviations(base + width, base, mark, note)
    upper = base + _delta(size, letter, grade)
    if (letter, grade) == ("M", 6) and 250 < size <= 315:
        upper = Decimal(-9)  # the standard's one exception to its own rule, which would give -11
    return Deviations(upper, upper - width, mark, note)


def _column(letter: str, grade: int, hole: bool) -> str:
    if letter == "j":
        return {5: "j5_j6", 6: "j5_j6", 7: "j7", 8: "j8"}.get(grade, "")
    if letter == "J":
        return {6: "J6", 7: "J7", 8: "J8"}.get(grade, "")
    if letter == "k":
        return "k4_to_k7" if 4 <= grade <= 7 else "k_other"
    if letter in ("K", "M", "N"):
        return f"{letter}_to_IT8" if grade <= 8 else f"{letter}_above_IT8"
    return letter


def _refuse_what_is_missing(size: float, wanted: ToleranceClass, grade: int, row: Row, column: str) -> None:
    """Say why ISO 286 has no such class here, and what to take instead."""
    letter, small = wanted.letter, wanted.letter.lower()
    if not column:
        given = "5 to 8" if letter == "j" else "6 to 8"
        raise NotInStandard(
            f"ISO 286 gives {letter} only in grades {given}; take {'JS' if wanted.hole else 'js'}{wanted.grade}."
        )
    if size <= SMALL and (small in ("a", "b") or (letter == "N" and grade > 8)):
        a_b, c = ("A and B", "C") if wanted.hole else ("a and b", "c")
        reason, instead = (a_b, c) if small in ("a", "b") else ("N in grades above 8", "N8 or finer")
        raise NotInStandard(f"ISO 286 does not give {reason} for sizes up to 1 mm; take {instead}.")
    if row.has(column):
        return
    if small in BEGINS and size <= BEGINS[small][0]:
        begins, instead = BEGINS[small]
        instead = instead.upper() if wanted.hole else instead
        raise NotInStandard(f"ISO 286 gives {letter} only over {begins:g} mm; take {instead}.")
    if column == "j8":
        raise NotInStandard("ISO 286 gives j8 only up to 3 mm; take js8.")
    if column == "K_above_IT8":
        raise NotInStandard("ISO 286 gives K above grade 8 only up to 3 mm and over 500 mm; take K8 or finer, or JS.")
    ends = {"cd": 50, "ef": 50, "fg": 50}.get(small, 500)
    raise NotInStandard(f"ISO 286 gives {letter} only up to {ends} mm; at this size take another letter.")


def _delta(size: float, letter: str, grade: int) -> Decimal:
    """What ISO 286-1 adds to the tabled deviation of holes K to ZC in the finer grades."""
    applies = 3 <= grade <= 8 if letter in ("K", "M", "N") else 3 <= grade <= 7 and letter not in ("J",)
    row = step_for(table("hole_delta"), size)
    if not applies or row is None:
        return Decimal(0)
    return _exact(row, f"IT{grade}")


def _row(name: str, size: float) -> Row:
    row = step_for(table(name), size)
    if row is None:
        raise NotInStandard(f"ISO 286 gives limits for sizes over 0 up to {LARGEST:g} mm.")
    return row


def _exact(row: Row, column: str) -> Decimal:
    return Decimal(f"{row.number(column):g}")


def _note(row: Row, column: str, wanted: ToleranceClass) -> str:
    """What a row's note says about one column, as a sentence about the class; "" when it says nothing of it."""
    if column not in row.note:
        return ""
    for piece in re.split(r"; (?=[\w ]+: )", row.note):
        columns, _, text = piece.partition(": ")
        if column in columns.split() and not text.startswith("from memory"):
            return f"{wanted}: {re.sub(r'(?<= )-(?=[0-9])', '−', text)}."
    return ""


def confirmation(mark: str, what: str) -> str:
    """A sentence for the user where a figure is not read off two or more sources; "" where it is."""
    if MARKS.index(mark) <= MARKS.index("V1"):
        return ""
    if mark == "F":
        return f"{what} is computed from the formula of ISO 286-1, not read off its table."
    return f"{what} is unconfirmed: it stands here from memory of ISO 286-1. Check it in the standard."
