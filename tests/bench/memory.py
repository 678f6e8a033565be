"""How much memory `panside talk` takes: recordings as the microphone, a speaker always done.

    python -m tests.bench.memory [--clips 8]

Printed: what it holds when it is ready to listen, after each utterance, and the most it ever held
[MB, resident, mapped files among it]. Linux only. Nothing is asserted.
"""

import argparse
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Self
from unittest.mock import patch

import numpy as np

import assistant.commands.talk as talk
from assistant.base.data import folder
from assistant.commands.demo import script
from assistant.hear.audio import read_recording
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.say.player import RecordingPlayer

BLOCK = SAMPLE_RATE * 64 // 1000
PAUSE = np.zeros(2 * SAMPLE_RATE, np.float32)


def held(key: str = "VmRSS") -> int:
    """Memory of this process by the system's own count [MB]; VmHWM is the most it ever was."""
    lines = Path("/proc/self/status").read_text("utf-8").splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith(key)) // 1024


class Recorded:
    """A microphone that hears recordings, one after another."""

    clips = 8
    system, dropped, at = "recordings", 0, 0.0

    def __enter__(self) -> Self:
        print(f"ready to listen: {held()} MB, at most so far {held('VmHWM')}")
        return self

    def __exit__(self, *_: object) -> None:
        """Nothing to close."""

    def blocks(self) -> Iterator[Samples]:
        """The demo's recordings with pauses between."""
        for row in script()[: self.clips]:
            sound = read_recording(folder("audio_fixtures").joinpath(row["file"]))
            yield from _cut(np.concatenate([sound, PAUSE]))
            print(f"{row['file']}: {held()} MB")


class Done(RecordingPlayer):
    """A loudspeaker that has always just finished, and keeps nothing."""

    def play(self, samples: object, rate: int) -> None:
        del samples, rate

    def is_playing(self) -> bool:
        return False


def _cut(sound: Samples) -> Iterator[Samples]:
    for start in range(0, len(sound), BLOCK):
        yield sound[start : start + BLOCK]


def main() -> None:
    """The command."""
    options = argparse.ArgumentParser(description="Measure the memory of talking.")
    options.add_argument("--clips", type=int, default=Recorded.clips)
    Recorded.clips = options.parse_args().clips
    with (
        tempfile.TemporaryDirectory() as scratch,
        patch.object(talk, "Microphone", lambda **_: Recorded()),
        patch.object(talk, "Player", lambda **_: Done()),
        patch.object(sys, "stdout", sys.stderr),
    ):
        talk.talk(recipe=["berry-syrup"], store=Path(scratch) / "talk.sqlite")
    print(f"at most {held('VmHWM')} MB")


if __name__ == "__main__":
    main()
