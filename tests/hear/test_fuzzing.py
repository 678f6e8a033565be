"""Whatever comes as a file or a line: no traceback, and nothing taken from noise."""

from datetime import UTC, datetime
from random import Random

import pytest
from fuzz_inputs import damaged, long_line, mangled, recording, symbols
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import BadRecording
from assistant.cook.awaiting import AWAITABLE, asked_for
from assistant.facts.asked import Asked
from assistant.hear.audio import decode
from assistant.hear.heard import Heard, Samples
from assistant.hear.whisper_ears import WhisperEars
from assistant.understand import understand

RANDOMS = st.randoms(use_true_random=False)
NOW = datetime(2026, 7, 11, tzinfo=UTC)
ASKED = [Asked(), *(asked_for(name) for name in AWAITABLE)]


def read(data: bytes) -> Samples | str:
    """The sound, or why there is none."""
    try:
        return decode(data)
    except BadRecording as told:
        return str(told)


@settings(max_examples=60)
@given(RANDOMS)
def test_a_whole_recording_is_read_or_said_to_be_empty(random: Random) -> None:
    found = read(recording(random))
    assert "no sound" in found if isinstance(found, str) else len(found)


@settings(max_examples=150)
@given(RANDOMS)
def test_a_damaged_file_is_read_or_refused_in_one_sentence(random: Random) -> None:
    found = read(damaged(random))
    assert "\n" not in found if isinstance(found, str) else abs(found).max() <= 1


@pytest.mark.audio
@settings(max_examples=8)
@given(random=RANDOMS)
def test_nothing_is_taken_from_noise(random: Random, whisper_ears: WhisperEars) -> None:
    sound = read(recording(random))
    for heard in () if isinstance(sound, str) else whisper_ears.hear(sound):
        assert all(understand(heard, asked, NOW).verdict != "take" for asked in ASKED)


@settings(max_examples=60)
@given(RANDOMS)
def test_symbols_mean_nothing(random: Random) -> None:
    text = symbols(random)
    found = understand(Heard.typed(text), random.choice(ASKED), NOW)
    if found.verdict == "take":
        assert any(char.isalnum() or char == "?" for char in text), text


@settings(max_examples=60)
@given(RANDOMS)
def test_mangled_phrases_do_no_harm(random: Random) -> None:
    understand(Heard.typed(mangled(random)), random.choice(ASKED), NOW)


@settings(max_examples=10)
@given(RANDOMS)
def test_a_line_without_end_is_nothing(random: Random) -> None:
    line = long_line(random)
    found = understand(Heard.typed(line), random.choice(ASKED), NOW)
    assert found.verdict == "refuse" or len(line) <= 240
