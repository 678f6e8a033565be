"""What is said around a question is left out of it, and one sentence of several is found."""

import pytest

from assistant.answers.meant import asked_about
from assistant.answers.plainly import parts, plainly
from assistant.gist import shipped


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        ("Oh dear, is it meant to be that thick, love?", "is it meant to be that thick?"),
        ("hey so um can i use honey lol", "can i use honey"),
        ("please", "please"),
        ("sorry?", "sorry?"),
        ("Is it right, my dear, to stir it?", "Is it right, to stir it?"),
        ("the hen ate the pulp", "the hen ate the pulp"),
        ("is it hot", "is it hot"),
        ("sorbet", "sorbet"),
    ],
)
def test_fillers_and_names_for_the_listener_go(said: str, plain: str) -> None:
    assert plainly(said) == plain


def test_a_text_of_one_sentence_has_no_parts() -> None:
    assert parts("How far did we get?") == ()
    assert parts("I was out. How far did we get? Hm.") == ("I was out.", "How far did we get?")


def _asked(text: str) -> list[str]:
    found = asked_about(text, shipped(), lambda _card: True, lambda part: part.endswith("?"))
    return [one.label for one in found]


@pytest.mark.parametrize(
    "around",
    ["{}", "My sister rang from the harbour. {}", "{} The bus was late again, it always is."],
)
def test_a_question_is_found_among_other_sentences(around: str) -> None:
    assert _asked(around.format("Would a little honey do instead of the sugar?")) == ["sugar.honey"]


@pytest.mark.parametrize(
    ("text", "card"),
    [
        ("My thermometer broke. What do I do now?", "heat.no_thermometer"),
        ("I tipped half of it on the floor. What should I do next?", "mishap.spilled"),
        ("The pot ran over and made a mess. What do I do now?", "heat.boiling_over"),
    ],
)
def test_now_what_after_trouble_asks_about_the_trouble(text: str, card: str) -> None:
    assert _asked(text) == [card]


@pytest.mark.parametrize(
    "text",
    [
        "Did you feed the rabbits? The bus was late again.",
        "Did she wear the red dress? Can I borrow the bike again, please?",
        "Where is your hat? Can we go now?",
    ],
)
def test_sentences_to_somebody_else_stay_talk(text: str) -> None:
    assert _asked(text) == []


def test_a_card_and_a_topic_that_answer_the_same_are_not_both_offered() -> None:
    for text in ("what number of flasks will there be", "how long does it stand in the icebox"):
        assert len(_asked(text + "?")) == 1
