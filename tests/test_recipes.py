"""Every recipe loads and can be walked to its end; bad ones are refused with line and mend."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from assistant.base.data import folder
from assistant.base.errors import BadRecipe, WrongUse
from assistant.cook import begin, step
from assistant.cook.kinds import Cool, Heat, Hold, Measure, Option, Reduce, Rest
from assistant.cook.stock import start_mass
from assistant.facts.events import Begin, Bottle, Onward, Reading, Yes
from assistant.recipebook.files import load_recipe, read_recipe, recipe_names

GOOD = folder("recipes").joinpath("berry-syrup.toml").read_text("utf-8")


@pytest.mark.parametrize("name", recipe_names())
def test_a_recipe_is_walked_to_its_end(name: str) -> None:
    recipe = load_recipe(name)
    now = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
    batch, _ = begin(Begin(at=now, batch="b", recipe=recipe.model_dump(mode="json")))
    units = {
        "fruit": ("kg", 2.0),
        "juice": ("l", 2.4),
        "water": ("l", 1.5),
        "ph": ("pH", 3.2),
        "brix": ("Brix", 25),
    }
    for _ in range(4 * len(recipe.stages)):
        stage = batch.stage
        if stage is None:
            break
        now += timedelta(seconds=50)
        event: object = Onward(at=now)
        if isinstance(stage, Measure):
            unit, value = units[stage.reading]
            event = Reading(at=now, what=stage.reading, value=value, unit=unit)  # type: ignore[arg-type]
        elif isinstance(stage, Heat | Hold):
            event = Reading(at=now, what="temperature", value=stage.target_c + 1, unit="degC")
        elif isinstance(stage, Cool):
            event = Reading(at=now, what="temperature", value=stage.below_c, unit="degC")
        elif isinstance(stage, Option):
            event = Yes(at=now)
        elif isinstance(stage, Rest):
            now += timedelta(minutes=stage.minutes)
            event = Onward(at=now)
        elif isinstance(stage, Reduce):
            light = stage.to_share * start_mass(batch)
            event = Reading(at=now, what="yield", value=light, unit="g")
        elif stage.kind == "bottle":
            event = Bottle(at=now, count=8, size_ml=500)
        batch, _ = step(batch, event)  # type: ignore[arg-type]
    assert batch.ended == "finished"
    assert batch.skipped == frozenset()


def _bad(tmp_path: Path, text: str) -> str:
    file = tmp_path / "mine.toml"
    file.write_text(text, "utf-8")
    with pytest.raises(BadRecipe) as caught:
        read_recipe(file)
    return str(caught.value)


def _line(text: str, start: str) -> int:
    return 1 + next(i for i, line in enumerate(text.splitlines()) if line.startswith(start))


@pytest.mark.parametrize(
    ("old", "new", "says", "at"),
    [
        ("brix = 62.0", "brix = 95.0", "brix must be 80 or less", "brix = 95.0"),
        ("share = 0.25", "share = -1", "share must be more than 0", "share = -1"),
        (
            'acidity = "acid"',
            'acidity = "sour"',
            "acidity must be one of 'acid'",
            'acidity = "sour"',
        ),
        ("target_c = 75.0", "target_c = 40.0", "must be 60 or more", "target_c = 40.0"),
        (
            'summary = "',
            'sumary = "',
            "sumary is no key that belongs here. Did you mean 'summary'?",
            'sumary = "',
        ),
    ],
)
def test_a_bad_value_is_named_with_its_line(
    tmp_path: Path, old: str, new: str, says: str, at: str
) -> None:
    text = GOOD.replace(old, new, 1)
    assert text != GOOD
    message = _bad(tmp_path, text)
    assert says in message
    assert f"line {_line(text, at)}:" in message


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('amount = "main_sugar"', 'amount = "moon_dust"', "moon_dust"),
        ("for {rest};", "for {moon};", "names {moon}"),
        ('id = "steep"', 'id = "strain"', "same id"),
        ('reading = "ph"', 'reading = "brix"', "pH must be measured before bottling"),
        ("ph_high = 3.6", "ph_high = 5.0", "mark the recipe so, or aim lower"),
        ('when = "glycerin"', 'when = "gin"', "nobody asked about"),
        ("ceiling_c = 82.0", "ceiling_c = 75.0", "ceiling at or below its target"),
        ('storage = "fridge"', 'storage = "shelf"', "storage"),
        ('reading = "fruit"', 'reading = "juice"', "first stage must measure the fruit"),
    ],
)
def test_a_recipe_that_does_not_hang_together_is_refused(
    tmp_path: Path, old: str, new: str, says: str
) -> None:
    assert says in _bad(tmp_path, GOOD.replace(old, new, 1))


def test_a_file_that_is_no_toml_names_the_line(tmp_path: Path) -> None:
    assert "line 2" in _bad(tmp_path, 'name = "x"\ntitle = \n')


def test_a_missing_file_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(BadRecipe, match="can't be read"):
        read_recipe(tmp_path / "none.toml")


def test_an_unknown_recipe_names_those_there_are() -> None:
    with pytest.raises(WrongUse, match="berry-syrup"):
        load_recipe("moon-syrup")


def _says(name: str) -> str:
    return " ".join(f"{s.say} {s.why} {s.caution or ''}" for s in load_recipe(name).stages)


def test_the_gums_evening_is_told_before_anything_is_begun() -> None:
    assert "evening before" in (load_recipe("gum-syrup").stages[0].caution or "")


@pytest.mark.parametrize("name", [n for n in recipe_names() if "berry" in n])
def test_no_recipe_promises_that_ascorbic_acid_keeps_red_fruit_red(name: str) -> None:
    # J. Berry Res., ascorbic acid and cyanidin-3-glucoside; Iversen, J. Food Sci., black currant
    # nectar: anthocyanins fade faster beside it
    recipe = load_recipe(name)
    put_in = [s for s in recipe.stages if s.kind == "add" and s.amount == "ascorbic_acid"]
    assert all(s.when is not None for s in put_in)
    assert not put_in or "bleach" in _says(name)


@pytest.mark.parametrize(
    "name", ["berry-syrup", "frozen-berry-syrup", "colour-keeping-berry-syrup", "quince-syrup"]
)
def test_what_may_set_is_told_of(name: str) -> None:
    assert "set" in _says(name)


def test_an_enzyme_comes_before_the_heat_that_ends_it() -> None:
    for recipe in map(load_recipe, recipe_names()):
        ids = [s.id for s in recipe.stages]
        if "enzyme" in ids:
            assert ids.index("enzyme") < ids.index("heat") < ids.index("hold")


def test_solutions_for_the_bar_are_there() -> None:
    known = set(recipe_names())
    wanted = {"saline", "citric", "lactic", "phosphoric"}
    assert {f"{one}-solution" for one in wanted} <= known
