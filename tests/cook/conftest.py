import pytest
from batch_maker import Maker


@pytest.fixture
def maker() -> Maker:
    return Maker()
