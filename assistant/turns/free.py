"""What the grammars do not understand: facts inside talk, questions in any words, or nothing.

The sentence model is asked for only when a question has to be told apart, so that starting up
stays quick; without one, only what words alone tell is understood.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from assistant.answers.card import Card, card_named
from assistant.cook.cards import can_be_meant
from assistant.facts.asked import Asked
from assistant.facts.events import (
    AnyEvent,
    Ask,
    Bottle,
    Choose,
    Reading,
    SayAgain,
    Sign,
    Weighed,
    event_adapter,
)
from assistant.hear.heard import Heard
from assistant.turns.acts import asked_of
from assistant.turns.ahead import fitting, gone_ahead, not_here, warm_ahead
from assistant.turns.context import stuff_named, that_amount_in, with_context
from assistant.turns.least import number_at_least
from assistant.turns.missing import completed
from assistant.turns.moment import Moment
from assistant.turns.overheard import as_overheard
from assistant.turns.sorting import of_which_sort, picked_sort
from assistant.turns.wishes import Stands, wished
from assistant.turns.wishes import picked as picked_wish
from assistant.understand import Question, Understood, understand
from assistant.understand.named_things import with_own_names
from assistant.understand.told import follow_up, freely, is_question, tells_plainly
from assistant.understand.verdict import ask, doubt, take

if TYPE_CHECKING:
    from assistant.answers.meant import Meant
    from assistant.gist import Gist

_FREELY = ("chatter", "not_understood")
_CERTAIN = 0.8
"""From here a question is meant rather than an unsure "done"."""
_A_WORD = re.compile(r"[^\W\d_]{2}")
"""What has no word in it resembles nothing."""
_A_SIGN = 0.85
"""From here a likeness alone is enough to write a sign of spoilage down."""
_AN_ACT, _AN_ACT_SPOKEN = 0.6, 0.75
"""From here a likeness is enough to ask whether something has been done or is wished for."""
_WITHOUT_CONTEXT = 0.05
"""So much likelier what is asked must be with the thing it is about put in."""
_SPOKEN_TOO = 0.05
"""So much likelier speech must be than typing: it may be for somebody else."""


def _shipped() -> "Gist":
    from assistant.gist import shipped

    return shipped()


@dataclass(frozen=True)
class FreeReader:
    """Understands what the grammars can't.

    gist : gives the sentence model; None to go by words alone
    sizes : what this kitchen means by a word for bottles, where the recipe does not say [ml]
    """

    gist: Callable[[], "Gist"] | None = _shipped
    sizes: tuple[tuple[str, float], ...] = ()

    def understood(self, heard: Heard, now: Moment) -> Understood:
        """The verdict on one utterance: the grammars' where they have one."""
        if self.sizes:
            known = tuple({**dict(self.sizes), **dict(now.asked.sizes)}.items())
            now = replace(now, asked=now.asked.model_copy(update={"sizes": known}))
        sort = picked_sort(now.pending, heard, now.asked)
        if sort is not None:
            return sort
        whole = completed(heard, *now.missing) if now.missing else None
        found = _reckoned(whole or heard, now) or with_own_names(
            whole or heard, now.asked, lambda said: self._read(said, now)
        )
        found = of_which_sort(found, whole or heard, now.asked) or found
        return found.model_copy(update={"said": whole.text}) if whole else found

    def _read(self, heard: Heard, now: Moment) -> Understood:
        picked = self._picked(heard, now)
        if picked is not None:
            return picked
        found = understand(heard, now.asked, now.at, now.pending)
        if heard.partial or (found.verdict == "refuse" and found.reason not in _FREELY):
            return (not heard.partial and _ahead(heard, found, now)) or found
        on_top = _on_top(found, now)
        if on_top is not None:
            return on_top
        if found.verdict != "refuse":
            sized = _without_size(found, heard, now) or _ahead(heard, found, now)
            return sized or _why_that(found, now)
        told = self._overheard(freely(heard, now.asked, now.at, now.pending, understand), heard)
        if not _nothing(told) and not self._rather_asks(told, heard, now):
            sized = _without_size(told, heard, now) or _ahead(heard, told, now)
            return sized or self._with_question(told, heard, now)
        if _nothing(told) and (read := number_at_least(heard, now, planned=True)):
            return read
        if _nothing(told) and (ahead := _ahead(heard, told, now)):
            return ahead
        if _nothing(told) and (read := number_at_least(heard, now)):
            return read
        return self._question(heard, now) or (found if _nothing(told) else told)

    def offers(self, heard: Heard, now: Moment) -> tuple[str, ...]:
        """Titles of the two nearest things that could be asked."""
        if self.gist is None:
            return ()
        from assistant.answers.meant import nearest

        return tuple(one.title for one in nearest(heard.text, self.gist(), now_may(now)))

    def _overheard(self, told: Understood, heard: Heard) -> Understood:
        if self.gist is None or heard.engine == "typed" or told.verdict == "refuse":
            return told
        return as_overheard(told, heard.text, self.gist())

    def _rather_asks(self, told: Understood, heard: Heard, now: Moment) -> bool:
        """Whether an unsure word without a number is much likelier a question of ours."""
        if told.question is None or told.question.reason != "unsure" or self.gist is None:
            return False
        weak = ("onward", "undo", "no") if is_question(heard.text) else ("onward", "no")
        plain = all(e.kind in weak for c in told.question.candidates for e in c)
        meant = self._meant(heard.text, now) if plain else ()
        return bool(meant) and meant[0].likely >= _CERTAIN

    def _with_question(self, told: Understood, heard: Heard, now: Moment) -> Understood:
        """A fact with a question behind it, "it's at 80, is that too hot": both are answered."""
        asks = any(isinstance(event, Ask) for event in told.events)
        if told.verdict != "take" or asks or not is_question(heard.text):
            return told
        meant = self._meant(heard.text, now)
        if len(meant) != 1 or not meant[0].is_card:
            return told
        return take((*told.events, _event(meant[0], heard.text, now)))

    def _meant(self, text: str, now: Moment) -> "tuple[Meant, ...]":
        if self.gist is None:
            return ()
        from assistant.answers.meant import asked_about

        meant = asked_about(text, self.gist(), now_may(now), is_question)
        further = with_context(text, now) if is_question(text) else ""
        if further:
            wider = asked_about(further, self.gist(), now_may(now), is_question)
            likely = meant[0].likely if meant else 0.0
            meant = wider if wider and wider[0].likely > likely + _WITHOUT_CONTEXT else meant
        clear = (
            is_question(text)
            or tells_plainly(text)
            or (bool(meant) and meant[0].likely >= _CERTAIN)
        )
        return meant if clear else ()

    def _question(self, heard: Heard, now: Moment) -> Understood | None:
        """The question that is asked, or which of two; with the last one's subject if need be."""
        text = heard.text
        again = follow_up(text, now.subject)
        again = again or that_amount_in(text, now)
        if again is not None:
            return take((again.model_copy(update={"at": now.at, "heard": text}),))
        meant = self._meant(text, now)
        spoken = heard.engine != "typed"
        told = self._act(heard, now, meant[0].likely if meant else 0.0)
        if told is not None:
            return told
        if spoken and meant and not is_question(text):
            meant = meant if meant[0].likely >= _CERTAIN + _SPOKEN_TOO else ()
        if not meant:
            return None
        if len(meant) == 1:
            return take(_events(meant[0], text, now))
        candidates = tuple((_event(one, text, now),) for one in meant)
        question = Question(kind="which", candidates=candidates, reason="which_card")
        facts = (("one", meant[0].title), ("other", meant[1].title))
        return Understood(
            verdict="ask", question=question, reason="which_card", doubt="which_card", facts=facts
        )

    def _act(self, heard: Heard, now: Moment, likely: float) -> Understood | None:
        """What is asked back where a report or an order is likelier meant than any question."""
        if self.gist is None or is_question(heard.text) or not _A_WORD.search(heard.text):
            return None
        from assistant.answers.acts import acted

        found = acted(heard.text, self.gist())
        least = _AN_ACT if heard.engine == "typed" else _AN_ACT_SPOKEN
        if found is None or found.likely < max(least, likely):
            return None
        return asked_of(found.act, heard.text, now)

    def _picked(self, heard: Heard, now: Moment) -> Understood | None:
        """One of two questions that was offered, picked in the cook's words."""
        pending = now.pending
        if pending is None or pending.reason != "which_card" or self.gist is None:
            return None
        from assistant.answers.meant import one_of

        by_label = {_label(c[0]): c for c in pending.candidates}
        if not _nothing(understand(heard, now.asked, now.at, pending)):
            return None
        label = one_of(heard.text, self.gist(), tuple(by_label))
        return take(by_label[label]) if label else None


