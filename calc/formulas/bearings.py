"""Rolling bearings by designation: boundary dimensions, ring tolerances and radial clearance.

A designation is a type, a dimension series and a bore code (ISO 15, ISO 355). Dimensions come from the table
only; the bore code is never multiplied out, since 16100, 63/28 and 608 each break the simple rule. The bore's
tolerance lies below the nominal bore, not above it as that of a hole H.
"""

import re
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache
from types import MappingProxyType

from calc import units
from calc.formulas.designations import beyond_the_tables
from calc.model import CalcError
from calc.tables import Row, matching, step_for, table, weakest

BALL, CYLINDRICAL, TAPER = "deep groove ball", "cylindrical roller", "taper roller"
PRECISIONS = ("Normal", "6", "5")
GROUPS = ("C2", "CN", "C3", "C4")
#: How a designation is written, rough, for splitting a call-out. A clearance group or a seat class is left to
#: its own field.
PATTERN = (
    r"(?i:NUP|NU|NJ|NF|N)? ?(?:\d{3,5}|6\d{1,2} ?/ ?\d{1,2}(?![A-Za-z0-9]))"
    r"(?i:2?RSR?[HL12]?|2?Z{1,2}|DDU?|VV|LLU|LLB|E|ECP|EM|M)?"
    r"(?:[-/. ](?![Cc][0-5NM]|[a-z]{1,2}\d)[A-Za-z0-9]{1,5}){0,3}"
)
#: Metric bores in mm beyond those of the dimension table, as ISO 15 goes on.
LARGER_BORES = (160.0, 170.0, 180.0, 190.0, 200.0, 220.0, 240.0)
LARGEST_BORE = 250.0  # mm, where the tolerances here end
#: Letters of cylindrical rollers with one envelope: they differ in which ring has the flanges.
FLANGES = ("NUP", "NU", "NJ", "NF", "N")
#: Series of cylindrical rollers that share the envelope of a ball series, with the first bore they are made in.
SHARED = {"2": ("62", 15.0), "3": ("63", 17.0), "10": ("60", 25.0), "4": ("64", 25.0)}
#: Suffixes that say seals or shields, filled with grease.
SEALED = re.compile(r"2?-?(RS[A-Z0-9]*|Z{1,2}R?|LS[A-Z0-9]*|DDU?|VV|LL[UBH]|NSE|NKE|EE|PP[A-Z]?)")


#: What looks like a tolerance class and would be lost among the suffixes, and the suffixes that look like one.
CLASS, NO_CLASS = re.compile(r"[a-z]{1,2}\d{1,2}|([F-HJKMNPR]|JS)[6-9]"), re.compile(r"c[0-5]|p[0-6]|P6|[zme]\d")


class NotInTable(CalcError):
    """The tables here do not hold it; the text says what they hold and what to do."""


@dataclass(frozen=True)
class Bearing:
    """One bearing; lengths in mm.

    `designation` is "" when only a bore was typed: then outside diameter, width and chamfer are None and an
    ordinary radial ball bearing is assumed. `width_is` is B (ring width) or T (assembled width of a taper roller).
    `clearance_group` and `precision` are what the suffixes say, None when they say nothing.
    """

    designation: str
    kind: str
    bore: float
    outside_diameter: float | None
    width: float | None
    chamfer_min: float | None
    mark: str
    note: str
    series: str = ""
    width_is: str = "B"
    sealed: bool = False
    clearance_group: str | None = None
    precision: str | None = None
    source: tuple[str, ...] = ()
    inch: bool = False

    @property
    def shown(self) -> str:
        """The designation, or the bore in words."""
        return self.designation or f"bearing of bore {self.bore:.9g} mm"

    @property
    def radial(self) -> bool:
        """Whether the tolerances of radial bearings hold; metric taper rollers have their own."""
        return self.kind != TAPER


