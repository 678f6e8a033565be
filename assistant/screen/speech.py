"""Answers as WAV files for the page to play: made when asked for, the last few kept."""

import hashlib
import io
import threading
from collections import OrderedDict
from typing import Any

from assistant.aloud.voicing import mannered
from assistant.say.manner import Manners
from assistant.say.voice import Voice, write_wave
from assistant.turns.turn import Turn

KEPT = 32


class Speech:
    """The voice, behind names that say nothing about the words; the same one on every page.

    manners : what the cook may change about it; nothing, when left out
    """

    def __init__(self, voice: Voice, manners: Manners | None = None) -> None:
        self._voice = voice
        self._manners = manners
        self._changed = 0
        self._texts: OrderedDict[str, str] = OrderedDict()
        self._made: OrderedDict[str, bytes] = OrderedDict()
        self._change = threading.Lock()

    def mannered(self, turn: Turn) -> Turn:
        """The turn, with the answer to "slower" and the like, which takes effect at once."""
        answer = mannered(turn, self._manners)
        self._changed += answer is not turn
        return answer

    def name(self, text: str, limit: bool = False) -> str:
        """The name to fetch a text's sound by, "" for what is not said aloud.

        limit : it stops the batch, and is said though the voice was to be quiet
        """
        quiet = self._manners is not None and self._manners.quiet and not limit
        if not text.strip() or quiet:
            return ""
        key = hashlib.sha256(f"{self._changed} {text}".encode()).hexdigest()[:32]
        with self._change:
            _keep(self._texts, key, text)
        return key

    def wav(self, key: str) -> bytes | None:
        """The sound of a text that was named lately; None for any other name."""
        with self._change:
            text, made = self._texts.get(key), self._made.get(key)
        if text is None or made is not None:
            return made
        file = io.BytesIO()
        write_wave(*self._voice.to_samples(text), file)
        sound = file.getvalue()
        with self._change:
            _keep(self._made, key, sound)
        return sound


def _keep(kept: OrderedDict[str, Any], key: str, value: object) -> None:
    kept[key] = value
    kept.move_to_end(key)
    while len(kept) > KEPT:
        kept.popitem(last=False)
