"""Odd files and odd lines without end: a report of what was tried and what went wrong.

    python -m tests.bench.fuzz [--seconds 60] [--seed 1] [--ears auto|vosk|whisper]

In turn: recordings without speech, in every format, through the real ears and `understand` for
every question that a batch can ask; damaged files and files of other kinds; lines of symbols, of
mangled phrases, and without end, through a session with its journal; and now and then all of it
through `panside hear` and `panside chat` as processes. What counts as wrong: an exception other
than our own, an event taken from noise, a batch changed by symbols, a traceback, an unknown exit
code. The slowest input of each kind is told.
"""

import argparse
import json
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from random import Random

from assistant.base.clock import SetClock
from assistant.base.errors import BadRecording
from assistant.cook.awaiting import AWAITABLE, asked_for
from assistant.facts.asked import Asked
from assistant.hear.audio import read_recording
from assistant.hear.choose import open_ears
from assistant.hear.heard import Ears
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.turns.desk import Desk
from assistant.turns.utterance import Utterance
from assistant.understand import understand, weighed
from tests.hear.fuzz_inputs import damaged, long_line, mangled, recording, symbols

NOW = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
ASKED = [Asked(), *(asked_for(name) for name in AWAITABLE)]
RUN = [sys.executable, "-c", "from assistant.commands import main; main()"]
EXITS = {0, 2, 3, 4}
PROCESS_EVERY_S = 100.0


class Fuzz:
    """The inputs and what is looked at in each."""

    def __init__(self, folder: Path, seed: int, ears: Ears) -> None:
        self.random, self.folder, self.ears = Random(seed), folder, ears
        self.desk = self._desk(0)
        self.fed = 0
        self.newest = ""

    def _desk(self, number: int) -> Desk:
        journal = Journal(self.folder / f"{number}.sqlite")
        recipe = load_recipe(self.random.choice(("berry-syrup", "hot-shrub", "rhubarb-syrup")))
        self.clock = SetClock(NOW)
        desk = Desk(journal, self.clock)
        desk.begin(recipe)
        return desk

    def noise(self) -> str | None:
        """A recording without speech: nothing may be taken."""
        return self._file(recording(self.random))

    def damage(self) -> str | None:
        """A file that is not whole, or no recording."""
        return self._file(damaged(self.random))

    def _file(self, data: bytes) -> str | None:
        path = self.folder / "sound.wav"
        path.write_bytes(data)
        try:
            samples = read_recording(path)
        except BadRecording:
            return None
        for heard in self.ears.hear(samples):
            for asked in ASKED:
                found = understand(weighed(heard, self.ears, asked, NOW), asked, NOW)
                if found.verdict == "take":
                    return f"taken from noise: {heard.text!r} {found.events}"
        return None

    def symbols(self) -> str | None:
        """Characters of any script: none may begin, stop or change a batch by a number."""
        desk, before = self.desk, self.desk.in_hand().taken
        text = symbols(self.random)
        self._types(text)
        changed = self.desk is desk and desk.in_hand().taken != before
        return f"a batch changed by {text!r}" if changed and not text.isascii() else None

    def mangled(self) -> str | None:
        """Phrases in disorder, which may well mean something."""
        self._types(mangled(self.random))
        return None

    def long(self) -> str | None:
        """Lines without end mean nothing."""
        text = long_line(self.random)
        turn = self._types(text)
        return f"taken: {text[:20]!r} times many" if turn == "take" and len(text) > 240 else None

    def _types(self, text: str) -> str:
        self.fed += 1
        self.newest = text
        if self.fed % 400 == 0 or self.desk.in_hand().ended:
            self.desk = self._desk(self.fed)
        self.clock.forward(self.random.choice((1, 10, 600)))
        return self.desk.take(Utterance.typed(text)).verdict

    def processes(self) -> str | None:
        """The commands themselves."""
        files = [self.folder / f"{n}.wav" for n in range(20)]
        for file in files:
            file.write_bytes((recording if self.random.random() < 0.4 else damaged)(self.random))
        heard = self._run("hear", "--json", *map(str, files))
        lines = [f(self.random) for _ in range(40) for f in (symbols, mangled, long_line)]
        raw = b"\n".join(line.encode("utf-8", "replace") for line in lines)
        odd = raw + (b"\n\xff\xfe\x00\n" if self.random.random() < 0.5 else b"")
        store = str(self.folder / "chat.sqlite")
        chatted = self._run(
            "chat", "--recipe", "berry-syrup", "--json", "--store", store, given=odd
        )
        return heard or chatted

    def _run(self, *arguments: str, given: bytes = b"") -> str | None:
        done = subprocess.run([*RUN, *arguments], input=given, capture_output=True, check=False)
        if done.returncode not in EXITS or b"Traceback" in done.stderr:
            return f"{arguments[0]} ended with {done.returncode}: {done.stderr[-600:]!r}"
        rows = [json.loads(line) for line in done.stdout.splitlines()]
        if arguments[0] == "hear" and any(row["verdict"] == "take" for row in rows):
            return f"taken from noise by hear: {rows}"
        return None


def run(seconds: float, fuzz: Fuzz) -> tuple[Counter[str], dict[str, tuple[float, str]], list[str]]:
    """How many of each kind were tried, the slowest of each [s] with its line, what went wrong."""
    tried: Counter[str] = Counter()
    slowest: dict[str, tuple[float, str]] = {}
    wrong: list[str] = []
    kinds: list[Callable[[], str | None]] = [
        fuzz.noise, fuzz.damage, fuzz.damage, fuzz.symbols, fuzz.mangled, fuzz.mangled, fuzz.long,
    ]  # fmt: skip
    begun, last = time.perf_counter(), float("-inf")
    while (now := time.perf_counter()) - begun < seconds:
        due = now - last >= PROCESS_EVERY_S
        last = now if due else last
        kind = fuzz.processes if due else fuzz.random.choice(kinds)
        try:
            fault = kind()
        except Exception as broken:  # whatever it is, it is what is looked for
            fault = f"{type(broken).__name__}: {broken}"
        tried[kind.__name__] += 1
        spent = time.perf_counter() - now
        if spent > slowest.get(kind.__name__, (0.0, ""))[0]:
            slowest[kind.__name__] = (spent, fuzz.newest[:60])
        if fault:
            wrong.append(f"{kind.__name__}: {fault}")
    return tried, slowest, wrong


def main() -> None:
    """Print the counts and every fault."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--ears", default="auto")
    chosen = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        fuzz = Fuzz(Path(folder), chosen.seed, open_ears(chosen.ears))
        tried, slowest, wrong = run(chosen.seconds, fuzz)
    print(f"{sum(tried.values())} inputs in {chosen.seconds:g} s, seed {chosen.seed}")
    for name, count in sorted(tried.items()):
        spent, text = slowest[name]
        words = f"  {text!r}" if name in ("symbols", "mangled", "long") else ""
        print(f"  {name:12}{count:7}   slowest {spent:.2f} s{words}")
    print(f"{len(wrong)} went wrong")
    for fault in wrong[:20]:
        print(f"  {fault}")
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
