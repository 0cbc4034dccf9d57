"""What went wrong, in the form that was asked for: JSON for programs, a page for people, plain text for files."""

import logging

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, InternalServerError

from server import delivery, headers, pages
from server.api import as_json
from server.assets import TEXT
from server.delivery import Content

HEADINGS = {
    400: "The address cannot be read",
    404: "No such page",
    405: "Nothing is kept here",
    413: "Too much was sent",
    414: "The address is too long",
}
NOT_HERE = "There is nothing at this address. The Bench has every calculation."
OUR_FAULT = (
    "This is a mistake in Swarfbook, not in what you typed. It has been written down on the server; "
    "what you typed is still in the address above."
)


def install(app: Flask) -> None:
    """Answer every refusal, and every bug, of `app` from here."""
    app.register_error_handler(HTTPException, refused)
    app.register_error_handler(InternalServerError, broken)


def refused(error: HTTPException) -> Response:
    """A request that cannot be answered. Blueprints say why; an address that leads nowhere says so."""
    status = error.code or 500
    generic = error.description == type(error).description
    message = NOT_HERE if generic and status == 404 else error.description or ""
    response = _said(HEADINGS.get(status, "That did not work"), message, status)
    for name, text in error.get_headers():
        if name == "Allow":
            response.headers[name] = text
    return response


def broken(error: InternalServerError) -> Response:
    """A bug: it is logged with its traceback by then, and said plainly."""
    try:
        return _said("Swarfbook has made a mistake", OUR_FAULT, 500)
    except Exception:
        logging.getLogger(__name__).exception("the page that says so cannot be shown either")
        return delivery.respond(Content(OUR_FAULT.encode(), TEXT), headers.KEEP_NOT, 500)


def _said(heading: str, message: str, status: int) -> Response:
    if request.path == "/api" or request.path.startswith(("/api/", "/part/")):
        problem = {"name": "request", "message": message}
        return delivery.respond(as_json({"problems": [problem]}), headers.KEEP_NOT, status)
    if _is_file(request.path):
        return delivery.respond(Content(f"{message}\n".encode(), TEXT), headers.KEEP_NOT, status)
    return pages.error(heading, message, status)


def _is_file(path: str) -> bool:
    """A page has no dot in its last piece; a script that gets a page in its place leaves a blank screen."""
    return f"{path}/".startswith(("/v/", "/vendor/", "/engine/", "/healthz/")) or (
        "." in path.rsplit("/", 1)[-1] and not path.startswith("/c/")
    )
