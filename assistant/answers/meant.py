"""What a cook asks in their own words: a card, a topic, one of two, or nothing of ours."""

from collections.abc import Callable
from typing import NamedTuple

from assistant.answers.card import Card, card_named
from assistant.answers.match import TALK, Found, find
from assistant.answers.plainly import parts, plainly
from assistant.answers.topics import all_topics, find_topics, leans_as
from assistant.gist import Gist

LIKELY = 0.55
"""From here a question is taken as meant (0 to 1). Fitted on the panel's open half."""
LIKELY_TOLD = 0.71
"""The same for trouble that is told and not asked about: "my thermometer broke"."""
CARD_TOLD = 0.85
"""The same for any other card."""
TOPIC_TOLD = 0.92
"""The same for a topic: "sugar quantity please", but not "the sugar is on the table"."""
NEAR = 0.02
"""So near a second one may have been meant as well, and both are offered."""
SURE = 0.9
"""From here nothing else is looked for."""
CLEAR_OF_TALK = 0.02
"""So much more it must be like a question of ours than like talk to somebody else."""
LIKELY_ALONE = 0.7
"""From here one sentence of several is taken as the question."""
OFFERED = 0.35
"""From here a thing is near enough to be offered when nothing was understood."""
_LEAN_ON_THE_REST = frozenset(
    ("next", "next/after", "why", "more", "help", "say_again", "how_much", "how_long", "yield")
)
"""Topics that no sentence of several asks for: "now what" after trouble means the trouble."""


class Meant(NamedTuple):
    """One thing asked: the card's id or the topic's name, and its title."""

    label: str
    title: str
    is_card: bool
    likely: float = 0.0


def asked_about(
    text: str, gist: Gist, may: Callable[[Card], bool], asks: Callable[[str], bool]
) -> tuple[Meant, ...]:
    """What is asked: one thing, two that lie too near to tell, or () where it is none of ours.

    A text of several sentences is read whole, and then each sentence by itself.

    may : whether a card can be meant now; asks : whether words are put as a question
    """
    whole = _clear(plainly(text), gist, may, asks(text))
    if whole and whole[0].likely >= SURE:
        return whole
    ways = [_clear(part, gist, may, asks(part)) for part in parts(text)]
    alone = [
        way
        for way in ways
        if way
        and way[0].likely >= LIKELY_ALONE
        and not any(one.label in _LEAN_ON_THE_REST for one in way)
    ]
    return max((whole, *alone), key=lambda way: way[0].likely if way else 0.0)


def _clear(text: str, gist: Gist, may: Callable[[Card], bool], question: bool) -> tuple[Meant, ...]:
    found, talk = _found(text, gist, may)
    if not question:
        found = tuple(one for one in found if one.likely >= _told_at(one))
    if not found or found[0].likely < max(LIKELY, talk + CLEAR_OF_TALK):
        return ()
    others = [one for one in found[1:] if _same(one) != _same(found[0])]
    if others and others[0].likely >= found[0].likely - NEAR and found[0].likely < SURE:
        return (found[0], others[0])
    return found[:1]


def _same(one: Meant) -> str:
    return one.label if one.is_card else leans_as(one.label)


def _told_at(one: Meant) -> float:
    card = card_named(one.label) if one.is_card else None
    if card is None:
        return TOPIC_TOLD
    return CARD_TOLD if card.kind == "question" else LIKELY_TOLD


def nearest(text: str, gist: Gist, may: Callable[[Card], bool]) -> tuple[Meant, ...]:
    """The two nearest things that could be asked, for when nothing was understood."""
    found, talk = _found(plainly(text), gist, may)
    return tuple(one for one in found[:2] if one.likely >= max(OFFERED, talk))


def one_of(text: str, gist: Gist, labels: tuple[str, ...]) -> str | None:
    """Which of some cards or topics a text picks, None where it names neither of them clearly."""
    found, _ = _found(text, gist, lambda card: card.id in labels)
    left = [one for one in found if one.label in labels]
    if not left or left[0].likely < OFFERED:
        return None
    clear = len(left) < 2 or left[0].likely >= left[1].likely + NEAR
    return left[0].label if clear else None


def _found(text: str, gist: Gist, may: Callable[[Card], bool]) -> tuple[tuple[Meant, ...], float]:
    cards = find(text, gist, may, most=4)
    talk = max((f.likely for f in cards if f.card == TALK), default=0.0)
    both = [_of_card(f) for f in cards if f.card != TALK]
    both += [_of_topic(f) for f in find_topics(text, gist)]
    return tuple(sorted(both, key=lambda one: -one.likely)), talk


def _of_card(found: Found) -> Meant:
    card = card_named(found.card)
    return Meant(found.card, card.title if card else found.card, True, found.likely)


def _of_topic(found: Found) -> Meant:
    return Meant(found.card, all_topics()[found.card].title, False, found.likely)
