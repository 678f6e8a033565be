"""`panside demo`: a whole batch from recordings, through the real ears and the real voice."""

import json as jsonlib
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated, Any

import typer

from assistant.base.clock import SetClock
from assistant.base.data import folder
from assistant.base.errors import PansideError, WrongUse
from assistant.commands.options import AsJson, EarsName, VoskModel, emit, turn_record
from assistant.commands.talk import show_turn
from assistant.hear.audio import read_recording
from assistant.hear.choose import open_ears
from assistant.hear.heard import Ears
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.report import batch_lines
from assistant.say.voice import EspeakVoice
from assistant.turns.desk import Desk
from assistant.turns.rendering import spoken
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance
from assistant.understand import phrases

BEGUN = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
"""A summer Saturday at the tea hut; the demo's clock moves as its script says."""


def demo(
    out: Annotated[
        Path | None, typer.Option("--out", help="Folder for the spoken replies and the report.")
    ] = None,
    ears: EarsName = "auto",
    vosk_model: VoskModel = None,
    json: AsJson = False,
) -> None:
    """Make the tea hut's blackcurrant batch from recordings: no microphone or speaker needed."""
    target = _folder(out or Path("panside-demo"))
    engine = open_ears(ears, vosk_model=vosk_model)
    voice = EspeakVoice()
    if not json:
        typer.echo(f"{engine.why}\nReplies go to {target}.\n")
    with TemporaryDirectory() as scratch:
        journal = Journal(Path(scratch) / "demo.sqlite")
        clock = SetClock(BEGUN)
        desk = Desk(journal, clock)
        begun = desk.begin(load_recipe("berry-syrup"))
        _tell(desk.greet(), json)
        for number, row in enumerate(script(), 1):
            clock.forward(row["after_s"])
            turn = _one_turn(desk, engine, row)
            _tell(turn, json)
            voice.write(spoken(turn), target / f"{number:02}_reply.wav")
        report = batch_lines(journal.events(begun.id))
        journal.close()
    (target / "report.txt").write_text("\n".join(report) + "\n", "utf-8")
    if not json:
        typer.echo("\n" + "\n".join(report))
    if desk.in_hand().ended != "finished":
        raise PansideError(f"the demo batch did not finish: it is at {desk.in_hand().stage}")


def script() -> list[dict[str, Any]]:
    """The demo's recordings in order, each with the seconds since the one before."""
    text = folder("audio_fixtures").joinpath("manifest.jsonl").read_text("utf-8")
    rows = [jsonlib.loads(line) for line in text.splitlines() if line.strip()]
    return [row for row in rows if row["set"] == "demo"]


def _one_turn(desk: Desk, ears: Ears, row: dict[str, Any]) -> Turn:
    """A recording heard and answered; what is not understood is answered too."""
    ears.expect(phrases())
    samples = read_recording(folder("audio_fixtures").joinpath(row["file"]))
    heard = ears.hear(samples)
    if not heard:
        raise PansideError(f"nothing was heard in {row['file']}")
    return desk.take(desk.weighed(Utterance(heard=heard[0]), ears))


def _tell(turn: Turn, json: bool) -> None:
    emit(turn_record(turn)) if json else show_turn(turn)


def _folder(path: Path) -> Path:
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise WrongUse(f"{path}: can't be used as a folder for the replies ({error}).") from error
    return path
