"""How a whole run is shared between processes, and how many random cases it tries."""

import pytest

#: Modules whose tests each make what they need: they need not stay together.
ALONE = (
    "test_offline.py",
    "test_updates.py",
    "test_using_it.py",
    "test_hostile_fields.py",
    "test_shop.py",
    "test_copies.py",
    "test_long_answers.py",
    "test_supervision.py",
    "test_links.py",
)


def pytest_addoption(parser):
    parser.addoption("--long", action="store_true", help="as many random cases as were ever asked for, not a few")


def pytest_collection_modifyitems(config, items):
    """The slow ones first. The tests of a module stay together; those of all calculations go by calculation instead,
    since its answers, or an engine that has them, are kept."""
    if not config.pluginmanager.hasplugin("xdist"):
        return
    items.sort(key=lambda item: item.path.parent.name != "web")
    for item in items:
        if item.path.parent.name == "web" and item.path.name in ALONE:
            continue
        name = item.callspec.params.get("name") if hasattr(item, "callspec") else None
        by_calculation = item.path.name in ("test_every_calculation.py", "test_parity.py") and isinstance(name, str)
        item.add_marker(
            pytest.mark.xdist_group(name if by_calculation else f"{item.path.parent.name}/{item.path.stem}")
        )
