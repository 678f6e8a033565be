"""`panside ready --listen`: the cook says twelve sentences, and is told how they arrive."""

import json as jsonlib
import sys
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

import numpy as np
import typer

from assistant.base.errors import WrongUse
from assistant.commands.hearing_check import SENTENCES, Said, advice, room_noise, say_all
from assistant.commands.options import emit
from assistant.hear.audio import to_pcm16
from assistant.hear.gain import fitting, keep_gain, kept_gain
from assistant.hear.heard import SAMPLE_RATE, Ears, Samples
from assistant.hear.sound_level import SoundLevel, together
from assistant.say.voice import write_wave

Answer = Callable[[str], str]
"""What somebody types at a question; "" where nobody is there to type."""


def typed(question: str) -> str:
    """What is typed at a question on a terminal, "" elsewhere: silence is no agreement."""
    if not sys.stdin.isatty():
        return ""
    return str(typer.prompt(question, default="", show_default=False, err=True)).strip()


def listen(
    ears: Ears, blocks: Iterator[Samples], at: datetime, answer: Answer = typed, json: bool = False
) -> list[Said]:
    """Ask for the sentences, tell how they were heard and what to change, keep what is agreed to.

    ears, blocks : who hears, and what the microphone gives, not lifted by any gain
    at : now, by a clock
    answer : puts a question and gives what is typed
    json : one object a line
    """
    _hint("Say each sentence when it stands here. Nothing leaves this machine. First be quiet ...")
    noise = room_noise(blocks)
    said = []
    for each in say_all(ears, blocks, at, noise, _invite):
        said.append(each)
        emit(_record(each)) if json else typer.echo(_line(each))
    level = together([each.level for each in said])
    told = advice(said, level)
    emit(_summary(said, level, told)) if json else _tell(said, level, told)
    _lift(level, answer)
    _keep(said, answer)
    return said


def _hint(text: str) -> None:
    typer.echo(text, err=True)


def _invite(number: int, words: str) -> None:
    _hint(f"{number:2} of {len(SENTENCES)}   say: {words}")


def _line(said: Said) -> str:
    words = f', as "{said.heard}"' if said.heard else ""
    clipped = ", clipped" if said.level.clipped else ""
    return f"{said.outcome:15}{said.words}{words} ({said.level.speech:.0f} dBFS{clipped})"


def _record(said: Said) -> dict[str, object]:
    return {
        "words": said.words,
        "outcome": said.outcome,
        "heard": said.heard,
        "speech_db": round(said.level.speech, 1),
        "clipped": said.level.clipped,
    }


def _counts(said: list[Said]) -> dict[str, int]:
    outcomes = [each.outcome for each in said]
    return {outcome: outcomes.count(outcome) for outcome in dict.fromkeys(outcomes)}


def _summary(said: list[Said], level: SoundLevel, told: list[str]) -> dict[str, object]:
    return {
        "counts": _counts(said),
        "speech_db": round(level.speech, 1),
        "noise_db": round(level.noise, 1),
        "peak_db": round(level.peak, 1),
        "clipped": level.clipped,
        "advice": told,
    }


def _tell(said: list[Said], level: SoundLevel, told: list[str]) -> None:
    counts = ", ".join(f"{count} {outcome}" for outcome, count in _counts(said).items())
    typer.echo(f"\n{counts}. A pH and what decides a hold are always asked back.")
    typer.echo(
        f"Voice {level.speech:.0f} dBFS, noise {level.noise:.0f}, so {level.above:.0f} dB "
        f"above it; loudest {level.peak:.0f}{', clipped' if level.clipped else ''}."
    )
    for line in told or ["Nothing has to be changed."]:
        typer.echo(line)


def _lift(level: SoundLevel, answer: Answer) -> None:
    """Offer to hear this microphone louder, or no louder than it is any more."""
    fits, now = fitting(level), kept_gain()
    if fits == now:
        return
    if fits:
        question = f"Let talk hear this microphone {fits:.0f} dB louder from now on? (yes or Enter)"
    else:
        question = f"It is loud enough without the {now:.0f} dB kept. Forget them? (yes or Enter)"
    if answer(question).lower() in ("y", "yes"):
        keep_gain(fits)
        _hint(f"Kept: {fits:.0f} dB. The check can be made again at any time.")


def _keep(said: list[Said], answer: Answer) -> None:
    """Keep the recordings only where a folder is named for them."""
    named = answer("Keep these recordings? Name a new folder for them, or press Enter to forget")
    if named:
        folder = write_recordings(said, Path(named).expanduser())
        _hint(f"{len(said)} recordings are in {folder}; they are yours, delete them when you like.")


def write_recordings(said: list[Said], folder: Path) -> Path:
    """Each sentence as a WAV file, and a list of what was heard; the folder.

    WrongUse where there is something in the folder already, or it can't be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if any(folder.iterdir()):
            raise WrongUse(f"{folder} is not empty; name a new folder.")
        for number, each in enumerate(said, 1):
            pcm = np.frombuffer(to_pcm16(each.sound), np.int16)
            name = f"{number:02}_{each.words.replace(' ', '_')}.wav"
            write_wave(pcm, SAMPLE_RATE, folder / name)
        lines = "".join(jsonlib.dumps(_record(each)) + "\n" for each in said)
        (folder / "heard.jsonl").write_text(lines, "utf-8")
    except OSError as error:
        raise WrongUse(f"{folder} can't be written ({error.strerror}).") from error
    return folder
