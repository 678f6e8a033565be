"""Which ears are taken, and why."""

from collections.abc import Callable
from pathlib import Path

import pytest
import vosk
from model_maker import make_model

from assistant.base.errors import EarsMissing, WrongUse
from assistant.hear import choose, voice_activity, whisper_model
from assistant.hear.choose import open_ears, survey
from assistant.hear.heard import Ears
from assistant.hear.vosk_model import VARIABLE

NOTHING: dict[str, str] = {}


@pytest.fixture(autouse=True)
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Vosk's own folder, empty and far from the real one."""
    place = tmp_path / "cache"
    monkeypatch.setattr(vosk, "MODEL_DIRS", [place])
    return place


@pytest.mark.audio
@pytest.mark.parametrize("choice", ["auto", "whisper"])
def test_whisper_is_there_when_vosk_is_not(choice: str) -> None:
    ears = open_ears(choice, environment=NOTHING)
    assert ears.name == "whisper"
    reason = "no English model for Vosk" if choice == "auto" else "it was asked for"
    assert reason in ears.why


class Unloaded:
    """Ears on Vosk that load nothing and keep the folder they were given."""

    def __init__(self, model: Path) -> None:
        self.name, self.model, self.why = "vosk", model, ""


@pytest.mark.parametrize("choice", ["auto", "vosk"])
@pytest.mark.parametrize("how", ["path", "variable", "store"])
def test_vosk_is_taken_where_its_model_is(
    choice: str, how: str, store: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(choose, "VoskEars", Unloaded)
    place = store if how == "store" else tmp_path
    folder = make_model(place / "vosk-model-small-en-us-0.15")
    ears = open_ears(
        choice,
        vosk_model=folder if how == "path" else None,
        environment={VARIABLE: str(folder)} if how == "variable" else NOTHING,
    )
    assert isinstance(ears, Unloaded)
    assert ears.model == folder
    assert ears.why.startswith("Vosk listens, because ")
    assert ears.why.endswith(f"{folder}.")


@pytest.mark.audio
def test_a_real_vosk_model_is_opened(korean_model: Path) -> None:
    assert open_ears("auto", korean_model, environment=NOTHING).name == "vosk"


@pytest.mark.audio
def test_auto_falls_back_when_the_model_found_is_broken(store: Path) -> None:
    make_model(store / "vosk-model-small-en-us-0.15")
    ears = open_ears("auto", environment=NOTHING)
    assert ears.name == "whisper"
    assert "Vosk can't be used: " in ears.why
    assert "can't be loaded" in ears.why


@pytest.mark.audio
def test_auto_falls_back_when_the_variable_is_wrong(tmp_path: Path) -> None:
    ears = open_ears("auto", environment={VARIABLE: str(tmp_path / "gone")})
    assert ears.name == "whisper"
    assert VARIABLE in ears.why


@pytest.mark.parametrize("choice", ["auto", "vosk"])
def test_a_model_that_was_given_is_not_replaced_by_another(choice: str, tmp_path: Path) -> None:
    with pytest.raises(EarsMissing, match="there is no folder"):
        open_ears(choice, vosk_model=tmp_path / "gone", environment=NOTHING)


def test_vosk_asked_for_without_a_model_says_how_to_mend_it() -> None:
    with pytest.raises(EarsMissing, match=f"--vosk-model or in {VARIABLE}.*--ears whisper"):
        open_ears("vosk", environment=NOTHING)


@pytest.mark.parametrize("choice", ["auto", "vosk", "whisper"])
def test_the_network_is_used_only_for_vosk_and_only_when_allowed(
    choice: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def download() -> Path:
        asked.append(choice)
        raise EarsMissing("no connection.")

    def whisper(reason: str) -> Ears:
        raise EarsMissing(reason)

    monkeypatch.setattr(choose, "download_model", download)
    monkeypatch.setattr(choose, "_whisper", whisper)
    for allowed in (False, True):
        with pytest.raises(EarsMissing):
            open_ears(choice, may_download=allowed, environment=NOTHING)
    assert asked == (["vosk"] if choice == "vosk" else [])


@pytest.mark.parametrize("choice", ["", "Vosk", "ears"])
def test_other_ears_are_a_wrong_use(choice: str) -> None:
    with pytest.raises(WrongUse, match="auto, vosk, whisper"):
        open_ears(choice)


def test_the_survey_finds_what_is_there(korean_model: Path) -> None:
    found = {each.name: each for each in survey(korean_model, NOTHING)}
    assert all(each.present for each in found.values())
    assert str(korean_model) in found["vosk"].detail


def absent_vosk(_: pytest.MonkeyPatch) -> None:
    """The store is empty already."""


def absent_whisper(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whisper_model, "PACKAGE", "no_such_package_of_models")


def absent_gate(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(voice_activity, "_MODEL", "no_such_model.onnx")


@pytest.mark.parametrize(
    ("name", "lose"),
    [("vosk", absent_vosk), ("whisper", absent_whisper), ("voice detector", absent_gate)],
)
def test_the_survey_says_how_to_mend_what_is_missing(
    name: str, lose: Callable[[pytest.MonkeyPatch], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    lose(monkeypatch)
    found = {each.name: each for each in survey(None, NOTHING)}
    assert not found[name].present
    assert found[name].detail
    assert found[name].mend
