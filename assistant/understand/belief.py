"""How far a spoken number may be believed when two engines of different kinds have heard it.

What each makes of the sound is weighed into one probability that the number is right. The weights
and the bound stand in `belief.toml`, with the command that found them on recordings.
"""

import math
import tomllib
from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from assistant.hear.heard import Heard
from assistant.understand.alike import twin_words
from assistant.understand.slips import slips, written
from assistant.understand.weigh import Option

LEAST, MOST = -2.0, 6.0
"""Leads beyond these say no more (natural logarithm of a ratio of probabilities)."""
CLEAR_OF_TWIN = 3.0
"""A lead over seventeen that settles seventy: twenty times as likely."""

TWIN_NEAR = -0.5
"""So much may the lead over a twin lack at most, whatever else speaks for the number."""
FIRST_TOO = 0.4
"""Share that a number needs among the first engine's guesses, whatever the second says."""
TWIN_FIRST, TWIN_SECOND = 0.9, 0.6
"""Shares over the strongest rival that seventeen needs to be told from seventy. Of 276 numbers with
a twin on the development set these pass 65 right ones and none of 28 wrong; 0.8 and 0.4 passed 2
wrong ones."""
SECOND_AGAINST = -0.3
"""Share by which the second engine may at most prefer another meaning."""


class Evidence(NamedTuple):
    """What speaks for and against a number.

    sure : logarithm of the first engine's certainty in its words
    first, second : the number's share among each engine's guesses, less its strongest rival's
    lead : how far the second engine prefers the number's words to all their slips together
    twin : what the lead over its -teen/-ty twin lacks; 0 when it lacks nothing or there is none
    """

    sure: float
    first: float
    second: float
    lead: float
    twin: float


def evidence(heard: Heard, option: Option, others: Iterable[Option]) -> Evidence | None:
    """The evidence on an option; None where only one engine has listened.

    Where a second one listened and has not weighed just these words, because its model failed or
    the batch has gone on meanwhile, everything speaks against them: they are asked back.
    """
    if not heard.second or (heard.leads is None and heard.sound is None):
        return None
    rivals = list(others)
    first = option.first - max((each.first for each in rivals), default=0.0)
    second = option.second - max((each.second for each in rivals), default=0.0)
    lead, twin = _leads(heard, option.words)
    return Evidence(
        sure=math.log(max(heard.sure, 0.01)),
        first=first,
        second=second,
        lead=lead,
        twin=twin,
    )


def _leads(heard: Heard, words: tuple[str, ...]) -> tuple[float, float]:
    others = slips(words)
    if not others:
        return 0.0, 0.0
    leads = heard.leads
    asked = (written(words), tuple(map(written, others)))
    if leads is None or (leads.text, leads.others) != asked:
        return LEAST, LEAST - CLEAR_OF_TWIN
    found = leads.by
    together = -math.log(sum(math.exp(-lead) for lead in found))
    alike = set(twin_words(words))
    closest = min((lead for lead, other in zip(found, others, strict=True) if other in alike),
                  default=CLEAR_OF_TWIN)  # fmt: skip
    return min(MOST, max(LEAST, together)), min(0.0, closest - CLEAR_OF_TWIN)


@cache
def _table() -> dict[str, float]:
    text = files("assistant.understand").joinpath("belief.toml").read_text("utf-8")
    return {name: float(value) for name, value in tomllib.loads(text)["belief"].items()}


def belief(found: Evidence) -> float:
    """Probability that the number is right [0 to 1].

    >>> belief(Evidence(-0.1, 1.0, 1.0, 6.0, 0.0)) > 0.95
    True
    >>> belief(Evidence(-0.8, 0.4, 0.0, -2.0, -4.0)) < 0.9
    True
    """
    table = _table()
    total = table["constant"] + sum(table[name] * value for name, value in found._asdict().items())
    return 1 / (1 + math.exp(-max(-50.0, min(50.0, total))))


def settled(found: Evidence, alike: bool = False) -> bool:
    """Whether two engines leave no doubt about a number.

    alike : it has a twin, -teen or -ty, that can be: both engines may mishear that in the same
        way, so both must be clear
    """
    if alike and (found.first < TWIN_FIRST or found.second < TWIN_SECOND):
        return False
    return not contradicted(found) and belief(found) >= _table()["enough"]


def contradicted(found: Evidence) -> bool:
    """Whether one thing alone speaks so much against a number that nothing makes up for it.

    >>> contradicted(Evidence(-0.1, 1.0, 1.0, 6.0, -2.5))
    True
    """
    return found.first < FIRST_TOO or found.second < SECOND_AGAINST or found.twin < TWIN_NEAR
