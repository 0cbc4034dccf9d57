"""Work materials by any of their names: EN number of the emergency series, BS 970, EN name, W.-Nr., AISI, trade.

One name can stand for several states of one steel (EN8 is sold normalised, cold drawn, hardened and tempered). The
first of them is taken unless the state is typed as well, "EN8 cold drawn" or "EN8 R"; `Found` says what else there is.
A name that is only near, or about, the listed grade keeps that word, so that an answer can tell it. Density in kg/m³,
strengths in MPa, hardness in HB, force constants as `cutting.ForceConstants`.
"""

import re
from dataclasses import dataclass, field
from functools import lru_cache

from calc import units
from calc.formulas.cutting import ForceConstants
from calc.model import CalcError, Notation
from calc.tables import Row, matching, table

PATTERN = r"[A-Za-z0-9][A-Za-z0-9 .,/-]*"  # how a name is written, roughly
COMMON = ("EN8", "C45", "EN3B", "EN1A", "EN16T", "EN19T", "EN24T", "S355J2", "303", "316", "GG25", "6082-T6", "CZ121")
NEARNESS = ("same", "near", "about")  # from the grade itself to the nearest one listed
OFFERED = 8
A_LIKE_ALLOY = "a like alloy"  # whose constants are taken where no row of a table is named


class UnknownMaterial(CalcError):
    """No material goes by that name; the message says what to type."""


@dataclass(frozen=True)
class Material:
    """One material in one state. Figures that the tables lack are None; `row` keeps marks and sources."""

    name: str
    label: str
    iso_group: str
    speed_groups: tuple[str, ...]
    condition: str
    row: Row = field(repr=False, compare=False)

    def number(self, column: str) -> float | None:
        """A figure of the table's column, None when there is none."""
        return self.row.number(column) if self.row.has(column) else None

    def confirmation(self, column: str) -> str:
        """How well that figure is confirmed, one of the marks of the tables."""
        return self.row.mark(column)

    @property
    def force(self) -> ForceConstants | None:
        """Force constants of the family taken for this material; None where nobody publishes them (plastics)."""
        if not self.row.has("kc11"):
            return None
        family, row = self.row.text("force_family"), self.row.text("force_row")
        return ForceConstants(
            family, row or A_LIKE_ALLOY, self.row.number("kc11"), self.row.number("mc"), self.row.mark("kc11"),
            _source(self.row, row), self.row.text("force_surrogate") == "yes",
        )  # fmt: skip

    @property
    def other_force(self) -> ForceConstants | None:
        """The other family's constants for this material, to show beside; never to be mixed with `force`."""
        wanted = self.row.text("other_force_row")
        if not wanted:
            return None
        (one,) = matching("specific_cutting_force", row=wanted)
        return ForceConstants(
            one.text("family"), wanted, one.number("kc11"), one.number("mc"), one.mark("kc11"), one.source
        )  # fmt: skip


@dataclass(frozen=True)
class Found:
    """What a typed name stands for. `others` are further states, or grades, that go by the same name."""

    material: Material
    typed: str
    nearness: str
    note: str
    others: tuple[Material, ...]

    def __str__(self) -> str:
        return self.material.label

    @property
    def carried(self) -> str:
        """What to type elsewhere for the same material in the same state: as it was typed here where that is enough."""
        return self.typed if read(self.typed).material == self.material else self.material.label

    @property
    def remarks(self) -> tuple[str, ...]:
        """Sentences for the assumptions of an answer: what was taken for the name, and what else it could be."""
        said = []
        if self.nearness == "about":
            said.append(f"{self.typed} is not in the tables; the nearest grade is taken, {self.material.label}.")
        elif self.nearness == "near":
            said.append(f"{self.typed} is taken as {self.material.label}: {self.note}.")
        if self.others:
            labels = "; ".join(one.label for one in self.others)
            said.append(f"Taken: {self.material.label}. {self.typed} may also be: {labels}. Type the state to take it.")
        return tuple(said)


