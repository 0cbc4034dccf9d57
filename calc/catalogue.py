"""Finds the calculations: one file each under `calculations/<subject>/`, found by being there."""

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache, lru_cache
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
    """Every calculation by name, in the order of SUBJECTS, then in the ORDER that its folder gives, the rest by title.

    TypeError when a file does not hold one calculation of its own name.
    """
    found = [look_up(name) for name in _modules()]
    places = {name: place for place, name in enumerate(_in_order())}
    found.sort(key=lambda one: (list(SUBJECTS).index(one.subject), places.get(one.name, len(places)), one.title))
    return MappingProxyType({one.name: one for one in found})


def look_up(name: str) -> Calculation:
    """The calculation of that name; NoSuchCalculation otherwise. The others are not read: a start on a telephone asks
    for one.
    """
    if name not in _modules():
        raise NoSuchCalculation(f"There is no calculation named “{name[:40]}”.")
    return _declared(name)


def _in_order() -> tuple[str, ...]:
    """The names that the folders put in the order of a job, in their `ORDER`; a folder of few needs none."""
    folders = [importlib.import_module(f"{home.__name__}.{subject}") for subject in SUBJECTS]
    return tuple(name for folder in folders for name in getattr(folder, "ORDER", ()))


@lru_cache(maxsize=1)
def _modules() -> Mapping[str, str]:
    """Name of each calculation to its module."""
    folders = [importlib.import_module(f"{home.__name__}.{subject}") for subject in SUBJECTS]
    found = [one.name for each in folders for one in pkgutil.iter_modules(each.__path__, f"{each.__name__}.")]
    return MappingProxyType({module.rsplit(".", 1)[1]: module for module in found})


@cache
def _declared(name: str) -> Calculation:
    module = _modules()[name]
    declared = getattr(importlib.import_module(module), name, None)
    if not isinstance(declared, Calculation):
        raise TypeError(f"{module} does not declare a calculation named {name}")
    return declared
