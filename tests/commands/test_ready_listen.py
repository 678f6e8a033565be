"""`panside ready --listen`, with recordings as the microphone."""

import io
import json
import math
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import ClassVar

import numpy as np
import pytest
from sounds import cut_up, silence, spoken, white, write_wav

import assistant.commands.ready as ready
import assistant.commands.talk as talk
from assistant.base.errors import WrongUse
from assistant.commands import ready_listen
from assistant.commands.hearing_check import SENTENCES, WAITS_S, Said, advice, room_noise, say_all
from assistant.commands.ready_listen import listen
from assistant.hear import gain
from assistant.hear.audio import read_recording
from assistant.hear.gain import kept_gain
from assistant.hear.heard import SAMPLE_RATE, Ears, Samples
from assistant.hear.scripted_ears import ScriptedEars
from assistant.hear.sound_level import SoundLevel
from assistant.hear.whisper_ears import WhisperEars

AT = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
WORDS = [words for words, _ in SENTENCES]
BLOCK = 8192
GOOD = SoundLevel(speech=-33, noise=-70, peak=-12, clipped=False)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    place = tmp_path / "config"
    monkeypatch.setattr(gain, "user_config_dir", lambda *_, **__: str(place))
    return place


def no_answer(_: str) -> str:
    return ""


def blocks(level: float = 0.01) -> Iterator[Samples]:
    """A quiet room, then a block for each sentence."""
    yield from cut_up(white(2.0, 0.0005), 1024)
    tone = level * np.sin(2 * np.pi * 440 * np.arange(BLOCK) / SAMPLE_RATE)
    while True:
        yield tone.astype(np.float32)


def answering(**answers: str) -> Callable[[str], str]:
    """Answers a question by the first word that it holds."""
    return lambda question: next((a for word, a in answers.items() if word in question), "")


def outcomes(said: list[Said]) -> list[str]:
    return [each.outcome for each in said]


def test_what_is_said_as_asked_is_right(capsys: pytest.CaptureFixture[str]) -> None:
    said = listen(ScriptedEars(WORDS), blocks(), AT, no_answer)
    assert set(outcomes(said)) <= {"right", "asked"}
    told = capsys.readouterr()
    assert all(f"say: {words}" in told.err for words in WORDS)
    assert "Nothing has to be changed." in told.out


@pytest.mark.parametrize(
    ("heard", "outcome"),
    [
        ("sixty nine degrees", "wrong"),
        ("the boats are back", "not understood"),
        (None, "not heard"),
    ],
)
def test_what_else_becomes_of_a_sentence_is_told(heard: str | None, outcome: str) -> None:
    script = [heard if words == "sixty eight degrees" else words for words in WORDS]
    if heard is None:  # nothing comes while it waits
        script[4:5] = [None] * math.ceil(WAITS_S * SAMPLE_RATE / BLOCK)
    stream = blocks()
    room_noise(stream)
    said = list(say_all(ScriptedEars(script), stream, AT, -70, lambda *_: None))
    assert said[4].outcome == outcome
    assert set(outcomes(said[:4] + said[5:])) <= {"right", "asked"}


def test_a_microphone_that_ends_is_no_endless_wait() -> None:
    said = listen(ScriptedEars([]), iter([silence(1.0)]), AT, no_answer)
    assert outcomes(said) == ["not heard"] * len(SENTENCES)


@pytest.mark.parametrize(
    ("outcome", "level", "word"),
    [
        ("right", GOOD, None),
        ("wrong", GOOD, "was not said"),
        ("right", SoundLevel(-20, -70, 0, True), "overdriven"),
        ("right", SoundLevel(-60, -90, -40, False), "very quietly"),
        ("right", SoundLevel(-33, -40, -12, False), "nearly as loud"),
        ("right", SoundLevel(-33, -48, -12, False), "more will be asked back"),
        ("not understood", GOOD, "got lost"),
        ("not heard", SoundLevel(-70, -70, -60, False), "Nobody was heard"),
    ],
)
def test_what_to_change_is_told(outcome: str, level: SoundLevel, word: str | None) -> None:
    said = [Said("yes", outcome, "yes", level, silence(0.1))] * 12  # type: ignore[arg-type]
    told = advice(said, level)
    assert (word is None and told == []) or (word is not None and word in told[0])


