"""A number that a cook wishes for or asks about, as a calculation; asked where it may be a reading.

"Make it 62" may put the last reading right, or wish for 62 Brix, 62 degrees: where two fit, neither
is taken. A wish writes nothing down but the question.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime

from assistant.cook import Batch
from assistant.cook.reckoned.pan import pan
from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Ask, Correct, Given, Reading
from assistant.hear.heard import Heard
from assistant.turns.two_batches import other_batch
from assistant.understand import Question, Understood
from assistant.understand.verdict import Why, ask, refuse, take
from assistant.understand.wished import TO, Wish, again, read_off, wish

Judge = Callable[[Heard], Understood]
_BRIX = (20.0, 75.0)
"""A plain number that may be a Brix to get to: a syrup's. [mass %]"""
_PH = (1.5, 5.0)
_DEGREES = (20.0, 110.0)
_HEATED = ("heat", "hold", "cool", "reduce")
_OPEN = ("brix", "ph", "temperature", "timer", "bottles", "part_bottle")
_UNITS = {
    "to_brix": ("Brix", "count"),
    "to_ph": ("pH", "count"),
    "time_to": ("degC", "degF", "count"),
}
_NAMED = {"to_brix": "brix", "boil_to": "brix", "blend": "brix", "to_ph": "", "time_to": "degrees"}
"""What a number that is told before a wish is a reading of."""
_MAKES = re.compile(r"\bmake\b|\bplease\b", re.I)
_WAY = re.compile(r"\b(how|what|want|need|can|could|going|let us|help|way)\b", re.I)
"""Words by which a number is wished for, and nothing put right."""
REASON: Why = "wish"
_RIGHTS = re.compile(
    r"\b(right|correct|correction|wrong|misread|mistake|meter|reading|read|reads|says|fix)\b", re.I
)
_WISHES = re.compile(
    r"\b(work|get there|how|wish|want|bring|sugar|water|acid|citric|target|aim|reckon)\b",
    re.I,
)
_OWN = {
    "time_to": re.compile(r"\b(degrees?|hot|heat|thermometer|temperature|celsius|warm)\b", re.I),
    "to_brix": re.compile(r"\b(brix|sugar|sweet|sweetness|refractometer)\b", re.I),
    "to_ph": re.compile(r"\b(p\.? ?h|acid|acidity|citric|sour|sourness)\b", re.I),
}


@dataclass(frozen=True)
class Stands:
    """Where the cook stands who wishes.

    waits : whether a question of ours is open that a number may answer
    others : the other batches at work
    subject : the last question that was answered
    """

    batch: Batch
    asked: Asked
    at: datetime
    waits: bool = False
    others: tuple[Batch, ...] = ()
    subject: Ask | None = None


def wished(heard: Heard, there: Stands, judge: Judge) -> Understood | None:
    """The calculation that is asked for, or which of two meanings; None where there is none.

    judge : what the grammars make of words
    """
    found = wish(heard.text) if not heard.partial else None
    if found is None:
        return _anew(heard, there)
    if found.subject == TO:
        whole = _to(found, heard, there, judge)
    else:
        given = (*found.given, *other_batch(found, there.batch, there.others))
        whole = take((_ask(found.subject, given, heard.text, there.at),))
    if whole is None or not found.before:
        return whole
    both = _behind(found.before, whole, judge)
    return both if both is None or heard.engine == "typed" else _asked_back(both)


def _anew(heard: Heard, there: Stands) -> Understood | None:
    """The last calculation with another number."""
    given = again(heard.text, there.subject) if not heard.partial else None
    if given is None or there.subject is None:
        return None
    return take((_ask(there.subject.about or "", given, heard.text, there.at),))


def _behind(before: str, whole: Understood, judge: Judge) -> Understood | None:
    """A reading and a wish in one breath, "it reads 58. How do I get it to 62?": both."""
    told = _measured(before, whole, judge)
    if told.verdict == "refuse":
        told = judge(Heard.typed(before))
    if told.verdict == "refuse":
        return whole
    if told.verdict == "take" and whole.verdict == "take":
        return take((*told.events, *whole.events))
    return told


def _asked_back(both: Understood) -> Understood:
    """What was spoken with a wish behind it is asked back: it was not weighed against its twins."""
    told = [e for e in both.events if not isinstance(e, Ask)]
    return ask("unsure", both.events) if both.verdict == "take" and told else both


