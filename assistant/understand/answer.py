"""Judging what is said while a question is open: yes, no, one of the candidates, something else.

A question stands for one turn: the caller drops it after the next utterance, unless the answer
itself asks again.
"""

from assistant.events import AnyEvent, Bottle, Correct, Reading, TimerSet
from assistant.hear.heard import Heard
from assistant.understand.alike import twins
from assistant.understand.bounds import base_value, decides, number_in, plausible
from assistant.understand.decide import LIKELY, SURE_ENOUGH
from assistant.understand.resolve import Events, Moment
from assistant.understand.verdict import Question, Understood, ask, refuse, take
from assistant.understand.weigh import Option, key


def answered(heard: Heard, option: Option, moment: Moment) -> Understood | None:
    """The verdict when the utterance answers the open question, else None."""
    pending = moment.pending
    if pending is None or not pending.candidates:
        return None
    spoken = heard.engine != "typed"
    first = option.events[0]
    if first.kind in ("yes", "no", "say_again"):
        return _short(first, option, pending, spoken)
    chosen = _chosen(option, pending)
    return None if chosen is None else _repeated(chosen, option, moment, spoken)


def _short(first: AnyEvent, option: Option, pending: Question, spoken: bool) -> Understood:
    if spoken and option.share < LIKELY:
        return _again(pending)
    if first.kind == "no":
        return refuse("say_again_please")
    if first.kind == "yes" and len(pending.candidates) == 1:
        return take(pending.candidates[0])
    return _again(pending)


def _again(pending: Question) -> Understood:
    return ask(pending.reason, *pending.candidates)


def _chosen(option: Option, pending: Question) -> Events | None:
    """The candidate that the utterance names, by itself or by its number alone."""
    for candidate in pending.candidates:
        if option.events is candidate or key(option.events) == key(candidate):
            return candidate
    said = number_in(option.events)
    if said is None:
        return None
    for candidate in pending.candidates:
        about = number_in(candidate)
        if about is not None and _same_number(said, about):
            return candidate
    return None


def _same_number(said: AnyEvent, about: AnyEvent) -> bool:
    """Whether a number, said alone or with its unit, is the one asked about."""
    if not isinstance(said, Reading | Correct):
        return False
    match about:
        case Reading() | Correct():
            if said.unit and about.unit:
                one, other = base_value(said, None), base_value(about, None)
                return one is not None and other is not None and abs(one - other) < 1e-6
            return abs(said.value - about.value) < 1e-9
        case Bottle():
            return said.value == about.count
        case TimerSet():
            return said.value in (about.seconds, about.seconds / 60, about.seconds / 3600)
        case _:
            return False


def _repeated(chosen: Events, option: Option, moment: Moment, spoken: bool) -> Understood:
    """The cook named a candidate. Said again, a word may be misheard again in the same way.

    So a spoken -teen/-ty must agree with the first hearing, and where it matters for safety or
    can hardly be, it needs a yes, a "the second one", or the figures one by one.
    """
    pending = moment.pending
    assert pending is not None
    picked = option.events is chosen
    if not spoken or (picked and option.share >= LIKELY):
        return take(chosen)
    if option.share < SURE_ENOUGH or option.repaired:
        return ask("unsure", chosen)
    if pending.kind == "sure" or not _may_be_its_twin(option, moment, pending):
        return take(chosen)
    if not plausible(chosen, moment.asked, moment.at):
        return ask("impossible", chosen)
    if any((n := number_in(c)) and decides(n, moment.asked) for c in pending.candidates):
        return ask("decides", chosen)
    return take(chosen) if chosen is pending.candidates[0] else ask("sounds_alike", chosen)


def _may_be_its_twin(option: Option, moment: Moment, pending: Question) -> bool:
    numbers = [number_in(c) for c in pending.candidates]
    return any(
        n is not None and (t := number_in(twin)) is not None and _same_number(t, n)
        for twin in twins(option.events, option.words, moment)
        for n in numbers
    )
