"""calc/ as one archive for the browser's Python: the same bytes from the same files, whenever it is made."""

import hashlib
import io
import zipfile
from collections.abc import Mapping
from pathlib import Path

from calc import units

ENDINGS = (".py", ".csv", ".json")
EARLIEST = (1980, 1, 1, 0, 0, 0)  # the first time that the format knows
READABLE = 0o100644 << 16


def source_files(calc: Path) -> dict[str, bytes]:
    """The files of the package at `calc` by their path inside it."""
    paths = sorted(path for ending in ENDINGS for path in calc.rglob(f"*{ending}"))
    return {path.relative_to(calc).as_posix(): path.read_bytes() for path in paths}


def archive(files: Mapping[str, bytes], compiled: Mapping[str, tuple[str, bytes]] | None = None) -> bytes:
    """A zip of the package `calc` with these files, and what pint says of our units, so that a start can do without it.

    `compiled` holds, by path in the zip, the SHA-256 of a source and the compiled file: that goes in the place of a
    source that is still the same.
    """
    inside = {f"calc/{path}": body for path, body in files.items()}
    for path, (sha256, body) in (compiled or {}).items():
        if path in inside and hashlib.sha256(inside[path]).hexdigest() == sha256:
            del inside[path]
            inside[f"{path}c"] = body
    inside[f"calc/{units.CONVERSIONS}"] = units.conversions().encode()
    return stored(inside)


def stored(files: Mapping[str, bytes]) -> bytes:
    """A zip of these files, not compressed: on its way it is compressed as a whole."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as made:
        for path in sorted(files):
            entry = zipfile.ZipInfo(path, EARLIEST)
            entry.create_system = 3  # Unix, so that the bytes do not tell where it was made
            entry.external_attr = READABLE
            made.writestr(entry, files[path])
    return out.getvalue()
