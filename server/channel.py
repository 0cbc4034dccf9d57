"""The connection below the app: what it refuses before the app sees anything carries the same headers, and a request
that trickles in has to end some time."""

import time
from typing import Any

import waitress
from waitress.channel import HTTPChannel
from waitress.parser import HTTPRequestParser, ParsingError
from waitress.task import ErrorTask

from server import headers


class Parser(HTTPRequestParser):  # type: ignore[misc]
    """Refuses as well what its parent cannot read at all and would drop without a word, such as `GET http://[`."""

    def parse_header(self, header_plus: bytes) -> None:
        try:
            super().parse_header(header_plus)
        except ValueError as unreadable:
            raise ParsingError("The request cannot be read.") from unreadable


class Refusal(ErrorTask):  # type: ignore[misc]
    """A refusal of waitress's own, which never comes to the app."""

    def start(self) -> None:
        super().start()
        self.response_headers += [*headers.SECURITY.items(), ("Cache-Control", headers.KEEP_NOT)]


class Channel(HTTPChannel):  # type: ignore[misc]
    """One connection. The time after which a silent one is closed counts from the first byte of an unfinished request,
    so that a byte now and then does not keep it open for ever."""

    parser_class = Parser
    error_task_class = Refusal
    begun = 0.0

    def received(self, data: bytes) -> bool:
        if self.request is None:
            self.begun = time.time()
        taken = bool(super().received(data))
        if self.request is not None:
            self.last_activity = self.begun
        return taken


def create_server(app: Any, **settings: Any) -> Any:
    """As `waitress.create_server`, for one socket."""
    server = waitress.create_server(app, **settings)
    server.channel_class = Channel
    return server
