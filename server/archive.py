"""calc/ as one archive for the browser's Python: the same bytes from the same files, whenever it is made."""

import io
import zipfile
from collections.abc import Mapping
from pathlib import Path

ENDINGS = (".py", ".csv", ".toml")
EARLIEST = (1980, 1, 1, 0, 0, 0)  # the first time that the format knows
READABLE = 0o100644 << 16


def source_files(calc: Path) -> dict[str, bytes]:
    """The files of the package at `calc` by their path inside it."""
    paths = sorted(path for ending in ENDINGS for path in calc.rglob(f"*{ending}"))
    return {path.relative_to(calc).as_posix(): path.read_bytes() for path in paths}


def archive(files: Mapping[str, bytes]) -> bytes:
    """A zip of the package `calc` with these files, stored as they are: on its way it is compressed as a whole."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as made:
        for path in sorted(files):
            entry = zipfile.ZipInfo(f"calc/{path}", EARLIEST)
            entry.create_system = 3  # Unix, so that the bytes do not tell where it was made
            entry.external_attr = READABLE
            made.writestr(entry, files[path])
    return out.getvalue()
