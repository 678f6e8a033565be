"""`panside hear`: recordings to events."""

from datetime import datetime
from pathlib import Path
from typing import Annotated, Any

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import BadRecording
from assistant.commands.options import AsJson, EarsName, VoskModel, emit, meanings
from assistant.cook.awaiting import AWAITABLE, asked_for
from assistant.facts.asked import Asked
from assistant.hear.audio import is_clipped, read_recording
from assistant.hear.choose import open_ears
from assistant.hear.heard import Ears
from assistant.understand import phrases, understand, weighed


def hear(
    files: Annotated[list[Path], typer.Argument(help="Recordings: WAV or FLAC.")],
    awaiting: Annotated[
        str, typer.Option("--awaiting", help=f"What is asked for: {', '.join(AWAITABLE)}.")
    ] = "question",
    ears: EarsName = "auto",
    vosk_model: VoskModel = None,
    json: AsJson = False,
) -> None:
    """Turn recordings into events: take, ask or refuse."""
    asked = asked_for(awaiting)
    engine = open_ears(ears, vosk_model=vosk_model, may_download=ears == "vosk")
    engine.expect(phrases())
    at = WallClock().now()
    bad: list[BadRecording] = []
    for file in files:
        try:
            records = _heard(file, engine, asked, at)
        except BadRecording as error:
            bad.append(error)
            typer.echo(f"panside: {error}", err=True)
            continue
        for record in records:
            emit(record) if json else typer.echo(_words(record))
    if bad:
        raise typer.Exit(bad[0].exit_code)


def _heard(file: Path, engine: Ears, asked: Asked, at: datetime) -> list[dict[str, Any]]:
    """One record an utterance; one with nothing in it for a recording without speech."""
    samples = read_recording(file)
    if is_clipped(samples):
        typer.echo(
            f"panside: {file} is clipped: record it again, farther from the mouth.", err=True
        )
    heards = engine.hear(samples)
    records = []
    for heard in heards:
        found = understand(weighed(heard, engine, asked, at), asked, at)
        candidates = found.question.candidates if found.question else ()
        also = [m for events in candidates for m in meanings(events)]
        records.append(
            {
                "file": str(file),
                "text": heard.text,
                "verdict": found.verdict,
                "events": meanings(found.events) if found.verdict == "take" else [],
                "also": also or meanings(found.also),
                "reason": found.reason,
                "engine": heard.engine,
                "seconds": round(heard.seconds, 3),
            }
        )
    return records or [_nothing(file, engine)]


def _nothing(file: Path, engine: Ears) -> dict[str, Any]:
    return {
        "file": str(file),
        "text": "",
        "verdict": "refuse",
        "events": [],
        "also": [],
        "reason": "no speech",
        "engine": engine.name,
        "seconds": 0.0,
    }


def _words(record: dict[str, Any]) -> str:
    found = record["events"] if record["verdict"] == "take" else record["also"]
    told = "; ".join(" ".join(str(v) for v in e.values()) for e in found)
    text = f'"{record["text"]}"' if record["text"] else "no speech"
    return f"{record['file']}: {text} -> {record['verdict']}" + (f": {told}" if told else "")
