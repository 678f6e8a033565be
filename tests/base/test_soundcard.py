import pytest

from assistant.base.soundcard import NO_SYSTEM, reason


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (RuntimeError("failed to init device", -401), NO_SYSTEM),
        (RuntimeError("failed to init device", -2), "error -2 of the sound system"),
        (OSError("the wire is loose"), "the wire is loose"),
        (NO_SYSTEM, NO_SYSTEM),
    ],
)
def test_sound_errors_are_told_in_words(error: object, told: str) -> None:
    assert reason(error) == told
