"""How much nearer a text lies to talk for somebody else than to anything that is said to us."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from assistant.answers import acts, match, topics
from assistant.gist import Gist


def nearer_to_talk(text: str, gist: Gist, least: float) -> float:
    """By how much (-1 to 1) talk is more alike than every card, topic and act.

    text : what was said; gist : the sentence model
    least : likeness to talk under which it is not counted, and -1 is given
    """
    direction = gist.of(text.casefold())
    alike = match.bank().directions @ direction
    talk = _is_talk()
    theirs = float(alike[talk].max())
    if theirs < least:
        return -1.0
    ours = (alike[~talk], topics.bank().directions @ direction, acts.told() @ direction)
    return theirs - max(float(each.max()) for each in ours)


@cache
def _is_talk() -> NDArray[np.bool_]:
    """Which rows of the cards' bank are talk that is not for us."""
    return np.array([label == match.TALK for label in match.bank().labels])
