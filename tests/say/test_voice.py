"""The voices."""

import subprocess
import sys
import threading
import wave
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import VoiceMissing
from assistant.say import voice as voice_module
from assistant.say.voice import (
    LONGEST,
    EspeakVoice,
    SilentVoice,
    Speech,
    plain,
    read_wave,
    write_wave,
)

SENTENCE = "Weigh out six hundred grams of sugar."


@pytest.fixture(scope="module")
def espeak() -> EspeakVoice:
    return EspeakVoice()


def test_a_sentence_becomes_sound(espeak: EspeakVoice) -> None:
    samples, rate = espeak.to_samples(SENTENCE)
    assert samples.dtype == np.int16
    assert 1.0 < len(samples) / rate < 5.0
    assert np.abs(samples).max() > 3000


def alike(one: Speech, other: Speech) -> bool:
    """Whether two takes are of the same words; espeak's own vary by a few samples."""
    return abs(len(one) - len(other)) < 0.005 * len(one)


def test_the_same_words_take_the_same_time(espeak: EspeakVoice) -> None:
    first, _ = espeak.to_samples(SENTENCE)
    other, _ = espeak.to_samples("Something else.")
    again, _ = espeak.to_samples(SENTENCE)
    assert alike(first, again)
    assert not alike(first, other)


def test_seventeen_and_seventy_sound_different(espeak: EspeakVoice) -> None:
    teen, _ = espeak.to_samples("Seventeen degrees.")
    ty, _ = espeak.to_samples("Seventy degrees.")
    assert not alike(teen, ty)


def test_a_faster_voice_takes_less_time() -> None:
    slow, _ = EspeakVoice(rate=120).to_samples(SENTENCE)
    fast, _ = EspeakVoice(rate=240).to_samples(SENTENCE)
    assert len(fast) < 0.8 * len(slow)


def test_a_quieter_voice_is_quieter() -> None:
    loud, _ = EspeakVoice(volume=1.0).to_samples(SENTENCE)
    quiet, _ = EspeakVoice(volume=0.2).to_samples(SENTENCE)
    assert np.abs(quiet).max() < 0.5 * np.abs(loud).max()


def test_two_voices_keep_their_own_rate() -> None:
    slow, fast = EspeakVoice(rate=120), EspeakVoice(rate=240)
    before, _ = slow.to_samples(SENTENCE)
    fast.to_samples(SENTENCE)
    after, _ = slow.to_samples(SENTENCE)
    assert alike(before, after)


@pytest.mark.parametrize("text", ["", "  ", "\x00\x07", "\n"])
def test_nothing_to_say_is_silence(espeak: EspeakVoice, text: str) -> None:
    samples, rate = espeak.to_samples(text)
    assert len(samples) == 0
    assert rate > 0


@pytest.mark.parametrize(
    "text", ["\udcff broken", "naïve café 🫐", "<speak>[[h@l'oU]]</speak>", "?!"]
)
def test_odd_texts_do_no_harm(espeak: EspeakVoice, text: str) -> None:
    samples, _ = espeak.to_samples(text)
    assert samples.dtype == np.int16


def test_speaking_prints_nothing(
    espeak: EspeakVoice, capfd: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    espeak.write(SENTENCE, tmp_path / "speech.wav")
    assert capfd.readouterr() == ("", "")


def test_several_threads_may_speak(espeak: EspeakVoice) -> None:
    expected, _ = espeak.to_samples(SENTENCE)
    found: list[bool] = []

    def speak() -> None:
        samples, _ = espeak.to_samples(SENTENCE)
        found.append(alike(samples, expected))

    threads = [threading.Thread(target=speak) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == [True] * 6


@pytest.mark.parametrize("make", [EspeakVoice, SilentVoice])
def test_a_written_file_holds_the_samples(make: type[SilentVoice], tmp_path: Path) -> None:
    voice = make()
    samples, rate = voice.to_samples(SENTENCE)
    voice.write(SENTENCE, tmp_path / "speech.wav")
    with wave.open(str(tmp_path / "speech.wav")) as file:
        assert (file.getnchannels(), file.getsampwidth()) == (1, 2)
    written, written_rate = read_wave(tmp_path / "speech.wav")
    assert alike(written, samples)
    assert written_rate == rate


@given(st.lists(st.integers(-32768, 32767), max_size=50), st.integers(8000, 48000))
def test_wave_files_keep_their_samples(
    tmp_path_factory: pytest.TempPathFactory, values: list[int], rate: int
) -> None:
    path = tmp_path_factory.getbasetemp() / "kept.wav"
    samples = np.array(values, dtype=np.int16)
    write_wave(samples, rate, path)
    found, found_rate = read_wave(path)
    assert np.array_equal(found, samples)
    assert found_rate == rate


@given(st.text(max_size=3000))
def test_plain_text_can_always_be_spoken(text: str) -> None:
    words = plain(text)
    assert len(words) <= LONGEST
    assert words == " ".join(words.split())
    assert words.isprintable()
    words.encode()


def test_long_text_ends_with_a_whole_word() -> None:
    assert plain("sugar " * 300) == " ".join(["sugar"] * (LONGEST // len("sugar ")))


@pytest.fixture
def unloaded() -> Iterator[None]:
    """As in a process that has not spoken yet."""
    voice_module._espeak.cache_clear()
    yield
    voice_module._espeak.cache_clear()


@pytest.mark.usefixtures("unloaded")
def test_data_that_are_missing_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("espeakng_loader.get_data_path", lambda: str(tmp_path))
    with pytest.raises(VoiceMissing, match=r"no voice: .*its data are not in .*install it again"):
        EspeakVoice()


@pytest.mark.usefixtures("unloaded")
def test_a_library_that_is_missing_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("espeakng_loader.get_library_path", lambda: str(tmp_path / "none.so"))
    with pytest.raises(VoiceMissing, match=r"no voice: espeak can't be loaded .*none\.so"):
        EspeakVoice()


def test_a_voice_that_does_not_exist_is_told() -> None:
    with pytest.raises(VoiceMissing, match="can't speak"):
        EspeakVoice(language="no-such-language").to_samples(SENTENCE)


def test_a_new_voice_does_not_change_the_speed_of_another() -> None:
    first, _ = EspeakVoice(rate=120).to_samples(SENTENCE)
    for _ in range(100):
        samples, _ = EspeakVoice(rate=120).to_samples(SENTENCE)
        assert alike(first, samples)


LONG_PATH = """
import sys, pathlib, espeakng_loader
data = pathlib.Path(sys.argv[1]) / ("x" * 90) / ("y" * 90) / "espeak-ng-data"
data.parent.mkdir(parents=True)
data.symlink_to(espeakng_loader.get_data_path())
espeakng_loader.get_data_path = lambda: str(data)
from assistant.say.voice import EspeakVoice
print(len(EspeakVoice().to_samples("Stir.")[0]) > 1000)
"""


def test_a_deep_folder_is_no_hindrance(tmp_path: Path) -> None:
    root = Path(voice_module.__file__).parents[2]
    ran = subprocess.run(
        [sys.executable, "-c", LONG_PATH, str(tmp_path)],
        capture_output=True,
        text=True,
        cwd=root,
        check=False,
    )
    assert (ran.stdout.strip(), ran.returncode) == ("True", 0), ran.stderr


def test_the_silent_voice_remembers_its_words() -> None:
    voice = SilentVoice(rate=8000, seconds_a_word=0.5)
    samples, rate = voice.to_samples("two\nwords")
    assert (len(samples), rate) == (8000, 8000)
    assert not samples.any()
    assert voice.said == ["two words"]
