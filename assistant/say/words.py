"""The words of every line, from `assistant/say/words/*.toml`, and how facts go into them.

One file a subject; tables nest and their names join with dots. In a template `{sugar}` is a fact,
`{count|bottle|bottles}` the word that goes with a count of one or of more.
"""

import re
import tomllib
from collections.abc import Callable, Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from assistant.base.errors import WordsMissing
from assistant.cook.reply import Fact, Quantity

_PLACE = re.compile(r"\{(\w+)(?:\|([^{}|]*)\|([^{}|]*))?\}")

Wording = Callable[[Fact, str], str]
"""(fact, the words before it) -> its words."""


@cache
def catalogue() -> Mapping[str, str]:
    """Every id with its template; WordsMissing for a file that can't be used.

    >>> catalogue()["general.heard_nothing"]
    'I heard nothing.'
    """
    found: dict[str, str] = {}
    folder = files("assistant.say").joinpath("words")
    for file in sorted(folder.iterdir(), key=lambda f: f.name):
        if file.name.endswith(".toml"):
            _gather(found, read_words(file.read_text(encoding="utf-8"), file.name), file.name)
    return MappingProxyType(found)


def read_words(text: str, name: str) -> dict[str, str]:
    """The ids and templates in one file's text; WordsMissing says what is wrong in which file."""
    try:
        return dict(_flatten(tomllib.loads(text), name))
    except tomllib.TOMLDecodeError as error:
        raise WordsMissing(f"the words in {name} can't be read: {error}") from error


def template(line_id: str) -> str:
    """The words of an id; WordsMissing when it has none."""
    try:
        return catalogue()[line_id]
    except KeyError:
        raise WordsMissing(
            f"no words for the line {line_id!r}; add them to a file in assistant/say/words"
        ) from None


def names(words: str) -> set[str]:
    """The facts that a template names.

    >>> sorted(names("Fill {count} {count|bottle|bottles} of {size}."))
    ['count', 'size']
    """
    return {place[1] for place in _PLACE.finditer(words)}


def fill(words: str, facts: Mapping[str, Fact], wording: Wording, line_id: str) -> str:
    """A template with its facts put in; WordsMissing when a fact isn't there.

    >>> fill("Fill {n} {n|bottle|bottles}.", {"n": 1}, lambda fact, before: str(fact), "fill")
    'Fill 1 bottle.'
    """
    done = ""
    end = 0
    for place in _PLACE.finditer(words):
        done += words[end : place.start()]
        fact = _find(facts, place[1], line_id)
        done += wording(fact, done) if place[2] is None else place[2 if _is_one(fact) else 3]
        end = place.end()
    return done + words[end:]


def _find(facts: Mapping[str, Fact], name: str, line_id: str) -> Fact:
    try:
        return facts[name]
    except KeyError:
        raise WordsMissing(
            f"the line {line_id!r} has words for {name!r} but no such fact"
        ) from None


def _is_one(fact: Fact) -> bool:
    return (fact.value if isinstance(fact, Quantity) else fact) == 1


def _gather(found: dict[str, str], more: Mapping[str, str], name: str) -> None:
    twice = found.keys() & more.keys()
    if twice:
        raise WordsMissing(f"{min(twice)!r} has words twice, the second time in {name}")
    found.update(more)


def _flatten(table: Mapping[str, Any], name: str, above: str = "") -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    for key, value in table.items():
        line_id = f"{above}{key}"
        if isinstance(value, dict):
            found += _flatten(value, name, f"{line_id}.")
        elif isinstance(value, str) and not set("{}") & set(_PLACE.sub("", value)):
            found.append((line_id, value))
        else:
            raise WordsMissing(f"the words of {line_id!r} in {name} are not a sentence with facts")
    return found
