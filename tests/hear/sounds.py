"""Sound for tests of hearing: speech from the espeak voice, and noise that is no speech."""

import atexit
import json
import subprocess
import sys
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from assistant.hear.audio import read_recording, to_pcm16
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.voice_activity import Pauses, utterances
from assistant.say.voice import write_wave

ENGLISH, KOREAN = "gmw/en-us", "ko"


def write_wav(path: Path | str, sound: Samples, rate: int = SAMPLE_RATE) -> None:
    """Samples as a WAV file of 16 bits."""
    write_wave(np.frombuffer(to_pcm16(sound), np.int16), rate, path)


def segments(samples: Samples, pauses: Pauses | None = None) -> list[tuple[int, int]]:
    """Where speech begins and ends in a recording [samples]; [] for silence and noise."""
    found = utterances([samples], pauses)
    return [(each.start, min(each.end, len(samples))) for each in found]


SPEAK = """
import json, os, sys
from assistant.say.voice import EspeakVoice
for line in sys.stdin:
    text, language, path = json.loads(line)
    child = os.fork()
    if not child:
        EspeakVoice(rate=150, language=language).write(text, path)
        os._exit(0)
    print(os.waitpid(child, 0)[1], flush=True)
"""


@cache
def _speaker() -> subprocess.Popen[str]:
    pipe = subprocess.PIPE
    speaker = subprocess.Popen([sys.executable, "-c", SPEAK], stdin=pipe, stdout=pipe, text=True)
    atexit.register(speaker.kill)
    return speaker


@cache
def spoken(text: str, language: str = ENGLISH) -> Samples:
    """A text said by espeak, without silence around it.

    A process of its own says it: what espeak said before changes how it says the next thing, and
    a test would hear something else after other tests than alone.
    """
    speaker = _speaker()
    assert speaker.stdin
    assert speaker.stdout
    with TemporaryDirectory() as folder:
        path = Path(folder) / "speech.wav"
        print(json.dumps([text, language, str(path)]), file=speaker.stdin, flush=True)
        assert speaker.stdout.readline() == "0\n", f"espeak did not say {text!r}"
        sound = read_recording(path)
    loud = np.flatnonzero(np.abs(sound) > 0.01)
    return sound[loud[0] : loud[-1] + 1]


def silence(seconds: float) -> Samples:
    """Nothing."""
    return np.zeros(round(seconds * SAMPLE_RATE), dtype=np.float32)


def after_silence(*parts: Samples, gap: float = 1.2) -> Samples:
    """The parts with silence before, between and after them."""
    pieces = [silence(gap)]
    for part in parts:
        pieces += [part, silence(gap)]
    return np.concatenate(pieces)


def white(seconds: float, level: float, seed: int = 1) -> Samples:
    """White noise; level is its root mean square."""
    count = round(seconds * SAMPLE_RATE)
    return (level * np.random.default_rng(seed).standard_normal(count)).astype(np.float32)


def shaped(seconds: float, level: float, slope: float, seed: int = 1) -> Samples:
    """Noise whose power falls with frequency to this power: 1 is pink, 2 is a distant fan."""
    spectrum = np.fft.rfft(white(seconds, 1.0, seed))
    spectrum *= np.arange(1, len(spectrum) + 1) ** (-slope / 2)
    sound = np.fft.irfft(spectrum, round(seconds * SAMPLE_RATE))
    return (level * sound / np.sqrt(np.mean(sound**2))).astype(np.float32)


def fan(seconds: float, level: float = 0.1) -> Samples:
    """A cooker hood: mains hum with overtones in falling noise."""
    time = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    hum = sum(np.sin(2 * np.pi * 100 * n * time) / n for n in (1, 2, 3))
    return (level * hum / 2 + shaped(seconds, level, 2.0)).astype(np.float32)


def boiling(seconds: float, level: float = 0.1, seed: int = 2) -> Samples:
    """A pan on the boil: bubbles at random, each a short ring of some hundred hertz."""
    random = np.random.default_rng(seed)
    sound = shaped(seconds, level / 3, 1.0, seed)
    for start in random.integers(0, len(sound) - 1600, size=int(60 * seconds)):
        time = np.arange(1600) / SAMPLE_RATE
        pitch = random.uniform(300, 1500)
        sound[start : start + 1600] += (
            level * random.uniform(0.3, 1) * np.exp(-time * 60) * np.sin(2 * np.pi * pitch * time)
        ).astype(np.float32)
    return sound


def at_snr(speech: Samples, noise: Samples, decibels: float) -> Samples:
    """Speech in the middle of noise of the same length, so much louder than it."""
    ratio = np.mean(speech**2) / np.mean(noise[: len(speech)] ** 2)
    scaled = noise * np.sqrt(ratio) * 10 ** (-decibels / 20)
    start = (len(noise) - len(speech)) // 2
    mixed = scaled.copy()
    mixed[start : start + len(speech)] += speech
    return np.clip(mixed, -1, 1).astype(np.float32)


def cut_up(sound: Samples, length: int) -> list[Samples]:
    """The sound in blocks of this length, the last one shorter."""
    return [sound[at : at + length] for at in range(0, len(sound), length)]
