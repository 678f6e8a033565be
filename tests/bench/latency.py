"""How long a cook waits: start-up, end of speech to reply, end of speech to first sound, memory.

    python -m tests.bench.latency [--ears auto|vosk|whisper] [--rounds 1]

The demo's recordings are fed in blocks as a microphone gives them, through the whole session. The
pause that tells the end of an utterance is counted in the recording's own time; computing, the
synced journal, speech and the first block that the loudspeaker asks for are clocked. Numbers are
printed, nothing is asserted.
"""

import argparse
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from assistant.base.clock import SetClock
from assistant.base.data import folder
from assistant.commands.demo import script
from assistant.hear.audio import read_recording
from assistant.hear.choose import open_ears
from assistant.hear.heard import SAMPLE_RATE, Ears, Samples
from assistant.hear.voice_activity import Pauses
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.say.player import Player
from assistant.say.voice import EspeakVoice
from assistant.turns.desk import Desk
from assistant.turns.rendering import spoken
from assistant.turns.utterance import Utterance
from tests.hear.sounds import segments

BLOCK = SAMPLE_RATE * 64 // 1000
START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
STARTS = {
    "panside --version": ["--version"],
    "panside chat, first answer": ["chat", "--recipe", "berry-syrup", "--json"],
}


class Feed:
    """A recording in blocks, with silence behind it; knows how far it has been read."""

    def __init__(self, samples: Samples) -> None:
        self.samples = np.concatenate([samples, np.zeros(2 * SAMPLE_RATE, np.float32)])
        self.read = 0

    def blocks(self) -> Iterator[Samples]:
        for start in range(0, len(self.samples), BLOCK):
            self.read = min(start + BLOCK, len(self.samples))
            yield self.samples[start : start + BLOCK]


def waits(ears: Ears) -> Iterator[tuple[float, float, float]]:
    """For each utterance of the demo: pause, to the reply, to the first sound. [s]"""
    player, voice = Player("NULL"), EspeakVoice()
    voice.to_samples("Ready.")
    with tempfile.TemporaryDirectory() as scratch, Journal(Path(scratch) / "j.sqlite") as journal:
        clock = SetClock(START)
        desk = Desk(journal, clock)
        desk.begin(load_recipe("berry-syrup"))
        for row in script():
            clock.forward(row["after_s"])
            samples = read_recording(folder("audio_fixtures").joinpath(row["file"]))
            spoken_till = segments(samples)[-1][1] - round(Pauses().after * SAMPLE_RATE)
            feed = Feed(samples)
            heard = next(h for h in ears.listen(feed.blocks()) if not h.partial)
            pause = (feed.read - spoken_till) / SAMPLE_RATE
            begun = time.perf_counter()
            turn = desk.take(desk.weighed(Utterance(heard=heard), ears))
            ready = time.perf_counter() - begun + heard.seconds
            player.play(*voice.to_samples(spoken(turn)))
            sounding = time.perf_counter() - begun + heard.seconds
            player.stop()
            yield pause, ready, sounding


def started(arguments: list[str], store: Path) -> float:
    """From starting the process to its end, with one typed line. [s]"""
    run = [sys.executable, "-c", "from assistant.commands import main; main()", *arguments]
    begun = time.perf_counter()
    environment = {**os.environ, "PANSIDE_STORE": str(store)}
    subprocess.run(run, input=b"1.2 kg\n", capture_output=True, env=environment, check=False)
    return time.perf_counter() - begun


def told(name: str, values: list[float]) -> str:
    """A line of the table."""
    p95 = sorted(values)[max(0, round(0.95 * len(values)) - 1)]
    return f"{name:44}{statistics.median(values):8.2f} s{p95:8.2f} s"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--ears", default="auto")
    parser.add_argument("--rounds", type=int, default=1)
    chosen = parser.parse_args()
    begun = time.perf_counter()
    ears = open_ears(chosen.ears)
    loaded = time.perf_counter() - begun
    rows = [row for _ in range(chosen.rounds) for row in waits(ears)]
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}; {ears.why}")
    print(f"{'':44}{'median':>10}{'95 %':>10}")
    with tempfile.TemporaryDirectory() as scratch:
        for name, arguments in STARTS.items():
            store = Path(scratch) / f"{len(arguments)}.sqlite"
            print(told(name, [started(arguments, store) for _ in range(5)]))
    print(told("loading the ears", [loaded]))
    print(told("pause that ends an utterance", [pause for pause, _, _ in rows]))
    print(told("computing until the reply is ready", [ready for _, ready, _ in rows]))
    print(told("end of speech until the reply is ready", [p + r for p, r, _ in rows]))
    print(told("end of speech until the first sound", [p + s for p, _, s in rows]))
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory {peak:.0f} MB, {len(rows)} utterances")


if __name__ == "__main__":
    main()
