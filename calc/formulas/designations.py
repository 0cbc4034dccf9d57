"""What a designation that is not in the tables means, so that the refusal can say what to do instead."""

import re
from collections.abc import Mapping
from functools import lru_cache

from calc.model import CalcError
from calc.tables import table

#: Other bearings by the shape of their designation. Common practice of the makers' catalogues, no one source.
OTHERS = (
    (r"7[0-4]\d{1,2}", "an angular contact ball bearing"),
    (r"(1[0-4]|2[23])\d{2}", "a self-aligning ball bearing"),
    (r"(3[23]|5[23])\d{2}", "a double-row angular contact ball bearing"),
    (r"(22[23]|23[0-3]|24[01]|21[3])\d{2}", "a spherical roller bearing"),
    (r"5[1-4]\d{3}", "a thrust ball bearing"),
    (r"29[2-4]\d{2}", "a spherical roller thrust bearing"),
    (r"3[0-3]\d{3}", "a metric taper roller bearing of another series or size"),
    (r"(R?NAO?|NK[ISX]?|HK|BK|K)\d+", "a needle roller bearing"),
    (r"(LM|HM|JLM|JHM|L|M|H|JL|JM)\d{4,6}", "an inch taper roller bearing"),
    (r"(UC[A-Z]*|SB|SA|YAR|YEL|GE|GRAE|RAE)\d+", "an insert bearing with a locking screw or collar"),
    (r"(RLS|RMS|LJ|MJ|LS|MS|KLNJ|EE|R|RL|RM)\d+", "an inch ball bearing"),
    (r"(MR|SMR|F|MF|W)\d+", "a miniature or special ball bearing"),
    (r"(Q|QJ)\d{3,4}", "a four-point contact ball bearing"),
)


def beyond_the_tables(text: str) -> CalcError:
    """The refusal for `text`: what it seems to be, what the tables hold, and what to type instead."""
    shown = text.strip()[:24]
    squeezed = re.sub(r"[ -]", "", text).upper()
    series = _series(squeezed)
    if series:
        names, low, high = series
        return CalcError(
            f"{shown} is not in the table; series {names} is here for bores from {low:g} to {high:g} mm. "
            "Check the number on the ring, or type the bore, such as 30 mm."
        )
    stem = re.match(r"[A-Z]*\d*", squeezed)
    for pattern, what in OTHERS:
        if stem and re.fullmatch(pattern, stem[0]):
            return CalcError(
                f"{shown} is {what}; the table holds deep groove ball, cylindrical roller and metric taper roller "
                "bearings. Type its bore instead, such as 30 mm."
            )
    return CalcError(
        f"“{shown}” is not a bearing known here. Type the number on the ring, such as 6206, or a bore, such as 30 mm."
    )


def _series(squeezed: str) -> tuple[str, float, float] | None:
    """The longest series of the table that the designation begins with, and the bores it is held for in mm."""
    number = re.sub(r"^(NUP|NU|NJ|NF|N)(?=2[23])", "NU", squeezed)
    held = _held()
    begun = [one for one in held if number.startswith(one)]
    found = [one for one in begun if re.fullmatch(r"(\d{2}|/\d{1,3})([^\d/].*)?", number.removeprefix(one))]
    return (found[0], *held[found[0]]) if found else None


@lru_cache(maxsize=1)
def _held() -> Mapping[str, tuple[float, float]]:
    """The least and the greatest bore of each series, in mm, in the order of the table."""
    bores: dict[str, list[float]] = {}
    for row in table("bearings"):
        bores.setdefault(row.text("series"), []).append(row.number("bore"))
    return {series: (min(each), max(each)) for series, each in bores.items()}
