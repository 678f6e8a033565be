"""The gist of a sentence: what it is about, as a direction, so that other words for it lie near."""

from assistant.gist.bank import Bank, Near
from assistant.gist.model import Gist, shipped

__all__ = ["Bank", "Gist", "Near", "shipped"]
