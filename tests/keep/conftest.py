"""One server of our own serves all that need one."""

from collections.abc import Iterator

import pytest
from postgres_server import Server, running_server


@pytest.fixture(scope="session")
def postgres() -> Iterator[Server]:
    """A running server; who stops it starts it again."""
    with running_server() as started:
        yield started
