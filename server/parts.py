"""Pieces for the page while somebody types: the same text that the browser's own engine would give."""

from functools import lru_cache

from flask import Blueprint, Response, request
from werkzeug.exceptions import NotFound

from calc import sheet
from calc.catalogue import look_up
from calc.model import InputError, NoSuchCalculation, Refused
from calc.owned import shop_json
from calc.qr import qr
from calc.shop import SHOP
from server import delivery, headers
from server.api import JSON, KEPT, refusal_json
from server.assets import TYPES
from server.delivery import Content
from server.query import asked


def routes() -> Blueprint:
    """`/part/sheet/<name>?<inputs>`, `/part/callout?text=`, `/part/shop/<sort>?<inputs>` and `/part/qr?link=`."""
    parts = Blueprint("parts", __name__, url_prefix="/part")

    @parts.get("/sheet/<name>")
    def answer(name: str) -> Response:
        given = asked(request)
        try:
            look_up(name)
        except NoSuchCalculation as unknown:
            return delivery.respond(refusal_json(name, unknown), headers.KEEP_NOT, 404)
        if given.twice:
            text = sheet.sheet(name, given.typed, given.twice)
            return delivery.respond(Content(text.encode(), JSON, waiting=True), headers.KEEP_NOT)
        return delivery.respond(worked_out(name, tuple(given.typed.items())), headers.ASK_AGAIN)

    @parts.get("/callout")
    def callout() -> Response:
        mine = dict(asked(request).typed)
        fragment = sheet.callout_sheet(mine.pop("text", ""), mine)
        return delivery.respond(Content(fragment.encode(), TYPES[".html"], waiting=True), headers.ASK_AGAIN)

    @parts.get("/shop/<sort>")
    def thing(sort: str) -> Response:
        if sort not in SHOP:
            raise NotFound(f"The Shop has no “{sort[:40]}”. It has: {', '.join(SHOP)}.")
        text = shop_json(sort, asked(request).typed)
        return delivery.respond(Content(text.encode(), JSON, waiting=True), headers.ASK_AGAIN)

    @parts.get("/qr")
    def code() -> Response:
        try:
            drawn = qr(_link(asked(request).typed.get("link", "")))
        except InputError as problem:
            return delivery.respond(refusal_json("qr", Refused((problem,))), headers.KEEP_NOT, 422)
        return delivery.respond(Content(drawn.encode(), TYPES[".svg"], waiting=True), headers.ASK_AGAIN)

    return parts


@lru_cache(maxsize=KEPT)
def worked_out(name: str, typed: tuple[tuple[str, str], ...]) -> Content:
    """The pieces of a known calculation's page, as JSON."""
    return Content(sheet.sheet(name, dict(typed)).encode(), JSON, waiting=True)


def _link(link: str) -> str:
    if not link.strip():
        raise InputError(
            "link", "There is no link to draw. Give it as link=, for example link=https://example.org/c/fit."
        )
    return link
