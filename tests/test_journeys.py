"""Whole batches typed from a script, with slips, corrections and readings off the plan.

Beside each script lies the report it ends in. To write the reports anew after a change that was
meant: PANSIDE_WRITE_REPORTS=1 python -m pytest tests/test_journeys.py, and read the difference.
"""

import os
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.base.clock import SetClock
from assistant.cook import Batch
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.report import batch_lines
from assistant.turns.desk import Desk
from assistant.turns.rendering import shown
from assistant.turns.utterance import Utterance

SCRIPTS = sorted((Path(__file__).parent / "journeys").glob("*.txt"))
START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)


def _walk(script: Path, journal: Journal) -> Batch:
    lines = [line for line in script.read_text("utf-8").splitlines() if line[:1] not in ("#", "")]
    clock = SetClock(START)
    desk = Desk(journal, clock)
    desk.begin(load_recipe(lines[0].removeprefix("recipe ")))
    told: tuple[str, ...] = ()
    said = ""
    for line in lines[1:]:
        if line.startswith("> "):
            assert any(line[2:] in each for each in told), (said, line, told)
            continue
        wait, said = re.fullmatch(r"(?:\+(\d+) )?(.*)", line).groups()  # type: ignore[union-attr]
        clock.forward(float(wait or 10))
        told = shown(desk.take(Utterance.typed(said)))
    return desk.in_hand()


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.stem)
def test_a_journey_ends_in_its_report(
    script: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("assistant.keep.names.chance_part", lambda: "k7m4p")
    with Journal(tmp_path / "journal.sqlite") as journal:
        batch = _walk(script, journal)
        report = "\n".join(batch_lines(journal.events(batch.id))) + "\n"
    kept = script.with_suffix(".report")
    if os.environ.get("PANSIDE_WRITE_REPORTS"):
        kept.write_text(report, "utf-8")
    assert batch.ended is not None
    assert report == kept.read_text("utf-8")
