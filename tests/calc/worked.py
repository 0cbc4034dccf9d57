"""The worked examples of handbooks and standards in tests/data, for the tests of the formulas they belong to."""

import csv
import json
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent.parent / "data"


def worked(topic: str) -> list[tuple[str, dict[str, Any], float, float, str]]:
    """(formula, inputs, expected figure, tolerance, source) for each example of that topic."""
    found = []
    with (DATA / "mechanics_worked_examples.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            if row["topic"] == topic:
                source = f"{row['id']}: {row['source']} {row['note']}"
                figures = float(row["expected"]), float(row["tolerance"])
                found.append((row["formula"], json.loads(row["inputs"]), *figures, source))
    return found


def bearing_example(kind: str) -> tuple[dict[str, Any], dict[str, float], str]:
    """(inputs, expected figures, source) of the first worked example of that kind in the bearings file."""
    with (DATA / "bearing_worked_examples.csv").open(encoding="utf-8", newline="") as file:
        row = next(row for row in csv.DictReader(file) if row["kind"] == kind)
    return json.loads(row["inputs"]), json.loads(row["expected"]), f"{row['source']} {row['note']}"
