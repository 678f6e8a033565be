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
    theirs, ours = _parted()
    alike = float((theirs @ direction).max())
    return alike - float((ours @ direction).max()) if alike >= least else -1.0


@cache
def _parted() -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Directions of talk, and of all that may be said to us."""
    held, told = match.bank(), acts.bank()
    talk = np.array([label == match.TALK for label in held.labels])
    acted = np.array([label != match.TALK for label in told.labels])
    ours = (held.directions[~talk], topics.bank().directions, told.directions[acted])
    return held.directions[talk], np.concatenate(ours)
