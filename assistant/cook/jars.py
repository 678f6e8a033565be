"""Jars boiled in water, and their seals a day later: what the cook tells of both."""

import re
from dataclasses import replace
from datetime import timedelta

from assistant.base.errors import OutOfRange
from assistant.cook.batch import Batch, Canned
from assistant.cook.canning import missing, process_of, shelf_lines
from assistant.cook.changes import Step, changed, onward, stay
from assistant.cook.reply import Fact, Line, Quantity, Reply
from assistant.cook.stages import announce
from assistant.facts.events import Choose

SEAL_AFTER = timedelta(hours=12)
"""Jars cool so long before a seal tells anything: USDA Complete Guide to Home Canning, guide 1."""
BOILED, SEALED = "boiled_in_jar", "sealed"
"""Options of `Choose`: "15 min, 400 m" and "all" or "some"."""
_TOLD = re.compile(r"(\d{1,4}(?:\.\d+)?) min, (\d{1,5}(?:\.\d+)?) m")


def take_boiled(batch: Batch, event: Choose) -> Step:
    """ "Boiled fifteen minutes at 400 metres": held against the published time."""
    process = process_of(batch)
    if process is None:
        return stay(batch, Line(id="shelf_none", rank="answer"))
    if batch.bottled is None:
        return stay(batch, Line(id="shelf_fill_first", rank="answer"), *announce(batch, event.at))
    told = _TOLD.fullmatch(event.value)
    if told is None:
        return stay(batch, Line(id="shelf_boil_first", rank="answer"))
    minutes, altitude_m = float(told[1]), float(told[2])
    try:
        need = process.minutes_at(altitude_m)
    except OutOfRange:
        return stay(batch, Line(id="shelf_too_high", rank="limit"))
    facts: dict[str, Fact] = {
        "minutes": Quantity(value=minutes, unit="min", exact=True),
        "altitude": f"{altitude_m:g} m",
        "need": Quantity(value=need, unit="min", exact=True),
    }
    after = replace(batch, canned=Canned(minutes, altitude_m, event.at))
    if minutes < need:
        return changed(batch, after), Reply(
            lines=(Line(id="shelf_short", rank="limit", facts=facts),)
        )
    said = Line(id="shelf_boiled", rank="read_back", facts=facts)
    if batch.stage is not None and batch.stage.id == "process":
        return onward(batch, after, event.at, said)
    return changed(batch, after), Reply(lines=(said,))


def take_sealed(batch: Batch, event: Choose) -> Step:
    """ "All lids are down": counts once the jars have cooled for as long as a seal takes."""
    if process_of(batch) is None:
        return stay(batch, Line(id="shelf_none", rank="answer"))
    done = batch.canned
    if done is None:
        return stay(batch, Line(id="shelf_boil_first", rank="answer"))
    if event.value != "all":
        after = replace(batch, canned=replace(done, sealed_at=None))
        return changed(batch, after), Reply(lines=(Line(id="shelf_unsealed", rank="limit"),))
    if event.at - done.at < SEAL_AFTER:
        return stay(batch, Line(id="shelf_seal_early", rank="caution"))
    after = replace(batch, canned=replace(done, sealed_at=event.at))
    left = shelf_lines(after) if missing(after) else (Line(id="shelf_open", rank="answer"),)
    if batch.stage is not None and batch.stage.id == "seal":
        return onward(batch, after, event.at, *left)
    return changed(batch, after), Reply(lines=left)
