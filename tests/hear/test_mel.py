"""What Whisper is shown: value by value as another implementation does it, and by the formula."""

import numpy as np
import pytest
from by_faster_whisper import KEPT, sounds

from assistant.hear.heard import SAMPLE_RATE
from assistant.hear.mel import filters, hertz, log_mel, mels

NAMES = sorted(sounds())


@pytest.fixture(scope="module")
def kept() -> dict[str, np.ndarray]:
    with np.load(KEPT) as values:
        return dict(values)


@pytest.mark.parametrize("name", NAMES)
def test_every_value_is_that_of_another_implementation(
    name: str, kept: dict[str, np.ndarray]
) -> None:
    """faster-whisper 1.2.1, by `by_faster_whisper`; other processors may round otherwise."""
    ours, theirs = log_mel(sounds()[name]), kept[f"mel {name}"]
    assert ours.dtype == theirs.dtype == np.float32
    assert ours.shape == theirs.shape
    assert np.abs(ours - theirs).max() <= 1e-5


def test_the_bands_are_those_of_another_implementation(kept: dict[str, np.ndarray]) -> None:
    assert np.abs(filters() - kept["filters"]).max() <= 1e-7


def test_mels_are_those_that_were_published() -> None:
    """Slaney, Auditory Toolbox (1998), after which mel 15 is 1 kHz, 27 mels more are 6.4
    times as high, and a mel below is 66.67 Hz; from memory."""
    assert mels(1000) == pytest.approx(15)
    assert mels(6400) == pytest.approx(42)
    assert mels(200) == pytest.approx(3)
    assert hertz(np.array([0.0, 3.0, 15.0, 42.0])) == pytest.approx([0, 200, 1000, 6400])


def test_each_band_has_the_same_area() -> None:
    """Told by the higher ones: the lowest are hardly wider than two frequencies are apart."""
    areas = filters().sum(axis=1) * SAMPLE_RATE / 400
    assert areas[41:] == pytest.approx(1, abs=0.03)


@pytest.mark.parametrize("hz", [440, 1000, 3000, 6000])
def test_a_tone_is_strongest_in_its_own_band(hz: int) -> None:
    tone = 0.3 * np.sin(2 * np.pi * hz * np.arange(8000) / SAMPLE_RATE)
    middle = log_mel(tone.astype(np.float32))[:, 20]
    corners = hertz(np.linspace(0, mels(8000), 82))
    band = int(middle.argmax())
    assert corners[band] < hz < corners[band + 2]


def test_its_values_keep_to_eight_decades_under_the_loudest() -> None:
    found = log_mel(sounds()["rising"])
    assert found.max() - found.min() <= 2 + 1e-6


def test_a_sound_of_no_length_is_shown_as_nothing() -> None:
    assert (log_mel(np.zeros(0, dtype=np.float32)) == log_mel(np.zeros(3, np.float32))).all()
