"""Batches as they were written, with what looking back tells of each: `golden.jsonl`.

The first line is the version that told them. `python -m tests.past.golden` notes anew what is told;
it refuses while the telling has changed and `VERSION` in `assistant/past/lookback.py` has not.
"""

import json
import sys
from pathlib import Path
from typing import Any

from assistant.facts.events import AnyEvent, event_adapter
from assistant.past.lookback import VERSION, summary

FILE = Path(__file__).with_suffix(".jsonl")


def kept() -> tuple[int, list[dict[str, Any]]]:
    """The version that told the batches, and the batches: their events and what was told."""
    first, *rows = (json.loads(line) for line in FILE.read_text("utf-8").splitlines())
    return int(first["version"]), rows


def events_of(row: dict[str, Any]) -> tuple[AnyEvent, ...]:
    """The events of one batch."""
    return tuple(event_adapter.validate_python(event) for event in row["events"])


def told(row: dict[str, Any]) -> dict[str, Any]:
    """What is told of a batch now."""
    found = vars(summary(events_of(row)))
    return found | {"body": json.loads(found["body"])}


def note() -> None:
    """Write what is told now."""
    version, rows = kept()
    changed = [row["told"]["batch"] for row in rows if told(row) != row["told"]]
    if changed and version == VERSION:
        sys.exit(f"Told otherwise than before: {', '.join(changed)}. Raise VERSION first.")
    lines = [{"version": VERSION}, *({**row, "told": told(row)} for row in rows)]
    FILE.write_text("".join(json.dumps(line) + "\n" for line in lines), "utf-8")


if __name__ == "__main__":
    note()
