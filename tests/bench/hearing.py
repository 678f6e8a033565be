"""How well the ears and the understanding do on the recordings: a report, not a test.

    python -m tests.bench.hearing [--ears auto|vosk|whisper] [--set test] [--json | --misheard]

Every clip goes through the real recogniser and `understand`, as in a session: a question back
stays open for the next utterance of the same clip. Numbers are printed, nothing is asserted.
`--misheard` lists what was heard where it did not come out right, for half of the clips only: the
other half stays unseen, so that mending words can be judged on clips nobody mended for.
"""

import argparse
import json
import resource
import statistics
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterable
from typing import Any

from pydantic import BaseModel, ConfigDict

from assistant.errors import PansideError
from assistant.hear.audio import read_recording
from assistant.hear.choose import open_ears
from assistant.hear.heard import Ears
from assistant.understand import Question, phrases, understand
from tests.bench.scoring import FOLDER, NOW, Clip, Meaning, Outcome, asked_for, clips, judged

SETS = ("demo", "test", "nonspeech", "chatter")
RIGHT = frozenset(("taken", "asked", "quiet"))
CHANGES = frozenset(("reading", "correct", "bottle", "timer_set", "choose", "discard"))
"""Kinds whose wrong taking puts a wrong figure or choice into the batch."""


class Result(BaseModel):
    """What came of one clip."""

    model_config = ConfigDict(frozen=True)

    clip: Clip
    outcome: Outcome
    heard: tuple[str, ...]
    guesses: tuple[tuple[str, float], ...]
    taken: tuple[Meaning, ...]
    offered: tuple[tuple[Meaning, ...], ...]
    reasons: tuple[str, ...]
    seconds: float
    understanding: float

    @property
    def harmful(self) -> bool:
        """Whether a figure or choice was taken that nobody gave."""
        return self.outcome == "wrong" and any(m["kind"] in CHANGES for m in self.taken)


def run(ears: Ears, clip: Clip) -> Result:
    """One clip through ears and understanding."""
    asked, samples = asked_for(clip), read_recording(FOLDER / clip.file)
    ears.expect(phrases(asked))
    begun = time.perf_counter()
    taken: list[Meaning] = []
    offered: list[list[Meaning]] = []
    reasons: list[str] = []
    pending: Question | None = None
    utterances = ears.hear(samples)
    understood = time.perf_counter()
    for heard in utterances:
        found = understand(heard, asked, NOW, pending)
        pending = found.question
        taken += [event.meaning() for event in found.events]
        candidates = pending.candidates if pending else ()
        offered += [[event.meaning() for event in group] for group in candidates]
        reasons.append(found.reason)
    return Result(
        clip=clip,
        outcome=judged(clip, taken, offered),
        heard=tuple(heard.text for heard in utterances),
        guesses=tuple((g.text, round(g.share, 3)) for h in utterances for g in h.guesses),
        taken=tuple(taken),
        offered=tuple(map(tuple, offered)),
        reasons=tuple(reasons),
        seconds=time.perf_counter() - begun,
        understanding=time.perf_counter() - understood,
    )


def table(results: Iterable[Result], by: Callable[[Clip], str]) -> list[dict[str, Any]]:
    """Counts of each outcome, a row for each value of `by`, and one for all."""
    groups: dict[str, list[Result]] = {}
    for result in results:
        groups.setdefault(by(result.clip), []).append(result)
    rows = [_row(name, group) for name, group in sorted(groups.items())]
    return [*rows, _row("all", [r for group in groups.values() for r in group])]


def _row(name: str, group: list[Result]) -> dict[str, Any]:
    count = Counter(result.outcome for result in group)
    right = count["taken"] + count["asked"]
    return {
        "group": name,
        "clips": len(group),
        "right": right,
        "right_share": round(right / len(group), 3) if group else 0.0,
        "taken": count["taken"],
        "asked": count["asked"],
        "asked_other": count["asked other"],
        "part": count["part"],
        "refused": count["refused"],
        "wrong": count["wrong"],
        "wrong_figure": sum(result.harmful for result in group),
    }


