"""Batches of the first rules still end as they ended when they were written, bottles and all.

`begun_then.jsonl` was written and folded by the program as it was before holds had to be watched
and before a high pH outlasted an undo; each line brings its events and what came of them then.
"""

import json
from pathlib import Path
from typing import Any

import pytest

from assistant.cook import Batch, fold
from assistant.cook.holding import held
from assistant.facts.events import event_adapter

FILE = Path(__file__).with_name("begun_then.jsonl")
THEN = [json.loads(line) for line in FILE.read_text("utf-8").splitlines()]


def _folded(row: dict[str, Any], rules: int = 0) -> Batch:
    first, *rest = row["events"]
    events = [{**first, "rules": rules}, *rest]
    return fold([event_adapter.validate_python(event) for event in events])[0]


@pytest.mark.parametrize("row", THEN, ids=lambda row: row["events"][0]["recipe"]["name"])
def test_a_batch_ends_as_it_did(row: dict[str, Any]) -> None:
    batch = _folded(row)
    assert (batch.stage.id if batch.stage else None) == row["stage"]
    assert batch.ended == row["ended"] == "finished"
    assert batch.bottled is not None
    assert batch.bottled.count == row["bottles"]
    assert [[taken.what, taken.base] for taken in batch.taken] == row["readings"]


def test_the_same_events_begun_today_come_to_another_end() -> None:
    assert all(_folded(row, rules=1).ended is None for row in THEN)


def test_what_nobody_watched_is_worth_no_more_for_being_old() -> None:
    berries = next(r for r in THEN if r["events"][0]["recipe"]["name"] == "berry-syrup")
    assert not held(_folded(berries)).complete
