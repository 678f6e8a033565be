"""The larder and a recall as lines to be said or shown."""

from datetime import date

from assistant.cook.keep_answers import PLACE_WORDS, SIGN_WORDS
from assistant.cook.keeping import in_words
from assistant.cook.reply import Fact, Line
from assistant.cook.sorts import sized
from assistant.larder.shelf import Advice, Entry, Larder, Lot
from assistant.larder.whereabouts import Went, Whereabouts

_HEADS: dict[Advice, str] = {
    "throw_away": "larder.throw_away",
    "use_first": "larder.use_first",
    "keep": "larder.keep",
}
_WHY = {
    "stopped": "larder.stopped",
    "signed": "larder.signed",
    "recalled": "larder.recalled",
    "past": "larder.past",
    "near": "larder.until",
    "opened": "larder.until",
    "in_time": "larder.until",
}


def larder_lines(found: Larder) -> tuple[Line, ...]:
    """What to throw away, what to use first, what keeps; then what is to be called back."""
    lines = [_in_the_pan(entry) for entry in found.entries if entry.in_the_pan]
    for advice in _HEADS:
        lines += _section(found, advice)
    if not lines:
        lines.append(Line(id="larder.empty", rank="answer"))
    lines += [_call_back(entry) for entry in found.entries if entry.call_back]
    return tuple(lines)


def _in_the_pan(entry: Entry) -> Line:
    facts: dict[str, Fact] = {
        "batch": entry.batch,
        "what": _what(entry.title, entry.fruit),
        "sign": SIGN_WORDS[entry.signs[-1]],
    }
    return Line(id="larder.in_the_pan", rank="limit", facts=facts)


def _section(found: Larder, advice: Advice) -> list[Line]:
    """The bottles with one advice; how to throw them away stands under those it concerns."""
    lots = found.lots(advice)
    if not lots:
        return []
    head = Line(id=_HEADS[advice], rank="limit" if advice == "throw_away" else "do")
    how = [Line(id="discard_how", rank="caution")] if advice == "throw_away" else []
    return [head, *(_lot_line(entry, lot) for entry, lot in lots), *how]


def _lot_line(entry: Entry, lot: Lot) -> Line:
    facts: dict[str, Fact] = {
        "batch": entry.batch,
        "what": _what(entry.title, entry.fruit),
        "count": lot.count,
        **sized(lot.vessel, lot.count),
        "state": "opened" if lot.opened else "filled",
        "since": in_words(lot.since),
        "place": PLACE_WORDS[lot.place],
        "date": in_words(lot.keep_by) if lot.keep_by else "",
        "sign": SIGN_WORDS[entry.signs[0]] if entry.signs else "",
    }
    return Line(id=_WHY[lot.why], rank="answer", facts=facts)


def _call_back(entry: Entry) -> Line:
    facts: dict[str, Fact] = {"batch": entry.batch, "count": entry.used}
    return Line(id="larder.call_back", rank="caution", facts=facts)


def recall_lines(found: Whereabouts) -> tuple[Line, ...]:
    """Where every bottle went, and what to tell people."""
    facts: dict[str, Fact] = {
        "batch": found.batch,
        "what": _what(found.title, found.fruit),
        "date": _with_year(found.filled_on),
        "filled": found.filled,
    }
    reason = (Line(id="recall.reason", rank="answer", facts={"reason": found.reason}),)
    return (
        Line(id="recall.head", rank="limit", facts=facts),
        *(reason if found.reason else ()),
        *(_went_line(went) for went in found.went),
        *_rest_lines(found),
        *_tell_lines(found),
    )


def _went_line(went: Went) -> Line:
    facts: dict[str, Fact] = {
        "count": went.count,
        "to": went.to,
        "date": _with_year(went.on),
    }
    if went.vessel is not None:
        known = facts | sized(went.vessel, went.count)
        return Line(
            id="recall.to_of" if went.to else "recall.to_nobody_of", rank="answer", facts=known
        )
    return Line(id="recall.to" if went.to else "recall.to_nobody", rank="answer", facts=facts)


def _rest_lines(found: Whereabouts) -> tuple[Line, ...]:
    lines = []
    if not found.went:
        lines.append(Line(id="recall.none_out", rank="answer"))
    for place, count in found.stands:
        facts: dict[str, Fact] = {"count": count, "place": PLACE_WORDS[place]}
        lines.append(Line(id="recall.in_store", rank="answer", facts=facts))
    if found.discarded:
        gone: dict[str, Fact] = {"count": found.discarded}
        lines.append(Line(id="recall.discarded", rank="answer", facts=gone))
    if found.unnamed:
        unknown: dict[str, Fact] = {"count": found.unnamed}
        lines.append(Line(id="recall.unknown", rank="caution", facts=unknown))
    return tuple(lines)


def _tell_lines(found: Whereabouts) -> tuple[Line, ...]:
    """What to tell people. The signs of botulism: CDC, "Symptoms of botulism" (from memory)."""
    return (
        Line(id="recall.tell", rank="do", facts={"batch": found.batch}),
        Line(id="recall.ill", rank="caution"),
        Line(id="recall.authority", rank="do"),
    )


def _what(title: str, fruit: str | None) -> str:
    return f"{title}, {fruit}" if fruit else title


def _with_year(day: date) -> str:
    return f"{in_words(day)} {day.year}"
