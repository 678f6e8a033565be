"""Whatever is spoiled in a store: salvage tells of every event that it can't bring back."""

import random
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from event_makers import small_batch

from assistant.facts.events import AnyEvent, Begin
from assistant.keep import Journal, Salvaged, salvage
from assistant.keep.carve import pages_of
from assistant.keep.known import expected
from tests.crash.test_bad_days import SPOILING

SEEDS = 12
NAMES = [f"2026-07-0{day}-1" for day in range(1, 9)]
SIZES = {name: 6 + 9 * number for number, name in enumerate(NAMES)}


def several_pages_spoiled(data: bytes, chance: random.Random) -> bytes:
    for _ in range(chance.randrange(2, 6)):
        at = 4096 * chance.randrange(len(data) // 4096)
        data = data[:at] + chance.randbytes(4096) + data[at + 4096 :]
    return data


def page_of_nothing(data: bytes, chance: random.Random) -> bytes:
    at = 4096 * chance.randrange(len(data) // 4096)
    return data[:at] + bytes(4096) + data[at + 4096 :]


def events_of(number: int, name: str) -> tuple[AnyEvent, ...]:
    """A batch whose beginning is the longer the later it is: some run over several pages."""
    first, *rest = small_batch(name, SIZES[name] - 1)
    assert isinstance(first, Begin)
    recipe = {"name": "l", "text": "sugar " * (300 * number)}
    return (first.model_copy(update={"recipe": recipe}), *rest)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    file = tmp_path_factory.mktemp("whole") / "store.sqlite"
    with Journal(file) as journal:
        for number, name in enumerate(NAMES):
            journal.append_all(name, events_of(number, name), 0)
    return file.read_bytes()


@pytest.mark.parametrize("seed", range(SEEDS))
@pytest.mark.parametrize(
    "spoil", [*SPOILING, several_pages_spoiled, page_of_nothing], ids=lambda f: f.__name__
)
def test_every_loss_is_told(
    whole: bytes, tmp_path: Path, spoil: Callable[..., bytes], seed: int
) -> None:
    file = tmp_path / "store.sqlite"
    file.write_bytes(spoil(whole, random.Random(seed)))
    try:
        found = salvage(file, tmp_path / "saved.sqlite")
    except Exception as error:
        assert "no event that can be read" in str(error)  # noqa: PT017
        return
    gone = missing(found)
    assert not gone or found.torn or set(gone) <= set(found.lost), (gone, found.lost)
    assert all(found.lost.get(name, 0) <= many for name, many in gone.items())
    assert set(found.lost) <= set(gone)


def missing(found: Salvaged) -> dict[str, int]:
    """How many events of each batch did not come back, neither in it nor apart."""
    apart = Counter(row.batch for row in found.rest)
    left = {n: SIZES[n] - found.batches.get(n, 0) - apart[n] for n in NAMES}
    return {name: many for name, many in left.items() if many}


def test_a_whole_store_is_known_to_the_last_event(whole: bytes) -> None:
    assert expected(pages_of(whole)) == SIZES
