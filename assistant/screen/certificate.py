"""A certificate for the local network, so that browsers on other devices grant the microphone.

An authority is made that signs this one certificate; its own key is never written down, so nobody
can sign anything else with it, even where a phone has been told to trust it. Needs the package
`cryptography`, and so is imported only where a certificate is wanted.
"""

import os
from collections.abc import Collection
from datetime import datetime, timedelta
from ipaddress import ip_address
from pathlib import Path
from typing import NamedTuple

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from assistant.base.errors import StoreUnusable

DAYS = 397
"""Browsers take no certificate that is good for more than 398 days (CA/Browser Forum Baseline
Requirements, 6.3.2, from memory)."""
SPARE_DAYS = 14
_AUTHORITY, _PAGE = "Panside kitchen authority", "Panside kitchen page"


class Certificate(NamedTuple):
    """The files a server needs, and what a device is to trust."""

    chain: Path
    key: Path
    authority: Path


def certificate(folder: Path, names: Collection[str], now: datetime) -> Certificate:
    """A certificate for these names and addresses, made anew when it is old or lacks one.

    StoreUnusable where the folder can't be written to.
    """
    found = Certificate(*(folder / f"screen-{n}.pem" for n in ("chain", "key", "authority")))
    if not _is_good(found, frozenset(names), now):
        try:
            _make(found, sorted(names), now)
        except OSError as error:
            raise StoreUnusable(
                f"the certificate can't be written to {folder} ({error.strerror}); "
                "make the folder writable"
            ) from error
    return found


def _is_good(found: Certificate, names: frozenset[str], now: datetime) -> bool:
    """Whether what is there is whole, names all of them and is good for a while yet."""
    if not all(file.is_file() for file in found):
        return False
    try:
        held = x509.load_pem_x509_certificates(found.chain.read_bytes())[0]
        told = held.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (ValueError, IndexError, x509.ExtensionNotFound):
        return False
    has = {*told.get_values_for_type(x509.DNSName)}
    has |= {str(address) for address in told.get_values_for_type(x509.IPAddress)}
    return names <= has and now + timedelta(days=SPARE_DAYS) < held.not_valid_after_utc


def _make(found: Certificate, names: list[str], now: datetime) -> None:
    root_key, key = (ec.generate_private_key(ec.SECP256R1()) for _ in range(2))
    ca = x509.BasicConstraints(ca=True, path_length=0)
    root = _begun(_AUTHORITY, root_key, now).add_extension(ca, critical=True)
    server = x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH])
    no_ca = x509.BasicConstraints(ca=False, path_length=None)
    leaf = (
        _begun(_PAGE, key, now)
        .add_extension(x509.SubjectAlternativeName(_alternatives(names)), critical=False)
        .add_extension(server, critical=False)
        .add_extension(no_ca, critical=True)
    )
    authority, page = (made.sign(root_key, hashes.SHA256()) for made in (root, leaf))
    found.key.parent.mkdir(parents=True, exist_ok=True)
    _write_secret(found.key, key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
    found.authority.write_bytes(authority.public_bytes(Encoding.PEM))
    chain = page.public_bytes(Encoding.PEM) + authority.public_bytes(Encoding.PEM)
    found.chain.write_bytes(chain)


def _begun(subject: str, key: ec.EllipticCurvePrivateKey, now: datetime) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder(_named(_AUTHORITY), _named(subject))
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=DAYS))
    )


def _named(words: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, words)])


def _alternatives(names: list[str]) -> list[x509.GeneralName]:
    found: list[x509.GeneralName] = []
    for name in names:
        try:
            found.append(x509.IPAddress(ip_address(name)))
        except ValueError:
            found.append(x509.DNSName(name))
    return found


def _write_secret(file: Path, secret: bytes) -> None:
    """For its owner's eyes only."""
    file.unlink(missing_ok=True)
    with os.fdopen(os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb") as made:
        made.write(secret)
