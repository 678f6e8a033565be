"""Adds up what the ears believe: each guess is parsed, equal meanings share their weight."""

from collections.abc import Callable
from dataclasses import dataclass, field

from assistant.events import AnyEvent, Reading
from assistant.hear.heard import Heard
from assistant.understand.bounds import plausible
from assistant.understand.lattice import repaired_numbers
from assistant.understand.parsing import parse
from assistant.understand.resolve import Events, Moment, resolve
from assistant.understand.words import to_words


@dataclass(frozen=True)
class Option:
    """One meaning: its events, its share of belief, the words that say it.

    repaired : a number word had to be repaired to get it
    two_ways : the same words also mean something else that can be
    """

    events: Events
    share: float
    words: tuple[str, ...]
    repaired: bool = False
    two_ways: bool = False


@dataclass
class Weighed:
    """The meanings, best first, and what could not be understood."""

    options: list[Option] = field(default_factory=list)
    lost: float = 0.0
    first_lost: bool = False
    reason: str = "not_understood"


def key(events: Events) -> str:
    """Equal for equal meanings; readings of the same amount in two units are equal."""
    return repr([_meaning(event) for event in events])


def _meaning(event: AnyEvent) -> object:
    if isinstance(event, Reading):
        return (event.kind, event.what, round(event.base, 6))
    return event.meaning()


def senses(words: tuple[str, ...], moment: Moment) -> tuple[list[tuple[Events, bool]], str]:
    """What the words can mean now, implausible senses left out if a plausible one is there.

    Returned with each: whether a number word was repaired. And the reason when there is none.
    """
    found: list[tuple[Events, bool]] = []
    reason = "not_understood"
    for parsed in parse(words):
        events = resolve(parsed.meant, moment)
        if isinstance(events, str):
            reason = events
        else:
            found.append((events, repaired_numbers(parsed.cost) > 0))
    likely = [s for s in found if plausible(s[0], moment.asked, moment.at)]
    return likely or found, reason


def weigh(heard: Heard, moment: Moment) -> Weighed:
    """All guesses together."""
    weighed = Weighed()
    options: dict[str, Option] = {}
    for number, guess in enumerate(heard.guesses):
        words = to_words(guess.text)
        meanings, reason = senses(words, moment)
        if not meanings:
            weighed.lost += guess.share
            if number == 0:
                weighed.first_lost, weighed.reason = True, reason
            continue
        for events, repaired in meanings:
            _add(
                options,
                Option(events, guess.share / len(meanings), words, repaired, len(meanings) > 1),
            )
    weighed.options = sorted(options.values(), key=_share, reverse=True)
    return weighed


def _add(options: dict[str, Option], new: Option) -> None:
    name = key(new.events)
    old = options.get(name)
    if old is None:
        options[name] = new
        return
    options[name] = Option(
        old.events, old.share + new.share, old.words, old.repaired and new.repaired, old.two_ways
    )


_share: Callable[[Option], float] = lambda option: option.share  # noqa: E731
