"""Judging what is said while a question is open: yes, no, one of the candidates, something else.

A question stands for one turn: the caller drops it after the next utterance, unless the answer
itself asks again.
"""

from assistant.facts.events import AnyEvent
from assistant.hear.heard import Heard
from assistant.understand.alike import twins
from assistant.understand.belief import evidence
from assistant.understand.bounds import decides, number_in, plausible
from assistant.understand.decide import FAINTEST, LIKELY, SURE_ENOUGH, doubtful
from assistant.understand.lattice import repaired_numbers
from assistant.understand.resolve import Events, Moment
from assistant.understand.verdict import Question, Understood, ask, refuse, take
from assistant.understand.weigh import Option, Weighed, key

_SHORT = ("yes", "no", "undo", "say_again")


def answered(heard: Heard, weighed: Weighed, moment: Moment) -> Understood | None:
    """The verdict when the utterance answers the open question, else None."""
    pending = moment.pending
    if pending is None or not pending.candidates:
        return None
    option, *others = weighed.options
    spoken = heard.engine != "typed"
    first = option.events[0]
    chosen = _chosen(option, pending)
    if chosen is None:
        return _short(first, option, pending, spoken) if first.kind in _SHORT else None
    if option.two_ways or (pending.reason == "quantity" and _bare(option)):
        return _again(pending)
    if (spoken and _weak(heard, option, others, chosen)) or repaired_numbers(option.sense.repair):
        return ask("unsure", chosen)
    sure = not spoken or option.events is chosen or number_in(chosen) is None
    return take(chosen) if sure else _repeated(chosen, option, moment, pending)


def _bare(option: Option) -> bool:
    """The number alone once more says as little as before which quantity it is."""
    said = option.sense.said
    return said is not None and said.what is None and said.unit is None


def _weak(heard: Heard, option: Option, others: list[Option], chosen: Events) -> bool:
    if number_in(chosen) is not None:
        return doubtful(heard, option, evidence(heard, option, others))
    return max(option.share, option.first) < SURE_ENOUGH or heard.sure < FAINTEST


def _short(first: AnyEvent, option: Option, pending: Question, spoken: bool) -> Understood:
    if spoken and max(option.share, option.first) < LIKELY:
        return _again(pending)
    if first.kind == "no" and pending.otherwise:
        return take(pending.otherwise)
    if first.kind in ("no", "undo"):
        return refuse("say_again_please")
    if first.kind == "yes" and (len(pending.candidates) == 1 or pending.reason == "which_card"):
        return take(pending.candidates[0])
    return _again(pending)


def _again(pending: Question) -> Understood:
    again = ask(pending.reason, *pending.candidates)
    return again.model_copy(update={"question": pending})


def _chosen(option: Option, pending: Question) -> Events | None:
    """The candidate that the utterance names; a pick ("the second one") is the candidate itself."""
    said = key(option.events)
    return next((c for c in pending.candidates if c is option.events or key(c) == said), None)


def _repeated(
    chosen: Events, option: Option, moment: Moment, pending: Question
) -> Understood | None:
    """A spoken repeat of a candidate. A word said again may be misheard again in the same way.

    So a -teen/-ty must agree with the first hearing, and where it matters for safety or can hardly
    be, it needs a yes, a "the second one", or its figures one by one. None: judge it afresh.
    """
    alike = twins(option.events, option.words, moment, option.figures)
    similar = {key(twin) for twin in alike}
    if pending.kind == "sure" or not similar:
        return take(chosen)
    if not similar & {key(candidate) for candidate in pending.candidates}:
        return None
    if not plausible(chosen, moment.asked, moment.at):
        return ask("impossible", chosen)
    numbers = [number_in(candidate) for candidate in pending.candidates]
    if any(n is not None and decides(n, moment.asked) for n in numbers):
        return ask("decides", chosen)
    return take(chosen) if chosen is pending.candidates[0] else ask("sounds_alike", chosen)
