"""A kitchen in the machine: a loudspeaker whose sound comes back to the microphone, and a cook.

It is loudspeaker, microphone and clock at once, so that the real voice, echo canceller and ears
can be tried together and as fast as they reckon.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from assistant.hear.audio import to_16k
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.say.player import Sounding
from assistant.say.voice import Speech

BLOCK = 1024


@dataclass(frozen=True)
class Walls:
    """How our voice comes back.

    delay : devices and way together [s]
    dies_away : time in which the echo falls by 60 dB [s]
    level : how much louder or softer it comes back [dB]
    drive : how far the loudspeaker is overdriven; 0 is not at all
    noise : level of the room's own noise [dBFS]
    """

    delay: float = 0.06
    dies_away: float = 0.3
    level: float = -10.0
    drive: float = 0.0
    noise: float = -60.0

    def response(self, random: np.random.Generator) -> Samples:
        """From the loudspeaker's samples to the microphone's."""
        tail = random.standard_normal(round(self.dies_away * SAMPLE_RATE))
        tail *= np.exp(-6.9 * np.arange(len(tail)) / len(tail))
        tail *= 0.5 / np.sqrt(np.sum(tail**2))
        tail[0] += 1.0
        before = np.zeros(round(self.delay * SAMPLE_RATE))
        return (np.concatenate([before, tail]) * 10 ** (self.level / 20)).astype(np.float32)


ROOMS = {
    "near and dry": Walls(0.01, 0.15, -20.0),
    "kitchen": Walls(0.06, 0.3, -10.0),
    "tiled": Walls(0.12, 0.6, -6.0),
    "loud": Walls(0.08, 0.4, 0.0),
    "overdriven": Walls(0.06, 0.3, -6.0, drive=1.5),
    "slow device": Walls(0.25, 0.4, -10.0),
    "by the fan": Walls(0.06, 0.3, -10.0, noise=-40.0),
}


class Kitchen:
    """A room with our loudspeaker in it (`play`, `stop` ...) and a microphone (`blocks`).

    jitter : how far the told times may be off [s]
    """

    def __init__(self, walls: Walls, seed: int = 1, jitter: float = 0.008) -> None:
        self._random = np.random.default_rng(seed)
        self._walls, self._jitter = walls, jitter
        self._response = walls.response(self._random)
        self._air = np.zeros(len(self._response) + BLOCK, np.float32)
        self._sounding: Sounding | None = None
        self._sound = np.zeros(0, np.float32)
        self._begins = 0.0
        self._said: list[tuple[int, Samples]] = []
        self._now = 0
        self.stops: list[float] = []

    @property
    def now(self) -> float:
        """Time that has gone by [s]."""
        return self._now / SAMPLE_RATE

    def at(self) -> float:
        """The time as a device tells it."""
        return self.now + self._random.uniform(-self._jitter, self._jitter) / 4

    def says(self, sound: Samples, after: float = 0.0) -> None:
        """The cook begins to speak, so many seconds from now."""
        self._said.append((self._now + round(after * SAMPLE_RATE), sound))

    def play(self, samples: Speech, rate: int) -> None:
        """The device asks for its first samples a little later."""
        self.stop()
        if len(samples):
            self._begins = self.now + self._random.uniform(0.0, 0.03)
            told = self._begins + self._random.uniform(-self._jitter, self._jitter)
            self._sounding, self._sound = Sounding(samples, rate, told), to_16k(samples, rate)

    def stop(self) -> None:
        if self.is_playing() and self._sounding:
            self.stops.append(self.now)
            self._sounding = replace(self._sounding, until=self.now)

    def is_playing(self) -> bool:
        return self._sounding is not None and self._sounding.until is None

    def sounding(self) -> Sounding | None:
        return self._sounding

    def wait(self, timeout: float | None = None) -> bool:  # noqa: ARG002
        return True

    def close(self) -> None:
        self.stop()

    def blocks(self, seconds: float) -> Iterator[Samples]:
        """What the microphone records from now on."""
        until = self._now + round(seconds * SAMPLE_RATE)
        while self._now < until:
            yield self._block()

    def _block(self) -> Samples:
        played = self._drawn()
        self._air = np.concatenate([self._air[BLOCK:], played])
        size = len(self._air) + len(self._response)
        back = np.fft.irfft(np.fft.rfft(self._air, size) * np.fft.rfft(self._response, size), size)
        heard = back[len(self._air) - BLOCK : len(self._air)]
        heard = heard + self._noise() + self._cook()
        self._now += BLOCK
        return np.clip(heard, -1.0, 1.0).astype(np.float32)

    def _drawn(self) -> Samples:
        """What the loudspeaker makes of the samples that it gets in one block's time."""
        played = np.zeros(BLOCK, np.float32)
        if not self.is_playing():
            return played
        at = round((self.now - self._begins) * SAMPLE_RATE)
        first, last = max(0, at), min(len(self._sound), at + BLOCK)
        if last > first:
            played[first - at : last - at] = self._sound[first:last]
        if at + BLOCK >= len(self._sound) + SAMPLE_RATE // 20 and self._sounding:
            self._sounding = replace(self._sounding, until=self.now + BLOCK / SAMPLE_RATE)
        drive = self._walls.drive
        return np.tanh(played * (1 + drive)).astype(np.float32) if drive else played

    def _noise(self) -> Samples:
        level = 10 ** (self._walls.noise / 20)
        return (level * self._random.standard_normal(BLOCK)).astype(np.float32)

    def _cook(self) -> Samples:
        heard = np.zeros(BLOCK, np.float32)
        for start, sound in self._said:
            first, last = max(self._now, start), min(self._now + BLOCK, start + len(sound))
            if last > first:
                heard[first - self._now : last - self._now] += sound[first - start : last - start]
        return heard


def level(sound: Samples) -> float:
    """Root mean square of the loud parts."""
    frames = sound[: len(sound) - len(sound) % 320].reshape(-1, 320)
    power = np.mean(frames**2, axis=1)
    return float(np.sqrt(np.mean(power[power > 0.05 * power.max()])))
