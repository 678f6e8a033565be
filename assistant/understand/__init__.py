"""What was heard becomes an event, a question back, or nothing: never a guess."""

from datetime import datetime

from assistant.facts.asked import Asked
from assistant.hear.heard import Heard
from assistant.understand.answer import answered
from assistant.understand.by_unit import by_unit
from assistant.understand.decide import judge
from assistant.understand.resolve import Moment, focused
from assistant.understand.rivals import rivals, weighed
from assistant.understand.sayable import examples, phrases
from assistant.understand.verdict import Question, Understood, ask, refuse, take
from assistant.understand.weigh import weigh

__all__ = ["Question", "Understood", "examples", "phrases", "rivals", "understand", "weighed"]


def understand(
    heard: Heard, asked: Asked, at: datetime, pending: Question | None = None
) -> Understood:
    """The verdict on one utterance.

    asked : what the cook is being asked; gives bare numbers their meaning and their bounds
    at : now, by the passed-in clock
    pending : the question of the previous turn; the caller drops it after this one

    >>> from datetime import UTC, datetime
    >>> now = datetime(2025, 7, 5, 10, 0, tzinfo=UTC)
    >>> understand(Heard.typed("1.2 kg of sugar"), Asked(), now).events[0].value
    1.2
    >>> understand(Heard.typed("the radio says 17 degrees"), Asked(), now).verdict
    'refuse'
    """
    if heard.partial:
        return refuse("partial")
    named = by_unit(heard.text, pending)
    if named:
        return take(named[0]) if len(named) == 1 else ask("quantity", *named)
    moment = Moment(focused(asked, pending), at, heard.text, pending)
    weighed = weigh(heard, moment)
    if weighed.options and not weighed.first_lost:
        answer = answered(heard, weighed, moment)
        if answer is not None:
            return answer
    return judge(heard, weighed, moment)
