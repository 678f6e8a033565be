"""What may be said for one kind of reading, without a batch around it."""

from typing import get_args

from assistant.base.errors import WrongUse
from assistant.calc.fruits import all_fruits
from assistant.facts.asked import Asked, Awaited
from assistant.facts.events import What
from assistant.facts.stuff import RANGES, UNITS

AWAITABLE: tuple[str, ...] = (*get_args(What), "yes_no", "step", "question")


def asked_for(what: str) -> Asked:
    """Asked for one kind of reading with the ranges of a real kitchen; others stay welcome.

    what : a reading's name, or "yes_no", "step", "question" where no number is waited for
    WrongUse for anything else.

    >>> asked_for("temperature").awaited[0].units
    ('degC', 'degF')
    """
    if what not in AWAITABLE:
        raise WrongUse(f"Nothing waits for {what!r}. Choose from: {', '.join(AWAITABLE)}.")
    first = [_plain(what)] if what in RANGES else []
    always = [_plain(name) for name in ("temperature", "ph", "brix") if name != what]
    return Asked(
        awaited=(*first, *always),
        yes_no=what == "yes_no",
        options=tuple(all_fruits()) if what == "fruit" else (),
    )


def _plain(what: str) -> Awaited:
    low, high = RANGES[what]
    return Awaited(what=what, units=UNITS[what], low=low, high=high)  # type: ignore[arg-type]
