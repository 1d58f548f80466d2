"""The yard's own authority: what it signs is trusted by who trusts it, and by nobody else; keys are for their owner."""

from __future__ import annotations

import http.server
import ssl
import stat
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509

from waney.web.authority import MACHINE_LASTS, RENEW, Certified, certified

NOW = datetime.now(UTC)
HOSTS = ["localhost", "127.0.0.1"]


@contextmanager
def served(files: Certified) -> Iterator[int]:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(files.certificate, files.key)
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), http.server.BaseHTTPRequestHandler) as server:
        server.socket = context.wrap_socket(server.socket, server_side=True)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server.server_address[1]
        server.shutdown()


def greeted(port: int, host: str, trusted: Path | None) -> str | None:
    """Who is there, for somebody who trusts an authority (openssl's own judgement)."""
    import socket

    context = ssl.create_default_context(cafile=trusted)
    with socket.create_connection(("127.0.0.1", port)) as plain, context.wrap_socket(plain, server_hostname=host) as safe:
        return safe.version()


def test_openssl_trusts_the_machine_by_the_authority_and_not_without_it(tmp_path: Path) -> None:
    files = certified(tmp_path / "a", HOSTS, NOW)
    other = certified(tmp_path / "b", HOSTS, NOW)
    with served(files) as port:
        assert greeted(port, "localhost", files.authority)
        assert greeted(port, "127.0.0.1", files.authority)
        for host, trusted in (("localhost", None), ("localhost", other.authority), ("elsewhere.test", files.authority)):
            with pytest.raises(ssl.SSLCertVerificationError):
                greeted(port, host, trusted)


def test_it_is_made_once_and_anew_when_it_is_old_or_a_name_is_new(tmp_path: Path) -> None:
    first = certified(tmp_path, HOSTS, NOW)
    authority, machine = first.authority.read_bytes(), first.certificate.read_bytes()
    assert certified(tmp_path, HOSTS, NOW + timedelta(days=30)).certificate.read_bytes() == machine
    named = certified(tmp_path, [*HOSTS, "yard.test"], NOW).certificate.read_bytes()
    assert named != machine
    assert certified(tmp_path, HOSTS, NOW + MACHINE_LASTS - RENEW + timedelta(days=1)).certificate.read_bytes() != named
    assert first.authority.read_bytes() == authority


def test_keys_are_for_their_owner_only(tmp_path: Path) -> None:
    files = certified(tmp_path / "authority", HOSTS, NOW)
    for key in (files.key, files.authority.with_suffix(".key")):
        assert stat.S_IMODE(key.stat().st_mode) == 0o600


def test_no_browser_finds_the_machines_certificate_too_long(tmp_path: Path) -> None:
    found = x509.load_pem_x509_certificate(certified(tmp_path, HOSTS, NOW).certificate.read_bytes())
    assert found.not_valid_after_utc - found.not_valid_before_utc < timedelta(days=398)
