"""Looking back: the summaries say what folding every batch says."""

import random
from datetime import date, datetime
from pathlib import Path

import golden
import pytest
from season import FILLED, days, event, journal

from assistant.cook import fold
from assistant.facts.events import AnyEvent, Begin
from assistant.keep import Journal
from assistant.larder import Larder, larder, larder_lines, up_to
from assistant.past.lookback import VERSION, LookBack

TODAY = date(2026, 8, 20)


def some_life(chance: random.Random, name: str) -> list[AnyEvent]:
    """A bottled batch, and what became of its bottles."""
    filled = FILLED + days(chance.randrange(30))
    events, at = journal(name, filled), filled
    for _ in range(chance.randrange(6)):
        at += days(chance.uniform(0.5, 6))
        events.append(_deed(chance, at))
    return events


def _deed(chance: random.Random, at: datetime) -> AnyEvent:
    kind = chance.choice(("used", "used", "opened", "moved", "sign", "recalled", "discard", "undo"))
    fields: dict[str, object] = {
        "used": {"count": chance.randrange(1, 9), "to": chance.choice(("", "kiosk"))},
        "moved": {"place": chance.choice(("fridge", "freezer"))},
        "sign": {"what": "fizzing"},
    }.get(kind, {})
    return event(kind, at, **fields)


@pytest.fixture
def lives(tmp_path: Path) -> tuple[Journal, list[list[AnyEvent]]]:
    chance = random.Random(5)
    kept = Journal(tmp_path / "s.sqlite")
    found = [some_life(chance, f"b-{number}") for number in range(12)]
    found.append(journal("b-open")[:5])
    for events in found:
        first = events[0]
        assert isinstance(first, Begin)
        kept.append_all(first.batch, events, 0)
    return kept, found


def told(found: Larder) -> list[str]:
    return [line.model_dump_json() for line in larder_lines(found)]


def test_the_larder_is_the_same_as_from_all_batches(
    lives: tuple[Journal, list[list[AnyEvent]]],
) -> None:
    kept, found = lives
    past = LookBack(kept)
    for _ in range(2):
        assert told(past.larder(TODAY)) == told(larder(found, TODAY))
        assert past.larder(TODAY).in_store() == larder(found, TODAY).in_store()
    assert past.larder(TODAY).in_store()


@pytest.mark.parametrize("day", [date(2026, 7, 10), *(date(2026, 8, d) for d in (1, 10, 19, 30))])
def test_the_larder_of_another_day_is_the_same(
    lives: tuple[Journal, list[list[AnyEvent]]], day: date
) -> None:
    kept, found = lives
    then = larder([up_to(events, day) for events in found], day)
    assert told(LookBack(kept).larder(TODAY, day)) == told(then)


def test_the_batches_are_told_as_they_fold(lives: tuple[Journal, list[list[AnyEvent]]]) -> None:
    kept, found = lives
    briefs = {brief.batch: brief for brief in LookBack(kept).batches()}
    assert len(briefs) == LookBack(kept).count() == len(found)
    for events in found:
        batch, _ = fold(events)
        brief = briefs[batch.id]
        assert (brief.recipe, brief.fruit) == (batch.recipe.name, batch.fruit)
        assert (brief.stage, brief.ended) == (batch.stage and batch.stage.id, batch.ended)
    assert LookBack(kept).batches(1)[0].begun == max(b.begun for b in briefs.values())


def test_the_unfinished_batch_is_found(lives: tuple[Journal, list[list[AnyEvent]]]) -> None:
    kept, all_events = lives
    still_open = [events for events in all_events if fold(events)[0].ended is None]
    latest = max(still_open, key=lambda events: events[-1].at)[0]
    found = LookBack(kept).unfinished()
    assert found is not None
    assert isinstance(latest, Begin)
    assert (found.batch, found.cut_off) == (latest.batch, True)
    assert LookBack(kept).unfinished("soup") is None


def test_the_same_as_last_year_is_found(lives: tuple[Journal, list[list[AnyEvent]]]) -> None:
    kept, found = lives
    fruit = LookBack(kept).batches()[0].fruit
    assert fruit is not None
    alike = LookBack(kept).alike("berry-syrup", fruit)
    assert len(alike) >= len(found) - 1
    assert [b.begun for b in alike] == sorted((b.begun for b in alike), reverse=True)
    assert LookBack(kept).alike("berry-syrup", fruit, before=FILLED - days(40)) == []


def test_a_batch_of_another_version_hides_no_other(
    lives: tuple[Journal, list[list[AnyEvent]]],
) -> None:
    kept, found = lives
    first = Begin(at=FILLED, batch="odd", recipe={"name": "odd", "stages": 7})
    kept.append("odd", first, 0)
    briefs = {brief.batch: brief for brief in LookBack(kept).batches()}
    assert len(briefs) == len(found) + 1
    assert briefs["odd"].wrong
    assert LookBack(kept).unfinished() is not None


def test_what_was_told_of_kept_batches_is_told_still() -> None:
    version, rows = golden.kept()
    otherwise = [row["told"]["batch"] for row in rows if golden.told(row) != row["told"]]
    assert otherwise == [], "raise VERSION, then run python -m tests.past.golden"
    assert version == VERSION
    assert len(rows) >= 7
