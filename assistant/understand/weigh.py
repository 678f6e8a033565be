"""Adds up what the ears believe: each guess is parsed, equal meanings share their weight."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from assistant.facts.events import AnyEvent, Correct, Reading
from assistant.hear.heard import Guess, Heard
from assistant.understand.bounds import inside, number_in, plausible
from assistant.understand.meant import Amount
from assistant.understand.parsing import parse
from assistant.understand.resolve import Events, Moment, in_other_unit, resolve
from assistant.understand.verdict import Refusal
from assistant.understand.words import to_words

SECOND = 0.45
"""Weight of the second engine's guesses beside the first's. Measured on the development set."""


@dataclass(frozen=True)
class Sense:
    """One thing that some words can mean now.

    repair : what had to be repaired (a cost of the lattice)
    other_unit : a bare number taken in another unit than the usual one, where that can't be
    said : the number as it was said, with its unit and its name as far as they were
    """

    events: Events
    repair: int = 0
    other_unit: bool = False
    said: Amount | None = None


@dataclass(frozen=True)
class Option:
    """One meaning of the utterance: its share of belief and the words that say it.

    first, second : its shares among the guesses of each engine; no second, no share
    figures : the recogniser wrote figures where words were said
    two_ways : the same words also mean something else that can be
    """

    sense: Sense
    share: float
    words: tuple[str, ...]
    figures: bool = False
    two_ways: bool = False
    first: float = 0.0
    second: float = 0.0

    @property
    def events(self) -> Events:
        """What it says."""
        return self.sense.events

    def plus(self, other: "Option") -> "Option":
        """The same meaning heard twice: shares add up, the less repaired hearing speaks."""
        best = min(self, other, key=lambda option: option.sense.repair)
        return replace(
            best,
            share=self.share + other.share,
            first=self.first + other.first,
            second=self.second + other.second,
        )


@dataclass
class Weighed:
    """The meanings, best first, and whether the first guess could not be understood."""

    options: list[Option] = field(default_factory=list)
    first_lost: bool = False
    reason: Refusal = "not_understood"


def key(events: Events) -> str:
    """Equal for equal meanings; readings of the same amount in two units are equal.

    So are "no, 44" and "no, 44 degrees": asking "44 or 44 degrees?" helps nobody.
    """
    return repr([_meaning(event) for event in events])


def _meaning(event: AnyEvent) -> object:
    if isinstance(event, Reading):
        return (event.kind, event.what, event.dimension, round(event.base, 6))
    if isinstance(event, Correct) and event.unit in (None, "degC"):
        return (event.kind, round(event.value, 6))
    return event.meaning()


def senses(words: tuple[str, ...], moment: Moment) -> tuple[list[Sense], Refusal]:
    """What the words can mean now, implausible senses left out if a plausible one is there.

    And the reason why there is none, for when there is none.
    """
    found: dict[str, Sense] = {}
    reason: Refusal = "not_understood"
    for parsed in parse(words):
        events = resolve(parsed.meant, moment)
        if isinstance(events, str):
            reason = events
            continue
        said = parsed.meant if isinstance(parsed.meant, Amount) else None
        found.setdefault(key(events), Sense(events, parsed.cost, said=said))
        other = in_other_unit(parsed.meant, events, moment)
        if other and not inside_all(events, moment) and inside_all(other, moment):
            found.setdefault(key(other), Sense(other, parsed.cost, other_unit=True, said=said))
    likely = [s for s in found.values() if plausible(s.events, moment.asked, moment.at)]
    return likely or list(found.values()), reason


def inside_all(events: Events, moment: Moment) -> bool:
    """Whether the number in the events lies within its bounds."""
    event = number_in(events)
    return event is None or inside(event, moment.asked)


def weigh(heard: Heard, moment: Moment) -> Weighed:
    """All guesses together, those of a second engine beside those of the first."""
    weighed = Weighed()
    options: dict[str, Option] = {}
    lost = []
    for rank, guess, *weights in _pooled(heard):
        words = to_words(guess.text)
        meanings, reason = senses(words, moment)
        if rank == 0:
            lost.append(not meanings)
            weighed.reason = reason if len(lost) == 1 and not meanings else weighed.reason
        figures = any(char.isdigit() for char in guess.text)
        for sense in meanings:
            share, first, second = (weight / len(meanings) for weight in weights)
            option = Option(sense, share, words, figures, len(meanings) > 1, first, second)
            name = key(sense.events)
            options[name] = options[name].plus(option) if name in options else option
    weighed.options = sorted(options.values(), key=lambda option: -option.share)
    weighed.first_lost = all(lost)
    return weighed


def _pooled(heard: Heard) -> Iterator[tuple[int, Guess, float, float, float]]:
    """Each guess with its rank in its engine's list, its share of all belief, and of each one's."""
    second = SECOND if heard.second else 0.0
    for rank, guess in enumerate(heard.guesses):
        yield rank, guess, (1 - second) * guess.share, guess.share, 0.0
    for rank, guess in enumerate(heard.second):
        yield rank, guess, second * guess.share, 0.0, guess.share
