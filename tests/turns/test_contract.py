"""One script through every front: the same events, and the same lines, whoever hands them out."""

import json
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from season import journal as bottled

from assistant.aloud.conversation import Conversation
from assistant.base.clock import SetClock
from assistant.commands import main
from assistant.commands.options import open_desk, turn_record
from assistant.facts.events import Sign, Used
from assistant.hear.heard import Heard, Samples
from assistant.hear.scripted_ears import ScriptedEars
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe, recipe_for
from assistant.say.player import RecordingPlayer
from assistant.say.speaker import Speaker
from assistant.say.voice import SilentVoice
from assistant.screen.room import Room
from assistant.turns.desk import Desk
from assistant.turns.rendering import shown
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
STEP_S = 40.0
STORED = "2026-07-10-1"
RECIPES = ("rhubarb-syrup",)
LINES = (
    "where are we",
    "3 kg of rhubarb",
    "start a batch of strawberry syrup",
    "2.4 kilos",
    "no, 2.6",
    "how much sugar",
    "scratch that",
    "2.5 kg",
    "done",
    "done",
    "for the rhubarb",
    "where are we",
    "the canoe needs paint",
    "for the plum, 68 degrees",  # nobody has begun one
    "start a batch of fig syrup",  # there is no recipe
    "start a batch of raspberry syrup",
    "1.2 kg",
    "done",
    "water is in",
    "48 degrees",  # two pans wait for a temperature
    "the raspberry",
    "for the strawberry, 61 degrees",
    "no, 62",
    "64 degrees",  # asked again, and dropped
    "for the strawberry, set a timer called jars for two hours",
    "how long is left on the jars",
    "stop the jars timer",
    "for the raspberry, 76 degrees",
    "77",
    "the raspberry",
    "for the raspberry, 77",
    "for the raspberry, 77",
    "where is everything",
    "how long does it keep",
    "what if i have only 300 grams of sugar",
    "note the colour is dark",
    "say that again",
    "what can i say",
    "why",
    "speak slower",
    "pH 5.2",  # 21 CFR 114.3: above 4.6 it stops
    "done",
    "it's fizzing",
    "no",
    "throw it away",
    "no",
    "for the blackcurrant, what's in the larder",
    "for the blackcurrant, we used three bottles",
    "i opened one",
    "we used forty bottles",
    "i put two bottles in the freezer",
    "the cap is bulging",
    "yes",
    "how long does it keep",
    "for the rhubarb, there's mould on it",
    "yes",
    "stop",
)

Turns = list[dict[str, Any]]
Events = dict[str, list[dict[str, Any]]]
Front = Callable[[Path, SetClock], Turns]


@pytest.fixture(autouse=True)
def same_names(monkeypatch: pytest.MonkeyPatch) -> None:
    """Names of batches without their part by chance."""
    monkeypatch.setattr("assistant.keep.names.chance_part", lambda: "k7m4p")


def at_the_desk(store: Path, clock: SetClock) -> Turns:
    """Nothing between the words and the desk."""
    with Journal(store) as journal:
        desk, _ = open_desk(journal, clock, list(RECIPES), [STORED])
        return [_record(desk.take(_typed(clock, line))) for line in LINES]


def in_a_chat(store: Path, clock: SetClock) -> Turns:
    """`panside chat --json` with lines on its standard input."""
    given = [f"--recipe={name}" for name in RECIPES]
    arguments = ["panside", "chat", "--json", f"--batch={STORED}", *given, f"--store={store}"]
    with pytest.MonkeyPatch.context() as patched:
        told = _Told()
        patched.setattr("assistant.commands.chat.WallClock", lambda: clock)
        patched.setattr(sys, "argv", arguments)
        patched.setattr(sys, "stdin", _Keyboard(clock))
        patched.setattr(sys, "stdout", told)
        with pytest.raises(SystemExit):
            main()
    return [json.loads(line) for line in told.written.splitlines()]


class _Keyboard:
    """Somebody who types a line every so often."""

    def __init__(self, clock: SetClock) -> None:
        self._clock, self._lines = clock, iter(LINES)

    def isatty(self) -> bool:
        return False

    def readline(self, _most: int = -1) -> str:
        self._clock.forward(STEP_S)
        line = next(self._lines, None)
        return "" if line is None else f"{line}\n"


class _Told:
    """A standard output that is read afterwards."""

    encoding = "utf-8"

    def __init__(self) -> None:
        self.written = ""

    def write(self, text: str) -> int:
        self.written += text
        return len(text)

    def flush(self) -> None:
        """Nothing is kept back."""

    def isatty(self) -> bool:
        return False


class _Sounding(RecordingPlayer):
    """A loudspeaker that never falls silent, so that no timer is minded between the lines."""

    def is_playing(self) -> bool:
        return True

    def wait(self, timeout: float | None = None) -> bool:
        """Nobody waits for its end."""
        return timeout is None


def by_ear(store: Path, clock: SetClock) -> Turns:
    """A talk, with ears that hear what was typed."""
    turns: list[Turn] = []

    def blocks() -> Iterator[Samples]:
        for _ in LINES:
            clock.forward(STEP_S)
            yield np.zeros(160, np.float32)

    with Journal(store) as journal:
        desk, _ = open_desk(journal, clock, list(RECIPES), [STORED])
        ears = ScriptedEars([Heard.typed(line) for line in LINES])
        speaker = Speaker(SilentVoice(), _Sounding())
        Conversation(desk, ears, speaker, turns.append).run(blocks())
    greeting, *answers = turns
    assert greeting.heard == ""
    return [_record(turn) for turn in answers]


