"""This machine's names and addresses on the local network."""

import socket
from contextlib import suppress
from ipaddress import ip_address

HERE = ("localhost", "127.0.0.1", "[::1]", "::1")
_ELSEWHERE = ("192.0.2.1", 9)
"""An address for documentation (RFC 5737). Nothing is sent there: the question is only by which
of our own addresses it would be."""


def own_names() -> tuple[str, ...]:
    """Names by which other devices may know this machine."""
    name = socket.gethostname().lower().rstrip(".")
    plain = name.split(".")[0]
    return tuple(dict.fromkeys(n for n in (name, plain, f"{plain}.local") if n))


def own_addresses() -> tuple[str, ...]:
    """Addresses by which other devices reach it, the likeliest first."""
    found: list[str] = []
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(_ELSEWHERE)
        found.append(str(probe.getsockname()[0]))
    with suppress(OSError):
        found += [str(info[4][0]) for info in socket.getaddrinfo(socket.gethostname(), None)]
    usable = (a for a in found if "%" not in a and not ip_address(a).is_loopback)
    return tuple(dict.fromkeys(a for a in usable if ip_address(a).version == 4))
