"""Authority: a certificate of the yard's own, for phones that must keep pages while there is no signal.

The authority's own certificate is what a phone is told to trust, once; it signs one for this machine, made anew when it is old or
the machine's addresses changed. Both lie beside the book, their keys readable by their owner alone.
"""

from __future__ import annotations

import ipaddress
import os
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from waney.figures.problem import Problem

if TYPE_CHECKING:
    from cryptography import x509
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey

AUTHORITY_LASTS, MACHINE_LASTS = timedelta(days=3650), timedelta(days=365)
"""browsers refuse a machine's certificate of more than 398 days (CA/Browser Forum, from memory)"""
RENEW = timedelta(days=30)
NO_PACKAGE = "A certificate of the yard's own needs the package cryptography; install waney[tls], or serve without --tls."


class NoAuthority(Problem):
    """No certificate can be made."""


@dataclass(frozen=True)
class Certified:
    """Files: what phones trust, and what the server shows."""

    authority: Path
    certificate: Path
    key: Path


def certified(folder: Path, hosts: Sequence[str], now: datetime) -> Certified:
    """The certificate of this machine for these names and addresses, made where it is missing or old. Raises NoAuthority."""
    try:
        from cryptography import x509
    except ImportError:
        raise NoAuthority(NO_PACKAGE) from None
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    files = Certified(folder / "authority.pem", folder / "machine.pem", folder / "machine.key")
    authority_key = folder / "authority.key"
    if not (files.authority.exists() and authority_key.exists()):
        _make_authority(files.authority, authority_key, now)
    held = x509.load_pem_x509_certificate(files.certificate.read_bytes()) if files.certificate.exists() else None
    if held is None or held.not_valid_after_utc - now < RENEW or set(hosts) - _names(held):
        _make_machine(files, authority_key, hosts, now)
    return files


def fingerprint(file: Path) -> str:
    """SHA-256 of a certificate, in pairs, as phones and browsers show it. Raises OSError without the file."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes

    return x509.load_pem_x509_certificate(file.read_bytes()).fingerprint(hashes.SHA256()).hex(":").upper()


def _names(certificate: x509.Certificate) -> set[str]:
    from cryptography import x509

    found = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return {*found.get_values_for_type(x509.DNSName), *map(str, found.get_values_for_type(x509.IPAddress))}


def _make_authority(file: Path, key_file: Path, now: datetime) -> None:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes

    key = _new_key(key_file)
    name = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, "The yard's own authority")])
    usage = x509.KeyUsage(False, False, False, False, False, True, True, False, False)
    made = _begun(name, name, key, now, AUTHORITY_LASTS)
    made = made.add_extension(x509.BasicConstraints(True, 0), True).add_extension(usage, True)
    file.write_bytes(_pem(made.sign(key, hashes.SHA256())))


def _make_machine(files: Certified, authority_key: Path, hosts: Sequence[str], now: datetime) -> None:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
    from cryptography.x509.oid import ExtendedKeyUsageOID

    signer = serialization.load_pem_private_key(authority_key.read_bytes(), None)
    assert isinstance(signer, EllipticCurvePrivateKey)
    issuer = x509.load_pem_x509_certificate(files.authority.read_bytes()).subject
    key = _new_key(files.key)
    name = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, hosts[0])])
    made = _begun(name, issuer, key, now, MACHINE_LASTS)
    made = made.add_extension(x509.SubjectAlternativeName([_general(host) for host in hosts]), False)
    made = made.add_extension(x509.BasicConstraints(False, None), True)
    made = made.add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), False)
    files.certificate.write_bytes(_pem(made.sign(signer, hashes.SHA256())))


def _begun(
    name: x509.Name, issuer: x509.Name, key: EllipticCurvePrivateKey, now: datetime, lasts: timedelta
) -> x509.CertificateBuilder:
    from cryptography import x509

    made = x509.CertificateBuilder().subject_name(name).issuer_name(issuer).public_key(key.public_key())
    made = made.serial_number(x509.random_serial_number())
    return made.not_valid_before(now - timedelta(hours=1)).not_valid_after(now + lasts)


def _general(host: str) -> x509.GeneralName:
    from cryptography import x509

    try:
        return x509.IPAddress(ipaddress.ip_address(host))
    except ValueError:
        return x509.DNSName(host)


def _pem(certificate: x509.Certificate) -> bytes:
    from cryptography.hazmat.primitives import serialization

    return certificate.public_bytes(serialization.Encoding.PEM)


def _new_key(file: Path) -> EllipticCurvePrivateKey:
    """A new key, written so that only its owner reads it."""
    from cryptography.hazmat.primitives import serialization
    from cryptography.hazmat.primitives.asymmetric import ec

    key = ec.generate_private_key(ec.SECP256R1())
    plain = serialization.NoEncryption()
    text = key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, plain)
    file.unlink(missing_ok=True)
    with os.fdopen(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as out:
        out.write(text)
    return key
