"""Answer cards as they stand in `assistant/answers/cards/*.toml`, one subject a file.

A card holds the many ways of asking one thing, and what is said to it: the first saying whose
conditions the batch meets and whose figures it knows. `cook` tells conditions and figures apart;
here they are names.
"""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from string import Formatter
from types import MappingProxyType
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from assistant.answers.ways import ways
from assistant.base.errors import WordsMissing
from assistant.facts.events import SignOf

Kind = Literal["question", "trouble", "sign"]
"""A question wants to know, a trouble wants mending, a sign means that a bottle has spoiled."""


class Saying(BaseModel):
    """One way to answer.

    when : conditions that must all hold, "!" before those that must not
    say : one or two short sentences, with the batch's figures in braces
    more : the next level, for "tell me more"
    caution : what the cook must hear besides, where it is due
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    when: tuple[str, ...] = ()
    say: str = Field(min_length=1)
    more: str = ""
    caution: str = ""

    def figures(self) -> set[str]:
        """The names of the figures that its sentences need."""
        words = (self.say, self.more, self.caution)
        return {name for text in words for _, name, _, _ in Formatter().parse(text) if name}


class Card(BaseModel):
    """One thing that may be asked.

    id : subject and name, "sugar.honey"
    title : what it is about in a few words, for "Do you mean A or B?"
    asks : ways of asking it; what a cook says is compared with them by meaning
    only : conditions without which it can't be meant
    sign : for a sign of spoilage, what is written down
    source : where the facts come from, or "common practice, no source"
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: str
    title: str = Field(min_length=3)
    asks: tuple[str, ...] = Field(min_length=3)
    says: tuple[Saying, ...] = Field(min_length=1)
    kind: Kind = "question"
    only: tuple[str, ...] = ()
    sign: SignOf | None = None
    source: str = Field(min_length=3)


@cache
def all_cards() -> Mapping[str, Card]:
    """Every card by its id; WordsMissing for a file that does not hold together."""
    found: dict[str, Card] = {}
    folder = files("assistant.answers").joinpath("cards")
    for file in sorted(folder.iterdir(), key=lambda f: f.name):
        if file.name.endswith(".toml"):
            found |= _asked_further(read_cards(file.read_text("utf-8"), file.name), file.name)
    return MappingProxyType(found)


def read_cards(text: str, file: str) -> dict[str, Card]:
    """The cards of one file's text; its name is their subject. WordsMissing says what is wrong."""
    subject = file.removesuffix(".toml")
    try:
        tables: dict[str, Any] = tomllib.loads(text)
        cards = [Card(id=f"{subject}.{name}", **table) for name, table in tables.items()]
    except (tomllib.TOMLDecodeError, ValidationError, TypeError) as error:
        raise WordsMissing(f"the answer cards in {file} can't be used: {error}") from error
    return {card.id: card for card in cards}


def _asked_further(cards: dict[str, Card], file: str) -> dict[str, Card]:
    further = ways(file.removesuffix(".toml"))
    return {
        id_: card.model_copy(update={"asks": (*card.asks, *further.get(id_, ()))})
        for id_, card in cards.items()
    }


def card_named(card_id: str) -> Card | None:
    """The card of that id; None where this version has none."""
    return all_cards().get(card_id)
