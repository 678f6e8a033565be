"""The local certificate: for the names asked for, kept while it is good."""

import ssl
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

pytest.importorskip("cryptography", reason="--tls is an extra: pip install 'panside[tls]'")
from cryptography import x509

from assistant.screen.certificate import DAYS, certificate

NOW = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
NAMES = {"localhost", "127.0.0.1", "teahut.local"}


def test_it_is_for_these_names_and_signed_by_the_authority(tmp_path: Path) -> None:
    made = certificate(tmp_path, NAMES, NOW)
    page, authority = x509.load_pem_x509_certificates(made.chain.read_bytes())
    assert authority == x509.load_pem_x509_certificate(made.authority.read_bytes())
    page.verify_directly_issued_by(authority)
    told = page.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    names = {*told.get_values_for_type(x509.DNSName)}
    names |= {str(a) for a in told.get_values_for_type(x509.IPAddress)}
    assert names == NAMES
    assert not page.extensions.get_extension_for_class(x509.BasicConstraints).value.ca
    assert made.key.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize(("name", "trusted"), [("teahut.local", True), ("evil.example", False)])
def test_a_client_that_trusts_the_authority_trusts_these_names_alone(
    tmp_path: Path, name: str, trusted: bool
) -> None:
    """A handshake without a network."""
    made = certificate(tmp_path, NAMES, datetime.now(UTC))
    server = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    server.load_cert_chain(made.chain, made.key)
    client = ssl.create_default_context(cafile=str(made.authority))
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    here = client.wrap_bio(to_client, to_server, server_hostname=name)
    there = server.wrap_bio(to_server, to_client, server_side=True)
    refused = False
    for side in (here, there, here, there):
        try:
            side.do_handshake()
        except ssl.SSLWantReadError:
            continue
        except ssl.SSLError:
            refused = True
            break
    assert refused is not trusted


def test_the_authoritys_key_is_nowhere(tmp_path: Path) -> None:
    certificate(tmp_path, NAMES, NOW)
    keys = [f.name for f in tmp_path.iterdir() if b"PRIVATE KEY" in f.read_bytes()]
    assert keys == ["screen-key.pem"]


@pytest.mark.parametrize(
    ("names", "later", "kept"),
    [
        (NAMES, timedelta(days=DAYS - 30), True),
        (NAMES, timedelta(days=DAYS - 7), False),
        ({"localhost"}, timedelta(), True),
        ({*NAMES, "192.168.7.2"}, timedelta(), False),
    ],
)
def test_it_is_kept_while_it_fits(
    tmp_path: Path, names: set[str], later: timedelta, kept: bool
) -> None:
    before = certificate(tmp_path, NAMES, NOW).chain.read_bytes()
    after = certificate(tmp_path, names, NOW + later).chain.read_bytes()
    assert (before == after) is kept


def test_damaged_files_are_made_anew(tmp_path: Path) -> None:
    made = certificate(tmp_path, NAMES, NOW)
    made.chain.write_text("not a certificate")
    certificate(tmp_path, NAMES, NOW)
    assert b"BEGIN CERTIFICATE" in made.chain.read_bytes()
