"""Speaking over our voice, in simulated rooms: a report, not a test.

    python -m tests.bench.bargein [--minutes 10] [--clips 24] [--ears auto|vosk|whisper]

First our own voice is played into each room and nobody speaks: how often it stopped by mistake.
Then the clean test recordings are spoken over it, so many decibels louder or softer than our voice
arrives at the microphone: how often it stopped and how soon (median to slowest, from the beginning
of the recording), and what came of the utterance, as `tests.bench.scoring` judges it. Numbers are
printed, nothing is asserted.
"""

import argparse
import statistics
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from assistant.aloud.attention import Attention
from assistant.base.clock import SetClock
from assistant.commands.demo import script
from assistant.hear.audio import read_recording
from assistant.hear.choose import open_ears
from assistant.hear.heard import SAMPLE_RATE, Ears, Heard, Samples
from assistant.hear.over_voice import OverVoice
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.say.speaker import Speaker
from assistant.say.voice import EspeakVoice, Speech
from assistant.turns.desk import Desk
from assistant.turns.rendering import spoken
from assistant.turns.utterance import Utterance
from assistant.understand import Question, understand, weighed
from tests.bench.latency import START
from tests.bench.scoring import FOLDER, NOW, Clip, Meaning, Outcome, asked_for, clips, judged
from tests.hear.rooms import ROOMS, Kitchen, Walls, level

LEVELS = (10.0, 5.0, 0.0, -5.0, -10.0)
BEFORE_S = 2.6
"""How long our voice sounds before the cook begins."""


class KnownVoice:
    """The real voice, each sentence synthesised once."""

    name = "espeak"

    def __init__(self) -> None:
        self._voice, self._known = EspeakVoice(), dict[str, tuple[Speech, int]]()

    def to_samples(self, text: str) -> tuple[Speech, int]:
        if text not in self._known:
            self._known[text] = self._voice.to_samples(text)
        return self._known[text]

    def write(self, text: str, path: object) -> None:
        raise NotImplementedError


def replies(folder: str) -> list[str]:
    """What is said in the demo's batch, in order."""
    with Journal(f"{folder}/j.sqlite") as journal:
        clock = SetClock(START)
        desk = Desk(journal, clock)
        desk.begin(load_recipe("berry-syrup"))
        found = [spoken(desk.greet())]
        for row in script():
            clock.forward(row["after_s"])
            found.append(spoken(desk.take(Utterance.typed(row["words"]))))
    return [text for text in found if text]


def alone(walls: Walls, voice: KnownVoice, said: list[str], seconds: float, seed: int) -> int:
    """How often our voice stopped although nobody spoke."""
    kitchen = Kitchen(walls, seed)
    speaker = Speaker(voice, kitchen)
    attention = Attention(speaker, kitchen.at, OverVoice())
    stopped, place = 0, seed
    for block in kitchen.blocks(seconds):
        if not kitchen.is_playing():
            speaker.say(said[place % len(said)])
            place += 1
        before = len(kitchen.stops)
        list(attention.attend(block))
        stopped += len(kitchen.stops) - before
    return stopped


@dataclass(frozen=True)
class Spoken:
    """What came of speaking over our voice: seconds until it stopped, and the utterances."""

    after: float | None
    heard: list[Heard]


