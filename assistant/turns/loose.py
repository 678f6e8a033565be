"""What was said and is not settled yet: before its time, or lacking a piece."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from assistant.cook.reply import Reply
from assistant.facts.asked import Asked
from assistant.facts.events import AnyEvent, Ask, Reading
from assistant.hear.heard import Heard
from assistant.say import doubt_line
from assistant.turns.free import fits_now
from assistant.turns.missing import size_told
from assistant.turns.moment import Moment
from assistant.understand import Question, Understood

_LACKS = {
    "reckoned.which_brix": "to_brix",
    "reckoned.no_such_brix": "to_brix",
    "reckoned.other_brix": "other_brix",
    "reckoned.no_such_other": "other_brix",
    "reckoned.other_amount": "blend",
    "reckoned.which_ph": "to_ph",
    "reckoned.no_such_ph": "to_ph",
    "reckoned.which_strength": "strength",
}
"""Lines that ask back for a number which is no reading, and what it completes."""
_TO_BRIX = ("reckoned.sugar_to", "reckoned.water_to", "reckoned.boil_to")
_NEEDS = {
    "reckoned.needs_brix": "brix",
    "reckoned.needs_brix_sugar": "brix",
    "reckoned.needs_brix_water": "brix",
    "reckoned.needs_ph": "ph",
    "reckoned.needs_temperature": "temperature",
    "reckoned.one_more_reading": "temperature",
    "reckoned.needs_juice": "juice",
}
"""Lines of a calculation that ask back for a reading, and for which."""

_KINDS = ("small", "medium", "large")


@dataclass
class Loose:
    """Ends left loose in the talk about one batch; nothing of it is in the journal.

    early : what was said before its time; asked about once, where the batch waits for it
    missing : what was asked for last to complete what was said, and the words that lacked it
    wish : the reading that a calculation lacks, and the question that is answered with it
    sizes : what the cook has said that a small, medium or large bottle holds [ml]
    """

    early: Heard | None = None
    missing: tuple[str, str] | None = None
    wish: tuple[str, Ask] | None = None
    sizes: dict[str, float] = field(default_factory=dict)

    def knowing(self, asked: Asked) -> Asked:
        """What is asked, with the sizes that the cook has told; the recipe's own go before."""
        known = {**self.sizes, **dict(asked.sizes)}
        return asked.model_copy(update={"sizes": tuple(known.items())}) if self.sizes else asked

    def note(self, heard: Heard, found: Understood) -> Understood:
        """Remember what an utterance leaves open; with the calculation that it was needed for."""
        self._note_size(heard, found)
        self.missing = (found.missing, found.said or heard.text) if found.missing else None
        self.early = heard if found.reason == "too_early" else self.early
        if self.wish is None or found.verdict != "take":
            return found
        (what, asks), self.wish = self.wish, None
        read = [e for e in found.events if isinstance(e, Reading) and e.what == what]
        if not read or any(isinstance(e, Ask) for e in found.events):
            return found
        again = asks.model_copy(update={"at": read[-1].at, "heard": heard.text})
        return found.model_copy(update={"events": (*found.events, again)})

    def _note_size(self, heard: Heard, found: Understood) -> None:
        kind, _, of = self.missing[0].partition("_") if self.missing else ("", "", "")
        told = size_told(heard.text) if of == "size" and found.said and kind in _KINDS else None
        if told is not None:
            self.sizes[kind] = told

    def wants(self, taken: Sequence[AnyEvent], replies: list[Reply]) -> None:
        """Remember the number that a calculation asked back for.

        What a reading advised for the recipe's Brix is left out where another Brix was wished for.
        """
        if any(line.id in _TO_BRIX for reply in replies[1:] for line in reply.lines):
            kept = tuple(x for x in replies[0].lines if x.id not in ("brix_low", "brix_high"))
            replies[0] = replies[0].model_copy(update={"lines": kept})
        asks = next((e for e in taken if isinstance(e, Ask) and e.topic == "reckon"), None)
        lines = (line.id for reply in replies for line in reply.lines)
        needs = {**_NEEDS, **_LACKS}
        what = next((needs[line] for line in lines if line in needs), None)
        if asks is None or what is None:
            return
        self.missing = (what, asks.heard)
        self.wish = (what, asks) if what in _NEEDS.values() else None

    def due(self, now: Moment) -> tuple[Question, Reply] | None:
        """What was said too early, as a question, where it fits now."""
        events = fits_now(self.early, now) if self.early and now.batch.held is None else ()
        if self.early is None or not events:
            return None
        said, self.early = self.early.text, None
        line = doubt_line("ahead_now", (("said", said),))
        question = Question(kind="sure", candidates=(events,), reason="ahead")
        return question, Reply(lines=(line,))
