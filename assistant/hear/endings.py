"""How long to wait for more, by the last words heard: a cook may pause inside a number."""

import re

from assistant.hear.shares import plain

OPEN_PAUSE = 1.3
"""Seconds of silence that end an utterance whose words can't be the end: "six hundred and ..."."""
ROUND_PAUSE = 1.3
"""The same after a round hundred or thousand, which may be all or may go on: "six hundred and" is
heard as "600." too, and the rest must not become a number of its own."""
_OPEN = frozenset((
    "and", "point", "comma", "decimal", "dot", "minus", "negative", "a", "an", "the", "of", "at",
    "is", "it's", "there's", "about", "roughly", "exactly", "p", "h", "ph",
))  # fmt: skip
"""Words after which something has to come (common practice, no source)."""
_ROUND = re.compile(r"(\b(hundred|thousand)|\b[1-9][0-9]?00|\b[0-9]{1,2},?000)$")


def pause_after(text: str, usual: float) -> float:
    """Silence after these words that ends the utterance [s].

    usual : where nothing speaks for more [s]; never less than it

    >>> pause_after("Six hundred and", 0.7), pause_after("600.", 0.7), pause_after("72.", 0.7)
    (1.3, 1.3, 0.7)
    """
    words = plain(text)
    last = words.split()[-1] if words else ""
    if last in _OPEN or text.rstrip().endswith(("...", "…", "-")):
        return max(usual, OPEN_PAUSE)
    return max(usual, ROUND_PAUSE) if _ROUND.search(words) else usual