SHIPPED = FreeReader()
"""With the sentence model that comes along."""


def _reckoned(heard: Heard, now: Moment) -> Understood | None:
    """A calculation that is asked for, before its number can be taken for a reading."""
    picked = picked_wish(heard, now.pending, now.at)
    if picked is not None:
        return picked
    waits = now.pending is not None or now.missing is not None
    there = Stands(now.batch, now.asked, now.at, waits, now.others, now.subject)
    return wished(heard, there, lambda said: understand(said, now.asked, now.at, now.pending))


def now_may(now: Moment) -> Callable[[Card], bool]:
    """Whether a card can be meant at this batch now."""
    return lambda card: can_be_meant(now.batch, card, now.at)


def _on_top(found: Understood, now: Moment) -> Understood | None:
    """ "300 g of blackberries" once the raspberries are weighed: asked whether it is on top."""
    match found.events:
        case (Choose(option="fruit", value=fruit), Reading(what="fruit") as weighed) if (
            "fruit" in now.asked.had and fruit not in (now.asked.fruit, *now.asked.mixture)
        ):
            part = Weighed(fruit=fruit, value=weighed.value, unit=weighed.unit)
            more = weighed.model_copy(update={"parts": (part,), "more": True})
            return ask("unsure", (more,))
    return None


