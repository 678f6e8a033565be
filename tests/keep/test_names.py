"""Names of batches."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.keep import next_batch_id
from assistant.keep.names import lot_before

DAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("existing", "name"),
    [
        ([], "2026-11-25-1-bbbbb"),
        (["2026-11-25-1"], "2026-11-25-2-bbbbb"),
        (["2026-11-25-1-k7m4p"], "2026-11-25-2-bbbbb"),
        (["2026-11-25-3"], "2026-11-25-4-bbbbb"),
        (["2026-11-25-9", "2026-11-25-10"], "2026-11-25-11-bbbbb"),
        (["2026-11-24-5", "copy", "2026-11-25-x", "2026-11-25-2-old"], "2026-11-25-1-bbbbb"),
    ],
)
def test_the_next_number_of_the_day(existing: list[str], name: str) -> None:
    assert next_batch_id(existing, DAY, "bbbbb") == name


def test_two_kitchens_that_know_nothing_of_each_other_take_different_names() -> None:
    assert len({next_batch_id((), DAY) for _ in range(200)}) == 200


@pytest.mark.parametrize(
    ("name", "lot"),
    [
        ("2026-07-11-1", ""),
        ("2026-07-11-12", ""),
        ("2026-07-11-1-k7m4p", ""),
        ("2026-07-11-1-b", "2026-07-11-1"),
        ("2026-07-11-1-27", "2026-07-11-1"),
        ("2026-07-11-1-k7m4p-c", "2026-07-11-1-k7m4p"),
        ("tea-b", ""),
    ],
)
def test_the_lot_of_a_second_name(name: str, lot: str) -> None:
    assert lot_before(name) == lot


@given(st.lists(st.integers(0, 10**6)), st.dates())
def test_a_name_is_always_new(numbers: list[int], on: date) -> None:
    existing = [f"{on.isoformat()}-{n}" for n in numbers]
    assert next_batch_id(existing, on) not in existing
