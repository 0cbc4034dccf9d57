"""The offline copy: the list of every address that the app needs without a network, and the worker that keeps it."""

import hashlib
import json
import threading
from dataclasses import asdict, dataclass

from flask import Blueprint, Flask, Response, current_app
from werkzeug.exceptions import NotFound

from calc import catalogue
from server import delivery, headers
from server.assets import TYPES, WORKER, Assets
from server.delivery import Content
from server.pages import NOT_HERE


@dataclass(frozen=True)
class Listed:
    """One address of the offline copy, with the SHA-256 in hex and the length of its body as it is."""

    url: str
    sha256: str
    bytes: int


def pages() -> tuple[str, ...]:
    """The pages that open without a network; a calculation's with its defaults."""
    return ("/", "/shop", NOT_HERE, *(f"/c/{name}" for name in catalogue()))


def listing(app: Flask, assets: Assets) -> tuple[Listed, ...]:
    """Every file of the offline copy. The pages are those that `app` serves, byte for byte.

    RuntimeError when a page does not answer: half a copy is not made.
    """
    found = []
    browser = app.test_client()
    for url in pages():
        page = browser.get(url)
        if page.status_code != 200:
            raise RuntimeError(f"{url} answers {page.status_code}: no offline copy without it")
        found.append(Listed(url, hashlib.sha256(page.data).hexdigest(), len(page.data)))
    for url, content in assets.needed_offline().items():
        found.append(Listed(url, content.sha256, len(content.body)))
    return tuple(found)


def version(files: tuple[Listed, ...]) -> str:
    """Twelve hex digits that change with any address or byte of the copy."""
    lines = "\n".join(f"{one.url} {one.sha256}" for one in files)
    return hashlib.sha256(lines.encode()).hexdigest()[:12]


def worker(script: bytes, files: tuple[Listed, ...]) -> Content:
    """The service worker with the list in front, so that it differs as soon as any file does."""
    listed = {"version": version(files), "files": [asdict(one) for one in files]}
    line = f"self.OFFLINE = {json.dumps(listed, separators=(',', ':'))};\n"
    return Content(line.encode() + script, TYPES[".js"])


class Worker:
    """The worker as served: made when it is first asked for, since it takes every page to make it."""

    def __init__(self, assets: Assets, withdrawn: bool) -> None:
        self._assets = assets
        self._withdrawn = withdrawn
        self._made: Content | None = None
        self._lock = threading.Lock()

    def content(self, app: Flask) -> Content:
        """The script; NotFound when web/ has none."""
        script = self._assets.withdraw if self._withdrawn else self._assets.worker
        if script is None:
            raise NotFound("There is no such file.")
        with self._lock:
            if self._made is None:
                self._made = (
                    Content(script, TYPES[".js"]) if self._withdrawn else worker(script, listing(app, self._assets))
                )
            return self._made


def routes(assets: Assets, withdrawn: bool) -> Blueprint:
    """The address of the service worker, or of what withdraws it; its place at the root gives it the whole app."""
    offline = Blueprint("offline", __name__)
    made = Worker(assets, withdrawn)

    @offline.get(f"/{WORKER}")
    def script() -> Response:
        return delivery.respond(made.content(current_app), headers.ASK_AGAIN)

    return offline
