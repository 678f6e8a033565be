"""What is said to the tool, and what to others."""

import pytest

from assistant.aloud.called import WINDOW_S, Called
from assistant.base.errors import WrongUse
from assistant.hear.heard import Guess, Heard

EVERYDAY = (
    "my car is gold", "marvellous", "mary and paul came", "marry me", "the marinade is cold",
    "more sugar", "seventy two degrees", "done", "stop", "what's next", "merry christmas everybody",
    "my old man", "margarine", "manifold", "tomorrow", "marble", "michael", "are you there",
    "how much sugar", "yes", "no", "one point two kilos", "make it hold", "the lid", "bring gold",
    "margaret", "good morning", "let me have that", "anyone want tea", "sixty",
)  # fmt: skip


def said(*guesses: tuple[str, float] | str) -> Heard:
    pairs = [(g, 1.0) if isinstance(g, str) else g for g in guesses]
    found = tuple(Guess(text=text, share=share) for text, share in pairs)
    return Heard(text=pairs[0][0], guesses=found, sure=0.9, engine="whisper")


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("Marigold, seventy two degrees.", "seventy two degrees."),
        ("Marigold seventy two degrees", "seventy two degrees"),
        ("Hey Marigold, done.", "done."),
        ("Mary gold, how much sugar?", "how much sugar?"),
        ("Marry Gold done", "done"),
        ("Marigolds, what's next?", "what's next?"),
        ("Merigold stop", "stop"),
        ("Mari gold. Stop.", "Stop."),
        ("okay marygold yes", "yes"),
        ("Marigold?", ""),
    ],
)
def test_the_name_even_misheard_calls_it(text: str, left: str) -> None:
    heard = Called("Marigold").for_us(said(text))
    assert heard is not None
    assert heard.text == left
    assert heard.guesses[0].text == left


@pytest.mark.parametrize("name", ["Marigold", "Juniper", "Old Kettle"])
@pytest.mark.parametrize("text", EVERYDAY)
def test_other_talk_does_not(name: str, text: str) -> None:
    assert Called(name).for_us(said(text)) is None


def test_the_name_must_come_first() -> None:
    assert Called("Marigold").for_us(said("I asked Marigold about sugar")) is None


def test_an_answer_needs_no_name_for_a_while() -> None:
    called = Called("Marigold")
    called.spoke()
    called.passed(WINDOW_S - 0.1)
    assert called.for_us(said("seventy two")) == said("seventy two")
    called.passed(0.2)
    assert called.for_us(said("seventy two")) is None


def test_without_a_name_everything_is_for_it() -> None:
    assert Called("").for_us(said("seventy two")) == said("seventy two")
    assert Called("").words == ()


def test_most_of_the_belief_must_be_in_the_name() -> None:
    called = Called("Marigold")
    few = said(("my old seventy", 0.8), ("marigold seventy", 0.2))
    assert called.for_us(few) is None
    many = called.for_us(said(("my old seventy", 0.3), ("marigold seventy", 0.7)))
    assert many is not None
    assert [(g.text, g.share) for g in many.guesses] == [("seventy", 0.7)]


@pytest.mark.parametrize("name", ["Ed", "x y", "one two three", "!!", "12345"])
def test_a_name_that_everything_sounds_like_is_refused(name: str) -> None:
    with pytest.raises(WrongUse, match="no name to be called by"):
        Called(name)


def test_the_second_engine_is_heard_without_the_name_too() -> None:
    second = (Guess(text="Marigold, seventy two.", share=0.9),)
    heard = said(("hey marigold seventy two", 1.0)).model_copy(update={"second": second})
    left = Called("Marigold").for_us(heard)
    assert left is not None
    assert [guess.text for guess in left.second] == ["seventy two."]
    assert left.before == "hey marigold"
