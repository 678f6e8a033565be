"""When the way to a server must be secret: whenever it leaves this computer."""

import os
from ipaddress import ip_address

from sqlalchemy import URL

_SAID_BY_NAME = ("disable", "require", "verify-ca", "verify-full")
"""What else there is goes on without TLS where the server has none, or whoever poses as it."""


def demanded(url: URL) -> dict[str, str]:
    """TLS to another computer, unless somebody has said otherwise by name."""
    named = url.query.get("sslmode") or os.environ.get("PGSSLMODE")
    if named in _SAID_BY_NAME or all(map(_is_here, _hosts(url))):
        return {}
    return {"sslmode": "require"}


def _hosts(url: URL) -> list[str]:
    """The computers that an address, or the environment, leads to."""
    said = [url.host, url.query.get("host"), url.query.get("hostaddr")]
    said += [] if any(said) else [os.environ.get("PGHOSTADDR"), os.environ.get("PGHOST")]
    parts = (part for one in said if one for part in ([one] if isinstance(one, str) else one))
    # libpq takes several hosts in one, with commas, each perhaps with its port.
    return [host for part in parts for host in part.split(",") if host]


def _is_here(host: str) -> bool:
    """Whether a host is a socket of this computer or its loopback."""
    if host.startswith(("/", "@")):
        return True
    name = host if host.count(":") > 1 else host.partition(":")[0]
    if name == "localhost":
        return True
    try:
        return ip_address(name.strip("[]")).is_loopback
    except ValueError:
        return False
