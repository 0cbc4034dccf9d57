"""The judges' own part: medians, what is said of them, and the one line where something is missing."""

import os
import re
import subprocess
import sys
from subprocess import CompletedProcess

import pytest

from server.launch import REPO, Stop
from tests.judge import firefox, lighthouse
from tests.judge.lighthouse import CATEGORIES, Judged, costs, flags, judged, printed

PERFECT = dict.fromkeys(CATEGORIES, 1.0)


def report(audit=1.0, **scores):
    """What Lighthouse says in JSON, as far as it is read here: one audit that counts, one that does not."""
    named = {**PERFECT, **{name.replace("_", "-"): score for name, score in scores.items()}}
    parts = [{"id": "paint", "weight": 10}, {"id": "remark", "weight": 0}]
    return {
        "categories": {
            name: {"score": score, "auditRefs": parts if name == "performance" else []} for name, score in named.items()
        },
        "audits": {"paint": {"title": "First paint", "score": audit}, "remark": {"title": "Remark", "score": 0}},
    }


def test_the_median_counts_and_not_the_best_or_the_worst():
    found = judged("/", [report(performance=score) for score in (1.0, 0.6, 0.95, 0.96, 0.3)])
    assert found.scores["performance"] == (100, 60, 95, 96, 30)
    assert found.median("performance") == 95
    assert found.keeps


@pytest.mark.parametrize("category", CATEGORIES)
def test_every_category_has_to_keep_the_bar(category):
    assert not judged("/", [report(**{category.replace("-", "_"): 0.94})]).keeps


def test_what_costs_points_is_named_once_and_what_does_not_count_is_not():
    assert list(costs(report(audit=0.5))) == ["performance: First paint (paint)"]
    assert list(costs(report())) == []
    assert list(costs(report(audit=None))) == []
    assert judged("/", [report(audit=0.5), report(audit=0.4)]).lost == ("performance: First paint (paint)",)


def test_the_table_has_a_line_for_each_page_and_says_whether_the_bar_is_kept():
    good = judged("/", [report(), report(), report(performance=0.97)])
    poor = Judged("/c/fit", {**dict.fromkeys(CATEGORIES, (100,)), "seo": (90,)}, ("seo: No title (title)",))
    assert printed([good, poor], 3).splitlines() == [
        "page                   performance     accessibility    best-practices               seo",
        "/                     100 (97–100)               100               100               100",
        "/c/fit                         100               100               100                90",
        "/c/fit: seo: No title (title)",
        f"Lighthouse {lighthouse.VERSION}, mobile preset, median of 3: the bar of 95 is not kept.",
    ]
    assert printed([good], 3).endswith("the bar of 95 is kept.")


def test_a_switch_with_spaces_stays_one():
    assert '"--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"' in flags()


def test_it_is_run_again_only_where_it_asks_for_it(monkeypatch):
    said = [f"NO_NAVSTART. {lighthouse.AGAIN}.", "", "the page hung up", *[lighthouse.AGAIN] * lighthouse.TRIES]
    answers = iter(said)

    def run(line, **_):
        problem = next(answers)
        return CompletedProcess(line, 1 if problem else 0, "{}", problem)

    monkeypatch.setattr(lighthouse.subprocess, "run", run)
    assert lighthouse.report(["lighthouse"], "/a/browser", "/") == {}
    with pytest.raises(RuntimeError, match="the page hung up"):
        lighthouse.report(["lighthouse"], "/a/browser", "/")
    with pytest.raises(RuntimeError, match=lighthouse.AGAIN):
        lighthouse.report(["lighthouse"], "/a/browser", "/")
    assert list(answers) == []


def test_a_node_that_is_too_old_is_refused(monkeypatch):
    monkeypatch.setattr(lighthouse.shutil, "which", lambda name: f"/a/{name}")
    said = {"version": "v18.15.0\n"}
    monkeypatch.setattr(lighthouse, "command_output", lambda line: CompletedProcess(line, 0, said["version"]))
    with pytest.raises(Stop, match=r"needs node 18\.16 or newer; this one is v18\.15\.0\."):
        lighthouse.node()
    said["version"] = "v20.2.0\n"
    assert lighthouse.node() == "/a/node"


