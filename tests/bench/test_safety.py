"""The oracle of the rules of safety: quiet on the code as it is, and not on code without a rule."""

from collections.abc import Callable
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.cook import corrections, holding, keeping, ph_readings, settling
from assistant.cook.batch import Batch
from assistant.recipebook.files import load_recipe, recipe_names
from tests.bench.safety import Oracle, Trying, edited, run

PLAIN = [load_recipe(name) for name in recipe_names()]
A_FEW = ("berry-syrup", "stone-fruit-syrup", "citrus-cordial", "hot-shrub", "nut-syrup")
"""Every kind of hurdle: among all recipes each rule is tried too seldom in so few events."""
RECIPES = [*PLAIN, *(edited(recipe, Random(1)) for recipe in PLAIN)]


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**40))
def test_no_batch_is_talked_into_keeping(seed: int) -> None:
    making, oracle = Trying(seed, RECIPES), Oracle()
    before = making.batch
    for basic in making.steps():
        found = basic or oracle.sees(before, making.journal[-1], making.batch)
        assert found == "", (seed, len(making.journal))
        before = making.batch


def _as_read(batch: Batch) -> float | None:
    read = batch.last("ph")
    return read.base if read else None


@pytest.mark.parametrize(
    ("module", "name", "instead", "found"),
    [
        (settling, "stopping", lambda _batch: None, "too much of a preservative"),
        (settling, "_worth_kept", lambda batch: batch, "a date was lengthened"),
        (corrections, "remembering", lambda _batch, back: back, "a high pH was talked away"),
        (keeping, "deciding_ph", _as_read, "a stale or missing pH earned days"),
        (
            ph_readings,
            "_unexplained",
            lambda _batch, _ph: None,
            "a stale or missing pH earned days",
        ),
        (holding, "longest_gap", lambda _seconds: 1e9, "a hold that nobody watched"),
    ],
)
def test_a_rule_that_is_left_out_is_found_out(
    monkeypatch: pytest.MonkeyPatch,
    module: Any,
    name: str,
    instead: Callable[..., Any],
    found: str,
) -> None:
    monkeypatch.setattr(module, name, instead)
    tries = ((seed, names) for seed in range(7, 12) for names in ((), A_FEW))
    assert any(run(1600, seed, tell=False, names=names)[2][found] for seed, names in tries)
