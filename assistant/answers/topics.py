"""Ways of asking what is answered without a card: how much, where, how long, what is left."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import NamedTuple, get_args

from pydantic import BaseModel, ConfigDict, Field

from assistant.answers.directions import directions, kept_leaning
from assistant.answers.match import Found, likely, told_words
from assistant.answers.ways import ways
from assistant.facts.events import Topic
from assistant.gist import Bank, Gist

SAY_AGAIN = "say_again"
"""Asked like a question; what comes of it is the last reply once more."""


class Asks(BaseModel):
    """A topic's ways of asking, and what it is about in a few words.

    like : the card that answers the same, so that nobody is asked which of the two is meant
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    title: str = Field(min_length=3)
    asks: tuple[str, ...] = Field(min_length=3)
    like: str = ""


class Named(NamedTuple):
    """A topic and what narrows it."""

    topic: str
    about: str | None


@cache
def all_topics() -> Mapping[str, Asks]:
    """Every topic by its name, "how_much/sugar"; ValueError for one that no question has."""
    text = files("assistant.answers").joinpath("topics.toml").read_text("utf-8")
    further = ways("topics")
    found = {
        name: Asks.model_validate(row | {"asks": [*row["asks"], *further.get(name, ())]})
        for name, row in tomllib.loads(text).items()
    }
    strange = {named(name).topic for name in found} - {*get_args(Topic), SAY_AGAIN}
    if strange:
        raise ValueError(f"topics.toml: no question is about {', '.join(sorted(strange))}")
    return MappingProxyType(found)


def named(label: str) -> Named:
    """A name's topic and what it is about.

    >>> named("how_much/sugar").about
    'sugar'
    """
    topic, _, about = label.partition("/")
    return Named(topic, about or None)


def leans_as(name: str) -> str:
    """What a topic is called among the cards, in what a text leans to."""
    return all_topics()[name].like or f"topic {name}"


@cache
def bank() -> Bank:
    """Every way of asking every topic."""
    pairs = [(name, text) for name, row in all_topics().items() for text in row.asks]
    labels, sentences = zip(*pairs, strict=True)
    return Bank(labels, sentences, directions(sentences))


def find_topics(text: str, gist: Gist, most: int = 3) -> tuple[Found, ...]:
    """The topics that a text may ask about, likeliest first."""
    direction, said = gist.of(text.casefold()), told_words(text)
    leans = kept_leaning().of(direction)
    found = [
        Found(n.label, likely(n.alike, said, n.sentence, leans.get(leans_as(n.label))), n.sentence)
        for n in bank().nearest(direction, most * 2)
    ]
    return tuple(sorted(found, key=lambda one: -one.likely)[:most])
