"""A batch from a file is folded as if it had been typed."""

from datetime import timedelta

import pytest
from batch_maker import RECIPE, Maker

from assistant.base.errors import WrongUse
from assistant.past.imported import check, told


def test_a_batch_as_it_was_made_is_taken_without_a_word() -> None:
    maker = Maker().up_to("finished")
    check(maker.journal, maker.now)
    assert told(maker.journal) == ()


def test_bottles_of_tomorrow_s_tomorrow_are_refused() -> None:
    maker = Maker().up_to("finished")
    with pytest.raises(WrongUse, match="has not happened yet"):
        check(maker.journal, maker.now - timedelta(days=2))


def test_a_recipe_with_a_claim_is_refused() -> None:
    maker = Maker.of({**RECIPE, "summary": "Botulism proof."})
    with pytest.raises(WrongUse, match="claim"):
        check(maker.journal, maker.now)


def test_an_edited_recipe_and_numbers_that_cannot_be_are_told() -> None:
    maker = Maker.of({**RECIPE, "targets": {**RECIPE["targets"], "ph_high": 4.2}})
    maker.reads("ph", -3, "pH")
    assert maker.batch.last("ph") is None
    said = " ".join(told(maker.journal))
    assert "berry-syrup" in said
    assert "ph -3 pH" in said
