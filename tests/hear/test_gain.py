"""The gain that a cook agreed to: when one fits, how it is kept, and what it does."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import WrongUse
from assistant.hear import gain as module
from assistant.hear.gain import MOST_DB, fitting, gain_file, keep_gain, kept_gain, louder
from assistant.hear.sound_level import SoundLevel


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(module, "user_config_dir", lambda *_, **__: str(tmp_path / "panside"))
    return tmp_path


@pytest.mark.parametrize(
    ("speech", "noise", "peak", "clipped", "gain"),
    [
        (-63, -90, -45, False, 30),
        (-63, -90, -20, False, 14),  # its peak must stay below -6
        (-85, -99, -60, False, MOST_DB),
        (-54, -90, -40, False, 0),  # loud enough
        (-63, -60, -45, False, 0),  # nothing stands out of the noise
        (-63, -90, -45, True, 0),
    ],
)
def test_only_quiet_speech_is_lifted(
    speech: float, noise: float, peak: float, clipped: bool, gain: float
) -> None:
    assert fitting(SoundLevel(speech, noise, peak, clipped)) == gain


@given(*(st.floats(-120, 0) for _ in range(3)))
def test_a_gain_never_clips_and_has_a_bound(speech: float, noise: float, peak: float) -> None:
    gain = fitting(SoundLevel(speech, noise, peak, clipped=False))
    assert 0 <= gain <= MOST_DB
    assert gain == 0 or peak + gain <= -5


def test_what_is_kept_is_found_again() -> None:
    assert kept_gain() == 0
    keep_gain(24.0)
    assert kept_gain() == 24


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"gain_db": "loud"}', '{"gain_db": 99}', "nan"])
def test_what_can_not_be_believed_is_no_gain(text: str) -> None:
    gain_file().parent.mkdir()
    gain_file().write_text(text, "utf-8")
    assert kept_gain() == 0


def test_where_it_can_not_be_kept_is_said(home: Path) -> None:
    (home / "panside").write_text("in the way", "utf-8")
    with pytest.raises(WrongUse, match=r"microphone\.json can't be written"):
        keep_gain(6.0)


def test_no_gain_changes_nothing_and_none_goes_beyond_full_scale() -> None:
    sound = np.array([0.1, -0.9], dtype=np.float32)
    assert louder(sound, 0.0) is sound
    assert louder(sound, 6.0) == pytest.approx([0.19953, -1.0], abs=1e-4)
    assert louder(sound, 6.0).dtype == np.float32
