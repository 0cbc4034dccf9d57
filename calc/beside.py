"""The files of ours that are no Python: on a disk like any other, and in the browser inside the archive."""

from pathlib import Path
from typing import Any

_loader: Any = globals()["__loader__"]


def text(path: Path) -> str:
    """What stands in the file `path`, which lies beside a module of ours. OSError when there is none."""
    return str(_loader.get_data(str(path)), "utf-8")
