"""Clips through an engine, in one process or several, each with an engine of its own."""

import os
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from multiprocessing import get_context
from pathlib import Path

from assistant.hear.audio import read_recording
from tests.bench.engines import Engine, Ours, open_engine
from tests.bench.kept import Kept, code_of, key_of
from tests.bench.result import Made, Result
from tests.bench.scoring import FOLDER, Clip

AFTER_WORDS = {"dev": 1.6, "held": 1.6}
"""Sound behind the last word in a set [s]: `corpus.making` leaves 0.35 and 1.25."""
_QUIET = 0.6
"""Load beyond one busy process at which the times no longer count."""


@cache
def _engine(name: str) -> Engine:
    return open_engine(name)


def why(name: str) -> str:
    """What an engine is, opened in a process of its own so that memory is told apart."""
    with ProcessPoolExecutor(1, get_context("spawn")) as pool:
        return pool.submit(_why, name).result()


def _why(name: str) -> str:
    return _engine(name).why


def make(name: str, clip: Clip, folder: Path, alone: bool) -> Made:
    """One clip through the engine of this process."""
    engine = _engine(name)
    made = engine.make(clip, read_recording(folder / clip.file), AFTER_WORDS.get(clip.set))
    quiet = os.getloadavg()[0] < (os.cpu_count() or 1) + _QUIET
    return made.model_copy(update={"alone": alone and quiet})


def run(ears: object, clip: Clip) -> Result:
    """A clip of the repository's recordings through opened ears, for tests."""
    made = Ours(ears).make(clip, read_recording(FOLDER / clip.file))  # type: ignore[arg-type]
    return Result(clip=clip, engine="ours", made=made)


def results(name: str, clips: list[Clip], folder: Path, store: Kept, jobs: int) -> Iterator[Result]:
    """The result of every clip; those not in the store are made, and kept as they come."""
    code = code_of(name)
    keys = {c.file: key_of(c, (folder / c.file).read_bytes(), name, code) for c in clips}
    todo = [clip for clip in clips if store.get(keys[clip.file]) is None]
    _make_all(name, todo, folder, store, keys, jobs)
    for clip in clips:
        made = store.get(keys[clip.file])
        if made is not None:
            yield Result(clip=clip, engine=name, made=made)


def _make_all(
    name: str, todo: list[Clip], folder: Path, store: Kept, keys: dict[str, str], jobs: int
) -> None:
    if not todo:
        return
    begun = time.perf_counter()
    with ProcessPoolExecutor(jobs, get_context("spawn")) as pool:
        waiting = ((clip, pool.submit(make, name, clip, folder, jobs == 1)) for clip in todo)
        for place, (clip, future) in enumerate(list(waiting), start=1):
            store.add(keys[clip.file], future.result())
            if place % 50 == 0 or place == len(todo):
                spent = time.perf_counter() - begun
                print(f"{name}: {place} of {len(todo)}, {spent:.0f} s", file=sys.stderr)


def seconds_of(results: list[Result]) -> float:
    """Length of the sound [s]."""
    return sum(result.made.seconds for result in results)
