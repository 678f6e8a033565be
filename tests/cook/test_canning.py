"""The tested way to the shelf: open where every condition is met, refused where one is missing."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from assistant.calc.canning import process_named
from assistant.cook import Batch, Line, begin, step
from assistant.cook.canning import missing
from assistant.cook.keeping import closed_until, keeping
from assistant.facts.events import (
    RULES,
    Begin,
    Bottle,
    Choose,
    Moved,
    Onward,
    Reading,
    Sign,
    Undo,
    event_adapter,
)
from assistant.recipebook.files import load_recipe, recipe_names

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
Told = list[dict[str, Any]]


def told(**changes: Any) -> Told:
    """A batch as it is told from juice to seal; a change by its name, None leaves it out."""
    rows: dict[str, Any] = {
        "fruit": {"kind": "choose", "option": "fruit", "value": "raspberry"},
        "juice": {"kind": "reading", "what": "juice", "value": 1000, "unit": "ml"},
        "sugar": {"kind": "onward"},
        "boil": {"kind": "reading", "what": "temperature", "value": 101, "unit": "degC"},
        **{f"hold_{n}": {"kind": "reading", "what": "temperature", "value": 101, "unit": "degC"}
           for n in range(4)},
        "ph": {"kind": "reading", "what": "ph", "value": 3.3, "unit": "pH"},
        "fill": {"kind": "reading", "what": "temperature", "value": 93, "unit": "degC"},
        "jars": {"kind": "bottle", "count": 8, "size_ml": 236},
        "boiled": {"kind": "choose", "option": "boiled_in_jar", "value": "15 min, 400 m"},
        "stood": {"kind": "onward", "later": timedelta(hours=13)},
        "sealed": {"kind": "choose", "option": "sealed", "value": "all"},
    }  # fmt: skip
    rows = {**rows, **changes}
    return [row for row in rows.values() if row is not None]


def made(rows: Told, recipe: str = "jar-boiled-berry-syrup") -> tuple[Batch, tuple[Line, ...]]:
    card = load_recipe(recipe).model_dump(mode="json")
    batch, reply = begin(Begin(at=START, batch="b", recipe=card, rules=RULES))
    now = START
    for row in rows:
        now += row.get("later", timedelta(seconds=30))
        fields = {key: value for key, value in row.items() if key != "later"}
        batch, reply = step(batch, event_adapter.validate_python({**fields, "at": now}))
    return batch, reply.lines


def shelf(batch: Batch) -> int | None:
    return keeping(batch, "cupboard").days


@pytest.mark.parametrize(
    ("metres", "minutes"),
    # USDA Complete Guide to Home Canning (AIB 539), guide 2, berry syrup, table 1; 1,000 and 6,000
    # feet are 304.8 and 1828.8 m
    [(0, 10), (304, 10), (306, 15), (1828, 15), (1830, 20), (2900, 20)],
)
def test_the_published_time_by_height(metres: float, minutes: float) -> None:
    assert process_named("berry-syrup").minutes_at(metres) == minutes


def test_the_shelf_is_open_where_every_condition_is_met() -> None:
    batch, lines = made(told())
    assert missing(batch) == ()
    assert [line.id for line in lines][:1] == ["shelf_open"]
    assert shelf(batch) == 180  # this project's own: common practice, no source
    moved, _ = step(batch, Moved(at=START + timedelta(days=1), place="cupboard"))
    assert moved.stored.place == "cupboard"
    assert closed_until(moved, START) == date(2026, 7, 11) + timedelta(days=180)


LACKING = [
    ("fruit", {"fruit": None}),
    ("fruit", {"fruit": {"kind": "choose", "option": "fruit", "value": "blackcurrant"}}),
    ("sugar", {"sugar": {"kind": "reading", "what": "sugar", "value": 900, "unit": "g"}}),
    ("sugar", {"sugar": {"kind": "reading", "what": "sugar", "value": 1400, "unit": "g"}}),
    ("ph", {"ph": {"kind": "reading", "what": "ph", "value": 4.2, "unit": "pH"}}),
    ("ph", {"ph": {"kind": "reading", "what": "ph", "value": 3.7, "unit": "pH"}}),
    ("boil", {"hold_1": None, "hold_2": None, "hold_3": None}),
    ("filling", {"fill": {"kind": "reading", "what": "temperature", "value": 60, "unit": "degC"}}),
    ("filling", {"jars": {"kind": "bottle", "count": 8, "size_ml": 236,
                          "later": timedelta(minutes=20)}}),
    ("jar", {"jars": {"kind": "bottle", "count": 4, "size_ml": 500}}),
    ("jar", {"jars": {"kind": "bottle", "count": 4}}),
    ("time", {"boiled": {"kind": "choose", "option": "boiled_in_jar", "value": "10 min, 400 m"}}),
    ("time", {"boiled": {"kind": "choose", "option": "boiled_in_jar", "value": "15 min, 400 m",
                         "later": timedelta(hours=3)}}),
    ("time", {"boiled": {"kind": "choose", "option": "boiled_in_jar", "value": "30 min, 4000 m"}}),
    ("seal", {"sealed": None}),
    ("seal", {"sealed": {"kind": "choose", "option": "sealed", "value": "some"}}),
    ("seal", {"stood": {"kind": "onward", "later": timedelta(hours=2)}}),
]  # fmt: skip


@pytest.mark.parametrize(("what", "changes"), LACKING)
def test_one_that_is_missing_refuses_it(what: str, changes: dict[str, Any]) -> None:
    batch, _ = made(told(**changes))
    assert what in missing(batch)
    assert shelf(batch) is None
    _, reply = step(batch, Moved(at=START + timedelta(days=2), place="cupboard"))
    ids = [line.id for line in reply.lines]
    assert f"shelf_{what}" in ids or not batch.bottled
    assert batch.stored.place == "fridge"


def test_a_pan_that_cooled_before_the_filling_was_not_filled_hot() -> None:
    rows = told()
    at = next(n for n, row in enumerate(rows) if row["kind"] == "bottle")
    cooled = {"kind": "reading", "what": "temperature", "value": 70, "unit": "degC"}
    batch, _ = made([*rows[:at], cooled, *rows[at:]])
    assert batch.bottled is not None
    assert missing(batch) == ("filling",)


def test_a_checked_meter_may_read_up_to_where_makers_stay() -> None:
    rows = told(ph={"kind": "reading", "what": "ph", "value": 3.7, "unit": "pH"})
    meter = {"kind": "choose", "option": "ph_by", "value": "meter"}
    assert missing(made([*rows, meter])[0]) == ()


def test_what_goes_in_besides_is_another_syrup() -> None:
    rows = told()
    extra = {"kind": "reading", "what": "glycerin", "value": 15, "unit": "ml"}
    batch, _ = made([*rows[:3], extra, *rows[3:]])
    assert "else" in missing(batch)
    assert shelf(batch) is None


def test_a_sign_of_spoilage_closes_it_again() -> None:
    batch, _ = made(told())
    after, _ = step(batch, Sign(at=START + timedelta(days=3), what="fizzing"))
    assert "stopped" in missing(after)


def test_what_is_taken_back_is_missing_again() -> None:
    batch, _ = made(told())
    back, _ = step(batch, Undo(at=START + timedelta(days=1)))
    assert "seal" in missing(back)
    assert shelf(back) is None


def test_a_changed_recipe_is_another_process() -> None:
    card = load_recipe("jar-boiled-berry-syrup").model_dump(mode="json")
    card["targets"]["brix"] = 50.0
    batch, _ = begin(Begin(at=START, batch="b", recipe=card, rules=RULES))
    assert missing(batch) == ("recipe",)


@pytest.mark.parametrize("name", [n for n in recipe_names() if n != "jar-boiled-berry-syrup"])
def test_no_other_recipe_comes_to_the_shelf_by_saying_so(name: str) -> None:
    card = load_recipe(name).model_dump(mode="json")
    batch, _ = begin(Begin(at=START, batch="b", recipe=card, rules=RULES))
    for event in (
        Bottle(at=START, count=4, size_ml=236),
        Choose(at=START, option="boiled_in_jar", value="30 min, 0 m"),
        Onward(at=START),
        Choose(at=START + timedelta(days=1), option="sealed", value="all"),
    ):
        batch, _ = step(batch, event)
    assert missing(batch) == ("recipe",)
    assert shelf(batch) is None


def test_a_ph_that_rises_afterwards_closes_it() -> None:
    batch, _ = made(told())
    higher = Reading(at=START + timedelta(days=2), what="ph", value=4.3, unit="pH")
    after, _ = step(batch, higher)
    assert shelf(after) is None


@pytest.mark.parametrize("fruit", process_named("berry-syrup").fruits)
def test_the_recipe_asks_for_the_sugar_that_was_tested(fruit: str) -> None:
    # 6 3/4 cups, 1350 g by USDA SR28, to 4 1/2 or 5 cups of juice, 1.06 to 1.18 l: AIB 539
    named = {"kind": "choose", "option": "fruit", "value": fruit}
    batch, _ = made(told(fruit=named))
    assert missing(batch) == ()


@pytest.mark.parametrize(
    "value", ["", "soon", "nan min, 400 m", "15 min", "-5 min, 0 m", "1e9 min, 0 m"]
)
def test_a_boiling_that_is_told_oddly_counts_for_nothing(value: str) -> None:
    odd = {"kind": "choose", "option": "boiled_in_jar", "value": value}
    batch, _ = made(told(boiled=odd))
    assert batch.canned is None
    assert shelf(batch) is None