def read(text: str) -> Found:
    """The material of that name, with or without its state. UnknownMaterial with what to type instead."""
    clean = re.sub(r"^(?:w\.?-?nr\.?|werkstoff(?:nummer)?|aisi|sae|bs en|bs)(?: |(?=\d\.))", "", units.tidy(text),
                   flags=re.IGNORECASE).strip(" ,.")  # fmt: skip
    for whole in dict.fromkeys((units.tidy(text).strip(), clean)):
        words = re.split(r"[ ,]+", whole)
        for count in range(len(words), 0, -1):
            name, state = " ".join(words[:count]), words[count:]
            found = _by_name().get(_squeeze(name), ())
            fitting = tuple(one for one in found if all(_word(one[0], word) for word in state))
            if fitting:
                return _found(fitting, name)
            if found and state:
                known = "; ".join(dict.fromkeys(one.label for one, _, _ in found))
                raise UnknownMaterial(f"{name} is known as: {known}. Type one of these, or {name} alone.")
    raise UnknownMaterial(f"“{text.strip()[:24]}” is not a material known here. Type a grade such as EN8, C45 or 316.")


def complete(started: str) -> tuple[str, ...]:
    """Names that a beginning could become: those that begin so, else those that hold it; at most OFFERED."""
    key = _squeeze(started)
    if not key:
        return COMMON[:OFFERED]
    names = list(dict.fromkeys((*COMMON, *(row.text("name") for row in table("material_names")))))
    begins = [one for one in names if _squeeze(one).startswith(key)]
    holds = [one for one in names if key in _squeeze(one)]
    return tuple(begins or holds)[:OFFERED]


#: How a calculation asks for the material that is cut.
MATERIAL = Notation("material", "Material", read, PATTERN, "C45",
                    "By any of its names: EN8, C45, 080M40, 1.0503, 1045; with its state if you know it.", COMMON,
                    complete=complete)  # fmt: skip


@lru_cache(maxsize=1)
def materials() -> dict[str, Material]:
    """Every material by its own identifier, in the order of the table."""
    return {
        row.text("material"): Material(
            row.text("material"), row.text("label"), row.text("iso513"), tuple(row.text("speed_groups").split()),
            row.text("condition"), row,
        )
        for row in table("work_materials")
    }  # fmt: skip


def _found(fitting: "tuple[tuple[Material, str, str], ...]", name: str) -> Found:
    best = min(NEARNESS.index(nearness) for _, nearness, _ in fitting)
    among = [one for one in fitting if NEARNESS.index(one[1]) == best]
    material, nearness, note = among[0]
    others = dict.fromkeys(one for one, _, _ in among[1:] if one.name != material.name)
    return Found(material, name, nearness, note, tuple(others))


@lru_cache(maxsize=1)
def _by_name() -> dict[str, tuple[tuple[Material, str, str], ...]]:
    """Squeezed name to (material, nearness, note): first the one that it is the own name of, then as in the table."""
    names: dict[str, list[tuple[Material, str, str]]] = {}
    known = materials()
    for row in table("material_names"):
        entry = (known[row.text("material")], row.text("nearness"), row.note)
        names.setdefault(_squeeze(row.text("name")), []).append(entry)
    for one in known.values():
        for own in (one.name, one.label):
            names.setdefault(_squeeze(own), [(one, "same", "")])
    for name, entries in names.items():
        entries.sort(key=lambda entry: name != _squeeze(entry[0].name))
    return {name: tuple(entries) for name, entries in names.items()}


def _word(material: Material, word: str) -> bool:
    """Whether a word that was typed is among those of the material's state, "R", "drawn"; its plainer forms count."""
    said = {_squeeze(one) for one in re.split(r"[ ,/]+", f"{material.label} {material.condition}")}
    return _squeeze(word) in said or {"n": "normalised", "cd": "drawn"}.get(_squeeze(word), "") in said


def _squeeze(name: str) -> str:
    return re.sub(r"[ ,/_-]", "", name.casefold())


def _source(material: Row, wanted: str) -> tuple[str, ...]:
    """The source of the constants themselves; the material's own where the row is not in the table of constants."""
    found = matching("specific_cutting_force", row=wanted)
    return found[0].source if found else material.source
