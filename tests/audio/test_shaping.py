"""What the maker of the recordings does to a sound: rate, ends, level, noise underneath."""

import importlib
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from numpy.typing import NDArray

FOLDER = Path(__file__).parents[2] / "audio_fixtures"
RATE = 16_000


@pytest.fixture(scope="module")
def shaping() -> Iterator[ModuleType]:
    sys.path.insert(0, str(FOLDER))
    try:
        yield importlib.import_module("shaping")
    finally:
        sys.path.remove(str(FOLDER))


def tone(seconds: float, hertz: float = 440.0, rate: int = RATE) -> NDArray[np.float64]:
    time = np.arange(int(seconds * rate)) / rate
    return np.asarray(0.1 * np.sin(2 * np.pi * hertz * time), dtype=np.float64)


@pytest.mark.parametrize("before", [0.0, 0.1, 0.8])
def test_ends_are_cut_to_a_third_of_a_second(shaping: ModuleType, before: float) -> None:
    pad = np.zeros(int(before * RATE))
    cut = shaping.trimmed(np.concatenate([pad, tone(1.0), pad]), RATE)
    assert cut.size / RATE == pytest.approx(1.0 + 2 * 0.35, abs=0.06)
    assert not cut[: int(0.3 * RATE)].any()


@pytest.mark.parametrize("noise", ["pink", "fan", "boiling", "tap", "clatter"])
@pytest.mark.parametrize("snr_db", [20.0, 10.0, 5.0])
def test_noise_lies_so_far_below_the_speech(shaping: ModuleType, noise: str, snr_db: float) -> None:
    speech = shaping.trimmed(tone(1.0), RATE)
    mixed = shaping.with_noise(speech, RATE, noise, snr_db, np.random.default_rng(1))
    under = shaping.rms(mixed - speech)
    assert 20 * np.log10(shaping.speech_level(speech, RATE) / under) == pytest.approx(snr_db)


def test_noise_repeats_with_its_seed_and_only_with_it(shaping: ModuleType) -> None:
    first, again, other = (
        shaping.MAKERS["boiling"](np.random.default_rng(seed), RATE, RATE) for seed in (1, 1, 2)
    )
    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)


@pytest.mark.parametrize(("rate", "to"), [(22_050, 16_000), (16_000, 44_100), (16_000, 8_000)])
def test_another_rate_keeps_the_tone(shaping: ModuleType, rate: int, to: int) -> None:
    moved = shaping.resample(tone(1.0, 440.0, rate), rate, to)
    assert moved == pytest.approx(tone(1.0, 440.0, to), abs=0.002)


def test_what_the_new_rate_cannot_hold_is_gone(shaping: ModuleType) -> None:
    assert shaping.rms(shaping.resample(tone(1.0, 6000.0), RATE, 8_000)) < 1e-6


def test_level_is_that_of_the_speech_not_of_the_pauses(shaping: ModuleType) -> None:
    speech = np.concatenate([tone(0.5), np.zeros(RATE), tone(0.5)])
    level = shaping.speech_level(shaping.at_level(speech, RATE, -30.0), RATE)
    assert 20 * np.log10(level) == pytest.approx(-30.0)


def test_nothing_passes_full_scale(shaping: ModuleType) -> None:
    assert np.abs(shaping.not_over(30 * tone(0.1))).max() == pytest.approx(0.98)
