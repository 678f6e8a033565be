"""Names of batches."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.keep import next_batch_id

DAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("existing", "name"),
    [
        ([], "2026-11-25-1"),
        (["2026-11-25-1"], "2026-11-25-2"),
        (["2026-11-25-3"], "2026-11-25-4"),
        (["2026-11-25-9", "2026-11-25-10"], "2026-11-25-11"),
        (["2026-11-24-5", "copy", "2026-11-25-x", "2026-11-25-2-old"], "2026-11-25-1"),
    ],
)
def test_the_next_number_of_the_day(existing: list[str], name: str) -> None:
    assert next_batch_id(existing, DAY) == name


@given(st.lists(st.integers(0, 10**6)), st.dates())
def test_a_name_is_always_new(numbers: list[int], on: date) -> None:
    existing = [f"{on.isoformat()}-{n}" for n in numbers]
    assert next_batch_id(existing, on) not in existing