def over(
    walls: Walls,
    voice: KnownVoice,
    text: str,
    sound: Samples,
    decibels: float,
    ears: Ears,
    seed: int,
) -> Spoken:
    """One recording spoken over one sentence."""
    kitchen = Kitchen(walls, seed)
    speaker = Speaker(voice, kitchen)
    attention = Attention(speaker, kitchen.at, OverVoice())
    ours = level(voice.to_samples(text)[0].astype(np.float32) / 32768) * 10 ** (walls.level / 20)
    louder = sound * (ours / level(sound)) * 10 ** (decibels / 20)

    def blocks() -> Iterator[Samples]:
        speaker.say(said_before)
        yield from attended(8.0)
        speaker.say(text)
        kitchen.says(louder.astype(np.float32), BEFORE_S)
        yield from attended(BEFORE_S + len(sound) / SAMPLE_RATE + 1.5)

    def attended(seconds: float) -> Iterator[Samples]:
        for block in kitchen.blocks(seconds):
            yield from attention.attend(block)

    said_before = text
    heard = [attention.believed(h) for h in ears.listen(blocks()) if not h.partial]
    begins = 8.0 + BEFORE_S
    stop = next((at for at in kitchen.stops if at >= begins), None)
    return Spoken(None if stop is None else stop - begins, heard)


def outcome(clip: Clip, heards: list[Heard], ears: Ears) -> Outcome:
    """What came of a clip, a question back staying open for the next utterance."""
    taken: list[Meaning] = []
    offered: list[list[Meaning]] = []
    pending: Question | None = None
    for heard in heards:
        asked = asked_for(clip)
        heard = weighed(heard, ears, asked, NOW, pending)
        found = understand(heard, asked, NOW, pending)
        pending = found.question
        taken += [event.meaning() for event in found.events]
        candidates = pending.candidates if pending else ()
        offered += [[event.meaning() for event in group] for group in candidates]
    return judged(clip, taken, offered)


def main() -> None:
    """Print both tables."""
    import tempfile

    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--clips", type=int, default=24)
    parser.add_argument("--ears", default="auto")
    chosen = parser.parse_args()
    voice = KnownVoice()
    with tempfile.TemporaryDirectory() as folder:
        said = replies(folder)
    each = chosen.minutes * 60 / len(ROOMS)
    print(f"our own voice, {chosen.minutes:g} minutes: stops by mistake")
    for seed, (name, walls) in enumerate(ROOMS.items(), 100):
        print(f"  {name:16}{alone(walls, voice, said, each, seed):4}", flush=True)
    if chosen.clips:
        _over_all(chosen.clips, voice, said, open_ears(chosen.ears))


def _over_all(count: int, voice: KnownVoice, said: list[str], ears: Ears) -> None:
    long = [text for text in said if len(voice.to_samples(text)[0]) > 5 * voice.to_samples(text)[1]]
    found = [c for c in clips(("test",)) if c.condition == "clean" and c.events]
    chosen = found[:: max(1, len(found) // count)][:count]
    alone = Counter(outcome(c, ears.hear(read_recording(FOLDER / c.file)), ears) for c in chosen)
    print(f"{len(chosen)} clips, the {len(ROOMS)} rooms in turn; {ears.why}")
    print(f"  {'alone':11}{'':27}{_told(alone)}")
    for decibels in LEVELS:
        rows = [_one(place, clip, decibels, voice, long, ears) for place, clip in enumerate(chosen)]
        times = [after for after, _ in rows if after is not None]
        when = f"{statistics.median(times):.2f} to {max(times):.2f} s" if times else ""
        count_ = Counter(result for _, result in rows)
        print(
            f"  {decibels:+5.0f} dB  stopped {len(times):3}  {when:17}{_told(count_)}", flush=True
        )


def _told(count: Counter[Outcome]) -> str:
    return ", ".join(f"{number} {name}" for name, number in sorted(count.items()))


def _one(
    place: int, clip: Clip, decibels: float, voice: KnownVoice, long: list[str], ears: Ears
) -> tuple[float | None, Outcome]:
    walls = list(ROOMS.values())[place % len(ROOMS)]
    sound = read_recording(FOLDER / clip.file)
    loud = np.flatnonzero(np.abs(sound) > 0.02)
    sound = sound[loud[0] : loud[-1] + 1]
    came = over(walls, voice, long[place % len(long)], sound, decibels, ears, place)
    return came.after, outcome(clip, came.heard, ears)


if __name__ == "__main__":
    main()
