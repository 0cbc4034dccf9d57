"""Lighthouse on the pages that people land on: its mobile preset, medians of several runs."""

import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from server.launch import VENV, Stop, alone, command_output, say
from tests import chromium
from tests.bench.kit import CLOSED, Process

VERSION = "12.8.2"
OLDEST_NODE = (18, 16)  # what this Lighthouse asks for
FOLDER = VENV / "judge" / f"lighthouse-{VERSION}"
PAGES = ("/", "/c/fit", "/c/turning")
CATEGORIES = ("performance", "accessibility", "best-practices", "seo")
BAR = 95
TRIES = 3
AGAIN = "Please run Lighthouse again"  # what it says itself when the browser's recording was lost, not the page
GOOD = 0.9  # of a single audit
Report = Mapping[str, Any]


@dataclass(frozen=True)
class Judged:
    """The scores of one page, 0 to 100, a run each; `lost` names what cost points in any of them."""

    page: str
    scores: Mapping[str, tuple[float, ...]]
    lost: tuple[str, ...]

    def median(self, category: str) -> float:
        return statistics.median(self.scores[category])

    @property
    def keeps(self) -> bool:
        return all(self.median(category) >= BAR for category in CATEGORIES)


def judge(runs: int) -> bool:
    """Judge each of PAGES so many times and print the medians; True if every one is at BAR or above."""
    program = [node(), str(fetched() / "node_modules" / "lighthouse" / "cli" / "index.js")]
    browser = executable()
    with tempfile.TemporaryFile("w+") as said:
        server = Process(said, "server")
        server.start()
        try:
            found = []
            for page in PAGES:
                reports = []
                for turn in range(runs):
                    print(f"Lighthouse: {page}, {turn + 1} of {runs}", file=sys.stderr, flush=True)
                    reports.append(report(program, browser, server.address + page))
                found.append(judged(page, reports))
        finally:
            server.stop()
    say(printed(found, runs))
    return all(one.keeps for one in found)


def judged(page: str, reports: "list[Report]") -> Judged:
    """The scores out of Lighthouse's own reports."""
    scores = {
        category: tuple(round(100 * one["categories"][category]["score"]) for one in reports) for category in CATEGORIES
    }
    lost = {text: None for one in reports for text in costs(one)}
    return Judged(page, scores, tuple(lost))


def costs(one: Report) -> "Iterator[str]":
    """Every audit that counts and falls short of what Lighthouse itself calls good."""
    for category in CATEGORIES:
        for part in one["categories"][category]["auditRefs"]:
            audit = one["audits"][part["id"]]
            if part["weight"] and audit["score"] is not None and audit["score"] < GOOD:
                yield f"{category}: {audit['title']} ({part['id']})"


def printed(found: "list[Judged]", runs: int) -> str:
    """A line for each page: medians, and how far the runs lie apart where they differ; then what cost points."""
    lines = [f"{'page':<16}" + "".join(f"{category:>18}" for category in CATEGORIES)]
    lines += [f"{one.page:<16}" + "".join(f"{cell(one, category):>18}" for category in CATEGORIES) for one in found]
    lines += [f"{one.page}: {text}" for one in found for text in one.lost]
    kept = "kept" if all(one.keeps for one in found) else "not kept"
    lines.append(f"Lighthouse {VERSION}, mobile preset, median of {runs}: the bar of {BAR} is {kept}.")
    return "\n".join(lines)


def cell(one: Judged, category: str) -> str:
    scores = one.scores[category]
    apart = f" ({min(scores):g}–{max(scores):g})" if min(scores) != max(scores) else ""
    return f"{one.median(category):g}{apart}"


def report(program: "list[str]", browser: str, address: str) -> Report:
    """One run of Lighthouse in a browser of its own; RuntimeError with its reason where it gives no report.

    Where it asks itself to be run again it is, a few times.
    """
    line = [
        *program,
        address,
        "--output=json",
        "--quiet",
        "--no-enable-error-reporting",
        f"--only-categories={','.join(CATEGORIES)}",
        f"--chrome-flags={flags()}",
    ]
    environment = {**os.environ, "CHROME_PATH": browser}
    for _ in range(TRIES):
        done = subprocess.run(line, env=environment, capture_output=True, encoding="utf-8", timeout=300)
        if AGAIN not in done.stderr:
            break
    if done.returncode:
        raise RuntimeError(f"Lighthouse ended with {done.returncode}: {done.stderr.strip()[-2000:]}")
    said: Report = json.loads(done.stdout)
    if "runtimeError" in said:
        raise RuntimeError(f"Lighthouse could not judge {address}: {said['runtimeError']['message']}")
    return said


def flags() -> str:
    return " ".join(f'"{one}"' if " " in one else one for one in ("--headless", "--no-sandbox", *CLOSED))


def node() -> str:
    """The path of a Node that is new enough for Lighthouse."""
    wanted = ".".join(str(part) for part in OLDEST_NODE)
    path = shutil.which("node")
    if not path or not shutil.which("npm"):
        raise Stop(f"Lighthouse needs node {wanted} or newer and npm: install them, and run the same command again.")
    version = command_output([path, "--version"]).stdout.strip()
    if tuple(int(part) for part in version.lstrip("v").split(".")[:2]) < OLDEST_NODE:
        raise Stop(f"Lighthouse needs node {wanted} or newer; this one is {version}.")
    return path


def fetched() -> Path:
    """The folder that Lighthouse is in; fetched by npm if it is not there yet."""
    with alone():
        if not FOLDER.exists():
            say(f"Fetching Lighthouse {VERSION}, once")
            part = FOLDER.with_name(f"{FOLDER.name}.part")
            shutil.rmtree(part, ignore_errors=True)
            part.mkdir(parents=True)
            npm = [str(shutil.which("npm")), "install", "--prefix", str(part), "--no-audit", "--no-fund"]
            done = command_output([*npm, "--ignore-scripts", f"lighthouse@{VERSION}"])
            if done.returncode:
                reason = (done.stdout.strip().splitlines() or ["no reason given"])[-1]
                raise Stop(f"npm could not fetch Lighthouse {VERSION}: {reason}")
            part.rename(FOLDER)
    return FOLDER


def executable() -> str:
    """The browser of the tests."""
    path = chromium.find(whole=True)
    if path:
        return str(shutil.which(path) or path)
    with sync_playwright() as playwright:
        return playwright.chromium.executable_path
