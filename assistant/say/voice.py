"""Sentences into sound: the espeak voice, and a silent one for tests.

espeak-ng comes in a wheel of its own and is driven through pyttsx3's binding to it, into memory and
not to the loudspeaker: playing is the player's work, because only there it can be stopped at once.
The library works in our own thread and never in one of its own: there a change of voice could
overtake a change of rate, and now and then an answer came at the wrong speed.
"""

import atexit
import ctypes
import os
import shutil
import tempfile
import threading
import unicodedata
import wave
from functools import cache
from pathlib import Path
from typing import IO, Any, Protocol

import numpy as np
from numpy.typing import NDArray

from assistant.base.errors import VoiceMissing

Speech = NDArray[np.int16]
"""Mono samples of 16 bits."""

LONGEST = 1000
"""More is not said in one go: nobody listens to it, and it could not be broken off. [characters]"""

_LONGEST_PATH = 150
"""The espeak library keeps its data's path in 160 bytes and ends the whole program when cut."""
_CHUNK_MS = 1000
"""How much sound the library hands over at a time. [ms]"""


class Voice(Protocol):
    """A speech synthesiser. Implementations raise VoiceMissing when they can't be made."""

    name: str

    def to_samples(self, text: str) -> tuple[Speech, int]:
        """The spoken text and its sample rate [Hz]; no samples for a text without words."""

    def write(self, text: str, path: str | Path) -> None:
        """The spoken text as a WAV file."""


def plain(text: str) -> str:
    """The text as it may be spoken: control characters out, spaces single, not too long.

    >>> plain("Stir\\tgently.\\x00 ")
    'Stir gently.'
    """
    kept = (c if unicodedata.category(c)[0] != "C" else " " for c in text)
    words = " ".join("".join(kept).split())
    if len(words) <= LONGEST:
        return words
    return words[:LONGEST].rsplit(" ", 1)[0]


def write_wave(samples: Speech, rate: int, to: str | Path | IO[bytes]) -> None:
    """Samples as a WAV file of one channel and 16 bits, at a path or into what is open."""
    with wave.open(str(to) if isinstance(to, Path) else to, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(samples.astype("<i2").tobytes())


def read_wave(path: str | Path) -> tuple[Speech, int]:
    """The samples and rate [Hz] of a WAV file of one channel and 16 bits."""
    with wave.open(str(path), "rb") as file:
        frames = file.readframes(file.getnframes())
        return np.frombuffer(frames, dtype="<i2").astype(np.int16), file.getframerate()


class EspeakVoice:
    """The espeak-ng voice.

    rate : words a minute, 80 to 450, espeak's own range
    volume : 0 to 1.5; 1 is normal, and from 1.4 on espeak clips
    """

    name = "espeak"
    _one_at_a_time = threading.Lock()
    """The library has one state a process, so all its voices wait for each other."""

    def __init__(self, rate: int = 165, volume: float = 1.0, language: str = "gmw/en") -> None:
        self.rate = min(max(rate, 80), 450)
        self.volume = min(max(volume, 0.0), 1.5)
        self.language = language
        with self._one_at_a_time:
            self._library, self._sample_rate = _espeak()

    def to_samples(self, text: str) -> tuple[Speech, int]:
        """The spoken text and its sample rate [Hz]."""
        words = plain(text)
        if not words:
            return np.zeros(0, np.int16), self._sample_rate
        with self._one_at_a_time:
            return self._synthesised(words), self._sample_rate

    def write(self, text: str, path: str | Path) -> None:
        """The spoken text as a WAV file."""
        samples, rate = self.to_samples(text)
        write_wave(samples, rate, path)

    def _synthesised(self, words: str) -> Speech:
        library, chunks = self._library, list[bytes]()

        def keep(wave: Any, count: int, _events: Any) -> int:
            if count > 0:
                chunks.append(ctypes.string_at(wave, count * np.dtype(np.int16).itemsize))
            return 0

        library.SetSynthCallback(keep)
        said = [
            library.SetVoiceByName(self.language.encode()),
            library.SetParameter(library.RATE, self.rate, 0),
            library.SetParameter(library.VOLUME, round(100 * self.volume), 0),
            library.Synth(words.encode(), flags=library.ENDPAUSE | library.CHARS_UTF8),
        ]
        if any(said):
            raise VoiceMissing(f"espeak can't speak ({self.language}, codes {said}); try again")
        return np.frombuffer(b"".join(chunks), np.int16)


@cache
def _espeak() -> tuple[Any, int]:
    """pyttsx3's binding to the wheel's library, started once a process, and its sample rate [Hz].

    VoiceMissing when any of it fails.
    """
    try:
        import espeakng_loader

        os.environ["ESPEAK_DATA_PATH"] = _short(Path(espeakng_loader.get_data_path()))
        ctypes.CDLL(espeakng_loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)
        from pyttsx3.drivers import _espeak as library

        rate = library.Initialize(library.AUDIO_OUTPUT_SYNCHRONOUS, _CHUNK_MS)
        if rate <= 0:
            raise OSError("it does not start")
        return library, rate
    except (ImportError, OSError, RuntimeError) as error:
        raise VoiceMissing(
            f"no voice: espeak can't be loaded ({error}); "
            "install it again with: pip install --force-reinstall espeakng-loader pyttsx3"
        ) from error


def _short(data: Path) -> str:
    """The path of espeak's data, over a link where it is longer than the library can hold."""
    if not (data / "phontab").is_file():
        raise OSError(f"its data are not in {data}")
    if len(os.fsencode(data)) <= _LONGEST_PATH:
        return str(data)
    folder = tempfile.mkdtemp(prefix="panside-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    link = Path(folder) / "espeak-ng-data"
    link.symlink_to(data, target_is_directory=True)
    return str(link)


class SilentVoice:
    """A voice that makes silence as long as the words would take, and remembers them."""

    name = "silent"

    def __init__(self, rate: int = 8000, seconds_a_word: float = 0.3) -> None:
        self.said: list[str] = []
        self._rate = rate
        self._seconds = seconds_a_word

    def to_samples(self, text: str) -> tuple[Speech, int]:
        """Silence and its sample rate [Hz]."""
        words = plain(text)
        self.said.append(words)
        return np.zeros(int(len(words.split()) * self._seconds * self._rate), np.int16), self._rate

    def write(self, text: str, path: str | Path) -> None:
        """The silence as a WAV file."""
        samples, rate = self.to_samples(text)
        write_wave(samples, rate, path)
