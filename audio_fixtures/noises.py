"""Kitchen noises reckoned from random numbers: nothing here was recorded anywhere.

Each maker takes a seeded generator, a length in samples and a sample rate in Hz, and returns
samples at a level of 1 (root mean square).
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Sound = NDArray[np.float64]
Maker = Callable[[np.random.Generator, int, int], Sound]


def rms(sound: Sound) -> float:
    """Root mean square of the samples."""
    return float(np.sqrt(np.mean(np.square(sound)))) if sound.size else 0.0


def _levelled(sound: Sound) -> Sound:
    return sound / max(rms(sound), 1e-12)


def _coloured(
    rng: np.random.Generator, size: int, rate: int, gain: Callable[[Sound], Sound]
) -> Sound:
    """White noise with each frequency [Hz] weighted by `gain`."""
    spectrum = np.fft.rfft(rng.standard_normal(size))
    hertz = np.asarray(np.fft.rfftfreq(size, 1 / rate), dtype=np.float64)
    return _levelled(np.asarray(np.fft.irfft(spectrum * gain(hertz), size), dtype=np.float64))


def pink(rng: np.random.Generator, size: int, rate: int) -> Sound:
    """Noise whose power falls by half with each octave, from 40 Hz up."""
    return _coloured(rng, size, rate, lambda hertz: 1 / np.sqrt(np.maximum(hertz, 40.0)))


def fan(rng: np.random.Generator, size: int, rate: int) -> Sound:
    """A cooker hood: mains hum with overtones, a blade tone that wavers, and a rush of air."""
    time = np.arange(size) / rate
    hum = sum(np.sin(2 * np.pi * 50 * k * time + rng.uniform(0, 6.28)) / k for k in (1, 2, 3, 4, 6))
    blade = np.sin(2 * np.pi * 187 * time + 1.5 * np.sin(2 * np.pi * 0.7 * time))
    air = _coloured(rng, size, rate, lambda hertz: 1 / (1 + (hertz / 600) ** 1.5))
    return _levelled(0.45 * _levelled(np.asarray(hum)) + 0.25 * blade + air)


def _bursts(rng: np.random.Generator, size: int, rate: int, per_second: float) -> Sound:
    """Moments [samples] at which single sounds begin, at random, so many a second."""
    count = max(1, int(rng.poisson(per_second * size / rate)))
    return np.sort(rng.integers(0, size, count))


def boiling(rng: np.random.Generator, size: int, rate: int) -> Sound:
    """A pan at the boil: bubbles, each a short tone that rises as it bursts, over a rumble."""
    sound = 0.35 * _coloured(rng, size, rate, lambda hertz: 1 / (1 + (hertz / 250) ** 2))
    for start in _bursts(rng, size, rate, 45.0):
        time = np.arange(int(0.08 * rate)) / rate
        first, rise, decay = rng.uniform(250, 1400), rng.uniform(2, 8), rng.uniform(0.008, 0.03)
        tone = np.sin(2 * np.pi * first * (time + rise * time**2)) * np.exp(-time / decay)
        _add(sound, start, rng.gamma(1.5, 0.9) * tone)
    return _levelled(sound)


def tap(rng: np.random.Generator, size: int, rate: int) -> Sound:
    """Running water: a hiss around 2 kHz that wavers, with splashes in the basin."""
    hiss = _coloured(
        rng, size, rate, lambda hertz: (hertz / 2000) / (1 + (hertz / 2000) ** 2) ** 1.2
    )
    slow = _coloured(rng, size, rate, lambda hertz: (hertz < 6.0).astype(float))
    return _levelled(hiss * (1 + 0.25 * slow)) + 0.25 * boiling(rng, size, rate)


def clatter(rng: np.random.Generator, size: int, rate: int) -> Sound:
    """Pots and spoons: hits that ring at a few unrelated tones, over faint room noise."""
    sound = 0.02 * pink(rng, size, rate)
    for start in _bursts(rng, size, rate, 3.0):
        time = np.arange(int(0.35 * rate)) / rate
        tones = rng.uniform(700, min(6500, 0.45 * rate), 6)
        ring = sum(
            rng.uniform(0.2, 1) * np.sin(2 * np.pi * tone * time) * np.exp(-time / decay)
            for tone, decay in zip(tones, rng.uniform(0.01, 0.09, 6), strict=True)
        )
        _add(sound, start, rng.gamma(2.0, 0.4) * np.asarray(ring))
    return _levelled(sound)


def silence(rng: np.random.Generator, size: int, rate: int) -> Sound:
    """A quiet room: the faint hiss of the microphone itself."""
    return _coloured(rng, size, rate, lambda hertz: np.ones_like(hertz))


def _add(sound: Sound, start: int, burst: Sound) -> None:
    end = min(sound.size, start + burst.size)
    sound[start:end] += burst[: end - start]


MAKERS: dict[str, Maker] = {
    "pink": pink,
    "fan": fan,
    "boiling": boiling,
    "tap": tap,
    "clatter": clatter,
    "silence": silence,
}
