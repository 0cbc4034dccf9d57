"""What is typed while the clock runs: inputs that are answered, no two alike, so that none is answered from memory."""

from calc import answer, catalogue
from calc.model import CalcError, Choice, Notation
from tests.edges import Typed, at_random

NEAR = 400  # random inputs looked through


def answered(name: str, count: int) -> list[Typed]:
    """Up to `count` different random inputs that the calculation answers."""
    found = {tuple(typed.items()): typed for typed in at_random(name, NEAR) if is_answered(name, typed)}
    return list(found.values())[:count]


def keyed(name: str, count: int) -> tuple[str, list[str]]:
    """The first field that one types in, and up to `count` texts for it that are answered, all else at its default.

    Where there are fewer texts, they come round again, never the same twice running.
    """
    field = next(one for one in catalogue()[name].inputs if not isinstance(one, Choice))
    random = [typed[field.name] for typed in at_random(name, NEAR) if typed.get(field.name)]
    usual = field.common if isinstance(field, Notation) else ()
    texts = [text for text in dict.fromkeys((*usual, *random)) if is_answered(name, {field.name: text})]
    if len(texts) < 2:
        raise LookupError(f"{name}: too few texts for {field.name} are answered")
    return field.name, [texts[place % len(texts)] for place in range(count)]


def is_answered(name: str, typed: Typed) -> bool:
    try:
        answer(name, typed)
    except CalcError:
        return False
    return True
