"""A body on its way out: its ETag, the conditional answer to it, and brotli or gzip where the client takes them."""

import hashlib
import threading
import zlib
from functools import lru_cache

import brotli
from flask import Response, request
from werkzeug.http import parse_accept_header

#: Best first. What is large and stays the same from one version to the next is packed beforehand (see engine.py).
ENCODINGS = ("br", "gzip")
BROTLI_QUALITY = 6
GZIP_LEVEL = 6
#: Answers are compressed while somebody waits; beyond this quality brotli gains little on 20 kB of text.
BROTLI_WHILE_WAITING = 4
SMALLEST = 860  # bytes; less than that fills one packet either way
PACKED = ("image/png", "image/x-icon")


class Content:
    """A body with its type. What is compressed once is kept with it, so keep the object for what is asked often.

    `sha256` is that of the body as it is, in hex. `packed` is its brotli form, where that was made beforehand.
    """

    def __init__(self, body: bytes, kind: str, *, waiting: bool = False, packed: bytes | None = None) -> None:
        self.body = body
        self.kind = kind
        self.sha256 = hashlib.sha256(body).hexdigest()
        self._brotli_quality = BROTLI_WHILE_WAITING if waiting else BROTLI_QUALITY
        self._compressed: dict[str, bytes] = {} if packed is None else {"br": packed}
        self._lock = threading.Lock()

    def encoded(self, encoding: str) -> bytes | None:
        """The body in one of ENCODINGS; None where that does not make it smaller."""
        if len(self.body) < SMALLEST or self.kind in PACKED:
            return None
        with self._lock:
            if encoding not in self._compressed:
                self._compressed[encoding] = compress(self.body, encoding, self._brotli_quality)
        smaller = self._compressed[encoding]
        return smaller if len(smaller) < len(self.body) else None


def compress(body: bytes, encoding: str, quality: int = BROTLI_QUALITY) -> bytes:
    """`body` in one of ENCODINGS; the gzip header carries no time, so that equal bodies stay equal."""
    if encoding == "br":
        return bytes(brotli.compress(body, quality=quality))
    squeezer = zlib.compressobj(GZIP_LEVEL, zlib.DEFLATED, zlib.MAX_WBITS | 16)
    return squeezer.compress(body) + squeezer.flush()


@lru_cache(maxsize=64)
def choose(accepted: str) -> str:
    """The encoding for an Accept-Encoding header, "" for the body as it is."""
    wanted = dict(parse_accept_header(accepted.lower()[:400]))
    for encoding in ENCODINGS:
        if wanted.get(encoding, wanted.get("*", 0)) > 0:
            return encoding
    return ""


def respond(content: Content, caching: str, status: int = 200) -> Response:
    """The response with `content`: compressed if the client takes it, 304 if the client has it."""
    encoding = choose(request.headers.get("Accept-Encoding", ""))
    body = content.encoded(encoding) if encoding else None
    # Compressed bytes differ from one compressor to the next, so their tag promises the same content, not the
    # same bytes.
    tag = f'"{content.sha256}"' if body is None else f'W/"{content.sha256}"'
    fields = {"ETag": tag, "Cache-Control": caching, "Vary": "Accept-Encoding"}
    if status == 200 and request.if_none_match.contains_weak(content.sha256):
        return Response(status=304, headers=fields)
    if body is not None:
        fields["Content-Encoding"] = encoding
    return Response(content.body if body is None else body, status, fields, content_type=content.kind)
