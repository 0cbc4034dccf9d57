"""`python -m calc`: the list, answers for a terminal and as JSON, call-outs, and status 2 for what cannot be used."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from calc import answer, answer_json, catalogue
from calc.__main__ import main
from calc.catalogue import SUBJECTS
from calc.model import Refused

REPO = Path(__file__).parents[2]


def run(*arguments: str, **environment: str) -> "subprocess.CompletedProcess[bytes]":
    return subprocess.run(
        [sys.executable, "-m", "calc", *arguments], cwd=REPO, env=os.environ | environment, capture_output=True,
        timeout=60, check=False,
    )  # fmt: skip


def test_alone_it_lists_every_calculation_under_its_subject(capsys):
    assert main([]) == 0
    told = capsys.readouterr().out
    places = [told.index(heading) for heading in SUBJECTS.values()]
    assert places == sorted(places)
    for one in catalogue().values():
        assert told.index(SUBJECTS[one.subject]) < told.index(f"  {one.name} ")
        assert one.question in told
        assert all(f"{each.name}=" in told for each in one.inputs)


@pytest.mark.parametrize("word", ["-h", "--help"])
def test_help_says_how_to_call_it(capsys, word):
    assert main([word]) == 0
    told = capsys.readouterr().out
    assert "python -m calc fit size=30" in told
    assert "Limits and fits" in told


@pytest.mark.parametrize("name", catalogue())
def test_every_calculation_prints_its_answer_for_a_terminal(capsys, name):
    assert main([name]) == 0
    told = capsys.readouterr()
    found = answer(name, {})
    assert told.err == ""
    assert told.out.startswith(found.title)
    lines = told.out.splitlines()
    for one in found.values:
        assert any(one.label in line and one.text in line for line in lines), one.name
    flat = " ".join(told.out.split())
    for text in (*found.cautions, *found.assumptions, *found.sources.values()):
        assert " ".join(text.split()) in flat
    assert found.verdict is None or " ".join(found.verdict.text.split()) in flat


def test_main_figures_are_marked_and_what_was_typed_is_repeated(capsys):
    assert main(["fit", "size=30", "hole=H7", "shaft=k6"]) == 0
    told = capsys.readouterr().out
    assert "size=30  hole=H7  shaft=k6" in told
    # k6 at 30 is +15/+2: ISO 286-2:2010
    assert [line.split()[-4:] for line in told.splitlines() if line.startswith("> Shaft, upper limit")] == [
        ["30.015", "mm", "1.18169", "in"]
    ]


def test_an_input_left_out_on_purpose(capsys):
    assert main(["fit", "size=30", "hole=", "shaft=k6"]) == 0
    told = capsys.readouterr().out
    assert "Hole" not in told
    assert "30.015 mm" in told


@pytest.mark.parametrize("words", [["30 H7/k6"], ["30", "H7/k6"]])
def test_a_callout_is_answered_quoted_or_not(capsys, words):
    assert main(words) == 0
    assert "Transition fit" in capsys.readouterr().out


def test_json_is_the_very_text_of_the_api(capsys):
    assert main(["fit", "size=30", "--json"]) == 0
    assert capsys.readouterr().out == answer_json("fit", {"size": "30"}) + "\n"
    assert main(["--json", "30 H7/k6"]) == 0
    assert json.loads(capsys.readouterr().out)["name"] == "fit"


def test_what_cannot_be_used_ends_with_2_and_the_messages_of_the_page(capsys):
    typed = {"size": "45 °C", "shaft": "H7", "colour": "blue"}
    with pytest.raises(Refused) as caught:
        answer("fit", typed)
    assert main(["fit", *(f"{name}={text}" for name, text in typed.items())]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.splitlines() == [f"{one.name}: {one}" for one in caught.value.problems]
    assert len(told.err.splitlines()) == 3


def test_json_of_what_cannot_be_used_ends_with_2(capsys):
    assert main(["fit", "size=0", "--json"]) == 2
    assert [one["name"] for one in json.loads(capsys.readouterr().out)["problems"]] == ["size"]


def test_a_callout_that_is_refused_ends_with_2(capsys):
    assert main(["20 t6"]) == 2
    assert "only over 24 mm" in capsys.readouterr().err


@pytest.mark.parametrize("words", [["nonsense"], ["fitt", "size=30"], ["fit", "30"]])
def test_what_is_neither_a_calculation_nor_a_callout_ends_with_2_and_the_list(capsys, words):
    assert main(words) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert f"“{' '.join(words)}” is neither a calculation nor a call-out." in told.err
    assert "Limits and fits" in told.err


def test_a_value_may_hold_an_equals_sign(capsys):
    assert main(["fit", "size=30=31"]) == 2
    assert "size: Type one number" in capsys.readouterr().err


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "utf-8"])
def test_as_a_process_it_answers_whatever_the_encoding_of_the_terminal(encoding):
    done = run("fit", "size=30", "hole=H7", "shaft=k6", PYTHONIOENCODING=encoding)
    assert (done.returncode, done.stderr) == (0, b"")
    assert "−15 µm" in done.stdout.decode("utf-8")


def test_as_a_process_it_ends_with_2_for_what_cannot_be_used():
    done = run("fit", "size=0", PYTHONIOENCODING="ascii")
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.decode("utf-8") == f"size: Give a value over 0 up to 3150 mm.{os.linesep}"


def test_a_word_that_is_no_text_is_told_as_far_as_it_can_be():
    found = run("\udcff", PYTHONUTF8="1")
    assert found.returncode == 2
    assert "“\\udcff” is neither a calculation nor a call-out" in found.stderr.decode("utf-8")


def test_a_reader_that_has_had_enough_is_no_error():
    with subprocess.Popen(
        [sys.executable, "-m", "calc", "fit"], cwd=REPO, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:  # fmt: skip
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(timeout=60) == 0
