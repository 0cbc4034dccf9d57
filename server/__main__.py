"""`python3 -m server [--host 127.0.0.1] [--port 8137]`: set up if need be, then serve."""

import argparse
import errno
import logging
import signal
import socket
import sys

from server.launch import Stop, check_version, prepare, run, say

# Sockets are read and written apart from the threads, so that a slow telephone holds up nobody else.
WAITRESS = {
    "threads": 4,
    "channel_timeout": 30,  # s without a byte
    "cleanup_interval": 10,  # s
    "connection_limit": 500,
    "asyncore_use_poll": True,
    "max_request_header_size": 32 * 1024,  # bytes
    "max_request_body_size": 64 * 1024,  # bytes
    "ident": None,
}


def serve(arguments: "list[str]") -> int:
    """Serve until Ctrl+C."""
    check_version(sys.version_info[:3])
    parser = argparse.ArgumentParser("python3 -m server", description="Serve Swarfbook.")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on; 0.0.0.0 is every one (%(default)s)")
    parser.add_argument("--port", default=8137, type=port, help="port to listen on; 0 is any free one (%(default)s)")
    parser.add_argument(
        "--withdraw-offline-copy", action="store_true", help="take the offline copy back from every device that has one"
    )
    options = parser.parse_args(arguments)
    prepare("server", arguments)
    # The port is taken before anything slow is done.
    with listen(options.host, options.port) as listener:
        from server.app import create_app
        from server.channel import create_server

        logging.getLogger("waitress.queue").setLevel(logging.ERROR)  # a short queue is no news
        app = create_app(withdrawn=options.withdraw_offline_copy)
        server = create_server(app, sockets=[listener], **WAITRESS)
        signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
        say(f"Swarfbook is open at {addresses(*listener.getsockname()[:2])}  (Ctrl+C stops it)")
        server.run()
    return 0


def port(text: str) -> int:
    if not (text.isascii() and text.isdigit() and int(text) < 65536):
        raise argparse.ArgumentTypeError(f"{text} is not a port: 0 to 65535")
    return int(text)


def listen(host: str, port: int) -> socket.socket:
    """Return a socket that listens, or say why there can be none."""
    try:
        family = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0][0]
        return socket.create_server((host, port), family=family)
    except (socket.gaierror, UnicodeError) as error:
        raise Stop(f"{host!r} is no address of this machine: leave --host out, or see its network settings.") from error
    except OSError as error:
        if error.errno == errno.EADDRINUSE:
            raise Stop(f"Port {port} is taken: stop what uses it, or choose another with --port.") from error
        if error.errno == errno.EACCES:
            raise Stop(f"Port {port} is not for everybody: choose one above 1023 with --port.") from error
        raise Stop(f"Cannot listen on {host}: {error.strerror}.") from error


def addresses(host: str, port: int) -> str:
    """Return what to open for a socket's own address: for one that listens everywhere, here and from a telephone."""
    if host in ("0.0.0.0", "::"):
        others = f", from other machines at {url(outward(), port)}" if host == "0.0.0.0" else ""
        return url("127.0.0.1" if host == "0.0.0.0" else "::1", port) + others
    return url(host, port)


def url(host: str, port: int) -> str:
    return f"http://[{host}]:{port}" if ":" in host else f"http://{host}:{port}"


def outward() -> str:
    """Return the address that this machine has on its network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # a datagram socket sends nothing on connecting; the address is RFC 5737's
        except OSError:
            return "127.0.0.1"
        return str(probe.getsockname()[0])


if __name__ == "__main__":
    run(serve)
