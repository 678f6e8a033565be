"""Which texts the sound of a spoken number should be weighed against, before it is judged."""

from datetime import datetime

from assistant.facts.asked import Asked
from assistant.hear.heard import Ears, Heard, Rivals
from assistant.understand.bounds import number_in
from assistant.understand.resolve import Moment, focused
from assistant.understand.slips import slips, written
from assistant.understand.verdict import Question
from assistant.understand.weigh import weigh


def rivals(
    heard: Heard, asked: Asked, at: datetime, pending: Question | None = None
) -> Rivals | None:
    """The likeliest words for a number and their slips; None where there is nothing to weigh.

    asked, at, pending : as for `understand`
    """
    if heard.partial or heard.sound is None or not heard.second:
        return None
    moment = Moment(focused(asked, pending), at, heard.text, pending)
    options = weigh(heard, moment).options
    others = slips(options[0].words) if options and number_in(options[0].events) else ()
    if not others:
        return None
    return Rivals(
        text=written(options[0].words),
        others=tuple(map(written, others)),
        before=heard.before,
        after=heard.after,
    )


def weighed(
    heard: Heard, ears: Ears, asked: Asked, at: datetime, pending: Question | None = None
) -> Heard:
    """An utterance with all that its ears can tell of what it may have been."""
    found = rivals(heard, asked, at, pending)
    return heard if found is None else ears.weigh(heard, found)
