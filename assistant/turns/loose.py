"""What was said and is not settled yet: before its time, or lacking a piece."""

from dataclasses import dataclass

from assistant.cook.reply import Reply
from assistant.hear.heard import Heard
from assistant.say import doubt_line
from assistant.turns.free import Moment, fits_now
from assistant.understand import Question, Understood


@dataclass
class Loose:
    """Ends left loose in the talk about one batch; nothing of it is in the journal.

    early : what was said before its time; asked about once, where the batch waits for it
    missing : what was asked for last to complete what was said, and the words that lacked it
    """

    early: Heard | None = None
    missing: tuple[str, str] | None = None

    def note(self, heard: Heard, found: Understood) -> None:
        """Remember what an utterance leaves open."""
        self.missing = (found.missing, found.said or heard.text) if found.missing else None
        self.early = heard if found.reason == "too_early" else self.early

    def due(self, now: Moment) -> tuple[Question, Reply] | None:
        """What was said too early, as a question, where it fits now."""
        events = fits_now(self.early, now) if self.early and now.batch.held is None else ()
        if self.early is None or not events:
            return None
        said, self.early = self.early.text, None
        line = doubt_line("ahead_now", (("said", said),))
        question = Question(kind="sure", candidates=(events,), reason="ahead")
        return question, Reply(lines=(line,))
