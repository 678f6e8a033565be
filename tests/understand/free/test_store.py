"""Bottles in store, and signs of spoilage, in any words."""

import pytest
from standing import hear, meant

from assistant.understand.told import tells_plainly

TOLD = """
i gave two to my sister | used 2 my sister
two bottles went to the bar | used 2 the bar
we drank one | used 1
put two in the freezer | moved freezer 2
moved the rest to the freezer | moved freezer
i dropped a bottle | used 1 breakage
we sold two at the fair | used 2 buyers
Another one opened. | opened 1
we opened a bottle yesterday | opened 1
Threw away the open one. | discard 1
Some bottles I have given to relatives. | how_many
it popped when i opened it | sign fizzing
white stuff floating on top | sign mould
I do believe there's grey fuzz on top in one of those bottles. | sign mould
One bottle cap is domed. | sign bulging
one of the sealed ones leaked all over the shelf | sign leaking
One bottle is giving bad smell, like spoiled toddy. | sign off_smell
it went cloudy | sign cloudy
"""
NOTHING = """
should I open one?
don't open any
we'll drink two tomorrow
I want to give two to Anna
no mould at all
what does mould look like
it's not fizzing
smells lovely
If one bottle becomes cloudy then what to do?
Nobody open another till that one's gone.
I opened the window
they sold 2 curtains near the piano
we used four nails on the shelf
put the bread in the freezer
milk's gone off
There's mould all round the shower again, I'll get the bleach.
My fur coat's in the loft with the moths.
The milk's on its date, smell that.
"""


def rows(text: str) -> list[list[str]]:
    return [[p.strip() for p in line.split(" | ")] for line in text.strip().splitlines()]


@pytest.mark.parametrize(("line", "events"), rows(TOLD))
def test_what_became_of_bottles(line: str, events: str) -> None:
    assert meant(hear(line, "shelf")) == events


@pytest.mark.parametrize("line", NOTHING.strip().splitlines())
def test_what_is_asked_planned_or_denied_is_nothing(line: str) -> None:
    assert hear(line, "shelf").verdict == "refuse"


def test_before_there_are_bottles_none_can_be_given() -> None:
    assert hear("i gave two to my sister", "heat").verdict == "refuse"


@pytest.mark.parametrize("line", ["no mould at all", "it's not fizzing", "it isn't leaking"])
def test_a_sign_denied_is_not_told_plainly(line: str) -> None:
    assert not tells_plainly(line)


@pytest.mark.parametrize("line", ["dropped a bottle", "a bottle slipped out of my hand"])
def test_a_bottle_that_was_dropped_was_not_filled(line: str) -> None:
    assert hear(line, "bottle").verdict == "refuse"
