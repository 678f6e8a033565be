"""What no calculation is asked: a number that is none, less than nothing, a batch of nothing."""

import inspect
from collections.abc import Callable, Mapping
from functools import wraps
from math import isfinite
from typing import Any

from assistant.base.errors import WrongUse
from assistant.calc.answer import Answer

MOST = 1e9
"""No weight, volume, time or price in a kitchen is larger, in any of the units used here. [any]"""
MAY_BE_ZERO = frozenset(
    {
        "acidity_g_l",
        "added_g",
        "alkalinity_mg_l",
        "base_ml",
        "benzoate_g_l",
        "brix",
        "first_brix",
        "fruit_brix",
        "juice_brix",
        "minutes",
        "ph_unsure",
        "reading",
        "second_brix",
        "sorbate_g_l",
        "sugar_g",
        "syrup_brix",
        "target_brix",
        "water_g",
        "water_parts",
        "yield_percent",
    }
)
"""What a question may be asked without. Everything else that has no default of 0 is there, or
there is no question: a batch of 0 litres needs no acid, and "add none" would pass for advice."""


def guarded(function: Callable[..., Answer]) -> Callable[..., Answer]:
    """A calculation that refuses what cannot be, before it is asked and after it has answered.

    function : of `SUBJECTS`
    Returns the same with WrongUse for numbers that are none or below what can be.

    >>> from assistant.reckon.sugar import weight
    >>> guarded(weight)(volume_ml=0.0, brix=60.0)
    Traceback (most recent call last):
    assistant.base.errors.WrongUse: volume_ml of 0 can't be: give a number above 0
    """
    parameters = inspect.signature(function).parameters

    @wraps(function)
    def asked(**given: Any) -> Answer:
        for name, value in given.items():
            if isinstance(value, int | float) and not isinstance(value, bool):
                _possible(parameters[name], float(value))
        answer = function(**given)
        _finite(answer.values)
        return answer

    return asked


def _possible(parameter: inspect.Parameter, value: float) -> None:
    name = parameter.name
    if not isfinite(value) or abs(value) > MOST:
        raise WrongUse(f"{name} of {value:g} can't be: give a number a kitchen could have")
    if name.endswith("_c"):
        return
    if value < 0:
        raise WrongUse(f"{name} of {value:g} can't be: give a number that is not below 0")
    if value == 0 and name not in MAY_BE_ZERO and parameter.default != 0:
        raise WrongUse(f"{name} of 0 can't be: give a number above 0")


def _finite(values: Mapping[str, float]) -> None:
    for name, value in values.items():
        if not isfinite(value):
            raise WrongUse(f"these numbers together give no {name} that could be: check them")
