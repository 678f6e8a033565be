"""Eight hours beside the pan, compressed: does memory stay flat, and does the answer stay quick?

    python -m tests.bench.longrun [--hours 8] [--every 600]

The demo's batch is made over and over from its recordings, with the real ears, the real voice and a
journal on disk, between long stretches of kitchen noise and chatter. The sound is fed as fast as it
can be computed, so eight hours take a fraction of that; the clock of the batch goes by the sound.
Printed for every so many seconds of sound: memory, threads, open files, how long an utterance took,
events in the journal. Nothing is asserted.
"""

import argparse
import gc
import os
import statistics
import tempfile
import threading
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import cycle
from pathlib import Path

import numpy as np

from assistant.aloud.conversation import Conversation
from assistant.base.clock import SetClock
from assistant.base.data import folder
from assistant.commands.demo import script
from assistant.hear.audio import read_recording
from assistant.hear.choose import open_ears
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.say.player import RecordingPlayer
from assistant.say.speaker import Speaker
from assistant.say.voice import EspeakVoice
from assistant.turns.desk import Desk
from assistant.turns.turn import Turn

BLOCK = SAMPLE_RATE * 64 // 1000
START = datetime(2026, 7, 11, 8, 0, tzinfo=UTC)
QUIET_S = 45.0
"""Seconds of kitchen between two utterances."""


class Silent(RecordingPlayer):
    """A loudspeaker that has always just finished, and keeps nothing."""

    def play(self, samples: object, rate: int) -> None:
        del samples, rate

    def is_playing(self) -> bool:
        return False


class Evening:
    """The sound of many batches, one after another, with the batch's clock going by it."""

    def __init__(self, clock: SetClock, hours: float) -> None:
        self.clock, self.ends_s, self.heard_s = clock, hours * 3600.0, 0.0
        root = folder("audio_fixtures")
        self.said = [(row, read_recording(root.joinpath(row["file"]))) for row in script()]
        noises = sorted(p.name for p in root.joinpath("nonspeech").iterdir())
        self.noises = cycle([read_recording(root.joinpath("nonspeech", name)) for name in noises])

    def batch(self) -> Iterator[Samples]:
        """One batch's recordings; the pauses are those of the script, at least `QUIET_S`."""
        for row, samples in self.said:
            yield from self._kitchen(max(QUIET_S, float(row["after_s"])))
            yield from self._blocks(samples)
            yield from self._blocks(np.zeros(2 * SAMPLE_RATE, np.float32))

    def _kitchen(self, seconds: float) -> Iterator[Samples]:
        """Noise for half a minute at most, then quiet, so that not all of it is computed."""
        noise = next(self.noises)[: 30 * SAMPLE_RATE]
        yield from self._blocks(noise)
        rest = max(0.0, seconds - len(noise) / SAMPLE_RATE)
        yield from self._blocks(np.zeros(int(rest * SAMPLE_RATE), np.float32))

    def _blocks(self, samples: Samples) -> Iterator[Samples]:
        for start in range(0, len(samples), BLOCK):
            block = samples[start : start + BLOCK]
            self.heard_s += len(block) / SAMPLE_RATE
            self.clock.forward(len(block) / SAMPLE_RATE)
            yield block

    @property
    def over(self) -> bool:
        return self.heard_s >= self.ends_s


class Gauge:
    """What is written down every so often."""

    def __init__(self, every_s: float) -> None:
        self.every_s, self.next_s = every_s, 0.0
        self.took: list[float] = []
        self.rows: list[tuple[float, ...]] = []
        self._since = time.perf_counter()

    def turn(self, turn: Turn) -> None:
        if turn.heard:
            self.took.append(time.perf_counter() - self._since)

    def tick(self, heard_s: float, events: int) -> None:
        self._since = time.perf_counter()
        if heard_s < self.next_s:
            return
        self.next_s += self.every_s
        gc.collect()
        median = statistics.median(self.took) if self.took else 0.0
        self.took.clear()
        row = (heard_s / 3600, _memory_mb(), threading.active_count(), _files(), median, events)
        self.rows.append(row)
        print("| {:.2f} | {:.1f} | {} | {} | {:.2f} | {} |".format(*row), flush=True)


def _memory_mb() -> float:
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20


def _files() -> int:
    return len(list(Path("/proc/self/fd").iterdir()))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--hours", type=float, default=8.0)
    parser.add_argument("--every", type=float, default=600.0, help="seconds of sound a row")
    given = parser.parse_args()
    clock, ears = SetClock(START), open_ears("whisper")
    evening, gauge = Evening(clock, given.hours), Gauge(given.every)
    print("| hour | memory, MB | threads | open files | an utterance, s | events |")
    print("|---|---|---|---|---|---|")
    begun, batches, finished = time.perf_counter(), 0, 0
    with tempfile.TemporaryDirectory() as scratch:
        journal = Journal(Path(scratch) / "long.sqlite")
        speaker = Speaker(EspeakVoice(), Silent())
        while not evening.over:
            desk = Desk(journal, clock)
            desk.begin(load_recipe("berry-syrup"))
            talk = Conversation(desk, ears, speaker, gauge.turn)
            talk.run(_measured(evening, gauge, journal))
            batches, finished = batches + 1, finished + (desk.in_hand().ended == "finished")
        gauge.next_s = 0.0
        gauge.tick(evening.heard_s, _events(journal))
        speaker.close()
        journal.close()
    took = time.perf_counter() - begun
    print(f"\n{evening.heard_s / 3600:.2f} h of sound in {took / 60:.1f} min, {batches} batches, ")
    print(f"{finished} of them finished, on {os.cpu_count()} cores.")


def _measured(evening: Evening, gauge: Gauge, journal: Journal) -> Iterator[Samples]:
    for block in evening.batch():
        gauge.tick(evening.heard_s, 0 if evening.heard_s < gauge.next_s else _events(journal))
        yield block


def _events(journal: Journal) -> int:
    return sum(row.events for row in journal.batches())


if __name__ == "__main__":
    main()
