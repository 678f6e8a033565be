"""What "it" and "that stuff" stand for: what was asked about last, or the stage's own thing."""

import re

from assistant.answers.card import card_named
from assistant.base.units import Unit, dimension
from assistant.facts.events import Ask
from assistant.facts.stuff import stuff_words
from assistant.turns.moment import Moment
from assistant.understand.by_unit import unit_said
from assistant.understand.told.clauses import clauses
from assistant.understand.told.spans import things
from assistant.understand.words import to_words

_POINTS_BACK = re.compile(
    r"\b(it|its|it's|this|that|these|those|them|they|here|stuff|one|ones|there)\b", re.I
)
_SHORT = 5
"""A question of so few words leans on what was said before, without pointing at it too (common
practice, no source)."""
_THAT_IN = re.compile(
    r"^(?:and |so |but |ok |sorry )*"
    r"(?:what(?:'?s| is| are| would)?|how much(?:'?s| is)?|how many)\b"
    r".*\b(?:that|it|this|those|they|these)\b.* in (?P<unit>[a-z ]+?)(?: please| then| again)?$"
)
_HOW_MANY = re.compile(r"^(?:and |so |but )*how many (?P<unit>[a-z ]+?) is (?:that|it|this)$")


def with_context(text: str, now: Moment) -> str:
    """A question that names nothing, with the thing it is about; "" where it needs none.

    "What happens if i don't use it" at the sorbate is "..., potassium sorbate?".
    """
    said = clauses(text)
    if any(things(clause.words) for clause in said):
        return ""
    short = sum(len(c.words) for c in said) <= _SHORT
    if not (short or _POINTS_BACK.search(text)):
        return ""
    about = _asked_last(now.subject) or _stage_thing(now)
    return f"{text.rstrip(' .!?')}, {about}?" if about else ""


def _asked_last(subject: Ask | None) -> str:
    if subject is None:
        return ""
    card = card_named(subject.about or "") if subject.topic == "card" else None
    if card is not None:
        return card.title
    return (subject.about or "").replace("_", " ")


def _stage_thing(now: Moment) -> str:
    stage = now.batch.stage
    if stage is None or not stage.subject:
        return ""
    return stuff_words(stage.subject)


def that_amount_in(text: str, now: Moment) -> Ask | None:
    """ "What's that in cups": the amount that is asked for, or told last, in another unit."""
    plain = " ".join(to_words(text))
    asks = _THAT_IN.match(plain) or _HOW_MANY.match(plain)
    unit = unit_said(tuple(asks["unit"].split())) if asks else None
    meant = _amount(now) if unit else None
    if unit is None or meant is None:
        return None
    value, of, about = meant
    convertible = dimension(of) == dimension(unit) or {dimension(of), dimension(unit)} == _WEIGHED
    if not convertible:
        return None
    return Ask(at=now.at, heard=text, topic="convert", value=value, unit=of, to=unit, about=about)


_WEIGHED = {"mass", "volume"}


def _amount(now: Moment) -> tuple[float, Unit, str] | None:
    """What the stage plans to go in, else what was told last, and what it is of."""
    first = now.asked.awaited[0] if now.asked.awaited else None
    if first is not None and first.planned is not None:
        base = _BASE.get(dimension(first.units[0]))
        if base is not None:
            large = first.planned >= _LARGE
            value = first.planned / _LARGE if large else first.planned
            return float(f"{value:.{_FIGURES}g}"), base[large], first.what
    told = now.batch.taken[-1].reading if now.batch.taken else None
    return (told.value, told.unit, told.what) if told is not None else None


_LARGE = 1000.0
_FIGURES = 3
_BASE: dict[str, tuple[Unit, Unit]] = {"mass": ("g", "kg"), "volume": ("ml", "l")}


def stuff_named(event: Ask, now: Moment) -> Ask:
    """ "What's twelve grams in teaspoons": of what is asked for, where nothing else is named."""
    first = now.asked.awaited[0] if now.asked.awaited else None
    if event.topic != "convert" or event.about is not None or first is None:
        return event
    if event.unit is None or event.to is None or dimension(event.unit) == dimension(event.to):
        return event
    return event.model_copy(update={"about": first.what})
