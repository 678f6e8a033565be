"""An answer card as lines: the first saying that fits the batch and whose figures it knows."""

from datetime import datetime

from assistant.answers.card import Card, Saying, card_named
from assistant.cook.batch import Batch
from assistant.cook.conditions import holds
from assistant.cook.figures import figure_of
from assistant.cook.reply import Fact, Line


def card_lines(batch: Batch, card_id: str | None, at: datetime) -> tuple[Line, ...]:
    """What a card says of this batch now.

    A card that this version does not have, or that has nothing to say, is owned up to.
    """
    card = card_named(card_id or "")
    saying = _fitting(batch, card, at) if card else None
    if card is None or saying is None:
        return (Line(id="card_unknown", rank="answer"),)
    facts = _facts(batch, saying, at)
    lines = [Line(id="card", rank="answer", text=saying.say, facts=facts)]
    if saying.caution:
        lines.append(Line(id="card_caution", rank="caution", text=saying.caution, facts=facts))
    if saying.more:
        lines.append(Line(id="card_more", rank="detail", text=saying.more, facts=facts))
    return (*lines, *_source(card))


def _source(card: Card) -> tuple[Line, ...]:
    """Who says so, where somebody does."""
    if card.source.startswith(_NOBODY):
        return ()
    return (Line(id="card_source", rank="detail", facts={"source": card.source}),)


_NOBODY = ("common practice", "this batch", "this program", "the recipe")


def can_be_meant(batch: Batch, card: Card, at: datetime) -> bool:
    """Whether a cook at this batch can mean the card now."""
    return all(holds(name, batch, at) for name in card.only)


def _fitting(batch: Batch, card: Card, at: datetime) -> Saying | None:
    return next((s for s in card.says if _fits(batch, s, at)), None)


def _fits(batch: Batch, saying: Saying, at: datetime) -> bool:
    if not all(holds(name, batch, at) for name in saying.when):
        return False
    return all(figure_of(name, batch, at) is not None for name in saying.figures())


def _facts(batch: Batch, saying: Saying, at: datetime) -> dict[str, Fact]:
    found = {name: figure_of(name, batch, at) for name in saying.figures()}
    return {name: fact for name, fact in found.items() if fact is not None}
