"""What is remembered of a pan is what would be reckoned anew, and is reckoned once."""

from dataclasses import replace
from typing import Any

import pytest
from batch_maker import Maker
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.cook.batch import Batch
from assistant.cook.remembered import by_the_pan
from assistant.cook.stock import juice, main_sugar, syrup
from assistant.cook.totals import drink_share, least_volume
from assistant.recipebook.files import load_recipe, recipe_names
from tests.bench.safety import Trying

RECIPES = [load_recipe(name) for name in recipe_names()]


def _or_refusal(reckon: Any, batch: Batch) -> object:
    try:
        return reckon(batch)
    except OutOfRange as error:
        return str(error)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**40))
def test_what_is_remembered_is_what_would_be_reckoned_anew(seed: int) -> None:
    making = Trying(seed, RECIPES)
    for _ in making.steps():
        for asked in (juice, main_sugar, syrup, least_volume, drink_share):
            fresh = _or_refusal(asked.__wrapped__, making.batch)  # type: ignore[attr-defined]
            assert _or_refusal(asked, making.batch) == fresh, asked.__name__


def test_a_pan_is_reckoned_once_until_something_in_it_changes(maker: Maker) -> None:
    seen: list[Batch] = []

    @by_the_pan
    def counted(batch: Batch) -> int:
        seen.append(batch)
        return len(seen)

    batch = maker.up_to("dissolve").batch
    assert [counted(batch), counted(replace(batch, notes=("ripe",))), counted(batch)] == [1, 1, 1]
    other = replace(batch, fruit="plum")
    fewer = replace(batch, added=batch.added[:-1])
    read = replace(batch, taken=batch.taken[:-1])
    assert [counted(x) for x in (other, fewer, read, batch)] == [2, 3, 4, 1]


def test_what_raises_raises_again(maker: Maker) -> None:
    @by_the_pan
    def refused(_batch: Batch) -> int:
        raise OutOfRange("mass", -1.0, 0.0, 1.0, "g")

    for _ in range(2):
        with pytest.raises(OutOfRange):
            refused(maker.batch)
