"""The model files as they were published: a spoiled one hears something else without a word."""

from collections.abc import Mapping
from pathlib import Path

from assistant.base.errors import ModelSpoiled
from assistant.base.proven import is_as_published


def prove(what: str, files: Mapping[Path, str], mend: str) -> None:
    """ModelSpoiled, with what to do, at the first file that has not the SHA-256 beside it."""
    for file, digest in files.items():
        if not is_as_published(file, digest):
            raise ModelSpoiled(
                f"{what} is spoiled: {file} is not as it was published; {_again(mend)}"
            )


def _again(mend: str) -> str:
    return mend.replace("pip install", "pip install --force-reinstall --no-deps")
