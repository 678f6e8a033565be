"""Answers as WAV files for the page to play: made when asked for, the last few kept."""

import hashlib
import io
import threading
import wave
from collections import OrderedDict
from typing import Any

from assistant.say.voice import Speech as Samples
from assistant.say.voice import Voice

KEPT = 32


class Speech:
    """The voice, behind names that say nothing about the words."""

    def __init__(self, voice: Voice) -> None:
        self._voice = voice
        self._texts: OrderedDict[str, str] = OrderedDict()
        self._made: OrderedDict[str, bytes] = OrderedDict()
        self._change = threading.Lock()

    def name(self, text: str) -> str:
        """The name to fetch a text's sound by, "" for a text without words."""
        if not text.strip():
            return ""
        key = hashlib.sha256(text.encode()).hexdigest()[:32]
        with self._change:
            _keep(self._texts, key, text)
        return key

    def wav(self, key: str) -> bytes | None:
        """The sound of a text that was named lately; None for any other name."""
        with self._change:
            text, made = self._texts.get(key), self._made.get(key)
        if text is None or made is not None:
            return made
        sound = _file(*self._voice.to_samples(text))
        with self._change:
            _keep(self._made, key, sound)
        return sound


def _keep(kept: OrderedDict[str, Any], key: str, value: object) -> None:
    kept[key] = value
    kept.move_to_end(key)
    while len(kept) > KEPT:
        kept.popitem(last=False)


def _file(samples: Samples, rate: int) -> bytes:
    made = io.BytesIO()
    with wave.open(made, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(samples.astype("<i2").tobytes())
    return made.getvalue()
