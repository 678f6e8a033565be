"""Two people's recorded words, joined to numbers: the only human voices that could be had freely.

Each word was spoken alone, so joined they lack the flow of speech: results on them are reported
apart and are on the hard side.
"""

from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np

from tests.bench.corpus.fixture_tools import Sound, resample, rms, trimmed

ALLISON = Path("/usr/share/asterisk/sounds/en_US_f_Allison")
DAWSON = Path("/usr/share/saytime")
_SMALL = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
    "twenty",
)  # fmt: skip
_TENS = {
    "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}  # fmt: skip
_NUMBERS = {word: str(value) for value, word in enumerate(_SMALL)} | {
    word: str(value) for word, value in _TENS.items()
}
_ALLISON_FILES = {word: f"digits/{name}.g722" for word, name in _NUMBERS.items()} | {
    "hundred": "digits/hundred.g722", "thousand": "digits/thousand.g722", "oh": "digits/oh.g722",
    "minus": "digits/minus.g722", "dot": "letters/dot.g722", "p": "letters/p.g722",
    "h": "letters/h.g722", "no": "vm-no.g722", "sorry": "sorry.g722", "and": "vm-and.g722",
    "minutes": "vm-minutes.g722", "seconds": "seconds.g722", "hours": "hours.g722",
    "is": "is.g722", "pound": "digits/pound.g722", "first": "vm-first.g722",
}  # fmt: skip
_DAWSON_FILES = {word: f"{name}.au" for word, name in _NUMBERS.items() if int(name) <= 50} | {
    "oh": "oh.au", "exactly": "exactly.au", "and": "and.au", "hours": "hours.au",
    "minutes": "minutes.au", "seconds": "seconds.au",
}  # fmt: skip
ALLISON_WORDS, DAWSON_WORDS = frozenset(_ALLISON_FILES), frozenset(_DAWSON_FILES)
_RATE = 16_000


def allison(text: str, seed: int) -> tuple[Sound, int]:
    """A woman's voice from a telephone exchange's prompts, 16 kHz."""
    return _joined(_allison_word, text, seed), _RATE


def dawson(text: str, seed: int) -> tuple[Sound, int]:
    """A man's voice from a speaking clock, 8 kHz mu-law."""
    return _joined(_dawson_word, text, seed), _RATE


def _joined(word: Callable[[str], Sound], text: str, seed: int) -> Sound:
    """The words one after the other, with the short gaps of speech; those by the seed."""
    rng = np.random.default_rng(seed)
    pieces: list[Sound] = []
    for each in text.replace(",", "").split():
        pieces += [word(each), np.zeros(int(rng.uniform(0.0, 0.06) * _RATE))]
    return np.concatenate(pieces)


def _even(sound: Sound, rate: int) -> Sound:
    """One word without its margins, at the common level."""
    edge = int(0.33 * _RATE)
    cut = trimmed(resample(sound, rate, _RATE), _RATE)[edge:-edge]
    return np.asarray(cut * (0.1 / max(rms(cut), 1e-9)), dtype=np.float64)


@cache
def _allison_word(word: str) -> Sound:
    import av

    with av.open(str(ALLISON / _ALLISON_FILES[word]), format="g722") as file:
        parts = [frame.to_ndarray().ravel() for frame in file.decode(audio=0)]
    return _even(np.concatenate(parts).astype(np.float64) / 32768, 16_000)


@cache
def _dawson_word(word: str) -> Sound:
    """The files hold bare mu-law bytes (ITU-T G.711), 8000 a second."""
    code = ~np.frombuffer((DAWSON / _DAWSON_FILES[word]).read_bytes(), dtype=np.uint8)
    exponent, mantissa = (code >> 4) & 7, (code & 15).astype(np.float64)
    size = ((2 * mantissa + 33) * 2.0**exponent - 33) / 8159
    return _even(np.where(code & 128, -size, size), 8000)
