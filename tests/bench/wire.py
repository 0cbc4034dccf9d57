"""What goes over the wire, as it is really served: the shell of one page, and the whole offline copy."""

import gzip
import hashlib
import http.client
import json
from dataclasses import dataclass

import brotli

from tests.bench.kit import Kit
from tests.bench.table import Bar, Row

UNPACK = {"identity": bytes, "gzip": gzip.decompress, "br": brotli.decompress}
KB, MB = 1e3, 1e6  # bytes
SHELL_BAR = Bar(150)  # kB
COPY_BARS = {"br": Bar(5.2), "gzip": Bar(6.8)}  # MB
PAGE = "/c/fit"  # the page whose shell is weighed


@dataclass(frozen=True)
class Listed:
    """One file of the offline copy, as the service worker's list names it."""

    url: str
    sha256: str


def measure(kit: Kit) -> list[Row]:
    port = kit.server.port
    script, _ = fetch(port, "/sw.js", "identity")
    files = [Listed(one["url"], one["sha256"]) for one in json.loads(listing(script.decode()))["files"]]
    shells, copies = [], []
    for encoding in UNPACK:
        sizes = {one.url: weigh(port, one, encoding) for one in files}
        worker = len(fetch(port, "/sw.js", encoding)[0])
        shell = worker + sum(size for url, size in sizes.items() if of_shell(url))
        note = "served without brotli over plain http, except to the machine itself" if encoding == "br" else ""
        shells.append(Row("wire", f"shell of one page, {encoding}", shell / KB, "kB",
                          None if encoding == "identity" else SHELL_BAR, note))  # fmt: skip
        whole = worker + sum(sizes.values())
        copies.append(Row("wire", f"whole offline copy, {encoding}", whole / MB, "MB", COPY_BARS.get(encoding), note))
    return [*shells, *copies, Row("wire", "files of the offline copy", len(files), "")]


def listing(script: str) -> str:
    """The list that the server puts in front of the service worker, as JSON."""
    return script.partition("self.OFFLINE = ")[2].partition(";\n")[0]


def of_shell(url: str) -> bool:
    """Whether a first visit to one page may fetch it: the page, scripts, styles, icons and manifest, not the engine."""
    if url.startswith("/v/"):
        return url.split("/")[3] in ("scripts", "styles", "icons")
    return url == PAGE or url in ("/manifest.webmanifest", "/favicon.ico") or url.startswith("/vendor/idb-")


def weigh(port: int, one: Listed, encoding: str) -> int:
    """Bytes of the body as served; ValueError when, unpacked, it is not the file of the list."""
    body, packed = fetch(port, one.url, encoding)
    if hashlib.sha256(UNPACK[packed](body)).hexdigest() != one.sha256:
        raise ValueError(f"{one.url} served as {packed} is not the file that the list names")
    return len(body)


def fetch(port: int, url: str, encoding: str) -> tuple[bytes, str]:
    """The body as it comes, still packed, and how it is packed: as asked, or "identity" where that is smaller."""
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    try:
        line.putrequest("GET", url, skip_accept_encoding=True)
        line.putheader("Accept-Encoding", encoding)
        line.endheaders()
        reply = line.getresponse()
        if reply.status != 200:
            raise ValueError(f"{url} answered {reply.status}")
        return reply.read(), reply.getheader("Content-Encoding", "identity")
    finally:
        line.close()
