"""Twelve sentences, said by the cook: how each of them was heard, and at what level.

Ears and microphone are passed in, so that recordings can stand in for a cook.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

import numpy as np

from assistant.cook.awaiting import asked_for
from assistant.facts.asked import Asked
from assistant.hear.heard import SAMPLE_RATE, Ears, Heard, Samples
from assistant.hear.sound_level import (
    CLEAR_DB,
    FAINT_DB,
    QUIETEST_DB,
    SoundLevel,
    level_of,
    noise_of,
)
from assistant.understand import phrases, understand, weighed

Outcome = Literal["right", "asked", "asked other", "wrong", "not understood", "not heard"]

SENTENCES = (
    ("two point four kilos of blackcurrants", "fruit"),
    ("six hundred grams of sugar", "sugar"),
    ("how much sugar", "question"),
    ("done", "step"),
    ("sixty eight degrees", "temperature"),
    ("seventy two degrees", "temperature"),
    ("set a timer for ten minutes", "question"),
    ("one point three litres", "juice"),
    ("p h three point one", "ph"),
    ("sixty two brix", "brix"),
    ("nine bottles of half a litre", "bottles"),
    ("yes", "yes_no"),
)
"""What is to be said, and what is waited for then: each kind of thing that a batch hears."""
QUIET_S, WAITS_S = 2.0, 10.0
"""How long the room is listened to first, and how long a sentence may take to come. [s]"""


@dataclass(frozen=True)
class Said:
    """One sentence: what was asked for, what came of it, and the sound.

    heard : the words as the ears wrote them; "" where they heard nobody
    """

    words: str
    outcome: Outcome
    heard: str
    level: SoundLevel
    sound: Samples


def room_noise(blocks: Iterator[Samples]) -> float:
    """The noise of the room, while nobody speaks [dBFS]."""
    return noise_of(_taken(blocks, QUIET_S))


def say_all(
    ears: Ears,
    blocks: Iterator[Samples],
    at: datetime,
    noise: float,
    invite: Callable[[int, str], None],
) -> Iterator[Said]:
    """Each of the sentences, as soon as it was heard.

    at : now, by a clock
    noise : of the room [dBFS]
    invite : told the number and the words of a sentence before it is listened to
    """
    ears.expect(phrases())
    for number, (words, awaited) in enumerate(SENTENCES, 1):
        invite(number, words)
        sound: list[Samples] = []
        heard = _first(ears, _noted(blocks, sound))
        whole = np.concatenate(sound) if sound else np.zeros(1, dtype=np.float32)
        outcome = judged(heard, words, asked_for(awaited), ears, at) if heard else "not heard"
        text = heard.text if heard else ""
        yield Said(words, outcome, text, level_of(whole, noise), whole)


def judged(heard: Heard, words: str, asked: Asked, ears: Ears, at: datetime) -> Outcome:
    """What came of an utterance, against what the same words mean when they are typed."""
    wanted = [each.meaning() for each in understand(Heard.typed(words), asked, at).events]
    found = understand(weighed(heard, ears, asked, at), asked, at)
    if found.verdict == "take":
        return "right" if [each.meaning() for each in found.events] == wanted else "wrong"
    if found.question is None:
        return "not understood"
    offered = [[each.meaning() for each in events] for events in found.question.candidates]
    return "asked" if wanted in offered else "asked other"


def advice(said: list[Said], level: SoundLevel) -> list[str]:
    """What to change, the weightiest first; [] where all is well.

    level : of all sentences together
    """
    count = Counter(each.outcome for each in said)
    silent = count["not heard"] == len(said)
    rules = (
        (silent and level.above < FAINT_DB,
         "Nobody was heard. Look whether the right microphone is chosen and switched on."),
        (count["wrong"] > 0,
         "It took something that was not said. Until that no longer happens, look at the screen "
         "after every number, or tap or type instead."),
        (level.clipped,
         "The microphone is overdriven. Turn its gain down in the system's sound settings, or "
         "stand farther away."),
        (level.speech < QUIETEST_DB and not silent,
         "The voice arrives very quietly. Go nearer, halving the distance gives 6 dB, or turn the "
         "microphone's gain up in the system's sound settings."),
        (level.above < FAINT_DB and not silent,
         "The noise is nearly as loud as the voice. Switch off hood, fan or radio, turn the "
         "microphone away from them, or wear one at the collar."),
        (FAINT_DB <= level.above < CLEAR_DB,
         "There is noise enough that more will be asked back. Going nearer helps most."),
        (count["asked other"] + count["not understood"] + count["not heard"] > 2 and not silent,
         "Several sentences got lost. Say each in one go, and begin when the line stands there."),
    )  # fmt: skip
    return [words for applies, words in rules if applies]


def _first(ears: Ears, blocks: Iterator[Samples]) -> Heard | None:
    return next((heard for heard in ears.listen(blocks) if not heard.partial), None)


def _within(blocks: Iterator[Samples], seconds: float) -> Iterator[Samples]:
    """The blocks that are begun within so many seconds."""
    length = 0
    while length < seconds * SAMPLE_RATE:
        block = next(blocks, None)
        if block is None:
            return
        length += len(block)
        yield block


def _noted(blocks: Iterator[Samples], into: list[Samples]) -> Iterator[Samples]:
    """The blocks of one sentence, which are noted too."""
    for block in _within(blocks, WAITS_S):
        into.append(block)
        yield block


def _taken(blocks: Iterator[Samples], seconds: float) -> Samples:
    return np.concatenate([np.zeros(0, dtype=np.float32), *_within(blocks, seconds)])
