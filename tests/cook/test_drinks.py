"""The syrup of a batch in a glass."""

from datetime import UTC, datetime

import pytest
from batch_maker import Maker

from assistant.cook.drinks import drink
from assistant.facts.events import Ask

ASK = Ask(at=datetime(2026, 7, 11, tzinfo=UTC), topic="strong")


def test_nobody_mixes_before_the_fruit_is_weighed(maker: Maker) -> None:
    assert [line.id for line in drink(maker.batch, ASK)] == ["fruit_first"]


def test_parts_and_glass_hold_together(maker: Maker) -> None:
    """By mass: 62 Brix in so many parts of water makes the Brix that is told."""
    mixed, held = drink(maker.up_to("bottle").batch, ASK)
    brix = mixed.facts["brix"].value  # type: ignore[union-attr]
    assert brix == pytest.approx(10.0)
    sugar = held.facts["sugar"].value  # type: ignore[union-attr]
    # 200 ml at 10 Brix weigh 207.6 g (ICUMSA SPS-4: 1.03810 g/ml), a tenth of it sugar
    assert sugar == pytest.approx(20.76, abs=0.05)


def test_a_batch_that_must_not_be_drunk_is_not_mixed(maker: Maker) -> None:
    maker.up_to("finished").does("sign", what="mould")
    assert [line.rank for line in drink(maker.batch, ASK)] == ["limit"]
