"""How a line of the panel is judged: against what a careful colleague would do."""

import re
from collections import Counter
from dataclasses import replace
from typing import Any, Literal

from answering import Answer

from assistant.base.units import to_base

Mark = Literal["right", "asked", "partly", "off", "refused", "wrong"]
GOOD: tuple[Mark, ...] = ("right", "asked")
_BEST: tuple[Mark, ...] = ("right", "asked", "partly", "off", "refused", "wrong")
_TOLD = frozenset(("reading", "timer_set", "used", "opened"))
"""What may be written down of a line that tells a number and asks something besides."""
_NUMBERS = frozenset(
    ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "twenty",
     "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety", "hundred", "half"]
)  # fmt: skip
_CHANGES_NOTHING = frozenset(("ask", "say_again", "manner"))
_WRITTEN_BESIDE_AN_ANSWER = frozenset(("sign", "note"))
"""A sign of spoilage that is met with a question or an answer is written down all the same."""


def marked(line: dict[str, Any], answer: Answer) -> Mark:
    """right: as wanted; asked: asked back with the right meaning; partly: some of it; off: an
    answer beside the point; refused: not understood; wrong: an event nobody meant, or an answer
    that misleads."""
    if line["kind"] == "answer" and _tells_a_number(line["text"]):
        answer = replace(answer, events=tuple(e for e in answer.events if e["kind"] not in _TOLD))
    return _MARKERS[line["kind"]](line["want"], answer)


def _tells_a_number(text: str) -> bool:
    """Whether a number stands outside the question: "It falls to seventy, now what?" tells it."""
    parts = re.findall(r"[^.,;!?]+(?:\.\d+)?[.,;!?]?", text.casefold())
    told = [part for part in parts if not part.endswith("?")]
    return any(re.search(r"\d", part) or _NUMBERS & set(re.findall(r"\w+", part)) for part in told)


def changing(answer: Answer) -> list[dict[str, Any]]:
    """The events that change a batch."""
    return [e for e in answer.events if e["kind"] not in _CHANGES_NOTHING]


def _event(want: dict[str, Any], answer: Answer) -> Mark:
    """The best of what is wanted and what is as good."""
    ways = [want["events"], *want.get("alt", [])]
    marks = [_one_way(events, answer) for events in ways]
    return min(marks, key=_BEST.index)


def _one_way(wanted: list[dict[str, Any]], answer: Answer) -> Mark:
    took = [lot for event in changing(answer) for lot in _lots(event)]
    wanted = [lot for event in wanted for lot in _lots(event)]
    harmless = [w for w in wanted if w["kind"] in _CHANGES_NOTHING]
    if harmless and not took:
        kinds = Counter(e["kind"] for e in answer.events)
        return "right" if all(kinds[w["kind"]] for w in harmless) else _unheard(answer)
    left = list(took)
    missing = []
    for each in wanted:
        found = next((e for e in left if _same(each, e)), None)
        left.remove(found) if found else missing.append(each)
    if left:
        return "wrong"
    if not missing:
        return "right"
    if took:
        return "partly"
    if answer.asks and all(_is_asked(w, answer) for w in wanted):
        return "asked"
    return _unheard(answer)


def _lots(event: dict[str, Any]) -> list[dict[str, Any]]:
    """A bottling as one event a size, however it is written."""
    if event["kind"] != "bottle":
        return [event]
    first = {name: value for name, value in event.items() if name != "more"}
    return [first, *({"kind": event["kind"], **lot} for lot in event.get("more") or ())]


def _unheard(answer: Answer) -> Mark:
    return "refused" if answer.refused else "off"


def _same(want: dict[str, Any], got: dict[str, Any]) -> bool:
    """The same meaning as far as the panel says it; amounts in any unit.

    A reading put right may be written as a correction or as that reading anew.
    """
    kinds = {want["kind"], got["kind"]}
    if len(kinds) > 1 and kinds != {"reading", "correct"}:
        return False
    return all(_equal(name, value, want, got) for name, value in want.items() if name != "kind")


def _equal(name: str, value: Any, want: dict[str, Any], got: dict[str, Any]) -> bool:
    if name == "value":
        return _amount(want) == _amount(got) or (not got.get("unit") and value == got.get("value"))
    if name in ("unit", "at", "batch"):
        return True
    if value is None or (name == "what" and got.get("what") is None):
        return value is None or got["kind"] == "correct"
    found = got.get(name)
    if isinstance(value, str) and isinstance(found, str):
        return name in ("name", "to", "text", "reason") or value.casefold() == found.casefold()
    if name == "size_ml" and isinstance(found, int | float):
        return abs(found - value) < 0.01 * value
    return bool(found == value) or name in ("name", "to", "text", "reason")


def _amount(event: dict[str, Any]) -> float | None:
    value, unit = event.get("value"), event.get("unit")
    if not isinstance(value, int | float):
        return None
    try:
        return round(to_base(float(value), unit), 3) if unit else round(float(value), 3)
    except (KeyError, ValueError):
        return None


def _is_asked(want: dict[str, Any], answer: Answer) -> bool:
    """Whether the question holds that meaning: among its candidates, or by its number."""
    asked = [lot for candidate in answer.candidates for lot in _lots(candidate)]
    if any(_same(want, c) for c in asked):
        return True
    if want["kind"] == "begin":
        return "shall i begin" in answer.words.casefold()
    figures = [want.get("value"), want.get("count")]
    return any(_says(answer.words, float(f)) for f in figures if isinstance(f, int | float))


def _says(words: str, figure: float) -> bool:
    found = re.findall(r"\d+(?:\.\d+)?", words.replace(",", ""))
    return any(abs(float(f) - figure) < 0.005 for f in found)


def _points(want: dict[str, Any], answer: Answer) -> list[bool]:
    return [bool(re.search(p, answer.words, re.I)) for p in want.get("points", ())]


def _told(want: dict[str, Any], answer: Answer) -> Mark:
    points = _points(want, answer)
    if any(re.search(p, answer.words, re.I) for p in want.get("not", ())):
        return "wrong"
    if all(points):
        return "right"
    if answer.refused:
        return "refused"
    return "partly" if any(points) else "off"


def _answer(want: dict[str, Any], answer: Answer) -> Mark:
    if any(e["kind"] not in _WRITTEN_BESIDE_AN_ANSWER for e in changing(answer)):
        return "wrong"
    return _told(want, answer)


def _trap(want: dict[str, Any], answer: Answer) -> Mark:
    if any(e["kind"] not in _WRITTEN_BESIDE_AN_ANSWER for e in changing(answer)):
        return "wrong"
    mark = _told(want, answer)
    return "right" if not want.get("points") and mark == "refused" else mark


def _ask_back(want: dict[str, Any], answer: Answer) -> Mark:
    if changing(answer):
        return "wrong"
    if not answer.asks:
        return _unheard(answer)
    about = [bool(re.search(p, answer.words, re.I)) for p in want["about"]]
    return "right" if all(about) else "partly"


_MARKERS = {"event": _event, "answer": _answer, "trap": _trap, "ask_back": _ask_back}
