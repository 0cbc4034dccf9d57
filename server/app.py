"""The app: pages, JSON and files, put together. It keeps nothing; what is asked is in the address."""

from pathlib import Path

from flask import Flask, Response, request
from jinja2 import DictLoader, StrictUndefined

from server import api, assets, delivery, errors, headers, offline, pages, parts, query
from server.delivery import Content

REPO = Path(__file__).resolve().parent.parent


def create_app(
    *,
    web: Path = REPO / "web",
    calc: Path = REPO / "calc",
    templates: Path = REPO / "server" / "templates",
    withdrawn: bool = False,
) -> Flask:
    """Read the files under these folders, once, and return the app that serves them.

    `withdrawn`: take the offline copy back from every device that has one; what the user typed stays there.
    """
    app = Flask("server", static_folder=None, template_folder=None)
    files = assets.Assets(web, calc, templates)
    app.extensions["assets"] = files
    app.jinja_loader = DictLoader(files.templates)
    app.jinja_options = {"undefined": StrictUndefined, "trim_blocks": True, "lstrip_blocks": True}
    app.wsgi_app = headers.secured(app.wsgi_app)  # type: ignore[assignment, method-assign]
    app.config["PROVIDE_AUTOMATIC_OPTIONS"] = False
    app.url_map.merge_slashes = False
    app.url_map.redirect_defaults = False

    @app.before_request
    def guard() -> None:
        query.guard(request)

    @app.get("/healthz")
    def healthz() -> Response:
        return delivery.respond(Content(b"ok", assets.TEXT), headers.KEEP_NOT)

    errors.install(app)
    app.register_blueprint(pages.routes(files))
    app.register_blueprint(api.routes(files))
    app.register_blueprint(parts.routes())
    app.register_blueprint(assets.routes(files))
    app.register_blueprint(offline.routes(files, withdrawn))
    return app
