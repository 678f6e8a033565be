"""Tested ways to the shelf: for which fruit, in what jar, how long boiled and how high up."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from assistant.calc.bounds import inside


@dataclass(frozen=True)
class Process:
    """One row of `canning.toml`, which explains each key."""

    title: str
    source: str
    fruits: tuple[str, ...]
    sugar_low: float
    sugar_high: float
    most_ml: float
    times: tuple[tuple[float, float], ...]
    highest_m: float

    def minutes_at(self, altitude_m: float) -> float:
        """How long filled jars are boiled.

        Parameters
        ----------
        altitude_m : float
            Height of the kitchen over the sea. [m]

        Returns
        -------
        float
            Time from when the water boils again. [min]

        Valid from 0 to the process's highest; OutOfRange outside.

        >>> process_named("berry-syrup").minutes_at(400)
        15.0

        References: the process's own source.
        """
        inside("height", altitude_m, 0.0, self.highest_m, "m")
        return next(minutes for up_to, minutes in self.times if altitude_m <= up_to)


@cache
def processes() -> dict[str, Process]:
    """Every process by its name."""
    text = files(__package__).joinpath("canning.toml").read_text("utf-8")
    return {name: _process(row) for name, row in tomllib.loads(text).items()}


def _process(row: dict[str, object]) -> Process:
    lists = {key: tuple(value) for key, value in row.items() if isinstance(value, list)}
    times = tuple((float(up_to), float(minutes)) for up_to, minutes in lists["times"])
    return Process(**{**row, **lists, "times": times})  # type: ignore[arg-type]


def process_named(name: str) -> Process:
    """The process of that name; KeyError where none was published.

    >>> process_named("berry-syrup").most_ml
    473.2
    """
    return processes()[name]
