"""What a recipe must be to hang together."""

from typing import Any

import pytest
from batch_maker import RECIPE
from pydantic import ValidationError

from assistant.cook.recipe import Recipe


def _with(**changes: Any) -> dict[str, Any]:
    return {**RECIPE, **changes}


def _stages(change: dict[str, Any], at: int) -> list[dict[str, Any]]:
    stages = [dict(stage) for stage in RECIPE["stages"]]
    stages[at] |= change
    return stages


def test_amounts_are_listed_once_in_the_order_they_go_in() -> None:
    added = Recipe.model_validate(RECIPE).added
    assert added[:3] == ("crushing_sugar", "hot_water", "main_sugar")
    assert len(set(added)) == len(added)


@pytest.mark.parametrize(
    ("broken", "complaint"),
    [
        (_with(stages=RECIPE["stages"][1:]), "the first stage must measure the fruit"),
        (_with(stages=_stages({"id": "weigh"}, 1)), "two stages have the same id"),
        (_with(stages=_stages({"say": "Add {honey}."}, 1)), r"names \{honey\}, which it has not"),
        (_with(stages=_stages({"say": "To {seconds}."}, 3)), r"names \{seconds\}"),
        (_with(stages=_stages({"amount": "honey"}, 1)), "adds 'honey', which is no amount"),
        (_with(stages=_stages({"may_wait": True}, 3)), "can't wait: a heat keeps its place"),
        (_with(stages=_stages({"repeatable": True}, 1)), "can't be repeated: a add is done once"),
        (_with(stages=_stages({"when": "luck"}, 6)), "an option nobody asked about"),
        (_with(base="juice", stages=_stages({"reading": "juice"}, 0)), "can't start from juice"),
        (_with(targets={"brix": 60, "ph_high": 4.7}), "ph_high above 4.6 is low-acid"),
        (_with(amounts={**RECIPE["amounts"], "salt": {"rule": "sorbate_dose"}}), "no such amount"),
        (_with(stages=[s for s in RECIPE["stages"] if s["id"] != "bottle"]), "no stage bottles"),
        (_with(stages=[s for s in RECIPE["stages"] if s["id"] != "ph"]), "pH must be measured"),
    ],
)
def test_what_does_not_hang_together_is_refused(broken: dict[str, Any], complaint: str) -> None:
    with pytest.raises(ValidationError, match=complaint):
        Recipe.model_validate(broken)


def test_a_low_acid_recipe_may_go_without_a_ph() -> None:
    stages = [s for s in RECIPE["stages"] if s["id"] != "ph"]
    assert Recipe.model_validate(_with(acidity="low-acid", stages=stages)).acidity == "low-acid"
