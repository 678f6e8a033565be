"""How many bottles of a size it will be, and how many more once some are filled."""

import re

from assistant.facts.events import Ask
from assistant.facts.vessels import Lot, Vessel
from assistant.understand.told.of_sort import number_in
from assistant.understand.told.part import Part
from assistant.understand.told.sizes import RELATIVE, kind_of, spelled_out
from assistant.understand.told.talk import Talk
from assistant.understand.told.tokens import (
    REST,
    Token,
    counts_ml,
    size_ml,
    tokens_of,
    usual,
    with_unit,
)

_ASKED = re.compile(
    r"\bhow many (of )?(the )?((bottles?|jars?|flasks?|ones)( of)? )?"
    r"(?=(small|little|tiny|mini|big|large|half|quarter|a|one|two|three|four|five|seven|\w+ hundred"
    r"|\w+ ?(litres?|pints?|millilitres)|litres?|pints?)\b)"
)
"""The size stands right behind: what is "in half a litre" is another question."""
_WISHED = re.compile(r"^(fill|bottle|put|make|let us fill|if)\b")
_NOT_OURS = re.compile(r"\b(left|still|in store|cost|sugar|fit in|hold|holds|glasses|drinks)\b")


def forecast_parts(talk: Talk) -> list[Part]:
    """ "How many 330s will that make", "fill four of 250 and the rest in half litres"."""
    if talk.asked.in_store is not None or _NOT_OURS.search(talk.text):
        return []
    text = spelled_out(" and ".join(clause.text for clause in talk.clauses), dict(talk.asked.sizes))
    rest = bool(REST.search(text)) and _is_wish(talk)
    asks = _ASKED.search(text)
    if not rest and not asks:
        return []
    lots, vessel = _told(text)
    relative = RELATIVE.search(text)
    if relative and (asks or lots or vessel):
        return [
            Part(
                doubt=("small_size", (("word", relative[1]),)), what=f"{kind_of(relative[1])}_size"
            )
        ]
    if vessel is None or not (asks or lots):
        return []
    event = Ask(at=talk.at, heard=talk.text, topic="bottles", vessel=vessel, lots=lots)
    return [Part(events=(event,), what="forecast")]


def _is_wish(talk: Talk) -> bool:
    """Whether it is still to be done: "fill ...", "I'll fill ...", "if I fill ..."."""
    planned = talk.having("plan", "question", "condition")
    return bool(planned) or bool(talk.clauses and _WISHED.match(talk.clauses[0].text))


def _told(text: str) -> tuple[tuple[Lot, ...], Vessel | None]:
    """What is filled first, and what the rest goes into."""
    words = usual(text.split())
    tokens = tokens_of(words)
    lots: list[Lot] = []
    vessel: Vessel | None = None
    for n, token in enumerate(tokens):
        ml = _size(token)
        if ml is None:
            continue
        ahead = next((t for t in reversed(tokens[:n]) if t.kind != "bottle"), None)
        count = number_in(ahead.words) if ahead and ahead.kind == "count" else 0
        named = [t for t in tokens[n + 1 : n + 2] + tokens[max(0, n - 1) : n] if t.kind == "bottle"]
        of = "jar" if any(t.words[0].startswith("jar") for t in named) else "bottle"
        sort = Vessel.model_validate({"size_ml": ml, "of": of})
        if count and not (ahead and counts_ml(ahead.words)):
            lots.append(Lot(count=count, size_ml=ml, of=sort.of))
        else:
            vessel = vessel or sort
    return tuple(lots), vessel


def _size(token: Token) -> float | None:
    """A size, and a plain number that can only be one. [ml]"""
    if token.kind == "size" or (token.kind == "count" and counts_ml(token.words)):
        return size_ml(with_unit(token))
    return None
