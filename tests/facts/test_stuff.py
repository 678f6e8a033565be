"""The table of stuff: it holds together, and everything that must follow it does."""

from typing import get_args

import pytest
from pydantic import ValidationError

from assistant.base.units import dimension
from assistant.calc.density import water_density
from assistant.calc.measures import ITEMS
from assistant.facts.events import What
from assistant.facts.stuff import AMOUNTS, RANGES, STUFF, UNITS, Stuff, natural, read_as


def test_what_may_be_read_is_what_has_units() -> None:
    assert set(get_args(What)) == set(UNITS) == set(RANGES)


def test_a_measured_thing_or_a_base_can_be_read() -> None:
    unread = {key for key, row in STUFF.items() if row.kind != "ingredient"} - set(UNITS)
    assert unread == set()


@pytest.mark.parametrize("key", sorted(RANGES))
def test_ranges_go_up(key: str) -> None:
    low, high = RANGES[key]
    assert low < high


def test_every_amount_consists_of_an_ingredient() -> None:
    assert {row.of for row in AMOUNTS.values()} <= {
        key for key, row in STUFF.items() if row.kind == "ingredient"
    }


def test_every_spoon_is_in_the_table_of_spoons() -> None:
    assert {row.spoon for row in STUFF.values() if row.spoon} <= set(ITEMS)


def test_water_weighs_what_the_core_says() -> None:
    assert STUFF["water"].density == pytest.approx(water_density(), abs=5e-5)


def test_no_two_things_claim_the_same_unit() -> None:
    claims = [dimension(row.units[0]) for row in STUFF.values() if row.natural]
    assert len(claims) == len(set(claims)) == len(natural())


def test_an_amount_nobody_can_say_is_no_reading() -> None:
    assert read_as("gum_arabic") is None
    assert read_as("hot_water") == "water"


@pytest.mark.parametrize(
    ("row", "complaint"),
    [
        ({"units": ["g"]}, "units and range"),
        ({"range": [1.0, 2.0]}, "units and range"),
        ({"density": 1.3}, "needs its source"),
        ({"label": None}, "name on the label"),
        ({"takes": ["volume"]}, "by the spoon"),
        ({"colour": "red"}, "Extra inputs"),
    ],
)
def test_a_row_that_forgets_something_is_refused(row: dict[str, object], complaint: str) -> None:
    whole = {"key": "honey", "kind": "ingredient", "words": "honey", "label": "honey"}
    assert Stuff.model_validate(whole).words == "honey"
    with pytest.raises(ValidationError, match=complaint):
        Stuff.model_validate(whole | row)
