"""Which card the ways of asking lean to, all of one card together.

The nearest single way of asking is easily a chance hit. A softmax over the directions, fitted to
all of them, knows what the ways of asking one card have in common. With a fifth of 1,808 of them
left out in turn, it put 60 % with their own card, and the nearest ones did 54 %.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.gist.model import Direction

_SCALE = 8.0
_DECAY = 1e-4
_STEPS = 200
_RATE = 2.0
_MOMENTUM = 0.9
"""Fitted by gradient descent; the values gave the best fifths left out."""


@dataclass(frozen=True)
class Leaning:
    """A fitted softmax. weights : one column a label"""

    labels: tuple[str, ...]
    weights: NDArray[np.float32]

    def of(self, direction: Direction) -> dict[str, float]:
        """The share of each label in what the direction leans to (0 to 1, together 1)."""
        if not self.labels:
            return {}
        heights = _SCALE * direction @ self.weights
        shares = np.exp(heights - heights.max())
        shares /= shares.sum()
        return dict(zip(self.labels, map(float, shares), strict=True))


def fit(labels: Sequence[str], directions: NDArray[np.float32]) -> Leaning:
    """The softmax that puts the directions with their labels."""
    names = tuple(sorted(set(labels)))
    place = {name: at for at, name in enumerate(names)}
    wanted = np.eye(len(names), dtype=np.float32)[[place[label] for label in labels]]
    inputs = _SCALE * directions
    weights = np.zeros((directions.shape[1], len(names)), dtype=np.float32)
    step = np.zeros_like(weights)
    for _ in range(_STEPS):
        heights = inputs @ weights
        shares = np.exp(heights - heights.max(axis=1, keepdims=True))
        shares /= shares.sum(axis=1, keepdims=True)
        slope = inputs.T @ (shares - wanted) / len(inputs) + _DECAY * weights
        step = _MOMENTUM * step - _RATE * slope
        weights += step
    return Leaning(names, weights)
