"""Where a cook stands at the moment something is said."""

from dataclasses import dataclass
from datetime import datetime

from assistant.cook import Batch
from assistant.facts.asked import Asked
from assistant.facts.events import Ask
from assistant.understand import Question


@dataclass(frozen=True)
class Moment:
    """Where the cook stands: the batch, what it asks for, now, and the questions that are open.

    subject : the last question that was answered, for "and in the freezer?"
    missing : what was asked for last to complete what was said, and the words that lacked it
    others : the other batches at work, for what is asked of two
    """

    batch: Batch
    asked: Asked
    at: datetime
    pending: Question | None = None
    subject: Ask | None = None
    missing: tuple[str, str] | None = None
    others: tuple[Batch, ...] = ()
