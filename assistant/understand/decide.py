"""When to believe a number: take it, ask back, or refuse it.

A number is never guessed. The checks run in a fixed order and the first that speaks decides; the
thresholds come from measurements on synthetic voices (a winner's share below 0.8 flagged all clean
errors; most that escaped were -teen/-ty), so spoken -teen/-ty is asked back whatever the share,
unless a second engine of another kind settles it.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from assistant.facts.events import AnyEvent, Correct, Reading
from assistant.hear.heard import Heard
from assistant.understand.alike import twins
from assistant.understand.belief import Evidence, evidence, settled
from assistant.understand.bounds import (
    absurd,
    context,
    decides,
    inside,
    number_in,
    plausible,
    reachable,
)
from assistant.understand.lattice import repaired_numbers
from assistant.understand.parsing import parser
from assistant.understand.resolve import Events, Moment
from assistant.understand.verdict import Question, Understood, Why, ask, refuse, take
from assistant.understand.weigh import Option, Weighed, key
from assistant.understand.which_quantity import others
from assistant.understand.words import to_words

SURE_ENOUGH = 0.8
"""Share of the guesses' weight from which a spoken number may be taken."""
LIKELY = 0.6
"""The same for what changes the batch without a number: done, undo, yes."""
CLEAR = 0.5
"""The same for what changes nothing; also the weight of a first guess that can't be ignored."""
FAINTEST = 0.37
"""Acoustic certainty below which a number is asked back: a mean log-probability of -1, where
Whisper's reference decoder counts its own result as failed (its `logprob_threshold`)."""
FOREIGN = 2
"""Words outside the grammars from which an utterance was meant for somebody else, as it is when
they are half of it. Common practice, no source."""
MOST_CANDIDATES = 3
_HARMLESS = frozenset(("ask", "say_again", "stop", "note", "timer_stop"))
_SERIOUS = frozenset(("discard", "recalled"))
"""What is not done by mishearing: asked back however sure the hearing was."""
_PLACES = (10.0, 100.0)


@dataclass(frozen=True)
class Case:
    """One utterance on the bench."""

    option: Option
    others: list[Option]
    moment: Moment
    heard: Heard

    @property
    def spoken(self) -> bool:
        """Whether it was said, not typed."""
        return self.heard.engine != "typed"

    @property
    def sure(self) -> float:
        """The engine's certainty in its words."""
        return self.heard.sure

    @cached_property
    def evidence(self) -> Evidence | None:
        """What two engines say of the winner; None where only one listened."""
        return evidence(self.heard, self.option, self.others) if self.spoken else None

    @property
    def events(self) -> Events:
        """What the winner says."""
        return self.option.events

    @property
    def number(self) -> AnyEvent | None:
        """The winner's event with a number."""
        return number_in(self.events)

    @property
    def strongest_rival(self) -> float:
        """The share of the likeliest other meaning."""
        return max((other.share for other in self.others), default=0.0)

    def can_be(self, events: Events) -> bool:
        """Whether these events are plausible now."""
        return plausible(events, self.moment.asked, self.moment.at)

    def twins(self) -> list[Events]:
        """What the winner may have been misheard for; typed words are not misheard."""
        if not self.spoken:
            return []
        return twins(self.events, self.option.words, self.moment, self.option.figures)

    def rivals(self) -> list[Events]:
        """Other numbers among the guesses that can be."""
        return [o.events for o in self.others if number_in(o.events) and self.can_be(o.events)]

    def ask(self, reason: Why, *others: list[Events]) -> Understood:
        """Ask about the winner and others, without doubles, as many as a person can hold."""
        found = {key(self.events): self.events}
        for events in (e for group in others for e in group):
            if not _same_number(self.events, events):
                found.setdefault(key(events), events)
        return ask(reason, *list(found.values())[:MOST_CANDIDATES])


def _same_number(events: Events, others: Events) -> bool:
    """Whether they part only in being a correction or a reading: "44 or 44?" can't be answered."""
    one, other = number_in(events), number_in(others)
    kinds = {type(one), type(other)}
    if kinds != {Correct, Reading} or not isinstance(one, Correct | Reading):
        return False
    return isinstance(other, Correct | Reading) and one.value == other.value


Check = Callable[[Case], Understood | None]


def judge(heard: Heard, weighed: Weighed, moment: Moment) -> Understood:
    """The verdict on an utterance, no question being open or none answered."""
    if not weighed.options or (weighed.first_lost and heard.guesses[0].share >= CLEAR):
        return refuse("chatter" if _is_chatter(heard, weighed.reason) else weighed.reason)
    option, *others = weighed.options
    case = Case(option, others, moment, heard)
    checks = _PLAIN_CHECKS if case.number is None else _NUMBER_CHECKS
    for check in checks:
        verdict = check(case)
        if verdict is not None:
            return verdict
    return take(stamped(option), tuple(e for o in others[:1] for e in o.events))


def doubtful(heard: Heard, option: Option, found: Evidence | None) -> bool:
    """Whether a spoken number was heard too weakly: by the two engines, or by the one there is."""
    if heard.sure < FAINTEST:
        return True
    return option.share < SURE_ENOUGH if found is None else not settled(found)


