"""What is said while a limit holds the batch: by what the limit is about."""

from typing import Literal

from assistant.cook.batch import Batch
from assistant.cook.reply import Line
from assistant.facts.stuff import stuff_words
from assistant.limits import limit_named

Saying = Literal["wait", "no_bottling", "keep"]
_OF_PH: dict[Saying, str] = {
    "wait": "stopped_wait",
    "no_bottling": "stopped_no_bottling",
    "keep": "keep_stopped",
}
_OF_DOSE: dict[Saying, str] = {
    "wait": "stopped_dose_wait",
    "no_bottling": "stopped_dose_no_bottling",
    "keep": "keep_stopped_dose",
}


def stop_line(batch: Batch, saying: Saying) -> Line:
    """The sentence for a batch that is stopped."""
    limit = limit_named(batch.stopped_by)
    if limit is None or limit.quantity == "ph":
        return Line(id=_OF_PH[saying], rank="limit")
    return Line(id=_OF_DOSE[saying], rank="limit", facts={"stuff": stuff_words(limit.quantity)})
