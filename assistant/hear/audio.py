"""Recordings in and out: any WAV or FLAC to mono 16 kHz samples, and samples to a WAV file."""

import math
from dataclasses import dataclass
from importlib.resources.abc import Traversable
from pathlib import Path

import miniaudio
import numpy as np
from numpy.typing import NDArray

from assistant.base.errors import BadRecording
from assistant.hear.heard import SAMPLE_RATE, Samples

LONGEST_S = 600.0
"""Longest recording that is read [s]: a batch is told in short sentences."""
MOST_BYTES = 256 * 2**20
"""Ten minutes at 48 kHz, two channels of 32 bits, are 230 MB."""
SILENCE_DB = -120.0
_RATES = (8_000, 192_000)
_CHUNK_FRAMES = 16_384
_TAIL = SAMPLE_RATE // 100
"""Samples that resampling may keep back at the end."""
_UNKNOWN_LENGTH = 0x7FFF_0000
"""Sizes from here up are what recorders write that can't know the length beforehand."""


@dataclass(frozen=True)
class _Shape:
    rate: int
    channels: int
    frames: int


def read_recording(path: Path | Traversable | str) -> Samples:
    """A WAV or FLAC file as mono samples at 16 kHz, -1 to 1.

    path : WAV (8 to 32 bit integer, 32 or 64 bit float, A-law, mu-law) or FLAC, any channels,
        8 to 192 kHz.
    Returns the samples [-], at most 600 s of them.
    Raises BadRecording, in one sentence, for a file that is missing, empty, cut short, too long
    or not a recording.
    """
    return decode(_contents(Path(str(path))), str(path))


def decode(data: bytes, name: str = "the recording") -> Samples:
    """Bytes of a WAV or FLAC file as mono samples at 16 kHz; `name` goes into the errors."""
    shape = _shape(data, name)
    if not _RATES[0] <= shape.rate <= _RATES[1]:
        raise BadRecording(
            f"{name} is sampled at {shape.rate} Hz; record it at 8000 to 192000 Hz, best at 16000."
        )
    if shape.frames > LONGEST_S * shape.rate:
        raise _too_long(name)
    samples = _resampled(data, name)
    if len(samples) == 0:
        raise BadRecording(f"{name} holds no sound; record it again.")
    _check_complete(data, name, shape, len(samples))
    if not np.isfinite(samples).all():
        raise BadRecording(f"{name} holds values that aren't numbers; export it again as WAV.")
    return np.clip(samples, -1.0, 1.0)