@lru_cache(maxsize=256)
def read_bearing(text: str) -> Bearing:
    """The bearing that a designation names, with what its suffixes say.

    Spaces, hyphens, small letters and makers' suffixes are accepted: "NU 2311", "6206-2RS1/C3", "6808", "63/28".
    NotInTable, or CalcError with what is wrong. Source: ISO 15:2017 and ISO 355:2019 by the table `bearings`.
    """
    clean = units.tidy(text)
    found = _named(clean)
    if found is None:
        raise beyond_the_tables(clean)
    return found


def _named(clean: str) -> Bearing | None:
    """As `read_bearing`, of a text that is tidy; None for what the tables do not hold."""
    match = re.fullmatch(
        r"(?P<letters>[A-Za-z]*)[ -]?(?P<digits>\d{2,5})(?: ?/ ?(?P<literal>\d{1,3})(?![A-Za-z0-9]))?(?P<rest>.*)",
        clean,
    )
    if match is None:
        return None
    letters, digits, rest = match["letters"].upper(), match["digits"], match["rest"]
    if letters and letters not in FLANGES:
        return None
    if match["literal"]:
        found = _look_up(letters, f"{digits}/{match['literal']}")
    else:
        found = _look_up(letters, digits)
        for length in (4, 3):
            if (
                found is None
                and len(digits) > length
                and re.match(r"2-?(RS|Z|LS|NSE|NKE)", digits[length:] + rest.upper())
            ):
                found, rest = _look_up(letters, digits[:length]), digits[length:] + rest
    return _with_suffixes(found, rest) if found else None


def _look_up(letters: str, number: str) -> Bearing | None:
    rows = _rows()
    if not letters:
        if number in rows:
            return _from_row(rows[number])
        japanese = re.fullmatch(r"6([89])(\d{1,2})", number)  # makers to JIS leave the 1 of 618 and 619 out
        if japanese:
            size = japanese[2] if len(japanese[2]) == 2 else f"/{japanese[2]}"
            return _from_row(rows[full]) if (full := f"61{japanese[1]}{size}") in rows else None
        return None
    if (own := f"NU{number}") in rows:
        return replace(_from_row(rows[own]), designation=f"{letters} {number}")
    series, code = number[:-2], number[-2:]
    if series in SHARED:
        ball, first = SHARED[series]
        row = rows.get(ball + code)
        if row is not None and row.number("bore") >= first:
            bearing = _from_row(row)
            return replace(
                bearing, designation=f"{letters} {number}", kind=CYLINDRICAL, series=f"NU{series}",
                mark=weakest(bearing.mark, "F"),
                note=f"dimensions of the dimension series of ISO 15 that it shares with {bearing.designation}",
            )  # fmt: skip
    return None


def _from_row(row: Row) -> Bearing:
    chamfer = row.number("chamfer_min") if row.has("chamfer_min") else None
    return Bearing(
        row.text("designation"), row.text("kind"), row.number("bore"), row.number("outside_diameter"),
        row.number("width"), chamfer, weakest(row.strongest, *row.weaker.values()), row.note, row.text("series"),
        row.text("width_is"), source=row.source,
    )  # fmt: skip


def _with_suffixes(bearing: Bearing, rest: str) -> Bearing:
    """What the suffixes say about seals, clearance and precision; other makers' suffixes change nothing here."""
    if re.search(r"[^A-Za-z0-9 ./+-]", rest):
        raise CalcError(
            f"“{rest.strip()[:16]}” after {bearing.designation} is not a suffix. Type the designation alone."
        )
    group, precision, sealed = None, None, False
    for piece in re.split(r"[ ./+-]+", rest):
        word = piece.upper()
        if CLASS.fullmatch(piece) and not NO_CLASS.fullmatch(piece):
            raise CalcError(
                f"{piece} is a tolerance class; it has a field of its own. Type {bearing.designation} here."
            )
        if word == "K" or re.fullmatch(r"K30", word):
            raise CalcError(
                f"{bearing.designation} K has a tapered bore: it sits on a sleeve or a taper, not on a "
                "cylindrical seat. Type a bearing with a cylindrical bore."
            )
        if found := re.fullmatch(r"C([0N2345])", word):
            group = {"0": "CN", "N": "CN"}.get(found[1], f"C{found[1]}")
        elif found := re.fullmatch(r"P([06542])([2345]?)", word):
            precision = {"0": "Normal"}.get(found[1], found[1])
            group = f"C{found[2]}" if found[2] else group
        elif SEALED.fullmatch(word):
            sealed = True
    if precision in ("4", "2"):
        raise NotInTable(f"Precision class P{precision} is not in the tables here; they hold Normal, 6 and 5.")
    return replace(bearing, sealed=sealed, clearance_group=group, precision=precision)


