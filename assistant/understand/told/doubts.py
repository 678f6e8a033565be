"""What is told, but is no reading: hearsay, a measure or a fruit that nobody knows."""

from assistant.understand.parsing import parser
from assistant.understand.told.found import Found, known
from assistant.understand.told.lexicon import listed
from assistant.understand.told.part import Note, Part
from assistant.understand.told.spans import Named, Quantity, quantities, things
from assistant.understand.told.talk import Talk
from assistant.understand.told.wording import dimension_of

_WAITING = ("measure", "heat", "hold", "cool", "reduce")
_NOT_UNITS = frozenset(listed("words.toml", "small", "no_units"))


def not_measured(talk: Talk, found: list[Found]) -> list[Part]:
    """Hearsay and guesses about what is waited for: measured it must be."""
    first = talk.asked.awaited[0].what if talk.asked.awaited and talk.asked.kind in _WAITING else ""
    for one in found:
        if one.stance in ("hearsay", "guess") and first and _could_be(one, first):
            return [Part(doubt=("not_measured", (("what", first),)), what=first)]
    return []


def _could_be(one: Found, what: str) -> bool:
    if one.thing is not None:
        return one.thing.what == what
    return one.quantity.kind == {"temperature": "degrees", "ph": "bare", "brix": "bare"}.get(
        what, "amount"
    )


def strange_measure(talk: Talk) -> Note | None:
    """A measure that nobody here knows: "one tola of citric", "a handful of sugar"."""
    for n in talk.having("fact"):
        words = talk.clauses[n].words
        for thing in things(words):
            before = words[max(0, thing.begin - 3) : thing.begin]
            if len(before) < 3 or before[2] != "of" or before[1] in known() | _NOT_UNITS:
                continue
            if any(
                q.begin < thing.begin - 1 <= q.end for q in quantities(words) if q.kind != "bare"
            ):
                continue
            if before[0] in ("a", "an", "one") or before[0] in parser().lattices.number_words:
                said = " ".join(words[thing.begin - 3 : thing.end])
                return "strange_unit", (("said", said),)
    return None


def unknown_fruit(q: Quantity, words: tuple[str, ...], thing: Named | None, talk: Talk) -> str:
    """The word after "two kilos of" where it is no fruit that is known here."""
    if (
        thing is not None
        or q.kind != "amount"
        or talk.first != "fruit"
        or dimension_of(q) != "mass"
    ):
        return ""
    after = [
        w
        for w in words[q.end : q.end + 4]
        if w not in ("the", "my", "our", "some", "fresh", "ripe")
    ]
    if len(after) > 1 and after[0] == "of" and after[1] not in known():
        return after[1]
    return ""
