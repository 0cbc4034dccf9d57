"""What the tests of a pass plan ask it and read off its tables."""

from calc import answer
from calc.model import Answer, Table

NAME = "pass_plan"


def plan(**typed: str) -> Answer:
    return answer(NAME, typed)


def number(name: str, **typed: str) -> float:
    return plan(**typed).value(name).number


def table(found: Answer, title: str) -> Table:
    (one,) = (one for one in found.tables if one.title == title)
    return one


def column(found: Answer, title: str, heading: str) -> list[str]:
    one = table(found, title)
    place = one.columns.index(heading)
    return [row[place] for row in one.rows]


def cuts(found: Answer) -> list[str]:
    return column(found, "Cuts and dial", "Cut")