def _ahead(heard: Heard, found: Understood, now: Moment) -> Understood | None:
    """What fits a stage that comes soon, where it fits nothing here and is no question."""
    picked = now.pending is not None and now.pending.reason == "quantity"
    if now.pending is not None and found.verdict != "refuse" and not (picked and found.events):
        return None
    if is_question(heard.text):
        return None
    if found.verdict != "refuse":
        warm = warm_ahead(found, now.batch, now.at)
        if warm is not None or not not_here(found, now.batch, now.at):
            return warm
    elif found.reason not in ("not_now", *_FREELY):
        return None
    return gone_ahead(heard, now.batch, now.at, lambda said, there: _read(said, there, now.at))


def fits_now(heard: Heard, now: Moment) -> tuple[AnyEvent, ...]:
    """What was said too early comes to here, where the stage waits for just that; else ()."""
    return fitting(heard, now.batch, now.at, lambda said, there: _read(said, there, now.at))


def _read(heard: Heard, there: Asked, at: datetime) -> Understood:
    found = understand(heard, there, at, None)
    return freely(heard, there, at, None, understand) if _nothing(found) else found


def _nothing(found: Understood) -> bool:
    return found.verdict == "refuse" and found.reason in _FREELY


_MIXED_SIZES = re.compile(
    r"\b(some|a few) (are )?(big|small|large|little)\b|\bdifferent sizes\b", re.I
)


def _without_size(found: Understood, heard: Heard, now: Moment) -> Understood | None:
    """A bare "nine" while bottles are filled, or bottles of several sizes that are not told."""
    if found.verdict != "take" or now.asked.kind != "bottle":
        return None
    match found.events:
        case (Reading(what="bottles"),) if now.pending is None:
            return doubt("bottle_size", (), missing="bottles")
        case (Bottle(size_ml=None),) if _MIXED_SIZES.search(heard.text):
            return doubt("bottle_size", (), missing="bottles")
    return None


def _why_that(found: Understood, now: Moment) -> Understood:
    """ "Why?" right after an answer asks about the answer, not about the stage."""
    match found.events:
        case (Ask(topic="why", about=None) as asks,) if now.subject and now.subject.topic == "card":
            return take((asks.model_copy(update={"topic": "more"}),))
        case (Ask(topic="convert") as asks,):
            return take((stuff_named(asks, now),))
        case _:
            return found


def _events(meant: "Meant", text: str, now: Moment) -> tuple[AnyEvent, ...]:
    """The question; a sign of spoilage that is told, not asked about, is written down too."""
    event = _event(meant, text, now)
    card = card_named(meant.label) if meant.is_card else None
    told = meant.likely >= _A_SIGN and tells_plainly(text) and now.asked.in_store is not None
    if card is None or card.sign is None or not told:
        return (event,)
    return (Sign(at=now.at, heard=text, what=card.sign), event)


def _event(meant: "Meant", text: str, now: Moment) -> AnyEvent:
    if meant.is_card:
        return Ask(at=now.at, heard=text, topic="card", about=meant.label)
    from assistant.answers.topics import SAY_AGAIN, named

    topic = named(meant.label)
    if topic.topic == SAY_AGAIN:
        return SayAgain(at=now.at, heard=text)
    fields = {"kind": "ask", "at": now.at, "heard": text}
    return event_adapter.validate_python(fields | topic._asdict())


def _label(event: AnyEvent) -> str:
    match event:
        case Ask(topic="card"):
            return event.about or ""
        case Ask():
            return event.topic if event.about is None else f"{event.topic}/{event.about}"
        case _:
            return "say_again"
