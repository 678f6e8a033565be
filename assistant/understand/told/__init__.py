"""What a whole sentence tells: facts found in talk, parted from plans, questions and denials."""

from assistant.understand.told.freely import freely

__all__ = ["freely"]
