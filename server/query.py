"""What a request may carry, and the typed inputs in it."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qsl, urlencode

from flask import Request
from werkzeug.exceptions import BadRequest, MethodNotAllowed, RequestEntityTooLarge, RequestURITooLarge

from calc.model import Calculation, Refused
from calc.run import repeated

METHODS = ("GET", "HEAD")
LONGEST_QUERY = 8 * 1024  # bytes
LONGEST_PATH = 1024  # characters
MOST_PARAMETERS = 64


@dataclass(frozen=True)
class Asked:
    """The parameters of one request: `typed` with the first of each, `twice` with the names given more than once."""

    typed: Mapping[str, str]
    twice: tuple[str, ...]


def guard(request: Request) -> None:
    """Refuse what no page and no program of ours sends. Raises the HTTPException that says why."""
    if request.method not in METHODS:
        raise MethodNotAllowed(METHODS, "Only GET and HEAD are answered: nothing is kept here.")
    if request.content_length or "Transfer-Encoding" in request.headers:
        raise RequestEntityTooLarge("A request carries no body here.")
    if len(request.query_string) > LONGEST_QUERY:
        raise RequestURITooLarge(f"The address carries more than {LONGEST_QUERY} bytes of input.")
    if len(request.path) > LONGEST_PATH:
        raise RequestURITooLarge(f"The address is longer than {LONGEST_PATH} characters.")


def asked(request: Request) -> Asked:
    """The parameters of `request`; BadRequest when there are more than MOST_PARAMETERS."""
    try:
        pairs = parse_qsl(
            request.query_string.decode("utf-8", "replace"),
            keep_blank_values=True,
            errors="replace",
            max_num_fields=MOST_PARAMETERS,
        )
    except ValueError as many:
        raise BadRequest(f"The address carries more than {MOST_PARAMETERS} inputs.") from many
    typed: dict[str, str] = {}
    twice: dict[str, None] = {}
    for name, text in pairs:
        if name in typed:
            twice[name] = None
        else:
            typed[name] = text
    return Asked(typed, tuple(twice))


def refusal(calculation: Calculation, given: Asked) -> Refused | None:
    """Every problem of a request that gives an input more than once; None when it gives each once."""
    return repeated(calculation, given.typed, given.twice)


def canonical(calculation: Calculation, typed: Mapping[str, str]) -> str:
    """The inputs that differ from their defaults as a query, in the order of the declaration; "" for none."""
    return urlencode(
        [
            (one.name, typed[one.name])
            for one in calculation.inputs
            if one.name in typed and typed[one.name] != (one.default or "")
        ]
    )
