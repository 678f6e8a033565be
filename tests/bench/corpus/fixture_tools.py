"""The shaping, noises and voices of `audio_fixtures`, which are scripts and not a package."""

import importlib
import sys
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tests.bench.scoring import FOLDER

Sound = NDArray[np.float64]
RATE = 16_000


def _module(name: str) -> Any:
    if str(FOLDER) not in sys.path:
        sys.path.insert(0, str(FOLDER))
    return importlib.import_module(name)


_shaping, _noises, _voices = _module("shaping"), _module("noises"), _module("voices")
resample: Callable[[Sound, int, int], Sound] = _shaping.resample
trimmed: Callable[[Sound, int], Sound] = _shaping.trimmed
at_level: Callable[[Sound, int, float], Sound] = _shaping.at_level
speech_level: Callable[[Sound, int], float] = _shaping.speech_level
not_over: Callable[[Sound], Sound] = _shaping.not_over
rms: Callable[[Sound], float] = _noises.rms
NOISES: dict[str, Callable[[np.random.Generator, int, int], Sound]] = _noises.MAKERS
FixtureVoice: Any = _voices.Voice
speak_fixture: Callable[[Any, str, int], tuple[Sound, int]] = _voices.speak
