"""The power fails: every accepted event is there, nothing torn is taken for true."""

import random
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from event_makers import reading, small_batch

from assistant.base.errors import StoreUnusable
from assistant.facts.events import AnyEvent
from assistant.keep import Journal
from tests.crash.power import Op, Recording, power_cuts, record_sql, replay

BATCH = "2026-07-04-1"


def turns(many: int) -> list[tuple[AnyEvent, ...]]:
    """A batch in turns of one to three events, its beginning long enough for several pages."""
    first, *rest = small_batch(BATCH, readings=2 * many)
    begun = first.model_copy(update={"recipe": {"name": "long", "text": "sugar " * 2_000}})
    sizes = [1 + number % 3 for number in range(many)]
    starts = [sum(sizes[:n]) for n in range(many)]
    return [(begun,), *(tuple(rest[a : a + s]) for a, s in zip(starts, sizes, strict=True))]


def look_after(
    folder: Path, files: dict[str, bytes], accepted: int, whole: tuple[AnyEvent, ...]
) -> int:
    """Start again from what the power cut left; how many events there are."""
    store = folder / "store.sqlite"
    for old in folder.glob("store.sqlite*"):
        old.unlink()
    for suffix, data in files.items():
        (folder / f"store.sqlite{suffix}").write_bytes(data)
    with Journal(store) as journal:
        held = journal.events(BATCH)
        assert held == whole[: len(held)]
        assert len(held) >= accepted
        if held:
            journal.append(BATCH, reading(9_999), len(held))
    with closing(sqlite3.connect(store)) as base:
        assert base.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    with Journal(store) as journal:
        assert journal.events(BATCH) == (*held, reading(9_999)) if held else True
    return len(held)


@pytest.fixture(scope="module")
def recording(tmp_path_factory: pytest.TempPathFactory) -> Recording:
    return record_sql(tmp_path_factory.mktemp("traced"), turns(9))


@pytest.mark.parametrize(("checkpoint", "seed"), [(1000, 1), (6, 2)])
def test_nothing_accepted_is_lost(
    tmp_path: Path, recording: Recording, checkpoint: int, seed: int
) -> None:
    notes = replay(tmp_path, recording, checkpoint)
    whole = tuple(event for turn in turns(9) for event in turn)
    seen = [
        (accepted, look_after(tmp_path, files, accepted, whole))
        for accepted, files in power_cuts(notes, random.Random(seed), share=0.2)
    ]
    assert len(seen) > 15
    assert max(accepted for accepted, _ in seen) == len(whole)
    assert {held for _, held in seen} & set(range(2, len(whole)))


def test_the_model_can_fail(tmp_path: Path, recording: Recording) -> None:
    """Without the syncs, accepted events are lost: the model does drop what is not synced."""
    notes = replay(tmp_path, recording, 1000)
    dry = [op for op in notes if op.kind != "sync" or op.file != "-wal"]
    whole = tuple(event for turn in turns(9) for event in turn)
    cuts = power_cuts([*dry, Op("accepted", at=len(whole))], random.Random(3), share=0.25)

    def lose() -> None:
        for accepted, files in cuts:
            look_after(tmp_path, files, accepted, whole)

    with pytest.raises((AssertionError, StoreUnusable)):
        lose()