def on_a_page(store: Path, clock: SetClock) -> Turns:
    """A page that shows the batch it talks about."""
    turns: list[Turn] = []
    with Journal(store) as journal:
        room = Room(journal, clock, recipe_for)
        room.open(STORED)
        batch = [room.desk.begin(load_recipe(name)).id for name in RECIPES][-1]
        for number, line in enumerate(LINES):
            said = _typed(clock, line, id=f"message-{number}", device="tablet", batch=batch)
            turns.append(room.take(said).turn)
            batch = turns[-1].batch
    return [_record(turn) for turn in turns]


FRONTS: tuple[Front, ...] = (at_the_desk, in_a_chat, by_ear, on_a_page)


def _typed(clock: SetClock, line: str, **more: str) -> Utterance:
    clock.forward(STEP_S)
    return Utterance.typed(line, **more)  # type: ignore[arg-type]


def _record(turn: Turn) -> dict[str, Any]:
    record: dict[str, Any] = json.loads(json.dumps(turn_record(turn)))
    return record


def through(front: Front, folder: Path) -> tuple[Turns, Events]:
    """The turns of a front, and what it left in the journal."""
    store = folder / f"{front.__name__}.sqlite"
    with Journal(store) as journal:
        journal.append_all(STORED, bottled(STORED, START - timedelta(days=1)), 0)
    turns = front(store, SetClock(START))
    with Journal(store) as journal:
        written = {name: journal.events(name) for name in journal.names()}
    kept = {
        name: [event.model_dump(mode="json", exclude={"by"}) for event in events]
        for name, events in written.items()
    }
    return turns, kept


@pytest.fixture(scope="module")
def plainly(tmp_path_factory: pytest.TempPathFactory) -> tuple[Turns, Events]:
    """What the desk itself makes of the script."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("assistant.keep.names.chance_part", lambda: "k7m4p")
        return through(at_the_desk, tmp_path_factory.mktemp("desk"))


def test_the_script_says_all_that_it_should(plainly: tuple[Turns, Events]) -> None:
    turns, kept = plainly
    assert len(turns) == len(LINES) >= 40
    assert {turn["verdict"] for turn in turns} == {"take", "ask", "refuse"}
    assert len(kept) == 4
    assert len({turn["batch"] for turn in turns}) == 4
    said = {event["kind"] for turn in turns for event in turn["events"]}
    assert said >= {
        *("reading", "correct", "undo", "onward", "ask", "say_again", "timer_set", "timer_stop"),
        *("note", "used", "opened", "moved", "sign", "yes", "no", "manner", "stop"),
    }
    assert any(turn["stopped"] for turn in turns)
    assert sum("Is that for" in turn["say"] for turn in turns) >= 2
    assert turns[-1]["ended"]


@pytest.mark.parametrize("front", FRONTS[1:], ids=lambda front: front.__name__)
def test_every_front_tells_and_writes_the_same(
    front: Front, plainly: tuple[Turns, Events], tmp_path: Path
) -> None:
    turns, kept = through(front, tmp_path)
    for line, here, plain in zip(LINES, turns, plainly[0], strict=True):
        assert here == plain, line
    assert kept == plainly[1]


BOTTLES = (
    ("we gave two bottles to the kiosk", ("take", "2", "--to", "the kiosk")),
    ("we used three bottles", ("take", "3")),
    ("i opened one", ("open",)),
    ("i put two bottles in the freezer", ("move", "freezer", "2")),
    ("throw one bottle away", ("discard", "1")),
    ("it's fizzing", ("sign", "it's fizzing")),
    ("there's mould on it", ("sign", "there's mould on it")),
)


@pytest.mark.parametrize(("words", "command"), BOTTLES)
def test_the_larders_commands_write_and_tell_what_words_do(
    words: str,
    command: tuple[str, ...],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    name, *arguments = command
    clock, stores = SetClock(START), [tmp_path / "words.sqlite", tmp_path / "command.sqlite"]
    for store in stores:
        with Journal(store) as journal:
            journal.append_all(STORED, bottled(STORED, START - timedelta(days=1)), 0)
    with Journal(stores[0]) as journal:
        desk = Desk(journal, clock)
        desk.open(STORED)
        turn = desk.take(Utterance.typed(words))
        if turn.verdict == "ask":
            turn = desk.take(Utterance.typed("yes"))
        by_words = journal.events(STORED)[-1]
    monkeypatch.setattr("assistant.commands.larder.WallClock", lambda: clock)
    monkeypatch.setattr(
        sys, "argv", ["panside", "larder", name, STORED, *arguments, "--store", str(stores[1])]
    )
    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code in (0, None)
    with Journal(stores[1]) as journal:
        by_command = journal.events(STORED)[-1]
    assert by_command.meaning() == by_words.meaning()
    assert capsys.readouterr().out.splitlines() == list(shown(turn))


def test_a_tap_is_written_as_the_words_are(tmp_path: Path) -> None:
    with Journal(tmp_path / "s.sqlite") as journal:
        journal.append_all(STORED, bottled(STORED, START - timedelta(days=1)), 0)
        desk = Desk(journal, SetClock(START))
        used = desk.record(STORED, Used(at=START, count=2))
        sign = desk.record(STORED, Sign(at=START, what="bulging"))
        assert (used.verdict, sign.verdict) == ("take", "take")
        assert desk.record(STORED, Used(at=START, count=40)).verdict == "refuse"
        assert [e.kind for e in journal.events(STORED)[-2:]] == ["used", "sign"]
        assert desk.batches == ()
