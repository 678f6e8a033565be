"""A sign of spoilage in the pan, before anything is bottled: written down, and the batch stands.

It goes on only when the cook says that it was a false alarm. Of bottles, `storing` minds the signs.
"""

from dataclasses import replace

from assistant.cook.batch import Batch
from assistant.cook.changes import Step, changed, stay
from assistant.cook.keep_answers import sign_lines
from assistant.cook.reply import Line, Reply
from assistant.cook.stages import announce
from assistant.cook.stored import Seen
from assistant.facts.events import AnyEvent, No, Sign, SignOf, Yes

IN_THE_PAN: tuple[SignOf, ...] = ("fizzing", "mould", "off_smell")
"""What can be seen before there are bottles: juice is cloudy anyway, and only a bottle bulges."""
WAITS = frozenset((
    "reading", "correct", "onward", "later", "repeat", "choose", "yes", "no", "bottle", "moved",
    "used", "opened",
))  # fmt: skip
"""What would take the batch further, and is not taken while a sign stands."""


def take_early_sign(batch: Batch, event: Sign) -> Step:
    """Written down at once; what it was is asked, unless the cook has said that it is sure."""
    if event.what not in IN_THE_PAN:
        return stay(batch, Line(id="sign_early", rank="caution"))
    seen = (*batch.stored.signs, Seen(event.what, event.at))
    after = replace(batch, stored=replace(batch.stored, signs=seen), insisted=None)
    return changed(batch, after), Reply(lines=sign_lines(after), stopped=after.stopped)


def answer_sign(batch: Batch, event: Yes | No) -> Step:
    """Yes: it spoils, and is thrown away. No: a false alarm, and the batch goes on."""
    if isinstance(event, Yes):
        after = replace(batch, sign_sure=True)
        return changed(batch, after), Reply(lines=sign_lines(after), stopped=True)
    after = replace(batch, stored=replace(batch.stored, signs=()))
    cleared = Line(id="sign_cleared", rank="read_back")
    lines = (cleared, *announce(after, event.at))
    return changed(batch, after), Reply(lines=lines, stopped=after.stopped)


def held_up(batch: Batch, event: AnyEvent) -> Step | None:
    """The answer to what would take a spoiling batch further; None where nothing is in the way."""
    if not batch.spoiling:
        return None
    if isinstance(event, Yes | No) and not batch.sign_sure:
        return answer_sign(batch, event)
    return stay(batch, *sign_lines(batch)) if event.kind in WAITS else None
