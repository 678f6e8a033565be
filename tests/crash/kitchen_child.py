"""What runs in the process that gets killed: a chat, or a whole scripted batch on a set clock.

The process is forked from a server that has everything imported, so that hundreds can be killed in
minutes; from there on it is the program as it always runs.
"""

import json
import os
import re
import sys
from datetime import UTC, datetime
from multiprocessing.connection import Connection
from pathlib import Path
from unittest.mock import patch

from assistant.base.clock import SetClock
from assistant.commands.app import main
from assistant.facts.events import event_adapter
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.turns.desk import Desk
from assistant.turns.utterance import Utterance

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
Step = tuple[float, str]


def chat(store: str, lines: Connection, answers: Connection) -> None:
    """`panside chat --json` with its standard streams on two pipes."""
    os.dup2(lines.fileno(), 0)
    os.dup2(answers.fileno(), 1)
    lines.close()
    answers.close()
    sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.argv = ["panside", "chat", "--json", "--recipe", "berry-syrup", "--store", store]
    main()


def steps(script: Path) -> tuple[str, list[Step]]:
    """The recipe of a journey, and its lines with the seconds before each."""
    lines = [line for line in script.read_text("utf-8").splitlines() if line[:1] not in ("#", "")]
    said = [line for line in lines[1:] if not line.startswith("> ")]
    found = [re.fullmatch(r"(?:\+(\d+) )?(.*)", line) for line in said]
    return lines[0].removeprefix("recipe "), [(float(m[1] or 10), m[2]) for m in found if m]


_SAME_NAMES = patch("assistant.keep.names.chance_part", lambda: "k7m4p")


@_SAME_NAMES
def scripted(store: str, script: str, first: int, answers: Connection) -> None:
    """A journey from its line number `first` on; after each turn the number of the next line."""
    recipe, all_steps = steps(Path(script))
    # One clock counts through all of it: a hold that a kill cuts off would start anew, rightly.
    clock = SetClock(START)
    clock.forward(sum(s for s, _ in all_steps[:first]))
    with Journal(store) as journal:
        held = journal.names()
        desk = Desk(journal, clock)
        desk.open(held[0]) if held else desk.begin(load_recipe(recipe))
        answers.send_bytes(json.dumps(first).encode())
        for number, (seconds, words) in enumerate(all_steps[first:], start=first + 1):
            clock.forward(seconds)
            desk.take(Utterance.typed(words))
            answers.send_bytes(json.dumps(number).encode())


@_SAME_NAMES
def reference(script: Path) -> tuple[list[int], list[str]]:
    """What an undisturbed run writes: events after each line, and every event."""
    recipe, all_steps = steps(script)
    clock = SetClock(START)
    with Journal("sqlite://") as journal:
        desk = Desk(journal, clock)
        begun = desk.begin(load_recipe(recipe))
        counts = [1]
        for seconds, words in all_steps:
            clock.forward(seconds)
            desk.take(Utterance.typed(words))
            counts.append(len(journal.events(begun.id)))
        return counts, bodies(journal, begun.id)


def bodies(journal: Journal, batch: str) -> list[str]:
    """What was written, without what each program counted from a start of its own."""
    uncounted = {"process": "", "elapsed_s": None}
    events = (event.model_copy(update=uncounted) for event in journal.events(batch))
    return [event_adapter.dump_json(event).decode() for event in events]


if os.environ.get("PANSIDE_CRASH_SERVER"):
    # In the server that all are forked from: what a first utterance loads is loaded once.
    reference(Path(__file__).parent.parent / "journeys" / "rhubarb-syrup.txt")
