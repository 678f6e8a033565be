"""Who speaks for training: nobody of the held-out set, and none of the voices kept for choosing.

Of the Kokoro model all styles but the held-out eight, the five accented ones and the development
set's four; mixtures of two English styles are voices of nobody. Of the others all that can be
installed freely but awb, ked, allison, the held-out formant voices, and, kept for choosing, rms,
dawson and us-f3. Of the people in the digits' recordings two are trained on, the third is kept.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, partial
from random import Random

from tests.bench.corpus import synthesisers
from tests.bench.corpus.fixture_tools import Sound
from tests.bench.corpus.speakers import SPEAKERS

ENGLISH = (
    "af_alloy", "af_aoede", "af_heart", "af_jessica", "af_kore", "af_nicole", "af_river", "af_sky",
    "am_adam", "am_echo", "am_liam", "am_onyx", "am_santa", "bf_alice", "bf_lily", "bm_daniel",
)  # fmt: skip
FOREIGN = (
    "ef_dora", "em_alex", "em_santa", "ff_siwis", "hf_alpha", "hf_beta", "hm_omega", "hm_psi",
    "if_sara", "im_nicola", "pf_dora", "pm_alex", "pm_santa", "zf_xiaobei", "zf_xiaoni",
    "zf_xiaoxiao", "zf_xiaoyi", "zm_yunjian", "zm_yunxi", "zm_yunxia", "zm_yunyang",
)  # fmt: skip
CHOOSING = ("kokoro-af_bella", "kokoro-am_michael", "kokoro-bf_emma", "kokoro-bm_lewis", "rms",
            "rms-resampled+12%", "dawson", "espeak-us-f3")  # fmt: skip
"""Voices of the development set that were not trained on: by them the mix is chosen."""
DIGITS_FOR_CHOOSING = "theo"
_ESPEAK = (
    "en-us", "en-us+m1", "en-us+m2", "en-us+m4", "en-us+m6", "en-us+f1", "en-us+f4", "en-us+f5",
    "en-gb+m5", "en-gb+f2", "en-gb", "en-gb-x-gbclan", "en-gb-x-gbcwmd+f4", "en-029+m1",
    "en-us+klatt", "en-gb+klatt3", "en-us+Alex", "en-us+belinda", "en-gb+michael", "en-us+linda",
)  # fmt: skip
_FORBIDDEN = ("awb", "ked", "allison", "scotland", "rp")


@dataclass(frozen=True)
class Kokoro:
    """A style, or two with the first one's weight, and the pace."""

    styles: tuple[str, ...]
    weight: float
    pace: float


def kokoro(rng: Random) -> Kokoro:
    """Half single English styles, a third mixtures, the rest speakers of other languages."""
    pace = rng.choice((0.8, 0.9, 0.95, 1.0, 1.0, 1.05, 1.12, 1.25))
    kind = rng.random()
    if kind < 0.5:
        return Kokoro((rng.choice(ENGLISH),), 1.0, pace)
    if kind < 0.82:
        return Kokoro(tuple(rng.sample(ENGLISH, 2)), rng.uniform(0.3, 0.7), pace)
    return Kokoro((rng.choice(FOREIGN),), 1.0, pace)


Speak = Callable[[str, int], tuple[Sound, int]]

_kept_joe = cache(synthesisers._joe)


def _joe(stretch: float, text: str, seed: int) -> tuple[Sound, int]:
    """The neural voice joe from a session that is kept: quicker, and the seed fixes less."""
    return synthesisers.piper(stretch, text, seed, _kept_joe())


def others() -> tuple[tuple[str, float, Speak], ...]:
    """Name, share and way of speaking of the voices that a processor speaks quickly."""
    found: list[tuple[str, float, Speak]] = [
        ("joe", 6.0, partial(_joe, 1.0)),
        ("joe-brisk", 2.0, partial(_joe, 0.8)),
        ("slt", 3.0, partial(synthesisers.flite, "slt")),
        ("kal16", 3.0, partial(synthesisers.flite, "kal16")),
        ("festival-kal_diphone", 2.0, partial(synthesisers.festival, "kal_diphone")),
        ("festival-slt_hts", 3.0, partial(synthesisers.festival, "cmu_us_slt_arctic_hts")),
    ]
    for each in _ESPEAK:
        found.append((f"espeak-{each}", 0.3, partial(synthesisers.espeak, each, 155)))
    held = {speaker.name for speaker in SPEAKERS if speaker.split == "held"}
    taboo = held | set(CHOOSING)
    return tuple(e for e in found if e[0] not in taboo and not any(f in e[0] for f in _FORBIDDEN))
