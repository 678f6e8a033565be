"""Batches that are killed on their way: nothing answered is lost, nothing is there twice.

`python -m tests.bench.crash --points 300` is the same at length.
"""

import random
from pathlib import Path

import pytest

from tests.crash.killing import JOURNEYS, NOTES, chat_batch, scripted_batch


def test_a_chat_killed_at_any_byte_goes_on(tmp_path: Path) -> None:
    points = chat_batch(tmp_path, random.Random(7), kills=6)
    assert points.killed == 6
    assert points.events >= NOTES


@pytest.mark.parametrize("script", JOURNEYS, ids=lambda path: path.stem)
def test_a_scripted_batch_killed_again_and_again_ends_the_same(
    tmp_path: Path, script: Path
) -> None:
    points = scripted_batch(tmp_path, script, random.Random(script.stem), kills=3)
    assert (points.killed, points.finished) == (3, 1)
