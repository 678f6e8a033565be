"""`panside talk`: hands-busy, on microphone and speaker."""

import sys
import threading
from collections.abc import Iterable
from typing import Annotated

import typer

from assistant.clock import WallClock
from assistant.commands.chat import stopped_words
from assistant.commands.options import (
    AsJson,
    BatchIds,
    EarsName,
    RecipeNames,
    Store,
    VoskModel,
    emit,
    open_journal,
    open_kitchen,
    turn_record,
)
from assistant.conversation import Conversation
from assistant.errors import LimitStopped
from assistant.hear.choose import open_ears
from assistant.hear.microphone import Microphone
from assistant.say.player import NoPlayer, Player
from assistant.say.speaker import Speaker
from assistant.say.voice import EspeakVoice
from assistant.session import Turn


def talk(
    recipe: RecipeNames = None,
    batch: BatchIds = None,
    ears: EarsName = "auto",
    vosk_model: VoskModel = None,
    mute: Annotated[
        bool, typer.Option("--mute", help="Show the answers, do not say them.")
    ] = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Make a batch by talking, or several at once: your hands stay with the fruit."""
    engine = open_ears(ears, vosk_model=vosk_model, may_download=ears == "vosk")
    speaker = Speaker(EspeakVoice(), NoPlayer() if mute else Player())
    with Microphone() as microphone:
        kitchen, why = open_kitchen(open_journal(store), WallClock(), recipe, batch)
        typer.echo(f"{why} {engine.why} Enter hushes the voice, Ctrl-C ends.", err=True)
        if sys.stdin.isatty():
            threading.Thread(target=hush_at, args=(sys.stdin, speaker), daemon=True).start()
        told = emit_turn if json else show_turn
        try:
            Conversation(kitchen, engine, speaker, told).run(microphone.blocks())
        finally:
            speaker.close()
    if kitchen.stopped:
        raise LimitStopped(stopped_words(kitchen))


def hush_at(lines: Iterable[str], speaker: Speaker) -> None:
    """Break off the sentence that sounds at every line that comes in."""
    for _ in lines:
        speaker.hush()


def emit_turn(turn: Turn) -> None:
    """A turn as one JSON object."""
    emit(turn_record(turn))


def show_turn(turn: Turn) -> None:
    """A turn as words on the screen."""
    if turn.heard:
        typer.echo(f"  you      {turn.heard}")
    for line in turn.show:
        typer.echo(f"  panside  {line}")
