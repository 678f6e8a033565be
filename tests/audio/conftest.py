"""The real recogniser, opened once for all recordings."""

import pytest

from assistant.hear.choose import open_ears
from assistant.hear.heard import Ears


@pytest.fixture(scope="session")
def ears() -> Ears:
    return open_ears("auto")
