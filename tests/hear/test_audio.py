"""Recordings of many formats, and what is said about those that can't be read."""

import io
import struct
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import BadRecording
from assistant.hear.audio import (
    decode,
    from_pcm16,
    is_clipped,
    loudness,
    read_recording,
    to_pcm16,
)
from assistant.hear.heard import SAMPLE_RATE

TONE_HZ = 440.0


def tone(rate: int, seconds: float = 0.5, level: float = 0.5) -> np.ndarray:
    return level * np.sin(2 * np.pi * TONE_HZ * np.arange(round(rate * seconds)) / rate)


def recording(sound: np.ndarray, rate: int, kind: str = "WAV", subtype: str = "PCM_16") -> bytes:
    file = io.BytesIO()
    soundfile.write(file, sound, rate, format=kind, subtype=subtype)
    return file.getvalue()


@pytest.mark.parametrize("channels", [1, 2])
@pytest.mark.parametrize("rate", [8_000, 11_025, 16_000, 22_050, 32_000, 44_100, 48_000])
@pytest.mark.parametrize(
    ("kind", "subtype"),
    [
        ("WAV", "PCM_U8"),
        ("WAV", "PCM_16"),
        ("WAV", "PCM_24"),
        ("WAV", "PCM_32"),
        ("WAV", "FLOAT"),
        ("WAV", "DOUBLE"),
        ("WAV", "ULAW"),
        ("WAVEX", "PCM_16"),
        ("RF64", "PCM_16"),
        ("FLAC", "PCM_16"),
        ("FLAC", "PCM_24"),
    ],
)
def test_any_format_gives_the_same_tone(kind: str, subtype: str, rate: int, channels: int) -> None:
    sound = np.stack([tone(rate)] * channels, axis=1)
    samples = decode(recording(sound, rate, kind, subtype))
    assert samples.dtype == np.float32
    assert samples.ndim == 1
    assert len(samples) == pytest.approx(0.5 * SAMPLE_RATE, abs=8)
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(len(samples))))
    assert np.argmax(spectrum) * SAMPLE_RATE / len(samples) == pytest.approx(TONE_HZ, abs=2)
    assert np.sqrt(np.mean(samples**2)) == pytest.approx(0.5 / np.sqrt(2), rel=0.03)


def test_two_channels_are_averaged() -> None:
    both = np.stack([np.full(1600, 0.6), np.full(1600, 0.2)], axis=1)
    assert decode(recording(both, SAMPLE_RATE)) == pytest.approx(0.4, abs=1e-3)


def test_a_recording_of_unknown_length_is_read() -> None:
    data = bytearray(recording(tone(SAMPLE_RATE), SAMPLE_RATE))
    at = data.index(b"data")
    data[at + 4 : at + 8] = b"\xff\xff\xff\xff"
    assert len(decode(bytes(data))) == 8000


def test_values_beyond_full_scale_are_clipped() -> None:
    loud = decode(recording(np.full(160, 3.0), SAMPLE_RATE, subtype="FLOAT"))
    assert loud == pytest.approx(1.0)


