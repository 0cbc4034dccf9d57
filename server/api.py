"""The JSON: what can be worked out, and the answers, byte for byte those of `calc.answer_json`."""

import json
from functools import lru_cache
from typing import Any

from flask import Blueprint, Response, request

from calc import answer_json, catalogue
from calc.catalogue import SUBJECTS, look_up
from calc.kinds import KINDS, SYMBOLS
from calc.model import Calculation, Choice, Input, NoSuchCalculation, Notation, Number, Numbers
from calc.run import problems_of, span
from calc.tables import sources
from calc.units import offered
from server import delivery, headers
from server.assets import TYPES, Assets
from server.delivery import Content
from server.query import asked, refusal

JSON = TYPES[".json"]
KEPT = 512  # answers; the same link is opened by everybody it was sent to


def routes(assets: Assets) -> Blueprint:
    """`/api` for the declarations, `/api/<name>?<inputs>` for an answer."""
    api = Blueprint("api", __name__, url_prefix="/api")
    declared = as_json({"version": assets.version, "calculations": [declaration(one) for one in catalogue().values()]})

    @api.get("")
    def everything() -> Response:
        return delivery.respond(declared, headers.ASK_AGAIN)

    @api.get("/<name>")
    def one_answer(name: str) -> Response:
        given = asked(request)
        try:
            refused = refusal(look_up(name), given)
        except NoSuchCalculation as unknown:
            return delivery.respond(refusal_json(name, unknown), headers.KEEP_NOT, 404)
        if refused:
            return delivery.respond(refusal_json(name, refused), headers.KEEP_NOT, 422)
        content, status = answered(name, tuple(given.typed.items()))
        return delivery.respond(content, headers.ASK_AGAIN if status == 200 else headers.KEEP_NOT, status)

    return api


@lru_cache(maxsize=KEPT)
def answered(name: str, typed: tuple[tuple[str, str], ...]) -> tuple[Content, int]:
    """The answer of a known calculation and its status: 200, or 422 with what is wrong."""
    text = answer_json(name, dict(typed))
    status = 422 if text.startswith(f'{{"name":"{name}","problems":') else 200
    return Content(text.encode(), JSON, waiting=True), status


def refusal_json(name: str, refused: Any) -> Content:
    """A refusal in the words and the shape of `calc.answer_json`."""
    return as_json({"name": name, "problems": problems_of(refused)})


def as_json(body: Any) -> Content:
    """Any plain records as a JSON body."""
    return Content(json.dumps(body, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode(), JSON)


def declaration(one: Calculation) -> dict[str, Any]:
    """A calculation as plain records: all that a program needs to ask for its answer."""
    return {
        "name": one.name,
        "title": one.title,
        "question": one.question,
        "subject": SUBJECTS[one.subject],
        "page": f"/c/{one.name}",
        "answer": f"/api/{one.name}",
        "callouts": one.callouts,
        "sources": {key: sources()[key] for key in one.sources},
        "inputs": [_input(each) for each in one.inputs],
    }


def _input(one: Input) -> dict[str, Any]:
    said = {"name": one.name, "label": one.label, "help": one.help, "default": one.default, "optional": one.optional}
    match one:
        case Number() | Numbers():
            return {
                **said,
                "sort": "number" if isinstance(one, Number) else "numbers",
                "kind": one.kind,
                "unit": SYMBOLS[KINDS[one.kind].own],
                "units": offered(one.kind),
                "limits": {"low": one.low, "high": one.high, "low_included": not one.above, "text": span(one)},
                **({"most": one.most} if isinstance(one, Numbers) else {}),
            }
        case Choice():
            return {**said, "sort": "choice", "options": dict(one.options)}
        case Notation():
            return {**said, "sort": "notation", "common": one.common}
