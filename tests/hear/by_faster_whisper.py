"""What faster-whisper 1.2.1 (SYSTRAN, MIT) makes of some sounds, for two tests to compare with.

    pip install faster-whisper==1.2.1 && python -m tests.hear.by_faster_whisper

writes `by_faster_whisper.npz` anew: `mel NAME` by its FeatureExtractor, `speech` by its wrapper of
Silero's model. The values stand here so that nobody else has to install it.
"""

from pathlib import Path

import numpy as np

from assistant.base.data import folder
from assistant.hear.audio import read_recording
from assistant.hear.heard import SAMPLE_RATE, Samples
from assistant.hear.voice_activity import FRAME

KEPT = Path(__file__).with_suffix(".npz")
RECORDING = "demo/01_two_point_four_kilos_of_blackcurrants.flac"


def recording() -> Samples:
    """The demo's first recording, as long as whole steps of the gate."""
    sound = read_recording(folder("audio_fixtures").joinpath(RECORDING))
    return sound[: len(sound) - len(sound) % FRAME]


def sounds() -> dict[str, Samples]:
    """Speech, a rising tone over hiss, hiss alone, nothing, and a blink of sound."""
    rng = np.random.default_rng(11)
    at = np.arange(SAMPLE_RATE // 2) / SAMPLE_RATE
    hiss = rng.standard_normal(len(at)) * 0.01
    rising = 0.4 * np.sin(2 * np.pi * (50 + 7500 * at) * at)
    found = {
        "speech": recording()[: 6 * SAMPLE_RATE // 5],
        "rising": rising + hiss,
        "hiss": hiss[:4000],
        "nothing": np.zeros(3200),
        "blink": rising[1000:1010],
    }
    return {name: sound.astype(np.float32) for name, sound in found.items()}


def main() -> None:
    """The command."""
    from faster_whisper.feature_extractor import FeatureExtractor
    from faster_whisper.vad import get_vad_model

    extract = FeatureExtractor()
    values = {f"mel {name}": extract(sound) for name, sound in sounds().items()}
    speech = get_vad_model()(recording().copy())
    np.savez_compressed(KEPT, speech=speech, filters=extract.mel_filters, **values)


if __name__ == "__main__":
    main()
