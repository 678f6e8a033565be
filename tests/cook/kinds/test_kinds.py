"""The kinds of stage are a closed union, and none can be half made."""

import pkgutil
import re
from importlib import import_module
from pathlib import Path
from typing import ClassVar, Literal

import pytest

from assistant.cook import kinds
from assistant.cook.kinds import KINDS, AnyStage, StageBase
from assistant.cook.parts import tags
from assistant.recipebook.files import load_recipe, recipe_names

NAMES = tags(AnyStage, "kind")


def _modules() -> list[str]:
    return [name for _, name, _ in pkgutil.iter_modules(kinds.__path__)]


def _declared(module: str) -> list[type[StageBase]]:
    found = vars(import_module(f"assistant.cook.kinds.{module}")).values()
    return [
        each
        for each in found
        if isinstance(each, type)
        and issubclass(each, StageBase)
        and each is not StageBase
        and each.__module__.endswith(f".{module}")
    ]


def test_every_kind_in_the_folder_is_in_the_union_and_alone_in_its_module() -> None:
    declared = {module: _declared(module) for module in _modules()}
    assert all(len(found) <= 1 for found in declared.values())
    assert {one for found in declared.values() for one in found} == set(KINDS)


def test_every_kind_goes_by_a_name_of_its_own() -> None:
    assert len(set(NAMES)) == len(KINDS)


@pytest.mark.parametrize("kind", KINDS, ids=NAMES)
def test_no_kind_is_half_made(kind: type[StageBase]) -> None:
    assert getattr(kind, "__abstractmethods__", None) == frozenset()


@pytest.mark.parametrize("name", NAMES)
def test_every_kind_is_used_by_a_recipe(name: str) -> None:
    stages = [stage for recipe in recipe_names() for stage in load_recipe(recipe).stages]
    assert any(stage.kind == name for stage in stages)


def test_the_manual_names_every_kind() -> None:
    manual = Path(__file__).parents[3] / "DEVELOPERS.md"
    listed = re.search(r"stages\n\s+a kind \(([^)]*)\)", manual.read_text("utf-8"))
    assert listed is not None
    assert re.findall(r"`(\w+)`", listed[1]) == list(NAMES)


def test_a_kind_that_forgets_what_it_does_cannot_be_made() -> None:
    class Taste(StageBase):
        can_wait: ClassVar[bool] = True
        once: ClassVar[bool] = False
        taps: ClassVar[tuple[str, ...]] = ()

        kind: Literal["taste"]

    with pytest.raises(TypeError, match=r"abstract methods? .*awaits.*done.*glance"):
        Taste(id="taste", kind="taste", say="Taste it.", why="")  # type: ignore[abstract]


def test_a_kind_that_forgets_to_say_what_it_is_is_refused_when_it_is_read() -> None:
    with pytest.raises(TypeError, match="Taste does not say once, taps"):

        class Taste(StageBase):
            can_wait: ClassVar[bool] = True

            kind: Literal["taste"]
