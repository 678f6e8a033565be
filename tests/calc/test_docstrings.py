"""What the calculation core says of itself: parameters, units, range, example and reference."""

import inspect
import re
from collections.abc import Callable
from importlib import import_module
from pkgutil import iter_modules

import pytest

from assistant import calc

SHORT = {"answer", "bounds", "fruits", "preserve", "preserve_ceilings", "spread"}
"""Modules of types and look-ups, which reckon nothing."""


def _functions() -> list[Callable[..., object]]:
    found = []
    for module in iter_modules(calc.__path__):
        if module.ispkg or module.name in SHORT:
            continue
        here = import_module(f"{calc.__name__}.{module.name}")
        found += [
            f
            for name, f in vars(here).items()
            if inspect.isfunction(f) and f.__module__ == here.__name__ and name[0] != "_"
        ]
    return found


FUNCTIONS = _functions()
FULL = [f for f in FUNCTIONS if "Parameters\n" in (inspect.getdoc(f) or "")]
NAMES = [f"{f.__module__.rpartition('.')[2]}.{f.__name__}" for f in FUNCTIONS]


@pytest.mark.parametrize("function", FUNCTIONS, ids=NAMES)
def test_a_function_says_what_it_does_with_what(function) -> None:
    told = inspect.getdoc(function) or ""
    for name in inspect.signature(function).parameters:
        assert re.search(rf"\b{name}\b", told), name


@pytest.mark.parametrize("function", FULL, ids=[f.__qualname__ for f in FULL])
def test_the_six_parts_are_there_in_order(function) -> None:
    told = inspect.getdoc(function) or ""
    parts = ["Parameters\n", "Returns\n", ">>> ", "References"]
    places = [told.find(part) for part in parts]
    assert min(places) > 0
    assert places == sorted(places)
    block = told[places[0] : places[1]]
    assert re.findall(r"^(\w+) : ", block, re.M) == list(inspect.signature(function).parameters)
    assert block.count("[") >= len(inspect.signature(function).parameters)


def test_most_of_the_core_has_all_six_parts() -> None:
    assert len(FULL) > 60