@lru_cache(maxsize=256)
def read_bearing_or_bore(text: str) -> Bearing:
    """A designation, or a bore such as "30 mm" or "1 3/16 in" for a radial bearing otherwise unknown.

    A bare number counts as a designation when there is one, else as a bore in mm. A bore that no metric bearing
    has is refused, unless it was typed in inches: those are taken with the ISO 492 limits of their size and marked M.
    """
    clean = units.tidy(text)
    refusal: CalcError | None = None
    try:
        if found := _named(clean):
            return found
    except CalcError as problem:
        refusal = problem
    try:
        number, unit = units.read(clean, "length")
    except units.Unreadable:
        raise refusal or beyond_the_tables(clean) from None
    if unit == "millimetre" and re.fullmatch(r"\d{4,}|6\d{1,2} ?/ ?\d{1,3}", clean):
        raise refusal or beyond_the_tables(clean)
    return _of_bore(units.to_own(number, unit, "length"), inch=unit in ("inch", "thou"))


def _of_bore(bore: float, *, inch: bool) -> Bearing:
    if not 0.6 < bore <= LARGEST_BORE:
        raise NotInTable(
            f"Bores here go from over 0.6 to {LARGEST_BORE:g} mm. Type a designation such as 6206, or a bore."
        )
    standard = bores()
    place = bisect_left(standard, bore)  # of the first that is not smaller
    if standard[place : place + 1] == (bore,):
        return Bearing("", BALL, bore, None, None, None, "V2", "", source=("iso-15",))
    if not inch:
        near = " or ".join(f"{one:g}" for one in standard[max(0, place - 1) : place + 1])
        raise NotInTable(f"No metric bearing here has a bore of {bore:.9g} mm; take {near} mm.")
    note = "inch bore: the ISO 492 limits of its size are assumed, and a maker's own may differ; measure the bore"
    return Bearing("", BALL, bore, None, None, None, "M", note, inch=True)


@lru_cache(maxsize=1)
def bores() -> tuple[float, ...]:
    """The bores of metric bearings in mm, smallest first. Source: ISO 15:2017."""
    return tuple(sorted({row.number("bore") for row in table("bearings")} | set(LARGER_BORES)))


@lru_cache(maxsize=1)
def _rows() -> Mapping[str, Row]:
    return MappingProxyType({row.text("designation"): row for row in table("bearings")})


# ---------------------------------------------------------------------------------------------- tolerances


def bore_limits(bearing: Bearing, precision: str = "Normal") -> tuple[Decimal, Decimal]:
    """Lower and upper deviation of the mean bore in µm, such as (-10, 0).

    Source: ISO 492:2014 through GOST 520-2011 tables 1 to 6 and 16 to 19. NotInTable for a class not held.
    """
    return _limits("bearing_bore_tolerances", bearing, bearing.bore, precision)


def outside_limits(bearing: Bearing, precision: str = "Normal") -> tuple[Decimal, Decimal]:
    """Lower and upper deviation of the mean outside diameter in µm, such as (-13, 0); see `bore_limits`.

    NotInTable also when only a bore was typed.
    """
    if bearing.outside_diameter is None:
        raise NotInTable("The bore alone does not tell the outside diameter. Type the designation, such as 6206.")
    return _limits("bearing_outside_tolerances", bearing, bearing.outside_diameter, precision)


