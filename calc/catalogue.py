"""Finds the calculations: one file each under `calculations/<subject>/`, found by being there."""

import importlib
import pkgutil
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

import calc.calculations as home
from calc.model import Calculation, NoSuchCalculation

#: Folders of `calculations/` in the order of a job, with the heading each gets.
SUBJECTS: Mapping[str, str] = MappingProxyType(
    {
        "fits": "Limits and fits",
        "bearings": "Bearings",
        "keys": "Keys and keyways",
        "turning": "Speeds, feeds, passes",
        "stock": "Stock and cut lengths",
        "measuring": "Measuring",
    }
)


@lru_cache(maxsize=1)
def catalogue() -> Mapping[str, Calculation]:
    """Every calculation by name, in the order of SUBJECTS, then by title.

    TypeError when a file does not hold one calculation of its own name.
    """
    found: list[Calculation] = []
    for subject in SUBJECTS:
        folder = importlib.import_module(f"{home.__name__}.{subject}")
        for module in pkgutil.iter_modules(folder.__path__, f"{folder.__name__}."):
            name = module.name.rsplit(".", 1)[1]
            declared = getattr(importlib.import_module(module.name), name, None)
            if not isinstance(declared, Calculation):
                raise TypeError(f"{module.name} does not declare a calculation named {name}")
            found.append(declared)
    order = list(SUBJECTS)
    found.sort(key=lambda one: (order.index(one.subject), one.title))
    return MappingProxyType({one.name: one for one in found})


def look_up(name: str) -> Calculation:
    """The calculation of that name; NoSuchCalculation otherwise."""
    try:
        return catalogue()[name]
    except KeyError:
        raise NoSuchCalculation(f"There is no calculation named “{name[:40]}”.") from None
