"""From a planned row to a file."""

import zlib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random

import numpy as np
import soundfile

from tests.bench.corpus import mixing, rooms, talk
from tests.bench.corpus.fixture_tools import RATE, Sound, at_level, not_over, resample, trimmed
from tests.bench.corpus.plan import NOISE_SECONDS, Row
from tests.bench.corpus.speakers import SPEAKERS, Speaker
from tests.bench.corpus.split import Split

_RADIO = {
    "dev": ("rms", "slt", "heart", "kal16"),
    "held": ("awb", "festival-ked_diphone", "espeak-rp-m3"),
}
_TAIL_SECONDS = 1.25
"""More room and noise after the last word than the longest pause that ears wait for."""
_RADIO_PIECES = 10
_RADIO_HERTZ = (200.0, 4500.0)


def speaker_of(name: str) -> Speaker:
    """The speaker of that name."""
    return next(each for each in SPEAKERS if each.name == name)


def samples(row: Row) -> Sound:
    """The sound of a row at 16 kHz."""
    rng = np.random.default_rng(row.seed)
    if not row.voice:
        return _noise_alone(row, rng)
    dry = _spoken(row)
    speech = rooms.heard_at(dry, rooms.PLACES[row.distance], RATE, rng)
    speech = at_level(speech, RATE, rng.uniform(-34.0, -24.0))
    if row.snr_db is None:
        return not_over(speech)
    return mixing.over(speech, _under(row, speech.size, rng), row.snr_db)


def _spoken(row: Row) -> Sound:
    said, rate = speaker_of(row.voice).speak(row.words, row.seed)
    return np.pad(trimmed(resample(said, rate, RATE), RATE), (0, int(_TAIL_SECONDS * RATE)))


def _noise_alone(row: Row, rng: np.random.Generator) -> Sound:
    noise = mixing.noise_of(row.noise, int(NOISE_SECONDS * RATE), rng)
    return not_over(noise * 10 ** (row.level_db / 20))


def _under(row: Row, size: int, rng: np.random.Generator) -> Sound:
    if row.noise != "radio":
        return mixing.noise_of(row.noise, size, rng)
    return _radio(row, size, rng)


def _radio(row: Row, size: int, rng: np.random.Generator) -> Sound:
    """Some seconds out of a radio's talk, by another voice than the one that speaks."""
    split: Split = "dev" if row.set == "dev" else "held"
    readers = [n for n in _RADIO[split] if n != row.voice and speaker_of(n).there()]
    piece = _read_out(str(rng.choice(readers)), split, int(rng.integers(_RADIO_PIECES)))
    start = int(rng.integers(max(1, piece.size - size)))
    return np.resize(piece[start:], size)


@cache
def _read_out(name: str, split: Split, number: int) -> Sound:
    """A passage as a small loudspeaker gives it."""
    seed = zlib.crc32(f"radio {name} {number}".encode())
    text = " ".join(talk.passage(Random(seed), split, talk.ON_AIR))
    said, rate = speaker_of(name).speak(text, seed)
    sound = resample(said, rate, RATE)
    spectrum = np.fft.rfft(sound)
    hertz = np.fft.rfftfreq(sound.size, 1 / RATE)
    spectrum[(hertz < _RADIO_HERTZ[0]) | (hertz > _RADIO_HERTZ[1])] = 0
    return np.asarray(np.fft.irfft(spectrum, sound.size), dtype=np.float64)


def write(row: Row, folder: Path, make: Callable[[Row], Sound] = samples) -> float:
    """Make the file of a row; its length [s]. A broken-off file never keeps the final name."""
    sound = make(row)
    half_done = folder / f".{row.file}"
    soundfile.write(half_done, sound, RATE, subtype="PCM_16", format="FLAC")
    half_done.rename(folder / row.file)
    return sound.size / RATE