GOOD = recording(tone(SAMPLE_RATE), SAMPLE_RATE)
FLAC = recording(tone(SAMPLE_RATE), SAMPLE_RATE, "FLAC")
BAD = {
    "empty": (b"", "is empty"),
    "text": (b"two point four kilos\n", "not a recording"),
    "mp3 header": (b"ID3\x04" + bytes(500), "not a recording"),
    "header cut off": (GOOD[:20], "damaged"),
    "header only": (GOOD[:44], "no sound"),
    "cut off in the sound": (GOOD[:6000], "cut short"),
    "flac header only": (FLAC[:42], "damaged"),
    "flac cut off": (FLAC[: len(FLAC) * 9 // 10], "cut short"),
    "flac of another": (b"fLaC" + bytes(200), "damaged"),
    "too slow": (recording(tone(4000), 4000), "4000 Hz"),
    "no rate": (GOOD[:24] + bytes(4) + GOOD[28:], "damaged"),
    "too fast": (GOOD[:24] + struct.pack("<I", 300_000) + GOOD[28:], "300000 Hz"),
    "not a number": (
        recording(np.array([0.0, np.nan, 0.1]), SAMPLE_RATE, subtype="FLOAT"),
        "aren't numbers",
    ),
    "no samples": (recording(np.zeros(0), SAMPLE_RATE), "no sound"),
    "too long": (recording(np.zeros(8000 * 601, np.int16), 8000), "longer than 10 minutes"),
    "small file, long sound": (
        recording(np.zeros(8000 * 601, np.int16), 8000, "FLAC"),
        "longer than 10 minutes",
    ),
}


@pytest.mark.parametrize(("data", "words"), BAD.values(), ids=BAD)
def test_a_bad_recording_is_named_in_one_sentence(data: bytes, words: str, tmp_path: Path) -> None:
    path = tmp_path / "bad.wav"
    path.write_bytes(data)
    with pytest.raises(BadRecording, match=words) as caught:
        read_recording(path)
    said = str(caught.value)
    assert str(path) in said
    assert said.endswith(".")
    assert "; " in said, "no word on what to do"
    assert "\n" not in said


@pytest.mark.parametrize(
    ("name", "words"), [("nothing.wav", "no file"), (".", "is a folder"), ("a\0b.wav", "opened")]
)
def test_a_file_that_is_none(name: str, words: str, tmp_path: Path) -> None:
    with pytest.raises(BadRecording, match=words):
        read_recording(tmp_path / name)


def test_a_length_that_the_header_hides_is_found_while_decoding() -> None:
    """The count of samples in a FLAC header is 36 bits from the 18th byte's low half on."""
    data = bytearray(recording(np.zeros(8000 * 601, np.int16), 8000, "FLAC"))
    data[21] &= 0xF0
    data[22:26] = bytes(4)
    with pytest.raises(BadRecording, match="longer than 10 minutes"):
        decode(bytes(data))


def decodes_or_says_why(data: bytes) -> None:
    try:
        samples = decode(data, "it")
    except BadRecording:
        return
    assert len(samples) > 0
    assert np.isfinite(samples).all()
    assert np.abs(samples).max() <= 1.0


@given(st.sampled_from([b"", b"RIFF", b"RIFF\x24\0\0\0WAVEfmt ", b"fLaC", b"RF64"]), st.binary())
def test_random_bytes_do_no_harm(start: bytes, rest: bytes) -> None:
    decodes_or_says_why(start + rest)


@settings(max_examples=300)
@given(
    st.sampled_from([GOOD, FLAC]),
    st.lists(st.tuples(st.integers(0, 100), st.integers(0, 255)), max_size=8),
    st.integers(0, len(GOOD)),
)
def test_damaged_headers_do_no_harm(
    data: bytes, changes: list[tuple[int, int]], length: int
) -> None:
    damaged = bytearray(data)
    for at, value in changes:
        damaged[at] = value
    decodes_or_says_why(bytes(damaged[:length]) if length else bytes(damaged))


@given(st.lists(st.floats(-1, 1, width=32), min_size=1, max_size=200))
def test_what_is_written_is_read_again(values: list[float]) -> None:
    samples = np.array(values, dtype=np.float32)
    assert from_pcm16(to_pcm16(samples)) == pytest.approx(samples, abs=1 / 16_000)


@pytest.mark.parametrize(
    ("level", "decibels"), [(1.0, 0.0), (0.5, -6.02), (0.001, -60.0), (0.0, -120.0)]
)
def test_loudness_of_a_steady_level(level: float, decibels: float) -> None:
    assert loudness(np.full(800, level, dtype=np.float32)) == pytest.approx(decibels, abs=0.01)


def test_loudness_of_nothing() -> None:
    assert loudness(np.zeros(0, dtype=np.float32)) == -120.0


@pytest.mark.parametrize(
    ("gain", "turned_down", "clipped"),
    [(0.5, 1.0, False), (1.0, 1.0, False), (2.0, 1.0, True), (8.0, 1.0, True), (4.0, 0.3, True)],
)
def test_flat_tops_are_clipping(gain: float, turned_down: float, clipped: bool) -> None:
    sound = np.clip(gain * tone(SAMPLE_RATE, level=1.0), -1, 1) * turned_down
    assert is_clipped(sound.astype(np.float32)) is clipped


@pytest.mark.parametrize("level", [0.0, 0.01])
def test_silence_is_not_clipped(level: float) -> None:
    assert not is_clipped(np.full(1600, level, dtype=np.float32))
