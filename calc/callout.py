"""Drawing notation -> (calculation, typed inputs): "30 H7/k6", "6206 C3", "30.02 @ 38C".

There is no notation of our own here. Each calculation declares how it is written, as patterns of its inputs,
and each input knows its own shape and reads its own piece; a text means what all its pieces can be read as.
Words between the inputs may be written in capitals, and "x" as × or *.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from calc import units
from calc.catalogue import catalogue
from calc.model import Calculation, Choice, InputError, Notation, Number, Numbers
from calc.run import convert

MOST = 8  # meanings offered
WORD = 3  # letters before a word asks for something by its name
_PLACE = re.compile(r"\{(\w+)(=[^}]*)?\}")


@dataclass(frozen=True)
class Pattern:
    """One way to write one calculation: its fields in order, with what is set without being written.

    `parts` holds the whole as a regular expression, cut in front of each field; they are put together when first
    needed, as there are many and a line needs few. `words` are those that stand in front of each field, and at the end.
    """

    calculation: Calculation
    fields: tuple[str, ...]
    fixed: tuple[tuple[str, str], ...]
    parts: tuple[str, ...]
    words: tuple[frozenset[str], ...]

    def whole(self, line: "Line") -> "re.Match[str] | None":
        """The pieces of a complete call-out."""
        if not self.words[-1] <= line.words:
            return None
        return _compiled("".join(self.parts)).fullmatch(line.text)

    def beginning(self, count: int, line: "Line") -> "re.Match[str] | None":
        """The pieces of one that ends before, or inside, the field of that number, with what is `started` of it."""
        if not self.words[count] <= line.words:
            return None
        so_far = "".join(self.parts[: 2 * count + 1])
        return _compiled(so_far + r"(?P<started>[A-Za-z]{0,3} ?\d{0,5}|)").fullmatch(line.text)


@dataclass(frozen=True)
class Line:
    """What was typed, tidied, and the runs of letters in it."""

    text: str
    words: frozenset[str]


def callout(text: str) -> list[tuple[str, dict[str, str]]]:
    """What `text` could mean, best first: (name of the calculation, inputs as typed). Never raises.

    First what is complete, with the most written out in front; then what a beginning could become; then what words
    alone, "tool life" or "ream", ask for by name.
    """
    if len(text) > units.LONGEST:
        return []
    clean = units.tidy(text)
    if not clean:
        return []
    found: dict[tuple[str, tuple[tuple[str, str], ...]], dict[str, str]] = {}
    line = Line(clean, frozenset(_words(clean)))
    for reading in (_complete, _beginning, _named):
        ranked = sorted(reading(line), key=lambda one: -one[0])
        for _, name, typed in ranked:
            alike = tuple((field, text.lower()) for field, text in typed.items())  # EN8 is en8
            found.setdefault((name, alike), typed)
    return [(name, typed) for (name, _), typed in found.items()][:MOST]


def _complete(line: Line) -> Iterator[tuple[float, str, dict[str, str]]]:
    for pattern in _patterns():
        match = pattern.whole(line)
        if match and (typed := _readable(pattern, match.groupdict())) is not None:
            # "608" and "63/28" are bearings before they are sizes: a notation says more than a bare number
            special = any(isinstance(pattern.calculation.input(name), Notation) for name in pattern.fields)
            yield 2 * len(pattern.fields) + special, pattern.calculation.name, typed | dict(pattern.fixed)


def _beginning(line: Line) -> Iterator[tuple[float, str, dict[str, str]]]:
    """Texts that stop before, or inside, the last field they touch; the fields after it take their defaults.

    What a field could become is offered only where nothing but fields is written: "40 en" is not "40 EN8 carbide".
    """
    for pattern in _patterns():
        for count in range(len(pattern.fields)):
            match = pattern.beginning(count, line)
            if match is None:
                continue
            typed = match.groupdict()
            started = typed.pop("started").strip()
            ready = _readable(pattern, typed)
            if ready is None:
                continue
            one = pattern.calculation.input(pattern.fields[count])
            share = count / len(pattern.fields)  # the nearer to its end, the likelier
            if not started and count:
                yield share, pattern.calculation.name, ready
            elif started and isinstance(one, Notation) and count == len(pattern.fields) - 1 and not pattern.parts[-1]:
                for entry in _endings(one, started)[:4]:
                    yield share, pattern.calculation.name, ready | {one.name: entry} | dict(pattern.fixed)


def _named(line: Line) -> Iterator[tuple[float, str, dict[str, str]]]:
    """Words and no figure: each of them begins a word of the title or, failing that, of the question."""
    if re.search(r"\d", line.text) or not line.words or min(map(len, line.words)) < WORD:
        return
    for one in catalogue().values():
        for share, text in ((2, one.title), (1, one.question)):
            known = _words(text)
            if all(any(word.startswith(asked) for word in known) for asked in line.words):
                yield share + text.lower().startswith(line.text.lower()), one.name, {}
                break


def _endings(one: Notation, started: str) -> tuple[str, ...]:
    if one.complete is not None:
        return one.complete(started)
    return tuple(entry for entry in one.common if entry.startswith(started))


def _readable(pattern: Pattern, pieces: dict[str, str]) -> dict[str, str] | None:
    """The pieces as typed when every one can be read by its own input, else None."""
    for name, piece in pieces.items():
        try:
            convert(pattern.calculation.input(name), piece)
        except InputError:
            return None
    return {name: piece.strip() for name, piece in pieces.items()}


@lru_cache(maxsize=1)
def _patterns() -> tuple[Pattern, ...]:
    return tuple(_pattern(one, written) for one in catalogue().values() for written in one.callouts)


def _pattern(calculation: Calculation, written: str) -> Pattern:
    fields: list[str] = []
    fixed: list[tuple[str, str]] = []
    parts = [""]
    words: list[frozenset[str]] = []
    so_far: frozenset[str] = frozenset()
    end = 0
    for place in _PLACE.finditer(written):
        between = written[end : place.start()]
        end = place.end()
        parts[-1] += _literal(between)
        so_far |= _words(between)
        name, setting = place.groups()
        if setting is not None:
            fixed.append((name, setting[1:]))
            continue
        words.append(so_far)
        parts += [f"(?P<{name}>{_shape(calculation, name)})", ""]
        fields.append(name)
    parts[-1] += _literal(written[end:])
    words.append(so_far | _words(written[end:]))
    return Pattern(calculation, tuple(fields), tuple(fixed), tuple(parts), tuple(words))


@lru_cache(maxsize=1024)
def _compiled(expression: str) -> "re.Pattern[str]":
    return re.compile(expression)


def _words(text: str) -> frozenset[str]:
    """The runs of letters, in small letters, but for an x by itself, which may be written ×."""
    return frozenset(re.findall(r"[a-z]+", text.lower())) - {"x"}


#: A space that is written, or may be left out: where neither two letters nor two digits would run together.
_SPACE = r"(?: |(?!(?<=[A-Za-z])[A-Za-z])(?!(?<=[\d.,])[\d.,]))"


def _literal(between: str) -> str:
    """What stands between two fields: words in capitals or not, an x by itself for any sign of times."""
    found = []
    for word, space, sign in re.findall(r"([A-Za-z]+)|( )|(.)", between):
        if space:
            found.append(_SPACE)
        elif sign or word == "x":
            found.append(f" ?{'[xX×*]' if word else re.escape(sign)} ?")
        else:
            found.append(f"(?i:{word})")
    return "".join(found)


_quantity = lru_cache(maxsize=None)(units.shape)


def _shape(calculation: Calculation, name: str) -> str:
    one = calculation.input(name)
    match one:
        case Number():
            return _quantity(one.kind)
        case Numbers():
            return f"{_quantity(one.kind)}(?:[; ]+{_quantity(one.kind)})*"
        case Choice():
            return "|".join(f"(?i:{re.escape(word)})" for word in one.options)
        case Notation():
            return one.pattern
