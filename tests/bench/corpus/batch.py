"""A set of recordings on disk: what is there and fits is kept, the rest is made, in any order.

The manifest grows by a line as each recording is done and is put in order at the end. A recording
is kept if its line says what is wanted now, and was made by the code as it stands now.
"""

import hashlib
import json
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from tests.bench.corpus.making import write
from tests.bench.corpus.plan import Row
from tests.bench.scoring import FOLDER

SOUND = (
    "making.py", "mixing.py", "rooms.py", "synthesisers.py", "human.py", "talk.py", "numbers.py",
    "fixture_tools.py", "talk_dev.toml", "talk_held.toml",
)  # fmt: skip
MANIFEST = "manifest.jsonl"
_TELL_EACH = 20
Line = dict[str, Any]


@dataclass
class Done:
    """What came of making a set: length of the sound [s], recordings and work [s] by kind."""

    seconds: float = 0.0
    made: int = 0
    work: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))

    def told(self) -> str:
        """Seconds of work a recording, by kind of voice."""
        return ", ".join(
            f"{kind} {sum(spent) / len(spent):.1f} s x {len(spent)}"
            for kind, spent in sorted(self.work.items())
        )


def code() -> str:
    """A checksum of the code that makes sound of a row."""
    here = Path(__file__).parent
    found = hashlib.sha256()
    for path in [*(here / name for name in SOUND), *sorted(FOLDER.glob("*.py"))]:
        found.update(path.read_bytes())
    return found.hexdigest()[:16]


def line_of(row: Row, mark: str) -> Line:
    """The manifest's line of a row without its length, as JSON gives it back."""
    line: Line = json.loads(json.dumps({**row.line(), "code": mark}))
    return line


def lengths(folder: Path, wanted: list[Line]) -> dict[str, float]:
    """The length [s] of each recording that is there as it is wanted."""
    manifest = folder / MANIFEST
    known = {line["file"]: line for line in _lines(manifest)} if manifest.exists() else {}
    return {
        line["file"]: found["seconds"]
        for line in wanted
        if (found := known.get(line["file"])) is not None
        and {key: value for key, value in found.items() if key != "seconds"} == line
        and (folder / line["file"]).is_file()
    }


def _lines(manifest: Path) -> Iterator[Line]:
    """Whole lines; one that was cut off is passed over."""
    for text in manifest.read_text("utf-8").splitlines():
        try:
            line = json.loads(text)
        except ValueError:
            continue
        if "seconds" in line:
            yield line


def _written(folder: Path, wanted: list[Line], known: dict[str, float]) -> None:
    """The manifest of what is there, in order; never half of it under its name."""
    half_done = folder / f".{MANIFEST}"
    rows = [{**line, "seconds": known[line["file"]]} for line in wanted if line["file"] in known]
    half_done.write_text("".join(f"{json.dumps(row)}\n" for row in rows), "utf-8")
    half_done.rename(folder / MANIFEST)


def timed(folder: Path, row: Row) -> tuple[float, float]:
    """Make a recording: its length and the time that it took [s]."""
    begun = time.perf_counter()
    seconds = round(write(row, folder), 3)
    return seconds, time.perf_counter() - begun


def _all(folder: Path, todo: list[Row], jobs: int) -> Iterator[tuple[float, float]]:
    if jobs == 1:
        yield from map(partial(timed, folder), todo)
        return
    with ProcessPoolExecutor(jobs, get_context("spawn")) as pool:
        yield from pool.map(partial(timed, folder), todo)


def made(folder: Path, wanted: list[Row], jobs: int) -> Done:
    """Make what is wanted and is not there, remove what is not wanted."""
    folder.mkdir(parents=True, exist_ok=True)
    mark = code()
    lines = [line_of(row, mark) for row in wanted]
    known = lengths(folder, lines)
    for old in [*folder.glob("*.flac"), *folder.glob(".*.flac")]:
        if old.name not in known:
            old.unlink()
    _written(folder, lines, known)
    done = _made(folder, [row for row in wanted if row.file not in known], jobs, mark, known)
    _written(folder, lines, known)
    done.seconds = sum(known.values())
    return done


def _made(folder: Path, todo: list[Row], jobs: int, mark: str, known: dict[str, float]) -> Done:
    done, begun = Done(), time.perf_counter()
    print(f"{len(known)} there, {len(todo)} to make", file=sys.stderr)
    with (folder / MANIFEST).open("a", encoding="utf-8") as manifest:
        for row, (seconds, spent) in zip(todo, _all(folder, todo, jobs), strict=True):
            known[row.file] = seconds
            line = {**line_of(row, mark), "seconds": seconds}
            print(json.dumps(line), file=manifest, flush=True)
            done.made += 1
            done.work[row.voice_kind].append(spent)
            if done.made % _TELL_EACH == 0 or done.made == len(todo):
                _tell(done.made, len(todo), time.perf_counter() - begun)
    return done


def _tell(made: int, of: int, spent: float) -> None:
    left = (of - made) * spent / made / 60
    print(f"{made} of {of}, {spent:.0f} s, about {left:.0f} min to go", file=sys.stderr, flush=True)