@lru_cache(maxsize=256)
def ring_row(name: str, bearing: Bearing, size: float, precision: str) -> Row:
    """The row of a ring tolerance table for this bearing, size in mm and precision class; NotInTable otherwise."""
    kind = "radial" if bearing.radial else "taper"
    rows = matching(name, **{"kind": kind, "class": precision})
    if not rows:
        raise NotInTable(
            "Metric taper rollers are here in class Normal only; class 6X has the same limits of bore and outside "
            "diameter. Choose Normal."
        )
    row = step_for(rows, size)
    if row is None:
        ends = f"over {rows[0].number('over'):g} up to {rows[-1].number('up_to'):g} mm"
        raise NotInTable(f"Ring tolerances of {kind} bearings, class {precision}, are here for sizes {ends}.")
    return row


def _limits(name: str, bearing: Bearing, size: float, precision: str) -> tuple[Decimal, Decimal]:
    row = ring_row(name, bearing, size, precision)
    return Decimal(f"{row.number('lower'):g}"), Decimal(f"{row.number('upper'):g}")


def radial_clearance(kind: str, bore: float) -> Mapping[str, tuple[Decimal, Decimal]]:
    """Least and greatest radial internal clearance in µm before mounting, by group C2, CN, C3, C4; bore in mm.

    The groups overlap. NotInTable for taper rollers, whose clearance is set when they are mounted, and past the
    table. Source: ISO 5753-1:2009.
    """
    rows = matching("radial_clearance", kind=kind)
    if not rows:
        raise NotInTable(
            "A taper roller bearing has no clearance of its own: it is set when the two rings are adjusted."
        )
    row = step_for(rows, bore)
    if row is None:
        ends = f"over {rows[0].number('over'):g} up to {rows[-1].number('up_to'):g} mm"
        raise NotInTable(f"The radial clearance of {kind} bearings is here for bores {ends}.")
    return MappingProxyType(
        {
            group: (Decimal(f"{row.number(f'{group}_min'):g}"), Decimal(f"{row.number(f'{group}_max'):g}"))
            for group in GROUPS
            if row.has(f"{group}_min")
        }
    )


# ---------------------------------------------------------------------------------------------- completion


def complete(beginning: str) -> tuple[str, ...]:
    """The designations that a beginning could become, the series met most often first; at most a dozen."""
    typed = re.sub(r"[ -]", "", units.tidy(beginning)).upper()
    letters = re.match(r"[A-Z]*", typed)
    if not typed or (letters and letters[0] and not any(one.startswith(letters[0]) for one in FLANGES)):
        return ()
    return tuple(name for name in _names() if name.replace(" ", "").startswith(typed))[:12]


@lru_cache(maxsize=1)
def _names() -> tuple[str, ...]:
    """Every designation that can be read, spelled our way."""
    order = ("62", "63", "60", "302", "322", "303", "320", "323", "64", "160", "161", "618", "619")
    known = [row.text("designation") for one in order for row in table("bearings") if row.text("series") == one]
    ball = sorted(known, key=lambda name: len(name) < 4 or "/" in name)  # the four figures of everyday come first
    rollers = [
        f"{letters} {series}{name[2:]}"
        for letters in ("NU", "NJ", "NUP", "N")
        for series, (shared, _) in SHARED.items()
        for name in ball
        if name.startswith(shared) and len(name) == 4 and _look_up(letters, series + name[2:])
    ]
    wide = [
        f"{letters} {row.text('designation')[2:]}"
        for letters in ("NU", "NJ", "NUP", "N")
        for row in table("bearings")
        if row.text("kind") == CYLINDRICAL
    ]
    return tuple(dict.fromkeys((*ball, *rollers, *wide)))