def _measured(before: str, whole: Understood, judge: Judge) -> Understood:
    """ "It says 58. How do I get it to 62 Brix?": the number before is of what is wished for."""
    asks = next((e for e in whole.events if isinstance(e, Ask)), None)
    named, number = _NAMED.get(asks.about or "") if asks else None, read_off(before)
    if named is None or number is None:
        return refuse("chatter")
    words = f"{number:g} {named}" if named else f"ph {number:g}"
    told = judge(Heard.typed(words))
    return told if any(isinstance(e, Reading) for e in told.events) else refuse("chatter")


def _to(found: Wish, heard: Heard, there: Stands, judge: Judge) -> Understood | None:
    batch = there.batch
    target = found.number("target")
    if target is None:
        return None
    ways = _ways(target, batch, there.asked, makes=bool(_MAKES.search(found.text)))
    asks = [_ask(subject, (given,), heard.text, there.at) for subject, given in ways]
    right = _put_right(heard, batch, target, judge) if _MAKES.search(found.text) else None
    if _WAY.search(found.text):
        right = None
    elif there.waits and found.loose and _MAKES.search(found.text):
        return None
    if right is None:
        return _which(asks) if asks else None
    if not asks:
        return None
    return ask(REASON, (right,), (asks[0],))


def _ways(target: Given, batch: Batch, asked: Asked, makes: bool) -> Iterator[tuple[str, Given]]:
    """What a number may be wished of, in this batch now.

    makes : whether it is to be made so: nobody makes a mash 70 degrees before it is heated
    """
    loose, there = target.unit == "count", pan(batch)
    early = there is None and batch.start is not None and not makes
    fitting = {
        "to_brix": there is not None and _within(target, _BRIX) and bool(batch.recipe.targets.brix),
        "to_ph": there is not None and _within(target, _PH),
        "time_to": (asked.kind in _HEATED or early) and _within(target, _DEGREES),
    }
    for subject, fits in fitting.items():
        if target.unit in _UNITS[subject] and (fits or not loose):
            unit = _UNITS[subject][0] if loose else target.unit
            yield subject, target.model_copy(update={"unit": unit})


def _within(target: Given, bounds: tuple[float, float]) -> bool:
    return bounds[0] <= target.value <= bounds[1]


def _put_right(heard: Heard, batch: Batch, target: Given, judge: Judge) -> Correct | Reading | None:
    """The correction that the grammars hear in it, where there is a reading for it to put right."""
    found = judge(heard)
    events = found.events or (found.question.candidates[0] if found.question else ())
    right = next((e for e in events if isinstance(e, Correct | Reading)), None)
    if isinstance(right, Reading):
        return right
    last = batch.last_reading
    if right is None or last is None:
        return None
    same_kind = target.unit == "count" or target.unit == last.unit
    near = last.value > 0 and abs(target.value - last.value) <= 0.5 * last.value
    return right if same_kind and near else None


def _ask(subject: str, given: tuple[Given, ...], text: str, at: datetime) -> Ask:
    return Ask(at=at, heard=text, topic="reckon", about=subject, given=given)


def _which(asks: list[Ask]) -> Understood:
    if len(asks) == 1:
        return take((asks[0],))
    return ask(REASON, (asks[0],), (asks[1],))


def picked(heard: Heard, pending: Question | None, at: datetime) -> Understood | None:
    """Which of two meanings the cook names in words of their own; None where neither is named."""
    if pending is None or pending.reason != REASON or wish(heard.text) is not None:
        return None
    rights = any(isinstance(c[0], Correct | Reading) for c in pending.candidates)
    chosen = [c for c in pending.candidates if _names(heard.text, c[0], rights)]
    if len(chosen) != 1:
        return None
    return take(tuple(e.model_copy(update={"at": at}) for e in chosen[0]))


def _names(text: str, event: AnyEvent, rights: bool) -> bool:
    """Whether an answer means this one; `rights` : whether the other puts a reading right."""
    if isinstance(event, Correct | Reading):
        return bool(_RIGHTS.search(text))
    if rights:
        return bool(_WISHES.search(text))
    own = _OWN.get((event.about if isinstance(event, Ask) else "") or "")
    return bool(own and own.search(text))
