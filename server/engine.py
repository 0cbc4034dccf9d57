"""What the browser's Python starts from, made by `python3 -m tests.engine` and kept in web/engine, packed.

All is kept as brotli only, which is the form that nearly every browser asks for, and the smallest that a clone can
carry; it is unpacked once at start.
"""

import hashlib
import io
import json
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import brotli

FOLDER = "engine"
SOURCES = "sources.json"  # in calc.zip: the SHA-256 of the source that each compiled file was made of
CALC = "calc.zip"


class AlteredFile(Exception):
    """A vendored or derived file is not the one that its manifest names: put back what was published, or make it."""


@dataclass(frozen=True)
class Made:
    """`archives` by their name, each body with its brotli form; `compiled` calculations by the path of their source,
    each with the SHA-256 of that source.
    """

    archives: Mapping[str, tuple[bytes, bytes]] = field(default_factory=dict)
    compiled: Mapping[str, tuple[str, bytes]] = field(default_factory=dict)


def read(web: Path) -> Made:
    """What is in the folder of `web`, proved; nothing when there is none. AlteredFile when a file is another one."""
    folder = web / FOLDER
    if not folder.exists():
        return Made()
    manifest = (folder / "manifest.json").read_bytes()
    archives = {}
    for entry in json.loads(manifest):
        small = (folder / entry["path"]).read_bytes()
        if hashlib.sha256(small).hexdigest() != entry["sha256"]:
            raise AlteredFile(f"web/{FOLDER}/{entry['path']} is not the file that web/{FOLDER}/manifest.json names.")
        archives[entry["of"]] = (bytes(brotli.decompress(small)), small)
    calc = archives.pop(CALC, None)
    return Made(archives, compiled(calc[0]) if calc else {})


def compiled(archive: bytes) -> dict[str, tuple[str, bytes]]:
    """Path of each source to the SHA-256 of it and the compiled file."""
    with zipfile.ZipFile(io.BytesIO(archive)) as made:
        hashes: Mapping[str, str] = json.loads(made.read(SOURCES))
        return {path: (one, made.read(f"{path}c")) for path, one in hashes.items()}


def address(name: str, sha256: str) -> str:
    """Where an archive is served: another one is somewhere else."""
    return f"/{FOLDER}/{sha256[:12]}/{name}"


def packed(body: bytes) -> bytes:
    """`body` as small as brotli makes it, which takes seconds for each megabyte."""
    return bytes(brotli.compress(body, quality=11, lgwin=24))
