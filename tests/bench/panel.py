"""`python -m tests.bench.panel`: what a cook may say in their own words, and what came of it.

Half of the lines are open: their failures may be read and mended. The other half was locked by
chance before anything was built, and only its totals are ever printed. The fresh and the third
lines are further rounds, written later by others without a look at grammars, cards or older lines,
and parted in the same way. Talk that is meant for nobody here must lead to nothing, and is never
printed either.
"""

import argparse
import json
import statistics
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any

PANEL = Path(__file__).parents[1] / "panel"
sys.path[:0] = [str(PANEL)]

from answering import Answer, answer  # noqa: E402
from scoring import GOOD, changing, marked  # noqa: E402

HALVES = ("open", "locked", "fresh_open", "fresh_locked", "third_open", "third_locked")
TALKS = ("talk", "third_talk")
SHOWN = ("open", "fresh_open", "third_open")
MARKS = ("right", "asked", "partly", "off", "refused", "wrong")


def read(name: str) -> list[dict[str, Any]]:
    """The lines of one file of the panel."""
    text = (PANEL / f"{name}.jsonl").read_text("utf-8")
    return [json.loads(line) for line in text.splitlines() if line.strip()]


def said(line: dict[str, Any]) -> Answer:
    """The line said in its situation, after what was said before it."""
    before = line.get("before", [])
    return answer(line["situation"], *before, line["text"], spoken=line.get("spoken", False))


def score(lines: list[dict[str, Any]]) -> list[tuple[dict[str, Any], Answer, str]]:
    """Each line with its answer and its mark."""
    return [(line, found := said(line), marked(line, found)) for line in lines]


def show_totals(name: str, scored: list[tuple[dict[str, Any], Answer, str]]) -> None:
    """One row a kind, and all together."""
    print(f"\n{name}: {len(scored)} lines")
    print(f"{'':12}{'lines':>6}" + "".join(f"{mark:>9}" for mark in MARKS) + f"{'good %':>9}")
    kinds = sorted({line["kind"] for line, _, _ in scored})
    for kind in (*kinds, "all"):
        marks = Counter(m for line, _, m in scored if kind in ("all", line["kind"]))
        total = sum(marks.values())
        good = 100 * sum(marks[mark] for mark in GOOD) / total
        row = "".join(f"{marks[mark]:>9}" for mark in MARKS)
        print(f"{kind:12}{total:>6}{row}{good:>9.1f}")


def show_failures(scored: list[tuple[dict[str, Any], Answer, str]]) -> None:
    """The failures of lines that may be read, one by one."""
    for line, found, mark in scored:
        if mark not in GOOD:
            taken = [e for e in found.events]
            print(f"{mark:8}{line['id']} {line['situation']} {line['text']!r}")
            print(f"        want {json.dumps(line['want'], ensure_ascii=False)}")
            print(f"        got  {found.verdict} {taken} {found.words[:300]!r}")


def show_talk(name: str, lines: list[dict[str, Any]]) -> None:
    """What talk among people led to: events, questions, other answers."""
    found = [(line, said(line)) for line in lines]
    events = [(line, got) for line, got in found if changing(got)]
    asked = [(line, got) for line, got in found if not changing(got) and got.asks]
    told = [(line, got) for line, got in found if got.verdict == "take" and not changing(got)]
    print(f"\n{name}: {len(found)} lines, {len(events)} events, {len(asked)} questions, ", end="")
    print(f"{len(told)} answers")


def show_lengths(scored: list[tuple[dict[str, Any], Answer, str]]) -> None:
    """How many words there are to hear in an answer to a question."""
    answers = [found for line, found, _ in scored if line["kind"] == "answer"]
    for name, told in (("heard", "heard"), ("said and shown", "words")):
        words = [len(getattr(found, told).split()) for found in answers]
        if words:
            print(f"words in an answer, {name}: {statistics.median(words):.0f} at the median")


def _meant(line: dict[str, Any], start: str) -> bool:
    return any(str(line[key]).startswith(start) for key in ("id", "situation"))


def main() -> None:
    """Score the panel."""
    asks = argparse.ArgumentParser(description=__doc__)
    asks.add_argument("--failures", action="store_true", help="list failures that may be read")
    asks.add_argument("--only", default="", help="only lines whose id or situation starts so")
    asks.add_argument("--half", action="append", choices=HALVES, help="only these lines")
    given = asks.parse_args()
    begun = time.perf_counter()
    halves = {}
    for half in given.half or HALVES:
        lines = [line for line in read(half) if _meant(line, given.only)]
        halves[half] = score(lines)
        if lines:
            show_totals(half, halves[half])
    if not (given.only or given.half):
        for name in TALKS:
            show_talk(name, read(name))
    shown = [each for half in SHOWN for each in halves.get(half, [])]
    show_lengths(shown)
    if given.failures:
        print()
        show_failures(shown)
    print(f"\n{time.perf_counter() - begun:.0f} s")


if __name__ == "__main__":
    main()
