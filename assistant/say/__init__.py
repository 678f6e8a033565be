"""Replies into words, and words into sound."""

from assistant.say import general
from assistant.say.phrase import by_ear, by_eye, more, shown, spoken
from assistant.say.questions import doubt_line, events_line, question_line

__all__ = [
    "by_ear",
    "by_eye",
    "doubt_line",
    "events_line",
    "general",
    "more",
    "question_line",
    "shown",
    "spoken",
]
