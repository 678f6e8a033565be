"""How well the ears and the understanding do on recordings, and others on the same: a report.

    python -m tests.bench.hearing                                   the repository's recordings
    python -m tests.bench.hearing --corpus DIR [--corpus DIR] [--engines ours,whisper,pocketsphinx]
                                  [--jobs 2] [--every 10] [--report FILE] [--misheard]

Every clip goes through the real recogniser and `understand`, as in a session: a question back
stays open for the next utterance of the same clip. Numbers are printed, nothing is asserted.
Results are kept beside the corpus, so that a run that was broken off goes on. `--misheard` lists
what was heard where it did not come out right; of the repository's recordings and a held-out
corpus only half or nothing is shown, so that mending words can be judged on clips nobody mended
for.
"""

import argparse
import os
import sys
from pathlib import Path

import platformdirs

from assistant.base.errors import EarsMissing
from tests.bench.engines import NAMES
from tests.bench.kept import Kept
from tests.bench.report import whole
from tests.bench.result import Result
from tests.bench.running import results, run, why
from tests.bench.scoring import FOLDER, Clip, all_clips
from tests.bench.shown import may_be_seen

__all__ = ["Result", "main", "run"]
RIGHT = frozenset(("taken", "asked", "quiet"))


def store_for(folder: Path) -> Kept:
    """Where results are kept: beside the corpus, for the repository's in the user's cache."""
    place = folder if folder != FOLDER else Path(platformdirs.user_cache_dir("panside-bench"))
    place.mkdir(parents=True, exist_ok=True)
    return Kept(place / "results.jsonl")


def chosen(folder: Path, every: int, sets: list[str] | None) -> list[Clip]:
    """The clips of a corpus whose files are there."""
    there = [c for c in all_clips(folder) if (folder / c.file).is_file()]
    return [clip for clip in there if not sets or clip.set in sets][::every]


def gathered(name: str, given: argparse.Namespace) -> list[Result]:
    """The results of one engine on every corpus."""
    return [
        result
        for folder in given.corpus
        for result in results(
            name, chosen(folder, given.every, given.set), folder, store_for(folder), given.jobs
        )
    ]


def parts(given: argparse.Namespace) -> list[tuple[str, str, list[Result]]]:
    """Name, description and results of each engine; one that is missing is told and left out."""
    found = []
    for name in given.engines.split(","):
        try:
            found.append((name, why(name), gathered(name, given)))
        except (EarsMissing, ImportError) as missing:
            print(f"{name}: {missing}", file=sys.stderr)
            found.append((name, f"Left out: {missing}", []))
    return found


def misheard(found: list[Result]) -> str:
    """What was heard in the clips that may be looked at and did not come out right."""
    return "\n".join(_misheard_line(r) for r in found if may_be_seen(r) and r.outcome not in RIGHT)


def _misheard_line(result: Result) -> str:
    clip = result.clip
    where = (
        f"{clip.voice}, {clip.noise} {clip.condition}, {clip.distance}, awaiting {clip.awaiting}"
    )
    said = f"{clip.file} {where}: {clip.words!r} -> {result.outcome} {list(result.made.reasons)}"
    return said + "".join(f"\n    {share:.2f} {text}" for text, share in result.made.guesses)


def main() -> None:
    """The command."""
    options = argparse.ArgumentParser(description="Measure hearing on recordings.")
    options.add_argument("--corpus", type=Path, action="append", help="may be repeated")
    options.add_argument("--engines", default="ours", help=f"of {', '.join(NAMES)}, with commas")
    options.add_argument("--jobs", type=int, default=1)
    options.add_argument("--every", type=int, default=1, help="only every n-th clip")
    options.add_argument("--set", action="append", help="only this set; may be repeated")
    options.add_argument("--report", type=Path, help="write the Markdown there")
    options.add_argument("--misheard", action="store_true", help="only what went wrong, and how")
    given = options.parse_args()
    given.corpus = given.corpus or [FOLDER]
    found = parts(given)
    if given.misheard:
        print(misheard(found[0][2]))
        return
    command = "python -m tests.bench.hearing " + " ".join(sys.argv[1:])
    names = ", ".join(sorted({r.clip.set for _, _, rs in found for r in rs}))
    text = whole(command.strip(), os.cpu_count() or 1, names, found)
    if given.report:
        given.report.write_text(text, "utf-8")
    else:
        print(text)


if __name__ == "__main__":
    main()
