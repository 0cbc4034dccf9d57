"""Bytes on the wire that are no request, or not quite one: refused with the same headers, and in good time."""

import re
import socket
import threading
import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from server import headers
from server.__main__ import WAITRESS, listen
from server.channel import create_server

MOST = WAITRESS["max_request_header_size"]
REFUSED = [
    (b"no request\r\n\r\n", 400),
    (b"get / HTTP/1.1\r\n\r\n", 400),
    (b"GET /\xff HTTP/1.1\r\n\r\n", 400),
    (b"GET http://[ HTTP/1.1\r\n\r\n", 400),
    (b"GET / HTTP/1.1\r\nHost\r\n\r\n", 400),
    (b"GET / HTTP/1.1\r\n folded: x\r\n\r\n", 400),
    (b"GET / HTTP/1.1\r\nHost: a\rb\r\n\r\n", 400),
    (b"GET / HTTP/1.1\r\nContent-Length: x\r\n\r\n", 400),
    (b"GET / HTTP/1.1\r\nContent-Length: " + b"9" * 5000 + b"\r\n\r\n", 400),
    (b"GET / HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\nno chunk\r\n", 400),
    (b"GET / HTTP/1.1\r\nContent-Length: 99999999\r\n\r\n", 413),
    (b"GET / HTTP/1.1\r\nCookie: ".ljust(MOST, b"x"), 431),
    (b"GET /".ljust(MOST, b"x"), 431),
    (b"GET / HTTP/1.1\r\nTransfer-Encoding: gzip\r\n\r\n", 501),
]


class Serving:
    """The app under its own server, in a thread; `waitress` may be given other settings."""

    def __init__(self, app, **other):
        listener = listen("127.0.0.1", 0)
        self.port = listener.getsockname()[1]
        self._server = create_server(app, sockets=[listener], **{**WAITRESS, **other})
        self._thread = threading.Thread(target=self._server.run)
        self._thread.start()

    def stop(self):
        self._server.trigger.pull_trigger(lambda: self._server.asyncore.close_all(self._server._map))
        self._thread.join(20)
        self._server.task_dispatcher.shutdown()

    def line(self):
        return socket.create_connection(("127.0.0.1", self.port), timeout=20)

    def said(self, sent):
        """All that comes back, headers and body, until the server closes the connection."""
        with self.line() as line:
            line.sendall(sent)
            return b"".join(iter(lambda: line.recv(65536), b""))


@pytest.fixture(scope="module")
def serving(app):
    shared = Serving(app)
    yield shared
    shared.stop()


def taken_apart(reply):
    """Status, and every header with what it says."""
    head = reply.partition(b"\r\n\r\n")[0].decode("latin-1")
    found = re.match(r"HTTP/1\.[01] (\d{3}) ", head)
    assert found, head
    return int(found[1]), [tuple(one.split(": ", 1)) for one in head.split("\r\n")[1:]]


def secured(sent):
    return [(name, [text for known, text in sent if known.lower() == name.lower()]) for name in headers.SECURITY]


def complaints(caplog):
    """What the server wrote down; a short queue is no news."""
    return [one.getMessage() for one in caplog.records if one.name != "waitress.queue"]


AS_ALWAYS = [(name, [text]) for name, text in headers.SECURITY.items()]


@pytest.mark.parametrize(("sent", "status"), REFUSED, ids=[repr(sent[:40]) for sent, _ in REFUSED])
def test_what_the_app_never_sees_is_refused_with_the_same_headers(serving, caplog, sent, status):
    found, given_back = taken_apart(serving.said(sent))
    assert found == status
    assert secured(given_back) == AS_ALWAYS
    assert dict(given_back)["Cache-Control"] == headers.KEEP_NOT
    assert dict(given_back)["Content-Type"] == "text/plain; charset=utf-8"
    assert "Server" not in dict(given_back)
    assert complaints(caplog) == []


def test_what_the_app_sees_has_them_once(serving):
    for path, status in ((b"/healthz", 200), (b"/nowhere", 404)):
        found, given_back = taken_apart(serving.said(b"GET " + path + b" HTTP/1.0\r\n\r\n"))
        assert (found, secured(given_back)) == (status, AS_ALWAYS)


def test_no_bytes_go_unanswered(serving, caplog, request):
    pieces = st.sampled_from(
        (b"GET", b" ", b"/", b"?", b"HTTP/1.1", b"\r\n", b"\r", b"\n", b"\t", b":", b"Host", b"Content-Length: 0",
         b"Transfer-Encoding: chunked", b"Expect: x", b"http://[", b"//", b"%", b"#", b"\x00", b"\xff", b"\x85",
         b"9" * 99)
    )  # fmt: skip
    count = 2000 if request.config.getoption("--long") else 60

    @settings(
        max_examples=count, derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck)
    )
    @given(st.sampled_from((b"", b"GET / HTTP/1.0\r\n", b"GET /", b"GET http://")), st.lists(pieces, max_size=12))
    def test(first, rest):
        _, given_back = taken_apart(serving.said(first + b"".join(rest) + b" HTTP/1.0 x\r\n\r\n"))
        assert secured(given_back) == AS_ALWAYS

    test()
    assert complaints(caplog) == []


def test_a_request_that_trickles_in_for_ever_is_not_waited_for(app):
    serving = Serving(app, channel_timeout=1, cleanup_interval=1)
    try:
        with serving.line() as line:
            line.settimeout(0.1)
            line.sendall(b"GET / HTTP/1.1\r\nX-Slow: ")
            began = time.monotonic()
            while time.monotonic() - began < 30:
                try:
                    line.sendall(b"x")
                    if line.recv(1) == b"":
                        break
                except TimeoutError:
                    continue
                except ConnectionError:
                    break
            assert 0.9 < time.monotonic() - began < 20
    finally:
        serving.stop()