def _is_chatter(heard: Heard, reason: str) -> bool:
    """Whether it was speech for somebody else: too many of its words are not ours."""
    if heard.engine == "typed" or reason != "not_understood":
        return False
    words = to_words(heard.text)
    foreign = parser().foreign(words)
    return foreign >= FOREIGN or 2 * foreign >= len(words) > 0


def stamped(option: Option) -> Events:
    """The events with how sure the hearing was."""
    sure = min(1.0, option.share)
    return tuple(event.model_copy(update={"sure": sure}) for event in option.events)


def _other_quantity(case: Case) -> Understood | None:
    found = others(case.events, case.option.sense.said, case.moment)
    return ask("quantity", *found[:MOST_CANDIDATES]) if found else None


def _off_by_a_place(case: Case) -> Understood | None:
    """pH 32 is 3.2 or a mishearing: offer the shifted value, never take it.

    Typed figures are taken at their word unless they are absurd.
    """
    event = case.number
    if event is None or inside(event, case.moment.asked) or _insisted(event, case.moment.pending):
        return None
    if case.twins() or not (case.spoken or absurd(event)):
        return None
    shifted = _shifted(case)
    return ask("order_of_magnitude", shifted) if shifted else None


def _insisted(said: AnyEvent, pending: Question | None) -> bool:
    """Whether the cook says again the very number that was asked about as off by a place."""
    if pending is None or pending.reason != "order_of_magnitude" or not isinstance(said, Reading):
        return False
    offered = [n.value for c in pending.candidates if isinstance(n := number_in(c), Reading)]
    return any(
        math.isclose(_moved(said.value, places), value) for places in _PLACES for value in offered
    )


def _moved(value: float, places: float) -> float:
    """A lost point leaves a whole number, too large; an invented one a broken number, too small.

    >>> _moved(32.0, 10), _moved(7.2, 10)
    (3.2, 72.0)
    """
    return round(value / places if value.is_integer() else value * places, 6)


def _shifted(case: Case) -> Events | None:
    """The same with the point one place over, or two where one place gives nothing possible."""
    event = case.number
    if not isinstance(event, Reading | Correct) or event.value <= 0:
        return None
    if context(event, case.moment.asked) is None:
        return None
    for places in _PLACES:
        moved = event.model_copy(update={"value": _moved(event.value, places)})
        events = tuple(moved if e is event else e for e in case.events)
        if case.can_be(events):
            return events
    return None


def _absurd(case: Case) -> Understood | None:
    return refuse("absurd") if case.number is not None and absurd(case.number) else None


def _impossible(case: Case) -> Understood | None:
    if case.number is None or inside(case.number, case.moment.asked):
        return None
    twin = case.twins()
    return case.ask("sounds_alike" if twin else "impossible", twin, case.rivals())


def _jump(case: Case) -> Understood | None:
    if case.number is None or reachable(case.number, case.moment.asked, case.moment.at):
        return None
    twin = case.twins()
    return case.ask("sounds_alike" if twin else "jump", twin, case.rivals())


def _sounds_alike(case: Case) -> Understood | None:
    twin = case.twins()
    if not twin or (case.evidence and settled(case.evidence, alike=True)):
        return None
    return case.ask("sounds_alike", twin, case.rivals())


def _two_ways(case: Case) -> Understood | None:
    if not case.option.two_ways:
        return None
    same = [o.events for o in case.others if o.two_ways and o.words == case.option.words]
    return case.ask("two_ways", same) if same else None


def _other_unit(case: Case) -> Understood | None:
    return case.ask("unit", case.rivals()) if case.option.sense.other_unit else None


def _unsure(case: Case) -> Understood | None:
    weak = case.spoken and doubtful(case.heard, case.option, case.evidence)
    if weak or repaired_numbers(case.option.sense.repair):
        return case.ask("unsure", case.rivals())
    return None


def _decides(case: Case) -> Understood | None:
    if case.spoken and case.number is not None and decides(case.number, case.moment.asked):
        return ask("decides", case.events)
    return None


def _serious(case: Case) -> Understood | None:
    return ask("serious", case.events) if case.events[0].kind in _SERIOUS else None


def _faint(case: Case) -> Understood | None:
    """Words without a number: a weak hearing of harmless ones is let go, of others asked."""
    if not case.spoken:
        return None
    strength = max(case.option.share, case.option.first - case.strongest_rival)
    if strength < CLEAR:
        return refuse("unsure")
    if all(event.kind in _HARMLESS for event in case.events):
        return None
    clear = strength >= LIKELY and case.sure >= FAINTEST
    if clear and not case.option.sense.repair:
        return None
    return refuse("unsure") if case.events[0].kind in ("yes", "no") else case.ask("unsure")


def _undoes_a_decision(case: Case) -> Understood | None:
    if not case.spoken or case.events[0].kind != "undo":
        return None
    turned = any(
        a.confirm or any(a.last >= bound for bound in a.decides)
        for a in case.moment.asked.awaited
        if a.last is not None
    )
    return ask("decides", case.events) if turned else None


_NUMBER_CHECKS: tuple[Check, ...] = (
    _other_quantity, _off_by_a_place, _absurd, _impossible, _jump, _two_ways, _sounds_alike,
    _other_unit, _unsure, _decides,
)  # fmt: skip
_PLAIN_CHECKS: tuple[Check, ...] = (_serious, _two_ways, _faint, _undoes_a_decision)
