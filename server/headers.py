"""The headers that every response carries: errors, 304s and plain files included."""

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

#: The engine is WebAssembly, hence 'wasm-unsafe-eval'; nothing inline, nothing evaluated, nothing from elsewhere.
#: A worker takes its policy from its own response, so this goes on scripts as well as on pages.
CONTENT_SECURITY_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self' 'wasm-unsafe-eval'",
        "worker-src 'self'",
        "connect-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)

#: Clipboard and share are left as they are: the page needs them.
SECURITY: Mapping[str, str] = MappingProxyType(
    {
        "Content-Security-Policy": CONTENT_SECURITY_POLICY,
        "X-Content-Type-Options": "nosniff",
        "Referrer-Policy": "no-referrer",
        "Cross-Origin-Opener-Policy": "same-origin",
        "Cross-Origin-Resource-Policy": "same-origin",
        "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    }
)

#: Ask again each time, and keep what is there when it is still the same.
ASK_AGAIN = "no-cache"
#: The address names the version: what is under it never changes.
FOR_EVER = "public, max-age=31536000, immutable"
#: Refusals of the request itself; nothing to keep.
KEEP_NOT = "no-store"


def secured(app: "WSGIApplication") -> "WSGIApplication":
    """`app` with the security headers on whatever it answers.

    They are put on below Flask, which would check and copy each of them twice for every response.
    """
    fields = list(SECURITY.items())

    def answer(environ: "WSGIEnvironment", start_response: "StartResponse") -> Iterable[bytes]:
        def start(status: str, headers: list[tuple[str, str]], problem: Any = None, /) -> Callable[[bytes], object]:
            return start_response(status, headers + fields, problem)

        return app(environ, start)

    return answer
