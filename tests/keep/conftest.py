"""No test here is judged by the time it takes; one server of our own serves all that need one."""

from collections.abc import Iterator

import pytest
from hypothesis import settings
from postgres_server import Server, running_server

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


@pytest.fixture(scope="session")
def postgres() -> Iterator[Server]:
    """A running server; who stops it starts it again."""
    with running_server() as started:
        yield started
