"""`panside talk`: hands-busy, on microphone and speaker."""

import sys
import threading
import time
from collections.abc import Iterable
from typing import Annotated

import typer

from assistant.aloud.attention import Attention
from assistant.aloud.called import Called
from assistant.aloud.conversation import Conversation
from assistant.aloud.voicing import Voicing
from assistant.base.clock import WallClock
from assistant.base.errors import EarsMissing, LimitStopped
from assistant.commands.chat import stopped_words
from assistant.commands.options import (
    AsJson,
    BatchIds,
    EarsName,
    RecipeNames,
    Store,
    VoskModel,
    emit,
    open_desk,
    open_journal,
    turn_record,
)
from assistant.hear.choose import open_ears
from assistant.hear.gain import kept_gain
from assistant.hear.microphone import Microphone
from assistant.hear.over_voice import OverVoice
from assistant.say.manner import Manners
from assistant.say.player import NoPlayer, Player
from assistant.say.speaker import Speaker
from assistant.say.voice import EspeakVoice
from assistant.turns.rendering import shown
from assistant.turns.turn import Turn


def talk(
    recipe: RecipeNames = None,
    batch: BatchIds = None,
    ears: EarsName = "auto",
    vosk_model: VoskModel = None,
    mute: Annotated[
        bool, typer.Option("--mute", help="Show the answers, do not say them.")
    ] = False,
    called: Annotated[
        str, typer.Option("--called", help="Listen only when called by this name, or answered.")
    ] = "",
    no_earcons: Annotated[
        bool, typer.Option("--no-earcons", help="Leave out the short sounds before the answers.")
    ] = False,
    json: AsJson = False,
    store: Store = None,
) -> None:
    """Make a batch by talking, or several at once: your hands stay with the fruit."""
    name = Called(called)
    engine = open_ears(ears, vosk_model=vosk_model, may_download=ears == "vosk")
    voice = EspeakVoice()
    speaker = Speaker(voice, NoPlayer() if mute else Player(timer=time.monotonic))
    voicing = Voicing(speaker, Manners(voice), earcons=not no_earcons)
    with Microphone(gain=kept_gain()) as microphone:
        desk, why = open_desk(open_journal(store), WallClock(), recipe, batch)
        typer.echo(f"{why} {engine.why} Enter hushes the voice, Ctrl-C ends.", err=True)
        if sys.stdin.isatty():
            threading.Thread(target=hush_at, args=(sys.stdin, speaker), daemon=True).start()
        attention = Attention(speaker, lambda: microphone.at, over_voice())
        talking = Conversation(
            desk,
            engine,
            speaker,
            emit_turn if json else show_turn,
            show_partial if sys.stderr.isatty() and not json else lambda _: None,
            attention,
            voicing,
            name,
        )
        try:
            talking.run(microphone.blocks())
        finally:
            speaker.close()
    if desk.stopped:
        raise LimitStopped(stopped_words(desk))


def over_voice() -> OverVoice | None:
    """What hears the cook while the voice sounds; without it the cook has to wait."""
    try:
        return OverVoice()
    except EarsMissing as missing:
        typer.echo(f"{missing} Until then, wait till the voice has ended.", err=True)
        return None


def show_partial(words: str) -> None:
    """Words that are still being spoken, on a line that is written over."""
    typer.echo(f"\r\033[K  ...      {words}\r", nl=False, err=True)


def hush_at(lines: Iterable[str], speaker: Speaker) -> None:
    """Break off the sentence that sounds at every line that comes in."""
    for _ in lines:
        speaker.hush()


def emit_turn(turn: Turn) -> None:
    """A turn as one JSON object."""
    emit(turn_record(turn))


def show_turn(turn: Turn) -> None:
    """A turn as words on the screen."""
    if sys.stderr.isatty():
        typer.echo("\033[K", nl=False, err=True)
    if turn.heard:
        typer.echo(f"  you      {turn.heard}")
    for line in shown(turn):
        typer.echo(f"  panside  {line}")
