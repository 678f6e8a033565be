"""Where grammars, recipes and recordings are: inside the wheel, or beside a checkout."""

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


def folder(name: str) -> Traversable:
    """The folder `grammars`, `recipes` or `audio_fixtures`.

    >>> sorted({p.name.rsplit(".")[-1] for p in folder("grammars").iterdir()})
    ['jsgf']
    """
    packaged = files("assistant").joinpath("_data", name)
    if packaged.is_dir():
        return packaged
    return Path(__file__).resolve().parents[2] / name
