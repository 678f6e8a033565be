"""`panside ready`: what is there, what is missing, and how to mend it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import PansideError, SomethingMissing
from assistant.commands.options import AsJson, EarsName, Store, VoskModel, emit, open_journal
from assistant.hear.choose import open_ears, survey
from assistant.hear.microphone import Microphone, check_microphone
from assistant.hear.over_voice import OverVoice
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.say.player import Player
from assistant.say.voice import EspeakVoice
from assistant.understand import phrases


@dataclass(frozen=True)
class Finding:
    """One thing looked at: its name, whether it is there, and what was found or is to be done.

    needed : nothing can be said or heard without it
    """

    name: str
    there: bool
    detail: str
    needed: bool = True


def ready(
    ears: EarsName = "auto",
    vosk_model: VoskModel = None,
    store: Store = None,
    json: AsJson = False,
    listen: Annotated[
        bool, typer.Option("--listen", help="Say twelve sentences, and see how they are heard.")
    ] = False,
) -> None:
    """Check microphone, speaker, ears, voice, store and data; say how to mend what is missing."""
    if listen:
        _listen(ears, vosk_model, json)
        return
    findings = [
        _look("ears", lambda: open_ears(ears, vosk_model=vosk_model).why),
        _look("voice", _voice),
        _look("store", lambda: f"journal at {open_journal(store).store}"),
        _look("data", _data),
        _look("microphone", check_microphone),
        _look("speaker", _speaker),
        *_parts(vosk_model),
    ]
    for found in findings:
        if json:
            emit(
                {"name": found.name, "there": found.there, "detail": found.detail}
                | ({} if found.needed else {"needed": False})
            )
        else:
            there = "yes" if found.there else "NO" if found.needed else "no"
            typer.echo(f"{there:4}{found.name:16}{found.detail}")
    missing = [f.name for f in findings if f.needed and not f.there]
    if missing:
        raise SomethingMissing(f"not ready to talk: {', '.join(missing)}. {_still(missing)}")


def _listen(ears: str, vosk_model: Path | None, json: bool) -> None:
    from assistant.commands import ready_listen

    opened = open_ears(ears, vosk_model=vosk_model)
    with Microphone() as microphone:
        ready_listen.listen(opened, microphone.blocks(), WallClock().now(), json=json)


def _parts(vosk_model: Path | None) -> list[Finding]:
    """What makes it hear better, and can be done without."""
    found = [
        Finding(s.name, s.present, f"{s.detail}; {s.mend}" if s.mend else s.detail, needed=False)
        for s in survey(vosk_model)
    ]
    return [*found, replace(_look("speaking over", _over_voice), needed=False)]


def _still(missing: list[str]) -> str:
    if set(missing) <= {"microphone", "speaker"}:
        return "demo, chat and hear work without."
    return "The lines above say how to mend it."


def _look(name: str, check: Callable[[], str]) -> Finding:
    try:
        return Finding(name, True, check())
    except PansideError as error:
        return Finding(name, False, str(error))


def _voice() -> str:
    samples, rate = EspeakVoice().to_samples("Ready.")
    return f"espeak-ng through pyttsx3, {len(samples) / rate:.1f} s of speech made"


def _speaker() -> str:
    Player().close()
    return "speaker opened"


def _over_voice() -> str:
    OverVoice()
    return "the echo canceller takes our own voice out"


def _data() -> str:
    names = [load_recipe(name).name for name in recipe_names()]
    return f"{len(names)} recipe(s), {len(phrases())} words and phrases"
