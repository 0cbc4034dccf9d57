"""The command line: `python -m calc` lists, `python -m calc fit size=30 shaft=k6` answers, `--json` in JSON.

`python -m calc "30 H7/k6"` takes a call-out. Input that cannot be used ends with status 2.
"""

import io
import os
import sys
import textwrap
from collections.abc import Sequence

from calc import answer, answer_json, catalogue
from calc.callout import callout
from calc.catalogue import SUBJECTS
from calc.model import Answer, NoSuchCalculation, Refused
from calc.run import problems_of
from calc.sheet import LEVEL_WORDS
from calc.units import plain

WIDTH = 88


def main(arguments: Sequence[str]) -> int:
    """Print what was asked for; 0 when answered, 2 when the input cannot be used."""
    words = [one for one in arguments if one != "--json"]
    as_json = len(words) != len(arguments)
    if not words:
        print(listing())
        return 0
    if words[0] in ("-h", "--help"):
        print((__doc__ or "") + "\n" + listing())
        return 0
    if words[0] in catalogue() and all("=" in one for one in words[1:]):
        name, typed = words[0], dict(one.split("=", 1) for one in words[1:])
    else:
        meanings = callout(" ".join(words))
        if not meanings:
            print(f"“{' '.join(words)}” is neither a calculation nor a call-out.\n\n{listing()}", file=sys.stderr)
            return 2
        name, typed = meanings[0]
    if as_json:
        text = answer_json(name, typed)
        print(text)
        return 2 if '"problems":' in text[: len(name) + 30] else 0
    try:
        print(page(answer(name, typed)))
    except (Refused, NoSuchCalculation) as refusal:
        for one in problems_of(refusal):
            print(f"{one['name']}: {one['message']}", file=sys.stderr)
        return 2
    return 0


def listing() -> str:
    """Every calculation by subject, with its question and its inputs."""
    lines = []
    for subject, heading in SUBJECTS.items():
        lines.append(heading)
        for one in catalogue().values():
            if one.subject == subject:
                lines.append(f"  {one.name:20} {one.question}")
                lines += textwrap.wrap(" ".join(f"{each.name}={each.default or ''}" for each in one.inputs), WIDTH,
                                       initial_indent=" " * 23, subsequent_indent=" " * 23)  # fmt: skip
    return "\n".join(lines)


def page(found: Answer) -> str:
    """An answer for a terminal."""
    lines = [found.title, "  " + "  ".join(f"{name}={text}" for name, text in found.typed.items() if text), ""]
    widest = max(len(one.label) for one in found.values)
    for one in found.values:
        mark = ">" if one.name in found.main else " "
        lines.append(f"{mark} {one.label:{widest}}  {one.text:>14}  {one.also:>14}".rstrip())
    if found.verdict:
        lines += ["", *_wrapped(f"{LEVEL_WORDS[found.verdict.level]}: {found.verdict.text}")]
    for table in found.tables:
        lines += ["", table.title, *_columns((table.columns, *table.rows)), *_wrapped(table.note)]
    for heading, texts in (
        ("Mind", found.cautions),
        ("Assumed", found.assumptions),
        ("Sources", found.sources.values()),
    ):
        if texts:
            lines += ["", heading, *(line for text in texts for line in _wrapped(f"- {text}"))]
    if found.working:
        lines += [
            "",
            "Working",
            *(f"  {one.formula} = {plain(one.result)} {one.unit}".rstrip() for one in found.working),
        ]
    return "\n".join(lines)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent="  ", break_on_hyphens=False)


def _columns(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]
    return [
        "  " + "  ".join(f"{cell:{width}}" for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    ]


def run(arguments: Sequence[str]) -> int:
    """`main` on the real terminal, whatever its encoding, and quiet when the reader of a pipe has had enough."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")  # a word may be no UTF-8
    try:
        status = main(arguments)
        sys.stdout.flush()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return status


if __name__ == "__main__":
    sys.exit(run(sys.argv[1:]))
