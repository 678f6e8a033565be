"""The command: makes a set, or goes on with one that was broken off."""

import argparse
import hashlib
import json
import sys
import time
from collections import Counter
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path
from typing import get_args

import platformdirs
import soundfile

from tests.bench.corpus.making import write
from tests.bench.corpus.plan import Row, SetName, rows
from tests.bench.corpus.speakers import SPEAKERS, missing
from tests.bench.scoring import FOLDER

FIRST = 20
"""Rows that stand for all: a larger set begins with those of a smaller one."""
SIZES = {"dev": 800, "held": 3200, "nonspeech": 340, "nonspeech-dev": 50}


SOUND = ("making", "mixing", "rooms", "synthesisers", "human", "talk", "fixture_tools")


def stamp(wanted: list[Row]) -> str:
    """What the recordings depend on: their rows, and the code that makes sound of a row."""
    here = Path(__file__).parent
    code = [here / f"{name}.py" for name in SOUND]
    found = hashlib.sha256()
    for path in [*code, here / "talk_words.toml", *sorted(FOLDER.glob("*.py"))]:
        found.update(path.read_bytes())
    found.update(json.dumps([row.line() for row in wanted[:FIRST]]).encode())
    return found.hexdigest()


def prepare(folder: Path, mark: str) -> None:
    """Keep recordings that were made alike, remove others."""
    folder.mkdir(parents=True, exist_ok=True)
    known = folder / "stamp"
    if not known.exists() or known.read_text("utf-8") != mark:
        for old in [*folder.glob("*.flac"), *folder.glob(".*.flac")]:
            old.unlink()
    known.write_text(mark, "utf-8")


def make(folder: Path, row: Row) -> float:
    """The length of a recording [s], made unless it is there."""
    path = folder / row.file
    return float(soundfile.info(path).duration) if path.exists() else write(row, folder)


def lengths(folder: Path, wanted: list[Row], jobs: int) -> Iterable[float]:
    """Make them all, in order."""
    if jobs == 1:
        return map(partial(make, folder), wanted)
    with ProcessPoolExecutor(jobs) as pool:
        return list(pool.map(partial(make, folder), wanted, chunksize=8))


def made(folder: Path, wanted: list[Row], jobs: int) -> float:
    """Make what is wanted and write the manifest as it grows; all seconds together."""
    total, begun = 0.0, time.perf_counter()
    with (folder / "manifest.jsonl").open("w", encoding="utf-8") as manifest:
        for start in range(0, len(wanted), 100):
            part = wanted[start : start + 100]
            for row, seconds in zip(part, lengths(folder, part, jobs), strict=True):
                total += seconds
                print(json.dumps({**row.line(), "seconds": round(seconds, 3)}), file=manifest)
            manifest.flush()
            spent = time.perf_counter() - begun
            print(f"{start + len(part)} of {len(wanted)}, {spent:.0f} s", file=sys.stderr)
    return total


def check_voices(wanted: list[Row]) -> None:
    """Leave with the list of what to install, when a voice of the set can't speak."""
    names = {row.voice for row in wanted}
    lacking = missing(tuple(each for each in SPEAKERS if each.name in names))
    if lacking:
        print("Voices are missing. Install them first:", *lacking, sep="\n  ", file=sys.stderr)
        sys.exit(4)


def main() -> None:
    """Make a set."""
    options = argparse.ArgumentParser(prog="python -m tests.bench.corpus", description=__doc__)
    options.add_argument("--out", type=Path, help="default: the user's cache folder")
    options.add_argument("--split", choices=get_args(SetName), required=True)
    options.add_argument("--size", type=int, help="recordings")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--jobs", type=int, default=1)
    options.add_argument("--list", action="store_true", help="only print the plan")
    given = options.parse_args()
    folder = given.out or Path(platformdirs.user_cache_dir("panside-bench")) / given.split
    wanted = list(rows(given.split, given.size or SIZES[given.split], given.seed))
    if given.list:
        print(*(json.dumps(row.line()) for row in wanted), sep="\n")
        return
    check_voices(wanted)
    prepare(folder, stamp(wanted))
    seconds = made(folder, wanted, given.jobs)
    kinds = Counter(row.voice_kind for row in wanted)
    print(f"{len(wanted)} recordings, {seconds / 3600:.2f} h, in {folder}; {dict(kinds)}")


if __name__ == "__main__":
    main()
