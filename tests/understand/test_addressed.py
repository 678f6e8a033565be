"""Whom an utterance is for, when several batches are at work."""

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.facts.asked import Asked
from assistant.hear.heard import Guess, Heard
from assistant.understand import rivals
from assistant.understand.addressed import addressed

AT_WORK = {
    "r": ("raspberry", "berry syrup"),
    "b": ("blackcurrant", "berry syrup"),
    "u": ("rhubarb", "rhubarb syrup"),
    "g": ("ginger", "ginger syrup"),
}


@pytest.mark.parametrize(
    ("said", "to", "rest"),
    [
        ("for the raspberry, sixty eight degrees", "r", "sixty eight degrees"),
        ("for the raspberries sixty eight", "r", "sixty eight"),
        ("four the raspberry sixty eight", "r", "sixty eight"),
        ("for the black currants pH 3.1", "b", "p h three point one"),
        ("for the rhubarb syrup: done", "u", "done"),
        ("in the rhubarb pan, 72C", "u", "seventy two celsius"),
        ("the raspberry", "r", ""),
        ("rhubarb", "u", ""),
        ("for the rhubarb", "u", ""),
        ("sixty eight degrees for the raspberry", "r", "sixty eight degrees"),
        ("a hundred grams of sugar in the rhubarb", "u", "a hundred grams of sugar"),
        ("where are we with the blackcurrant", "b", "where are we"),
        ("set a timer for ten minutes for the ginger", "g", "set a timer for ten minutes"),
    ],
)
def test_a_batch_is_named_before_or_after(said: str, to: str, rest: str) -> None:
    found = addressed(Heard.typed(said), AT_WORK)
    assert (found.to, found.rest.text) == ((to,), rest)


@pytest.mark.parametrize(
    "said",
    [
        "sixty eight degrees",
        "two kilos of raspberries",
        "raspberry two kilos",
        "for the plum, sixty eight",
        "for ten minutes",
        "i opened one",
        "how much sugar do i need",
        "set a timer for ten minutes",
        "on we go",
        "",
    ],
)
def test_other_words_name_nobody(said: str) -> None:
    found = addressed(Heard.typed(said), AT_WORK)
    assert found.to == ()
    assert found.rest == Heard.typed(said)


def test_a_name_that_two_go_by_names_both() -> None:
    assert addressed(Heard.typed("for the berry syrup, done"), AT_WORK).to == ("r", "b")


def test_a_doubt_about_the_name_stays_a_doubt() -> None:
    guesses = (
        Guess(text="for the raspberry sixty eight degrees", share=0.55),
        Guess(text="for the rhubarb sixty eight degrees", share=0.45),
    )
    heard = Heard(text=guesses[0].text, guesses=guesses, sure=0.9, engine="scripted")
    rest = addressed(heard, AT_WORK).rest
    assert rest.guesses == (Guess(text="sixty eight degrees", share=0.55),)


@given(st.text(max_size=60))
def test_any_text_is_left_whole_or_cut(text: str) -> None:
    found = addressed(Heard.typed(text), AT_WORK)
    assert found.to == () or set(found.to) <= set(AT_WORK)
    if not found.to:
        assert found.rest.text == text


def test_what_both_engines_heard_of_a_named_batch_is_weighed_with_its_name() -> None:
    """The name is in the sound, so each text is compared with it."""
    second = (
        Guess(text="for the raspberry sixty eight degrees", share=0.8),
        Guess(text="for the rhubarb sixty eight degrees", share=0.2),
    )
    heard = Heard.typed("for the raspberry, 68 degrees").model_copy(
        update={"engine": "whisper", "second": second, "sound": 1}
    )
    rest = addressed(heard, {"b-1": ("raspberry",), "b-2": ("rhubarb",)}).rest
    assert [(guess.text, guess.share) for guess in rest.second] == [
        ("sixty eight degrees", 0.8),
        ("", 0.2),
    ]
    against = rivals(rest, Asked(), datetime(2026, 7, 4, tzinfo=UTC))
    assert against is not None
    assert (against.text, against.others[0]) == ("Sixty eight degrees.", "Twenty eight degrees.")
    assert against.whole(against.text) == "for the raspberry Sixty eight degrees."
