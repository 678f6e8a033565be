"""What a whole sentence tells: facts found in talk, parted from plans, questions and denials."""

from assistant.understand.told.asking import follow_up, is_question, tells_plainly
from assistant.understand.told.caught import caught, danger
from assistant.understand.told.freely import freely

__all__ = ["caught", "danger", "follow_up", "freely", "is_question", "tells_plainly"]