@pytest.mark.parametrize("judge", [lighthouse, firefox])
def test_what_cannot_be_fetched_is_said_with_the_reason_and_leaves_nothing_behind(judge, monkeypatch, tmp_path):
    monkeypatch.setattr(judge, "FOLDER", tmp_path / "judge" / "fetched")
    monkeypatch.setattr(judge, "command_output", lambda line: CompletedProcess(line, 1, "much\nno network\n"))
    with pytest.raises(Stop, match=r"could not fetch .*: no network$"):
        judge.fetched()
    assert not judge.FOLDER.exists()


def test_what_is_fetched_is_fetched_once(monkeypatch, tmp_path):
    fetched = []

    def npm(line):
        fetched.append(line[-1])
        return CompletedProcess(line, 0, "")

    monkeypatch.setattr(lighthouse, "FOLDER", tmp_path / "judge" / "fetched")
    monkeypatch.setattr(lighthouse, "command_output", npm)
    assert lighthouse.fetched() == lighthouse.fetched() == tmp_path / "judge" / "fetched"
    assert fetched == [f"lighthouse@{lighthouse.VERSION}"]


def test_a_driver_that_is_installed_goes_before_the_one_that_is_fetched(monkeypatch, tmp_path):
    monkeypatch.setattr(firefox.shutil, "which", {"geckodriver": "/a/geckodriver"}.get)
    assert firefox.driver(tmp_path) == "/a/geckodriver"


def test_a_machine_that_no_driver_is_packed_for_is_told_so(monkeypatch, tmp_path):
    monkeypatch.setattr(firefox.shutil, "which", lambda name: None)
    monkeypatch.setattr(firefox.platform, "machine", lambda: "abacus")
    with pytest.raises(Stop, match=r"No geckodriver is packed for .* abacus"):
        firefox.driver(tmp_path)


def test_everything_fetched_from_others_is_pinned_and_proved():
    lines = [one for one in firefox.REQUIREMENTS.read_text("utf-8").splitlines() if not one.startswith("#")]
    assert lines
    assert [one for one in lines if not re.fullmatch(r"[a-z-]+[0-9]*==[\w.]+ --hash=sha256:[0-9a-f]{64}", one)] == []


# -------------------------------------------------------------------------------------------- the command


def judge(*arguments, **environment):
    line = [sys.executable, "-m", "tests.judge", *arguments]
    return subprocess.run(
        line, cwd=REPO, env={**os.environ, **environment}, capture_output=True, encoding="utf-8", timeout=60
    )


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("lighthouse", "Lighthouse needs node 18.16 or newer and npm: install them, and run the same command again.\n"),
        ("firefox", "SWARFBOOK_FIREFOX names nothing-of-the-sort, which is no Firefox.\n"),
    ],
)
def test_what_is_missing_is_said_in_one_line(name, said, tmp_path):
    result = judge(name, PATH=str(tmp_path), SWARFBOOK_FIREFOX="nothing-of-the-sort")
    assert (result.returncode, result.stdout, result.stderr) == (2, "", said)


def test_a_firefox_is_asked_for_where_there_is_none(monkeypatch):
    monkeypatch.delenv(firefox.VARIABLE, raising=False)
    monkeypatch.setattr(firefox.shutil, "which", lambda name: None)
    with pytest.raises(Stop, match="There is no Firefox here: install one"):
        firefox.find()


@pytest.mark.parametrize(("arguments", "said"), [(["luck"], "no such judge: luck"), (["--runs", "0"], "1 or more")])
def test_a_judge_that_is_none_and_no_runs_are_refused(arguments, said):
    result = judge(*arguments)
    assert result.returncode == 2
    assert said in result.stderr
