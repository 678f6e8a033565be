"""What is said when nothing was understood: what was caught, what could be asked, and a caution."""

from assistant.cook.reply import Line, Reply
from assistant.cook.stages import announce
from assistant.hear.heard import Heard
from assistant.say import general
from assistant.turns.ahead import needed
from assistant.turns.free import FreeReader
from assistant.turns.moment import Moment
from assistant.understand.told import caught, danger, is_question

_GREETINGS = frozenset(
    ("hi", "hello", "hey", "hiya", "good morning", "good afternoon", "good evening", "namaste")
)
_THANKS = frozenset(
    ("thanks", "thank you", "cheers", "ta", "thanks a lot", "thank you very much", "many thanks")
)
"""Typed in passing; spoken, they may be for anybody and get no answer."""
_WAITING = ("measure", "heat", "hold", "cool", "reduce", "bottle", "option")
"""Stages that wait for something else than a "done"."""


def lost(heard: Heard, reader: FreeReader, now: Moment, again: bool) -> Reply:
    """The answer to what was not understood.

    again : the last answer was of this kind too; it is worded anew
    """
    if not heard.text.strip():
        return Reply(lines=(general.HEARD_NOTHING,))
    if (said := heard.text.casefold().strip(" !.,?")) in _GREETINGS:
        return Reply(lines=(general.HELLO, *announce(now.batch, now.at)))
    if said in _THANKS:
        return Reply(lines=(general.WELCOME,))
    lines = [*_danger(heard.text), _caught(heard.text, again)]
    lines.append(_need(heard, now) or _offers(heard, reader, now, again))
    if now.batch.stopped_by is not None:
        lines.append(Line(id="stopped_wait", rank="limit"))
    return Reply(lines=tuple(lines))


def _caught(text: str, again: bool) -> Line:
    said = caught(text)
    if not said:
        return Line(id="fallback.lost_again" if again else "fallback.lost", rank="answer")
    facts = {"caught": said}
    if again:
        return Line(id="fallback.caught_again", rank="answer", facts=facts)
    return Line(id="fallback.caught", rank="answer", facts=facts)


def _need(heard: Heard, now: Moment) -> Line | None:
    """What the stage waits for, to who tells something: "up to the second line"."""
    stage = now.batch.stage
    if stage is None or stage.kind not in _WAITING or is_question(heard.text):
        return None
    return Line(id="fallback.need", rank="question", facts={"need": needed(stage)[1]})


def _offers(heard: Heard, reader: FreeReader, now: Moment, again: bool) -> Line:
    titles = reader.offers(heard, now)
    if len(titles) > 1:
        facts = {"one": titles[0], "other": titles[1]}
        return Line(id="fallback.offers", rank="answer", facts=facts)
    if titles:
        return Line(id="fallback.offers_one", rank="answer", facts={"one": titles[0]})
    none = "fallback.offers_none_again" if again else "fallback.offers_none"
    return Line(id=none, rank="answer")


def _danger(text: str) -> list[Line]:
    found = danger(text)
    return [Line(id=f"fallback.danger_{found}", rank="caution")] if found else []
