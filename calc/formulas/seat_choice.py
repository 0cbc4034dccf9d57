"""Which class, form, finish and fillet the published practices give a bearing seat, each kept apart.

The practices disagree and are never merged: J7 of one is not the JS7 of another, and the DIN type tables stand one
step looser than the catalogues in a housing under rotating load.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from calc.formulas import iso286
from calc.formulas.bearings import BALL, TAPER, Bearing
from calc.formulas.iso286 import ToleranceClass
from calc.tables import Row, matching, step_for, table

PRACTICES: Mapping[str, str] = MappingProxyType(
    {
        "skf": "SKF catalogue",
        "nsk-ntn": "NSK and NTN catalogues",
        "abma-7": "ANSI/ABMA 7",
        "din-5425": "DIN 5425 type (Schaeffler HR 1)",
        "easa": "EASA AR100, motor repair (housings)",
    }
)
#: Tighter and tighter, as far as seats for hollow shafts are chosen here.
TIGHTER = ("js5", "js6", "j5", "j6", "k5", "k6", "m5", "m6", "n5", "n6", "p6", "r6")


@dataclass(frozen=True)
class Wanted:
    """What a seat is chosen by: "shaft" or "housing", load on that ring, how heavy, and whether it must slide."""

    part: str
    load: str
    heaviness: str
    slides: bool


@dataclass(frozen=True)
class Practice:
    """The class one practice prints first, its others, the load limits it states, and its remarks."""

    name: str
    seat_class: ToleranceClass
    others: tuple[ToleranceClass, ...]
    condition: str
    row: Row


def read_class(text: str) -> ToleranceClass:
    """A class of either kind: small letter for a shaft, capital for a housing. CalcError otherwise."""
    return iso286.read_hole(text) if text[:1].isupper() else iso286.read_shaft(text)


def choose(practice: str, bearing: Bearing, wanted: Wanted) -> Practice | None:
    """The class that a practice prints for this bearing and load; None when it prints none."""
    rows = [row for row in _rows(practice, bearing, wanted) if not row.text("condition")]
    if not rows:
        return None
    right = [row for row in rows if (row.text("displacement") == "slides") == wanted.slides]
    return _practice(practice, (right or rows)[0])


def special_cases(practice: str, bearing: Bearing, wanted: Wanted) -> tuple[Practice, ...]:
    """What a practice prints besides, for a condition that has to be met, such as heat through the shaft."""
    return tuple(_practice(practice, row) for row in _rows(practice, bearing, wanted) if row.text("condition"))


def _rows(practice: str, bearing: Bearing, wanted: Wanted) -> list[Row]:
    size = bearing.bore if wanted.part == "shaft" else bearing.outside_diameter
    if size is None or (practice == "abma-7" and bearing.kind == TAPER):  # its title leaves taper rollers out
        return []
    load = "indeterminate" if wanted.load == "not known" else wanted.load
    kind = "ball" if bearing.kind == BALL else bearing.kind
    return [
        row
        for row in matching("bearing_seat_classes", practice=practice, member=wanted.part)
        if row.number("over") < size <= row.number("up_to")
        and load in row.text("load").split("+")
        and {wanted.heaviness, "any"} & set(row.text("level").split("+"))
        and {kind, "all"} & set(row.text("kind").split("+"))
    ]


def _practice(name: str, row: Row) -> Practice:
    others = tuple(read_class(one) for one in row.text("alternative").split())
    return Practice(name, read_class(row.text("class")), others, row.text("condition"), row)


def for_hollow(size: float, seat_class: ToleranceClass, bore_middle: Decimal, times: float) -> ToleranceClass | None:
    """The class of TIGHTER whose mean interference is nearest to `times` that of `seat_class` on `size` mm.

    `bore_middle` is the middle of the bearing's bore tolerance in µm. None when the tightest falls short by more
    than its own tolerance. Source: the worked example on hollow shafts in the SKF general catalogue.
    """
    wanted = float(iso286.deviations(size, seat_class).middle - bore_middle) * times
    best, short = seat_class, abs(float(iso286.deviations(size, seat_class).middle - bore_middle) - wanted)
    for text in TIGHTER:
        limits = iso286.deviations(size, read_class(text))
        mean = float(limits.middle - bore_middle)
        if abs(mean - wanted) < short:
            best, short = read_class(text), abs(mean - wanted)
    if best == read_class(TIGHTER[-1]) and short > float(iso286.deviations(size, best).width):
        return None
    return best


# ------------------------------------------------------------------------------------------- form and finish


def share_of_grade(text: str, size: float) -> tuple[Decimal, str]:
    """ "IT5/2" at `size` mm in µm, and the mark of the grade."""
    grade, _, by = text.removeprefix("IT").partition("/")
    width, mark = iso286.tolerance(size, grade)
    return width / int(by or 1), mark


def cylindricity(part: str, precision: str) -> Row:
    """The row of `seat_form` for cylindricity: measured on radius, by class of the bearing (SKF)."""
    return _form("cylindricity and total radial run-out", part, "skf", precision)[0]


def run_out(part: str, precision: str, grade: str) -> Row:
    """The row for total radial run-out: by grade of a shaft seat for Normal bearings (SKF), else as cylindricity."""
    rows = [row for row in _form("total radial run-out", part, "skf", precision) if row.text("seat_grade") == grade]
    return rows[0] if rows else cylindricity(part, precision)


def shoulder_run_out(part: str, precision: str, grade: str, bearing: Bearing) -> Row | None:
    """The row for axial run-out of the shoulder of a shaft; None where SKF prints none."""
    rows = [row for row in _form("shoulder run-out", part, "skf", precision) if row.text("seat_grade") == grade]
    if rows and grade == "5" and bearing.kind != BALL:  # the roller tables print IT5 beside m5 and n5
        rows = [row for row in _form("shoulder run-out", part, "skf", precision) if row.text("seat_grade") == "6"]
    return rows[0] if rows else None


def other_forms(part: str, load: str, precision: str) -> tuple[Row, ...]:
    """What the other practices print on form and run-out for this seat, to stand beside."""
    return tuple(
        row
        for row in table("seat_form")
        if row.text("practice") != "skf"
        and row.text("member") == part
        and row.text("load") in ("any", load)
        and precision in row.text("bearing_class").split("+")
        and row.text("feature") != "size grade"
    )


def _form(feature: str, part: str, practice: str, precision: str) -> tuple[Row, ...]:
    return matching("seat_form", feature=feature, member=part, practice=practice, bearing_class=precision)


def roughness(part: str, size: float, grade: str) -> Row | None:
    """The row with Ra in µm for a ground seat, by grade and diameter (SKF); None where none is printed."""
    return step_for(matching("seat_roughness", practice="skf", member=part, grade=f"IT{grade}"), size)


def fillet(chamfer_min: float) -> Row | None:
    """The row with fillet, shoulder height and relief for a bearing chamfer in mm; None when not in the table."""
    for row in table("shoulder_fillet"):
        if row.number("chamfer_min") == chamfer_min:
            return row
    return None