def _contents(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise BadRecording(f"{path} is a folder; give the recording inside it.")
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise _too_long(str(path))
        data = path.read_bytes()
    except FileNotFoundError as missing:
        raise BadRecording(f"There is no file {path}; check its name.") from missing
    except (OSError, ValueError) as refused:
        reason = getattr(refused, "strerror", None) or refused
        raise BadRecording(f"{path} can't be opened ({reason}); check the file.") from refused
    if not data:
        raise BadRecording(f"{path} is empty; record it again.")
    return data


def _shape(data: bytes, name: str) -> _Shape:
    try:
        if data[:4] == b"fLaC":
            info = miniaudio.flac_get_info(data)
        elif data[:4] in (b"RIFF", b"RIFX", b"RF64", b"riff"):
            info = miniaudio.wav_get_info(data)
        else:
            raise BadRecording(f"{name} is not a recording; give a WAV or FLAC file.")
    except (miniaudio.MiniaudioError, ZeroDivisionError, ValueError) as broken:
        raise _damaged(name) from broken
    return _Shape(info.sample_rate, info.nchannels, info.num_frames)


def _resampled(data: bytes, name: str) -> Samples:
    """Decode chunk by chunk, so that a small file that unfolds to hours is stopped in time."""
    chunks: list[NDArray[np.float32]] = []
    length = 0
    try:
        for chunk in miniaudio.stream_memory(
            data, miniaudio.SampleFormat.FLOAT32, 1, SAMPLE_RATE, _CHUNK_FRAMES
        ):
            chunks.append(np.frombuffer(chunk, dtype=np.float32))
            length += len(chunk)
            if length > LONGEST_S * SAMPLE_RATE:
                raise _too_long(name)
    except miniaudio.MiniaudioError as broken:
        raise _damaged(name) from broken
    return np.concatenate(chunks) if chunks else np.zeros(0, dtype=np.float32)


def _check_complete(data: bytes, name: str, shape: _Shape, length: int) -> None:
    """A recording cut off in the middle could turn "sixty-eight" into "sixty": refuse it."""
    missing_bytes = 0
    if data[:4] == b"RIFF":
        missing_bytes = _missing_bytes(data)
    short_of_header = length < shape.frames * SAMPLE_RATE / shape.rate - _TAIL
    if missing_bytes > 0 or short_of_header:
        raise BadRecording(
            f"{name} is cut short: only {length / SAMPLE_RATE:.1f} s are there; "
            "copy or record it again."
        )


def _missing_bytes(data: bytes) -> int:
    """How many bytes of sound a RIFF header promises beyond what is there."""
    at = 12
    while at + 8 <= len(data):
        size = int.from_bytes(data[at + 4 : at + 8], "little")
        if data[at : at + 4] == b"data":
            return 0 if size >= _UNKNOWN_LENGTH else max(0, at + 8 + size - len(data))
        at += 8 + size + size % 2
    return 0


def _damaged(name: str) -> BadRecording:
    return BadRecording(f"{name} is damaged and can't be read; copy or record it again.")


def _too_long(name: str) -> BadRecording:
    return BadRecording(
        f"{name} is longer than {LONGEST_S / 60:.0f} minutes; cut it into shorter recordings."
    )


def to_pcm16(samples: Samples) -> bytes:
    """Samples as 16-bit little-endian PCM, clipped to full scale.

    >>> to_pcm16(np.array([0.0, 1.0, -2.0], dtype=np.float32)).hex()
    '0000ff7f0180'
    """
    scaled = np.round(np.clip(samples, -1.0, 1.0) * 32767.0)
    return scaled.astype("<i2").tobytes()


def from_pcm16(pcm: bytes) -> Samples:
    """16-bit little-endian PCM as samples, -1 to 1.

    >>> from_pcm16(bytes.fromhex("00400080")).tolist()
    [0.5, -1.0]
    """
    return np.frombuffer(pcm, dtype="<i2").astype(np.float32) / 32768.0


def to_16k(pcm: NDArray[np.int16], rate: int) -> Samples:
    """Mono samples of 16 bits at another rate [Hz] as samples at 16 kHz.

    >>> len(to_16k(np.zeros(22050, dtype=np.int16), 22050))
    16000
    """
    kind = miniaudio.SampleFormat.SIGNED16
    data = pcm.astype("<i2").tobytes()
    return from_pcm16(bytes(miniaudio.convert_frames(kind, 1, rate, data, kind, 1, SAMPLE_RATE)))


def loudness(samples: Samples) -> float:
    """Mean power against full scale [dBFS]; -120 for silence.

    >>> round(loudness(np.full(100, 0.1, dtype=np.float32)), 1)
    -20.0
    """
    if len(samples) == 0:
        return SILENCE_DB
    power = float(np.mean(np.square(samples, dtype=np.float64)))
    return max(SILENCE_DB, 10.0 * math.log10(max(power, 1e-300)))


def is_clipped(samples: Samples, share: float = 0.001) -> bool:
    """Whether the microphone was overdriven: flat tops in more than `share` of the samples.

    A flat top is three or more neighbours at one and the same value near the largest one, so a
    recording that was overdriven and then turned down is found too.

    >>> loud = np.clip(3 * np.sin(np.arange(1600) / 8), -1, 1).astype(np.float32)
    >>> is_clipped(loud), is_clipped(loud / 2), is_clipped(np.sin(np.arange(1600) / 8))
    (True, True, False)
    """
    peak = float(np.max(np.abs(samples), initial=0.0))
    if peak < 0.05:
        return False
    top = np.abs(samples) >= 0.999 * peak
    same = np.abs(np.diff(samples)) < 1e-4
    flat = top[1:-1] & same[:-1] & same[1:]
    return bool(np.count_nonzero(flat) > share * len(samples))