def report(results: list[Result], loading: float, ears: Ears) -> dict[str, Any]:
    """Everything that is printed."""
    spoken = [r for r in results if r.clip.events]
    others = [r for r in results if not r.clip.events]
    times = sorted(r.seconds for r in results)
    return {
        "engine": ears.name,
        "why": ears.why,
        "by_voice": table(spoken, lambda clip: clip.voice_kind),
        "by_noise": table(spoken, lambda clip: clip.condition),
        "by_both": table(spoken, lambda clip: f"{clip.voice_kind}, {clip.condition}"),
        "by_set": table(spoken, lambda clip: clip.set),
        "by_half": table([r for r in spoken if r.clip.set == "test"], lambda clip: clip.half),
        "wrong": [_told(r) for r in spoken if r.outcome in {"wrong", "part"}],
        "not_for_it": {"clips": len(others), "events": [_told(r) for r in others if r.taken]},
        "asked_for_nothing": [_told(r) for r in others if r.offered and not r.taken],
        "seconds_median": round(statistics.median(times), 3),
        "seconds_p95": round(times[int(0.95 * (len(times) - 1))], 3),
        "understanding_median": round(statistics.median(r.understanding for r in results), 3),
        "seconds_to_load": round(loading, 3),
        "peak_rss_mb": round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024),
    }


def _told(result: Result) -> dict[str, Any]:
    return {
        "file": result.clip.file,
        "words": result.clip.words,
        "heard": result.heard,
        "outcome": result.outcome,
        "taken": result.taken,
        "asked": result.offered,
    }


def shown(found: dict[str, Any]) -> str:
    """The report for a person."""
    lines = [f"{found['engine']}: {found['why']}"]
    for name in ("by_set", "by_half", "by_voice", "by_noise", "by_both"):
        lines += ["", *_table_lines(name.replace("_", " "), found[name])]
    lines += ["", f"wrong and taken, or only part taken: {len(found['wrong'])}"]
    lines += [f"  {json.dumps(each)}" for each in found["wrong"]]
    talk = found["not_for_it"]
    lines += [f"talk and noise: {talk['clips']} clips, {len(talk['events'])} led to events"]
    lines += [f"  {json.dumps(each)}" for each in talk["events"]]
    lines += [f"questions at talk and noise: {len(found['asked_for_nothing'])}"]
    lines += [f"  {json.dumps(each)}" for each in found["asked_for_nothing"]]
    lines += [
        f"seconds a clip: median {found['seconds_median']}, p95 {found['seconds_p95']}, "
        f"of it understanding {found['understanding_median']} (median); "
        f"load {found['seconds_to_load']} s; peak memory {found['peak_rss_mb']} MB"
    ]
    return "\n".join(lines)


def misheard(results: Iterable[Result]) -> str:
    """What was heard in the seen half of the clips that did not come out right."""
    bad = [r for r in results if r.clip.half == "seen" and r.outcome not in RIGHT]
    return "\n".join(_misheard_line(result) for result in bad)


def _misheard_line(result: Result) -> str:
    clip = result.clip
    where = f"{clip.voice}, {clip.condition}, awaiting {clip.awaiting or 'nothing'}"
    said = f"{where}: {clip.words!r} -> {result.outcome} {list(result.reasons)}"
    return said + "".join(f"\n    {share:.2f} {text}" for text, share in result.guesses)


def _table_lines(title: str, rows: list[dict[str, Any]]) -> list[str]:
    heads = list(rows[0])[1:]
    width = max(len(title), *(len(row["group"]) for row in rows))
    head = f"{title:<{width}}" + "".join(f"{h:>13}" for h in heads)
    return [
        head,
        *(f"{row['group']:<{width}}" + "".join(f"{row[h]:>13}" for h in heads) for row in rows),
    ]


def main() -> None:
    """The command."""
    options = argparse.ArgumentParser(description="Measure hearing on the recordings.")
    options.add_argument("--ears", default="auto", choices=["auto", "vosk", "whisper"])
    options.add_argument("--set", action="append", choices=SETS, help="may be repeated")
    options.add_argument("--json", action="store_true", help="one object, every clip in it")
    options.add_argument("--misheard", action="store_true", help="only what went wrong, and how")
    options.add_argument("--every", type=int, default=1, help="only every n-th clip")
    given = options.parse_args()
    begun = time.perf_counter()
    try:
        ears = open_ears(given.ears)
    except PansideError as missing:
        print(missing, file=sys.stderr)
        sys.exit(missing.exit_code)
    loading = time.perf_counter() - begun
    wanted = clips(given.set or SETS)[:: given.every]
    results = [run(ears, clip) for clip in wanted]
    found = report(results, loading, ears)
    if given.misheard:
        print(misheard(results))
    elif given.json:
        print(json.dumps({**found, "clips": [r.model_dump(mode="json") for r in results]}))
    else:
        print(shown(found))


if __name__ == "__main__":
    main()
