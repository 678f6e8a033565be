"""How often a kitchen can be killed, starved of power or spoiled without losing what was accepted.

    python -m tests.bench.crash --points 300

Half of the points are kills of `panside chat` (at any byte, at any moment), the other half kills of
whole scripted batches; a few kill processes that were started afresh, and `panside demo`. Then the
power fails, in a model, at every write of a batch, and files are spoiled. Stops at the first loss.
"""

import argparse
import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from assistant.keep import Journal

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests" / "keep"), str(ROOT)]

from tests.crash.killing import (  # noqa: E402
    JOURNEYS,
    Lost,
    Points,
    chat_batch,
    scripted_batch,
)
from tests.crash.power import power_cuts, record_sql, replay  # noqa: E402
from tests.crash.test_bad_days import SPOILING, after_damage  # noqa: E402
from tests.crash.test_power_loss import look_after, turns  # noqa: E402

A_BATCH = 10
"""Kills on the way of one batch."""


def main() -> None:
    """Run the points and print what was looked at."""
    words = argparse.ArgumentParser()
    words.add_argument("--points", type=int, default=300)
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--demo", type=int, default=3, help="kills of the demo, some seconds each")
    asked = words.parse_args()
    chance = random.Random(asked.seed)
    begun = time.monotonic()
    print(f"chat       {kill_chats(asked.points // 2, chance)}", flush=True)
    print(f"scripted   {kill_scripts(asked.points // 2, chance)}", flush=True)
    print(f"afresh     {kill_afresh(max(1, asked.points // 30), chance)}", flush=True)
    print(f"demo       {kill_demos(asked.demo, chance)}", flush=True)
    print(f"power cuts {cut_power(asked.seed)}", flush=True)
    print(f"spoiled    {spoil_files(max(1, asked.points // 10))}", flush=True)
    print(f"nothing accepted was lost; {time.monotonic() - begun:.0f} s")


def told(points: Points) -> str:
    return (
        f"{points.killed} killed, {points.finished} batches finished after it,"
        f" {points.events} events looked for"
    )


def kill_chats(points: int, chance: random.Random) -> str:
    done = Points()
    while done.killed < points:
        with tempfile.TemporaryDirectory() as folder:
            done += chat_batch(Path(folder), chance, min(A_BATCH, points - done.killed))
    return told(done)


def kill_scripts(points: int, chance: random.Random) -> str:
    done = Points()
    while done.killed < points:
        script = JOURNEYS[done.finished % len(JOURNEYS)]
        with tempfile.TemporaryDirectory() as folder:
            done += scripted_batch(Path(folder), script, chance, min(A_BATCH, points - done.killed))
    return told(done)


def kill_afresh(points: int, chance: random.Random) -> str:
    """`panside chat` as a process of its own, from its start on, killed by the time."""
    run = [sys.executable, "-c", "from assistant.commands import main; main()", "chat", "--json"]
    lines = "".join(f"note number {n}\n" for n in range(200)).encode()
    looked = 0
    for _ in range(points):
        with tempfile.TemporaryDirectory() as folder:
            store = Path(folder) / "store.sqlite"
            command = [*run, "--recipe", "berry-syrup", "--store", str(store)]
            answers = _killed_after(command, lines, chance.randrange(100), chance.uniform(0, 0.05))
            held = [e.heard for e in _events(store)[1:]]
            if held != [f"note number {n}" for n in range(len(held))] or len(held) < answers:
                raise Lost(f"{answers} answered, there are {held}")
            looked += len(held)
    return f"{points} killed, {looked} events looked for"


def kill_demos(points: int, chance: random.Random) -> str:
    """`panside demo`, whose journal stands in a folder for scratch."""
    looked = 0
    for _ in range(points):
        with tempfile.TemporaryDirectory() as folder:
            run = [sys.executable, "-c", "from assistant.commands import main; main()", "demo"]
            run += ["--json", "--out", f"{folder}/out"]
            out = Path(folder) / "turns"
            with out.open("wb") as file:
                _killed(run, {"TMPDIR": folder}, b"", chance.uniform(15, 45), file)
            turns_told = [json.loads(t) for t in out.read_bytes().split(b"\n")[:-1]]
            answered = [event for turn in turns_told for event in turn["events"]]
            found = list(Path(folder).glob("*/demo.sqlite"))
            held = [e.meaning() for e in _events(found[0])[1:]] if found else []
            if held[: len(answered)] != answered:
                raise Lost(f"{answered} were answered, there are {held}")
            looked += len(answered)
    return f"{points} killed, {looked} events looked for"


def _killed_after(run: list[str], lines: bytes, wanted: int, pause: float) -> int:
    """Start, feed, kill some time after so many answers; how many there were."""
    process = subprocess.Popen(
        run, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(lines)
    process.stdin.flush()
    read = sum(process.stdout.readline().endswith(b"\n") for _ in range(wanted))
    time.sleep(pause)
    process.send_signal(signal.SIGKILL)
    answers, _ = process.communicate()
    return read + answers.count(b"\n")


def _killed(
    run: list[str], more: dict[str, str], lines: bytes, after: float, out: object = None
) -> int:
    """Start, feed, kill after so many seconds; how many lines were answered."""
    process = subprocess.Popen(
        run, stdin=subprocess.PIPE, stdout=out or subprocess.PIPE, stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(ROOT), **more},
    )  # fmt: skip
    assert process.stdin is not None
    process.stdin.write(lines)
    process.stdin.flush()
    time.sleep(after)
    process.send_signal(signal.SIGKILL)
    answers, _ = process.communicate()
    return (answers or b"").count(b"\n")


def _events(store: Path) -> tuple:
    if not store.exists():
        return ()
    with Journal(store) as journal:
        names = journal.names()
        return journal.events(names[0]) if names else ()


def cut_power(seed: int) -> str:
    """At every write, cut and sync of a batch, with the log emptied early and late."""
    whole = tuple(event for turn in turns(20) for event in turn)
    cuts = 0
    for checkpoint in (4, 12, 1000):
        with tempfile.TemporaryDirectory() as folder:
            place = Path(folder)
            notes = replay(place, record_sql(place, turns(20)), checkpoint)
            for accepted, files in power_cuts(notes, random.Random(seed), share=1.0):
                look_after(place, files, accepted, whole)
                cuts += 1
    return f"{cuts} moments, at each all of the accepted of {len(whole)} events there"


def spoil_files(each: int) -> str:
    verdicts: Counter[str] = Counter()
    for spoil in SPOILING:
        with tempfile.TemporaryDirectory() as folder:
            verdicts.update(after_damage(Path(folder), spoil, seed) for seed in range(each))
    if set(verdicts) - {"told", "whole"}:
        raise Lost(str(verdicts))
    return f"{verdicts['told']} told, {verdicts['whole']} read whole all the same"


if __name__ == "__main__":
    main()
