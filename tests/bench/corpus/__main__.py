"""The command: makes a set, or goes on with one that was broken off."""

import argparse
import json
import os
import sys
from collections import Counter
from pathlib import Path
from typing import get_args

import platformdirs

from tests.bench.corpus.batch import made
from tests.bench.corpus.plan import SEED, Row, SetName, rows
from tests.bench.corpus.speakers import SPEAKERS, Speaker, missing
from tests.bench.corpus.synthesisers import KOKORO_VOICES

SIZES = {"dev": 1200, "held": 3400, "nonspeech": 400, "nonspeech-dev": 50}


def planned(given: argparse.Namespace) -> list[Row]:
    """The rows; leaves with the list of what to install when one of their voices can't speak."""
    absent = frozenset(each.name for each in missing(SPEAKERS))
    without = absent if given.without_missing else frozenset[str]()
    size = given.size or SIZES[given.split]
    wanted = list(rows(given.split, size, given.seed, without))
    names = {row.voice for row in rows(given.split, size, given.seed)}
    lacking = [each for each in SPEAKERS if each.name in names & absent]
    if lacking and not given.list:
        print(told(lacking, given.without_missing), file=sys.stderr)
        if not given.without_missing:
            sys.exit(4)
    return wanted


def told(lacking: list[Speaker], left_out: bool) -> str:
    """Which voices can't speak, and what each needs."""
    head = (
        "Voices are missing and left out; the set is another one than with them"
        if left_out
        else "Voices are missing. Install them first, or leave them out with --without-missing"
    )
    needs = dict.fromkeys(each.needs for each in lacking)
    lines = [
        f"  {', '.join(each.name for each in lacking if each.needs == need)}: {need}"
        for need in needs
    ]
    return "\n".join([f"{head}:", *lines])


def options() -> argparse.ArgumentParser:
    """What can be asked for."""
    found = argparse.ArgumentParser(prog="python -m tests.bench.corpus", description=__doc__)
    found.add_argument("--out", type=Path, help="default: the user's cache folder")
    found.add_argument("--split", choices=get_args(SetName), required=True)
    found.add_argument("--size", type=int, help="recordings")
    found.add_argument("--seed", type=int, default=SEED)
    found.add_argument("--jobs", type=int, default=1, help="processes; the result is the same")
    found.add_argument(
        "--kokoro-voices", type=Path, metavar="DIR", help=f"English styles; else {KOKORO_VOICES}"
    )
    found.add_argument(
        "--without-missing", action="store_true", help="leave out voices that are not installed"
    )
    found.add_argument("--list", action="store_true", help="only print the plan")
    return found


def main(arguments: list[str] | None = None) -> None:
    """Make a set."""
    given = options().parse_args(arguments)
    if given.kokoro_voices:
        os.environ[KOKORO_VOICES] = str(given.kokoro_voices.resolve())
    folder = given.out or Path(platformdirs.user_cache_dir("panside-bench")) / given.split
    wanted = planned(given)
    if given.list:
        print(*(json.dumps(row.line()) for row in wanted), sep="\n")
        return
    done = made(folder, wanted, given.jobs)
    kinds = Counter(row.voice_kind for row in wanted)
    print(f"{len(wanted)} recordings, {done.seconds / 3600:.2f} h, in {folder}; {dict(kinds)}")
    if done.made:
        print(f"Work a recording: {done.told()}")


if __name__ == "__main__":
    main()
