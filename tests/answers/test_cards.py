"""Answer cards: they hold together, are found in other words, and say what the batch knows."""

from datetime import UTC, datetime, timedelta
from importlib.resources import files

import pytest

from assistant.answers.card import Card, all_cards, read_cards
from assistant.answers.directions import lacking
from assistant.answers.match import TALK, find, talk
from assistant.answers.topics import all_topics
from assistant.answers.ways import parted, ways
from assistant.base.errors import WordsMissing
from assistant.cook import Batch, begin, step
from assistant.cook.cards import can_be_meant, card_lines
from assistant.cook.conditions import CONDITIONS
from assistant.cook.figures import FIGURES
from assistant.facts import events as ev
from assistant.gist import shipped
from assistant.recipebook.files import load_recipe, recipe_names

AT = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
CARDS = sorted(all_cards().values(), key=lambda card: card.id)


def _batch(recipe: str, *events: ev.AnyEvent) -> Batch:
    body = load_recipe(recipe).model_dump(mode="json")
    batch, _ = begin(ev.Begin(at=AT, batch="b", recipe=body))
    for event in events:
        batch, _ = step(batch, event)
    return batch


_EACH = 6
"""Each so manieth way is tried: there are ten thousand, at some milliseconds each."""


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.id)
def test_a_card_names_only_conditions_and_figures_that_there_are(card: Card) -> None:
    names = {n.removeprefix("!") for saying in card.says for n in saying.when}
    names |= {n.removeprefix("!") for n in card.only}
    assert names <= set(CONDITIONS)
    assert {f for saying in card.says for f in saying.figures()} <= set(FIGURES)


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.id)
def test_a_card_is_the_nearest_to_its_own_ways_of_asking(card: Card) -> None:
    for text in card.asks[::_EACH]:
        assert find(text, shipped())[0].card == card.id, text


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.id)
def test_a_card_is_short_to_hear_and_promises_nothing(card: Card) -> None:
    for saying in card.says:
        assert len(saying.say.split()) <= 35
        assert " safe" not in f" {saying.say} {saying.more} ".lower()


@pytest.mark.parametrize("recipe", recipe_names())
def test_every_card_that_can_be_meant_has_something_to_say(recipe: str) -> None:
    """At the start of a batch, and whatever else: no card is left without words."""
    batch = _batch(recipe)
    for card in CARDS:
        if can_be_meant(batch, card, AT):
            lines = card_lines(batch, card.id, AT)
            assert lines[0].id == "card", card.id


def test_no_two_cards_are_asked_in_the_same_words() -> None:
    said = [text.casefold() for card in CARDS for text in card.asks] + list(talk())
    assert len(said) == len(set(said))


def test_the_directions_are_fresh() -> None:
    """`python -m assistant.answers.directions` makes them anew."""
    asked = [text for row in (*CARDS, *all_topics().values()) for text in row.asks]
    told = [text for texts in ways("acts").values() for text in texts]
    assert lacking([*asked, *told, *talk()]) == []


def test_every_further_way_belongs_to_a_card_or_a_topic() -> None:
    subjects = {card.id.split(".")[0] for card in CARDS} | {"topics", "acts"}
    files_ = {
        f.name.removesuffix(".txt") for f in files("assistant.answers").joinpath("ways").iterdir()
    }
    assert files_ <= subjects
    labels = {label for subject in subjects - {"acts"} for label in ways(subject)}
    assert labels <= {card.id for card in CARDS} | set(all_topics())


def test_a_way_above_all_labels_is_refused() -> None:
    with pytest.raises(ValueError, match="above all labels"):
        parted("honey instead?\n[sugar.honey]")


def test_talk_is_for_nobody_here() -> None:
    assert find("did you see the match last night", shipped())[0].card == TALK


def test_a_card_of_another_version_is_owned_up_to() -> None:
    (line,) = card_lines(_batch("berry-syrup"), "sugar.moonshine", AT)
    assert line.id == "card_unknown"


def test_a_question_in_free_words_changes_nothing_and_is_answered() -> None:
    before = _batch("berry-syrup")
    ask = ev.Ask(at=AT + timedelta(minutes=1), topic="card", about="sugar.honey")
    after, reply = step(before, ask)
    assert after.taken == before.taken
    assert after.stage == before.stage
    assert "honey" in (reply.lines[0].text or "").lower()


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("[x]\ntitle = 'about x'\nasks = ['a', 'b']", "sugar.toml"),
        ("[x\n", "sugar.toml"),
        ("x = 3", "sugar.toml"),
    ],
)
def test_a_bad_file_is_named(text: str, wrong: str) -> None:
    with pytest.raises(WordsMissing, match=wrong):
        read_cards(text, "sugar.toml")
