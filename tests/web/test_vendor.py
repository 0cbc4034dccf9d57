"""What others wrote is kept byte for byte, under a known licence, at the version that the server runs."""

import hashlib
import json
import tomllib
import zipfile
from email.parser import BytesHeaderParser
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name, parse_wheel_filename

REPO = Path(__file__).parents[2]
WEB = REPO / "web" / "vendor"
FOLDERS = (WEB, REPO / "tests" / "vendor")
WHEELS = sorted((WEB / "wheels").iterdir())

vendored = pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.parent.name)


def manifest(folder):
    return json.loads((folder / "manifest.json").read_text("utf-8"))


def pins():
    project = tomllib.loads((REPO / "pyproject.toml").read_text("utf-8"))["project"]
    required = [Requirement(text) for text in project["dependencies"]]
    return {canonicalize_name(one.name): str(one.specifier).removeprefix("==") for one in required}


@vendored
def test_manifest_names_every_file_once_and_nothing_else(folder):
    on_disk = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    on_disk.remove("manifest.json")
    assert on_disk, f"{folder} is empty"
    assert [entry["path"] for entry in manifest(folder)] == on_disk


@vendored
def test_every_file_is_the_one_that_was_published(folder):
    for entry in manifest(folder):
        content = (folder / entry["path"]).read_bytes()
        found = {**entry, "bytes": len(content), "sha256": hashlib.sha256(content).hexdigest()}
        assert entry == found


@vendored
def test_every_file_has_a_licence_and_carries_its_version_in_its_path(folder):
    for entry in manifest(folder):
        assert set(entry) == {"path", "package", "version", "licence", "note", "sha256", "bytes"}
        assert all(entry.values()), f"an empty field in {entry}"
        assert f"{entry['package']}-{entry['version']}" in entry["path"]


@pytest.mark.parametrize("wheel", WHEELS, ids=lambda wheel: wheel.name)
def test_wheels_are_pure_python_at_the_version_that_the_server_runs(wheel):
    name, version, _, tags = parse_wheel_filename(wheel.name)
    assert str(version) == pins()[name]
    assert [str(tag) for tag in tags if str(tag).endswith("none-any")], f"{wheel.name} is not pure Python"


def test_wheels_bring_all_that_they_ask_for():
    """The browser has no package index to turn to."""
    there = {parse_wheel_filename(wheel.name)[0] for wheel in WHEELS}
    asked = set()
    for wheel in WHEELS:
        with zipfile.ZipFile(wheel) as archive:
            (name,) = [name for name in archive.namelist() if name.endswith(".dist-info/METADATA")]
            head = BytesHeaderParser().parsebytes(archive.read(name))
        for text in head.get_all("Requires-Dist", []):
            one = Requirement(text)
            if one.marker is None or one.marker.evaluate({"python_version": "3.14", "extra": ""}):
                asked.add(canonicalize_name(one.name))
    assert asked, "no wheel asks for anything: the metadata was not read"
    assert asked <= there


def test_pyodide_is_the_version_that_its_folder_says():
    (folder,) = WEB.glob("pyodide-*")
    assert folder.name == f"pyodide-{json.loads((folder / 'package.json').read_text('utf-8'))['version']}"
