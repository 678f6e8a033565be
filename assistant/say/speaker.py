"""A voice at a loudspeaker: the newest sentence takes the place of the one before."""

import threading

from assistant.say.earcons import EarconName, before
from assistant.say.player import Sounding, Sounds
from assistant.say.voice import Voice


class Speaker:
    """Says texts aloud. Safe to use from several threads: the last to speak is heard."""

    def __init__(self, voice: Voice, player: Sounds) -> None:
        self._voice = voice
        self._player = player
        self._turn = 0
        self._change = threading.Lock()

    def say(self, text: str, mark: EarconName | None = None) -> None:
        """Break off what is being said and begin with this; returns while it sounds.

        mark : a short sound before it, or all there is where the text is empty
        """
        turn = self._hush()
        samples, rate = self._voice.to_samples(text)
        if mark is not None:
            samples = before(samples, rate, mark)
        with self._change:
            if turn == self._turn:
                self._player.play(samples, rate)

    def hush(self) -> None:
        """Be silent now, also when a sentence is just about to begin."""
        self._hush()

    def is_speaking(self) -> bool:
        """Whether something still sounds."""
        return self._player.is_playing()

    def sounding(self) -> Sounding | None:
        """What sounds, or sounded last."""
        return self._player.sounding()

    def wait(self, timeout: float | None = None) -> bool:
        """Wait till the sentence has ended or was broken off; False when the time [s] is over."""
        return self._player.wait(timeout)

    def close(self) -> None:
        """Be silent and let go of the loudspeaker."""
        self._hush()
        self._player.close()

    def _hush(self) -> int:
        with self._change:
            self._turn += 1
            self._player.stop()
            return self._turn