def test_nothing_is_kept_without_a_word(home: Path, tmp_path: Path) -> None:
    listen(ScriptedEars(WORDS), blocks(0.0015), AT, no_answer)
    assert list(tmp_path.iterdir()) == []
    assert kept_gain() == 0
    assert not home.exists()


def test_where_nobody_types_nothing_is_agreed_to(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("yes\n"))
    assert ready_listen.typed("Keep these recordings?") == ""


def test_quiet_speech_is_lifted_where_that_is_agreed_to() -> None:
    listen(ScriptedEars(WORDS), blocks(0.0015), AT, answering(louder="yes"))
    assert 20 < kept_gain() < 30
    listen(ScriptedEars(WORDS), blocks(0.02), AT, answering(Forget="no"))
    assert kept_gain() > 20
    listen(ScriptedEars(WORDS), blocks(0.02), AT, answering(Forget="yes"))
    assert kept_gain() == 0


def test_recordings_are_kept_where_somebody_names_a_folder(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    said = listen(ScriptedEars(WORDS), blocks(), AT, answering(recordings=str(folder)))
    waves = sorted(folder.glob("*.wav"))
    assert len(waves) == 12
    assert read_recording(waves[0]) == pytest.approx(said[0].sound, abs=1e-4)
    rows = [json.loads(line) for line in (folder / "heard.jsonl").read_text("utf-8").splitlines()]
    assert [row["words"] for row in rows] == WORDS
    with pytest.raises(WrongUse, match="not empty"):
        listen(ScriptedEars(WORDS), blocks(), AT, answering(recordings=str(folder)))


def test_each_sentence_and_the_whole_are_an_object(capsys: pytest.CaptureFixture[str]) -> None:
    listen(ScriptedEars(WORDS), blocks(), AT, no_answer, json=True)
    *each, whole = (json.loads(line) for line in capsys.readouterr().out.splitlines())
    assert [row["words"] for row in each] == WORDS
    assert sum(whole["counts"].values()) == 12
    assert whole["noise_db"] == pytest.approx(-66, abs=1)


class Recorded:
    """A microphone that gives the blocks of these tests; its gain is noted."""

    gains: ClassVar[list[float]] = []

    def __init__(self, gain: float = 0.0) -> None:
        self.gains.append(gain)

    def __enter__(self) -> "Recorded":
        return self

    def __exit__(self, *_: object) -> None:
        """Nothing to close."""

    def blocks(self) -> Iterator[Samples]:
        """A quiet room, then sentences."""
        return blocks()


def test_the_check_hears_the_microphone_as_it_is_and_talk_as_was_agreed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    gain.keep_gain(12.0)
    monkeypatch.setattr(Recorded, "gains", [])
    for module in (ready, talk):
        monkeypatch.setattr(module, "Microphone", Recorded)
        monkeypatch.setattr(module, "open_ears", lambda *_, **__: ScriptedEars(WORDS))
    monkeypatch.setattr(sys, "stdin", io.StringIO())  # nobody is there to type
    ready.ready(listen=True)
    assert capsys.readouterr().out.count("dBFS") >= 12
    monkeypatch.setattr(talk, "open_desk", lambda *_: sys.exit())
    with pytest.raises(SystemExit):
        talk.talk(mute=True)
    assert Recorded.gains == [0.0, 12.0]


@pytest.mark.audio
def test_recordings_are_heard_as_a_microphone_would_be(tmp_path: Path) -> None:
    """Through WAV files and the real ears: what was said, at what level, over what noise."""
    ears: Ears = WhisperEars()
    for number, words in enumerate(WORDS):
        sound = np.concatenate([silence(0.5), 0.3 * spoken(words), silence(1.3)])
        noisy = sound + white(len(sound) / SAMPLE_RATE, 0.001)
        write_wav(tmp_path / f"{number:02}.wav", noisy)
    wavs = [read_recording(path) for path in sorted(tmp_path.glob("*.wav"))]
    noise = room_noise(iter(cut_up(white(2.0, 0.001), 1024)))
    stream = (block for wav in wavs for block in cut_up(wav, 1024))
    said = list(say_all(ears, stream, AT, noise, lambda *_: None))
    assert "not heard" not in outcomes(said)
    assert outcomes(said).count("wrong") == 0
    assert sum(each in ("right", "asked") for each in outcomes(said)) >= 9
    assert all(-60 < each.level.speech < -20 for each in said)
    assert noise == pytest.approx(-60, abs=1)
