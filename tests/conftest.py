"""Which tests stay together when the run is shared between processes: those that share something slow to make."""

import pytest


def pytest_addoption(parser):
    parser.addoption("--long", action="store_true", help="as many random cases as were ever asked for, not a few")


def pytest_collection_modifyitems(config, items):
    """One process per module, but the tests of all calculations go by calculation: its answers are kept."""
    if not config.pluginmanager.hasplugin("xdist"):
        return
    for item in items:
        name = getattr(item, "callspec", None) and item.callspec.params.get("name")
        by_calculation = item.path.name == "test_every_calculation.py" and isinstance(name, str)
        item.add_marker(pytest.mark.xdist_group(name if by_calculation else item.path.stem))
