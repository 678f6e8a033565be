"""The other batch of a blend, as numbers in the question: a replay needs no other batch."""

from collections.abc import Iterator

from assistant.cook import Batch
from assistant.cook.reckoned.pan import pan
from assistant.facts.events import Given
from assistant.understand.wished import Wish


def other_batch(found: Wish, batch: Batch, others: tuple[Batch, ...]) -> tuple[Given, ...]:
    """The measured Brix and the mass of the other batch, where a blend means one at work.

    Only a Brix that was read counts; whether that batch may be used at all goes along.
    """
    if found.subject != "blend" or found.number("other") is not None:
        return ()
    meant = [each for each in others if _named(each, found.text)] or list(others)
    if len(meant) != 1 or meant[0].id == batch.id:
        return ()
    return tuple(_told(meant[0], found.number("target") is None))


def _named(batch: Batch, text: str) -> bool:
    return batch.fruit is not None and batch.fruit.replace("-", " ") in text.casefold()


def _told(other: Batch, all_of_it: bool) -> Iterator[Given]:
    if other.barred or other.ended == "discarded":
        yield Given(name="barred", value=1, unit="count")
    there = pan(other)
    if there is None or there.known == "reckoned":
        return
    yield Given(name="other", value=round(there.brix, 1), unit="Brix")
    yield Given(name="amount" if all_of_it else "most", value=round(there.mass_g), unit="g")
