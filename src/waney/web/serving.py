"""Serving: where the app listens, and what the terminal says of it."""

from __future__ import annotations

import socket
import sys
from dataclasses import dataclass
from io import StringIO

import uvicorn
from starlette.applications import Starlette

LOOPBACK, EVERYWHERE = "127.0.0.1", "0.0.0.0"
PORT = 8731
AUTHORITY = "authority.pem"
LAN = """\
Everybody in this network can look at the yard now, and sign in if they know a password. Do this in the shop's own network
only, not in a guest network or a café. Without --tls the network can also read along."""

TRUST = """\
Once for each phone: open {address} there. The phone warns, because it does not know this yard yet. Go on, keep the file, and tell
the phone's settings to trust it as an authority. Trust it only if its fingerprint is
{fingerprint}"""

TAKEN = """\
Somebody listens on port {port} of this machine already: the yard may be served in another window. End it there (Ctrl-C), or take
another port: waney serve --port {other}"""


@dataclass(frozen=True)
class Listening:
    """Where to listen. lan: in the network too; certificate, key and authority: files, for https."""

    port: int = PORT
    lan: bool = False
    certificate: str = ""
    key: str = ""
    authority: str = ""

    @property
    def host(self) -> str:
        """The card it listens on."""
        return EVERYWHERE if self.lan else LOOPBACK

    @property
    def secure(self) -> bool:
        """Whether it is https."""
        return bool(self.certificate)

    def addresses(self) -> tuple[str, ...]:
        """What to type into a browser: on this machine, then on others."""
        scheme = "https" if self.secure else "http"
        hosts = ("localhost", *((here_in_network(),) if self.lan else ()))
        return tuple(f"{scheme}://{host}:{self.port}/" for host in hosts)


def as_code(address: str, encoding: str) -> str:
    """The address as a QR code of characters, to be held before a phone; empty where the terminal cannot write them."""
    import segno  # only here: a start without --lan does not wait for it

    out = StringIO()
    segno.make_qr(address).terminal(out, compact=True)
    code = out.getvalue()
    try:
        code.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return ""
    return code


def here_in_network() -> str:
    """This machine's address in its network; nothing is sent to find it out."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address for examples (RFC 5737): it only chooses the card
            return str(probe.getsockname()[0])
        except OSError:
            return socket.gethostname()


def serve(app: Starlette, listening: Listening) -> None:
    """Serve until somebody stops it."""
    uvicorn.run(
        app,
        host=listening.host,
        port=listening.port,
        log_level="warning",
        access_log=False,
        server_header=False,
        ssl_certfile=listening.certificate or None,
        ssl_keyfile=listening.key or None,
    )


def free(listening: Listening) -> bool:
    """Whether nobody listens there yet."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        if sys.platform != "win32":  # there it would let two listen at once
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((listening.host, listening.port))
        except OSError:
            return False
        return True
