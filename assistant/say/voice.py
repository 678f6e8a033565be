"""Sentences into sound: the espeak voice, and a silent one for tests.

espeak-ng comes in a wheel of its own and is driven through pyttsx3, into a file and not to the
loudspeaker: playing is the player's work, because only there it can be stopped at once.
"""

import atexit
import ctypes
import os
import shutil
import tempfile
import threading
import unicodedata
import wave
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
_PATIENCE = 20.0
"""Longest wait for the synthesiser, which otherwise loops for ever when its file fails. [s]"""


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
            self._engine = _engine()

    def to_samples(self, text: str) -> tuple[Speech, int]:
        """The spoken text and its sample rate [Hz]."""
        words = plain(text)
        with tempfile.TemporaryDirectory(prefix="panside-") as folder, self._one_at_a_time:
            path = Path(folder) / "speech.wav"
            self._synthesise(words or " .", path)
            try:
                samples, rate = read_wave(path)
            except (OSError, EOFError, wave.Error) as error:
                raise VoiceMissing(
                    f"espeak made no sound ({error}); check that {folder} has room"
                ) from error
        return (samples if words else samples[:0]), rate

    def write(self, text: str, path: str | Path) -> None:
        """The spoken text as a WAV file."""
        samples, rate = self.to_samples(text)
        write_wave(samples, rate, path)

    def _synthesise(self, words: str, path: Path) -> None:
        for name, value in (
            ("voice", self.language),
            ("rate", self.rate),
            ("volume", self.volume),
        ):
            self._engine.setProperty(name, value)
        self._engine.save_to_file(words, str(path))
        # runAndWait may return while the library's own thread still speaks: on a busy machine the
        # file is written later, so the end of the utterance is waited for by itself, and then the
        # thread's rest, which would else fall into the next utterance.
        finished = threading.Event()
        token = self._engine.connect("finished-utterance", lambda **_: finished.set())
        watch = threading.Timer(_PATIENCE, self._engine.proxy._driver.endLoop)
        watch.daemon = True
        watch.start()
        try:
            self._engine.runAndWait()
            if finished.wait(_PATIENCE):
                _let_rest()
        except Exception as error:
            raise VoiceMissing(f"espeak can't speak ({error}); try again") from error
        finally:
            watch.cancel()
            self._engine.disconnect(token)


def _engine() -> Any:
    """pyttsx3's espeak driver over the wheel's library; VoiceMissing when any of it fails."""
    try:
        import espeakng_loader

        os.environ["ESPEAK_DATA_PATH"] = _short(Path(espeakng_loader.get_data_path()))
        ctypes.CDLL(espeakng_loader.get_library_path(), mode=ctypes.RTLD_GLOBAL)
        import pyttsx3
        from pyttsx3.drivers import espeak

        espeak.print = lambda *_args: None  # it prints the name of each file it has written
        return pyttsx3.init("espeak")
    except (ImportError, OSError, RuntimeError) as error:
        raise VoiceMissing(
            f"no voice: espeak can't be loaded ({error}); "
            "install it again with: pip install --force-reinstall espeakng-loader pyttsx3"
        ) from error


def _let_rest() -> None:
    """Wait until the library's own thread has nothing left to say."""
    from pyttsx3.drivers import _espeak

    _espeak.Synchronize()


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
