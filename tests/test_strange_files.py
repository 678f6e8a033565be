"""Files that were spoiled by chance or on purpose: refused in a sentence, or harmless."""

import json
import tomllib
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from batch_maker import Maker
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from strange_values import spoiled, spoiled_lines

from assistant.base.data import folder
from assistant.base.errors import BadRecipe, PansideError, WrongUse
from assistant.cook import Recipe, fold, step
from assistant.facts.events import AnyEvent, Ask, Begin
from assistant.keep import from_lines, to_lines
from assistant.larder import larder, larder_lines
from assistant.recipebook.files import load_recipe, read_recipe, recipe_names
from assistant.report import batch_lines
from assistant.report.recipe_ld import recipe_ld
from assistant.say import shown, spoken

LINES = list(to_lines(Maker().up_to("finished").journal))
NEVER_LONGER = dict(deadline=None, suppress_health_check=list(HealthCheck))
QUESTIONS = ("where", "how_much", "keep", "bottles", "yield", "limit", "may_i", "strong", "larder")


def told(events: tuple[AnyEvent, ...]) -> None:
    """Everything that is said and shown of a batch."""
    batch, reply = fold(events)
    for each in (reply, *(step(batch, Ask(at=events[-1].at, topic=t))[1] for t in QUESTIONS)):
        assert isinstance(spoken(each), str)
        assert isinstance(shown(each), list)
    assert batch_lines(events)
    assert larder_lines(larder([events], date(2026, 7, 20)))


@settings(max_examples=120, derandomize=True, **NEVER_LONGER)
@given(spoiled_lines(LINES))
def test_a_spoiled_journal_is_refused_or_told_whole(lines: list[str]) -> None:
    try:
        events = from_lines(lines, "spoiled.jsonl")
        if not events or not isinstance(events[0], Begin):
            return
        told(events)
    except PansideError:
        return


@pytest.mark.parametrize(
    "line",
    [
        "[" * 100_000,
        '{"a":' * 100_000,
        '{"kind": "note", "at": "2026-07-04T00:00:00Z", "text": ' + "9" * 5000 + "}",
        "\x00" * 100,
        '{"kind": "reading", "at": "2026-07-04T00:00:00Z", "what": "ph", "value": NaN,'
        ' "unit": "pH"}',
    ],
)
def test_lines_meant_to_break_a_reader_are_refused(line: str) -> None:
    with pytest.raises(WrongUse, match="line 1 of evil"):
        from_lines([line], "evil")


SHIPPED = {name: folder("recipes").joinpath(f"{name}.toml").read_text() for name in recipe_names()}


@settings(max_examples=80, derandomize=True, **NEVER_LONGER)
@given(st.data())
def test_a_spoiled_recipe_is_refused_or_can_be_made(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(recipe_names()))
    body = spoiled(tomllib.loads(SHIPPED[name]), data.draw)
    try:
        recipe = Recipe.model_validate(body)
    except (ValidationError, TypeError):
        return
    try:
        made(recipe)
    except PansideError:  # figures that no fruit has: told in a sentence
        return


def made(recipe: Recipe) -> None:
    """Its plain way, with every question asked at every stage."""
    at = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
    maker = Maker.__new__(Maker)
    maker.now, first = at, Begin(at=at, batch="b", recipe=recipe.model_dump(mode="json"))
    maker.journal = [first]
    maker.batch, maker.reply = fold([first])
    base = recipe.base
    maker.reads(base, 2000, "g" if base == "fruit" else "ml")
    for _ in range(2 * len(recipe.stages)):
        for topic in QUESTIONS:
            assert isinstance(spoken(maker.does("ask", topic=topic)), str)
        assert isinstance(spoken(maker.done()), str)
    assert json.dumps(recipe_ld(recipe))


@settings(max_examples=80, **NEVER_LONGER)
@given(data=st.data())
def test_a_recipe_file_of_any_bytes_names_its_line(tmp_path: Path, data: st.DataObject) -> None:
    text = SHIPPED[data.draw(st.sampled_from(recipe_names()))].encode()
    at = data.draw(st.integers(0, len(text)))
    cut = data.draw(st.integers(0, 40))
    put = data.draw(st.binary(max_size=20))
    file = tmp_path / "spoiled.toml"
    file.write_bytes(text[:at] + put + text[at + cut :])
    refused = ""
    try:
        read_recipe(file)
    except BadRecipe as error:
        refused = str(error)
    assert not refused or "spoiled.toml" in refused


@pytest.mark.parametrize(
    "body", ["a=" + "[" * 50_000, "[" + "a." * 50_000 + "b]\n", "\x00", "a=1\n"]
)
def test_a_recipe_meant_to_break_a_reader_is_refused(body: str, tmp_path: Path) -> None:
    file = tmp_path / "evil.toml"
    file.write_text(body)
    with pytest.raises(BadRecipe, match=r"evil\.toml"):
        read_recipe(file)


@pytest.mark.parametrize("name", ["berry-syrup", "plain-syrup"])
def test_a_recipe_can_not_reach_into_the_program(name: str) -> None:
    body: dict[str, Any] = load_recipe(name).model_dump(mode="json")
    body["stages"][1]["say"] = "{fruit.__class__.__mro__}"
    with pytest.raises(ValidationError, match="which it has not"):
        Recipe.model_validate(body)


def test_a_file_too_large_to_be_one_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "large.toml"
    with file.open("wb") as out:
        out.truncate(3_000_000)
    with pytest.raises(BadRecipe, match="too large"):
        read_recipe(file)
