"""The pages. A calculation's page comes with its answer in it, and in its title and description."""

from collections.abc import Mapping
from functools import lru_cache

from flask import Blueprint, Response, render_template, request
from markupsafe import Markup

from calc import catalogue, sheet
from calc.catalogue import SUBJECTS, look_up
from calc.model import Calculation, NoSuchCalculation, Refused
from calc.owned import said, things
from calc.shop import SHOP
from server import delivery, headers
from server.assets import TYPES, Assets
from server.delivery import Content
from server.fields import fields, folds
from server.query import asked, canonical, refusal

HTML = TYPES[".html"]
NOT_HERE = "/not-here"  # what the offline copy shows for an address that is not in it
PURPOSE = "Fits, bearing seats, keys, speeds, passes and cut lengths, answered at the bench, with or without a network."


def routes(assets: Assets) -> Blueprint:
    """`/`, `/c/<name>?<inputs>` and `/shop`."""
    pages = Blueprint("pages", __name__)

    @pages.app_context_processor
    def everywhere() -> dict[str, object]:
        return {
            "asset": assets.address,
            "version": assets.version,
            "modules": assets.modules,
            "interpreter": assets.interpreter,
            "subjects": subjects(),
        }

    @pages.get("/")
    def bench() -> Response:
        text = asked(request).typed.get("text", "")
        meanings = Markup(sheet.callout_sheet(text))
        return page("bench.html", title="Bench", description=PURPOSE, canonical="/", text=text, meanings=meanings)

    @pages.get("/shop")
    def shop() -> Response:
        description = "My lathes, mills, saws, tools and prices, and how Swarfbook looks: kept on this device."
        owned = [(one, fields(one.inputs, {}, {}), said(one, {})) for one in SHOP.values()]
        return page("shop.html", title="Shop", description=description, canonical="/shop", owned=owned)

    @pages.get(NOT_HERE)
    def not_here() -> Response:
        message = "This page is not in the offline copy, and there is no network to ask. The Bench has all that is."
        return error("Not here without a network", message, 200)

    @pages.get("/c/<name>")
    def calculation(name: str) -> Response:
        given = asked(request)
        try:
            wanted = look_up(name)
        except NoSuchCalculation as unknown:
            return error("No such calculation", f"{unknown} All of them are on the Bench.", 404)
        return calculated(
            wanted,
            given.typed,
            refusal(wanted, given),
            request.query_string.decode("utf-8", "replace"),
        )

    return pages


def calculated(
    calculation: Calculation, typed: Mapping[str, str], refused: Refused | None, rendered_for: str
) -> Response:
    """The page of a calculation for what was typed: 200 with the answer, 422 with what is wrong beside each field.

    `rendered_for` is the query as it came: a page from the offline copy is told by it from one made for this link.
    """
    parts = sheet.refused(calculation, typed, refused) if refused else sheet.parts(calculation.name, typed)
    problems = sheet_problems(parts)
    taken = things(calculation)
    query = canonical(calculation, typed)
    return page(
        "calculation.html",
        status=422 if problems else 200,
        title=parts["title"],
        description=calculation.question if problems else f"{calculation.question} {parts['spoken']}",
        canonical=f"/c/{calculation.name}" + (f"?{query}" if query else ""),
        calculation=calculation,
        fields=fields(tuple(one for one in calculation.inputs if not one.of), typed, problems),
        folds=folds(taken, typed, problems),
        of=" ".join(f"{sort}:{','.join(one.name for one in inputs)}" for sort, inputs in taken.items()),
        headline=Markup(parts["headline"]),
        detail=Markup(parts["detail"]),
        spoken=parts["spoken"],
        rendered_for=rendered_for,
    )


def sheet_problems(parts: Mapping[str, object]) -> dict[str, str]:
    """What is wrong by the name of the field; the first of each, since a field shows one sentence."""
    found: dict[str, str] = {}
    listed = parts["problems"]
    assert isinstance(listed, list)
    for one in listed:
        found.setdefault(one["name"], one["message"])
    return found


@lru_cache(maxsize=1)
def subjects() -> list[tuple[str, list[Calculation]]]:
    """The headings that have calculations, each with its own."""
    everything = catalogue().values()
    grouped = [
        (heading, [one for one in everything if one.subject == subject]) for subject, heading in SUBJECTS.items()
    ]
    return [(heading, calculations) for heading, calculations in grouped if calculations]


def error(heading: str, message: str, status: int) -> Response:
    """The page that says what went wrong with the request."""
    return page(
        "error.html", status=status, title=heading, description=message, canonical="/", heading=heading, message=message
    )


def page(template: str, *, status: int = 200, **context: object) -> Response:
    """A rendered page: never kept without asking whether it is still the same."""
    body = render_template(template, **context).encode()
    return delivery.respond(
        Content(body, HTML, waiting=True), headers.ASK_AGAIN if status == 200 else headers.KEEP_NOT, status
    )
