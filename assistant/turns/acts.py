"""What is asked back where a sentence only resembles a report or an order."""

from typing import TYPE_CHECKING

from assistant.facts.asked import Asked
from assistant.facts.events import (
    AnyEvent,
    Ask,
    Discard,
    No,
    Onward,
    Pause,
    SayAgain,
    Undo,
    Yes,
)
from assistant.turns.moment import Moment
from assistant.understand import Understood
from assistant.understand.verdict import ask, doubt, take

if TYPE_CHECKING:
    from assistant.answers.acts import Act

_BY_DONE = ("add", "do", "rest")
_NEVER = {
    "add": frozenset(("did.strain", "did.bottle", "did.store", "did.cool", "did.wait")),
    "rest": frozenset(("did.put_in", "did.crush", "did.bottle", "did.store", "did.clean")),
    "do": frozenset(("did.hot", "did.held")),
}
"""What is not the deed of a stage of that kind."""
_BY_NUMBER = {
    "heat": frozenset(("did.hot", "did.held", "did.done")),
    "hold": frozenset(("did.hot", "did.held", "did.done", "did.wait")),
    "cool": frozenset(("did.cool", "did.wait", "did.done")),
    "measure": frozenset(("did.strain", "did.wait", "did.done", "did.put_in")),
    "bottle": frozenset(("did.bottle", "did.done", "did.store")),
}
"""Deeds at stages that wait for a number."""


def asked_of(act: "Act", text: str, now: Moment) -> Understood | None:
    """What a cook is asked who seems to tell an act; None where it does not fit here."""
    match act:
        case "repeat":
            return take((SayAgain(at=now.at, heard=text),))
        case "not_yet":
            return doubt("partly_done", ()) if now.asked.kind in _BY_DONE else None
        case "skip" | "want":
            wanted = Yes(at=now.at, heard=text) if act == "want" else No(at=now.at, heard=text)
            return ask("unsure", (wanted,)) if now.asked.yes_no else None
        case "resume":
            return take((Ask(at=now.at, heard=text, topic="where"),))
        case "throw_away" | "take_back" | "pause":
            return ask("unsure", (_ORDERS[act](at=now.at, heard=text),))
        case _:
            return _deed(act, now.asked, Onward(at=now.at, heard=text))


_ORDERS: dict[str, type[Discard] | type[Undo] | type[Pause]] = {
    "throw_away": Discard,
    "take_back": Undo,
    "pause": Pause,
}


def _deed(act: "Act", asked: Asked, done: AnyEvent) -> Understood | None:
    if asked.kind in _BY_DONE and act not in _NEVER[asked.kind]:
        return ask("unsure", (done,))
    if act in _BY_NUMBER.get(asked.kind, ()) and asked.awaited:
        return doubt("number_first", (("what", asked.awaited[0].what),))
    return None
