"""`python3 -m tests.bench [--quick] [--only GROUP ...] [--json FILE]`: measure, and print one table.

A bar that is not kept is printed as such and fails nothing: on a busy machine only the ratios mean much.
"""

import argparse
import importlib
import json
import os
import platform
import sys
from pathlib import Path
from time import perf_counter

from server.launch import prepare, run

#: Group to its module, in the order of the table.
GROUPS = {
    "native": "native",
    "cutting": "cutting",
    "browser": "engine",
    "paint": "screen",
    "start": "start",
    "server": "throughput",
    "load": "load",
    "wire": "wire",
}


def bench(arguments: "list[str]") -> int:
    parser = argparse.ArgumentParser("python3 -m tests.bench", description="Speed and size of Swarfbook.")
    parser.add_argument("--quick", action="store_true", help="few samples: does it run, roughly how fast")
    parser.add_argument("--only", nargs="+", choices=GROUPS, metavar="GROUP", help=f"some of: {', '.join(GROUPS)}")
    parser.add_argument("--json", metavar="FILE", help="write the rows there as well")
    options = parser.parse_args(arguments)
    prepare("tests.bench", arguments, ["test"])

    from tests.bench.kit import Kit
    from tests.bench.table import Row, printed, records

    began = perf_counter()
    others = load()
    rows: list[Row] = []
    with Kit(options.quick) as kit:
        for group in [one for one in GROUPS if one in (options.only or GROUPS)]:
            print(f"measuring: {group}", file=sys.stderr, flush=True)
            rows += importlib.import_module(f"tests.bench.{GROUPS[group]}").measure(kit)
    conditions = {
        "python": platform.python_version(),
        "system": f"{platform.system()} {platform.machine()}",
        "processors": os.cpu_count(),
        "load before": others,
        "quick": options.quick,
        "seconds": round(perf_counter() - began),
    }
    print(printed(rows))
    print("\n" + ", ".join(f"{name} {value}" for name, value in conditions.items()))
    if options.json:
        whole = {"conditions": conditions, "rows": records(rows)}
        Path(options.json).write_text(json.dumps(whole, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    return 0


def load() -> "float | None":
    """How many processes want a processor, over the last minute; None where the system does not tell."""
    return round(os.getloadavg()[0], 1) if hasattr(os, "getloadavg") else None


if __name__ == "__main__":
    run(bench)
