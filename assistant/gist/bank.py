"""A bank of labelled sentences, and which labels a new sentence lies nearest to."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from assistant.gist.model import Direction


class Near(NamedTuple):
    """A label and how alike its nearest sentence is (-1 to 1)."""

    label: str
    alike: float
    sentence: str


@dataclass(frozen=True)
class Bank:
    """Sentences with their labels and directions.

    directions : one row a sentence, unit length
    """

    labels: Sequence[str]
    sentences: Sequence[str]
    directions: NDArray[np.float32]

    def nearest(self, direction: Direction, most: int = 3) -> tuple[Near, ...]:
        """The labels nearest to a direction, best first, each by its own nearest sentence."""
        alike = self.directions @ direction
        found: dict[str, Near] = {}
        for at in np.argsort(-alike, kind="stable"):
            label = self.labels[at]
            if label not in found:
                found[label] = Near(label, float(alike[at]), self.sentences[at])
            if len(found) == most:
                break
        return tuple(found.values())
