"""What Vosk writes for words outside its list keeps an utterance from being taken."""

import pytest
from kitchen import hear

from assistant.hear.heard import Guess, Heard


def held(*guesses: tuple[str, float], sure: float = 0.95) -> Heard:
    found = tuple(Guess(text=text, share=share) for text, share in guesses)
    return Heard(text=found[0].text, guesses=found, sure=sure, engine="vosk")


@pytest.mark.parametrize(
    "text", ["[unk] seventy two degrees", "seventy [unk] degrees", "[unk] done", "[unk] yes [unk]"]
)
def test_unknown_sound_around_words_takes_nothing(text: str) -> None:
    assert hear(held((text, 1.0), sure=0.0), "temperature").verdict != "take"


def test_alternatives_and_word_confidence_make_it_ask() -> None:
    split = held(("sixty two degrees", 0.55), ("seventy two degrees", 0.45))
    assert hear(split, "temperature").verdict == "ask"
    faint = held(("sixty two degrees", 1.0), sure=0.2)
    assert hear(faint, "temperature").verdict == "ask"
    assert hear(held(("sixty two degrees", 1.0)), "temperature").verdict == "take"
