"""Packs what Kokoro spoke for training and for the corpora; runs where it was spoken.

    python packing.py WORK SPOKEN [--corpora OUT]

Reads WORK/kokoro.json and SPOKEN/*.npy (16 bits, 24 kHz), writes WORK/train.npz and WORK/corpus.npz
at 16 kHz, and with --corpora the same clips in pieces that can be fetched, OUT/corpus.N.npz.
"""

import argparse
import io
import json
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
import torch

RATE, SPOKEN_AT = 16_000, 24_000
PIECE = 15_000_000


def at_16k(sound: Any) -> Any:
    """16-bit samples at 24 kHz as floats at 16 kHz: what lies above 8 kHz is taken off."""
    values = torch.tensor(sound.astype("float32") / 32768)
    spectrum = torch.fft.rfft(values)
    size = len(values) * RATE // SPOKEN_AT
    return (torch.fft.irfft(spectrum[: size // 2 + 1], size) * RATE / SPOKEN_AT).numpy()


def flac(sound: Any) -> bytes:
    """A sound as FLAC of 16 bits."""
    file = io.BytesIO()
    soundfile.write(file, np.clip(sound, -1, 1), RATE, format="FLAC", subtype="PCM_16")
    return file.getvalue()


def saved(file: Path, clips: list[tuple[bytes, str, str]]) -> None:
    """Sounds one behind the other, with where each ends, the texts and the names."""
    np.savez(
        file,
        sounds=np.frombuffer(b"".join(sound for sound, _, _ in clips), np.uint8),
        ends=np.cumsum([len(sound) for sound, _, _ in clips]),
        texts=np.array([text for _, text, _ in clips]),
        names=np.array([name for _, _, name in clips]),
    )


def in_pieces(folder: Path, clips: list[tuple[bytes, str, str]]) -> None:
    """The clips in files of some size."""
    folder.mkdir(parents=True, exist_ok=True)
    part, size, number = list[tuple[bytes, str, str]](), 0, 0
    for place, clip in enumerate(clips):
        part.append(clip)
        size += len(clip[0])
        if size > PIECE - 500_000 or place == len(clips) - 1:
            saved(folder / f"corpus.{number}.npz", part)
            part, size, number = [], 0, number + 1


def main() -> None:
    """The command."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("work", type=Path)
    options.add_argument("spoken", type=Path)
    options.add_argument("--corpora", type=Path)
    given = options.parse_args()
    training, corpora = [], []
    for place, line in enumerate(json.loads((given.work / "kokoro.json").read_text("utf-8"))):
        file = given.spoken / f"{place:05d}.npy"
        if file.exists():
            clip = (flac(at_16k(np.load(file))), line["text"], line.get("corpus", ""))
            (corpora if clip[2] else training).append(clip)
    saved(given.work / "train.npz", training)
    saved(given.work / "corpus.npz", corpora)
    if given.corpora:
        in_pieces(given.corpora, corpora)
    print(len(training), "for training,", len(corpora), "of corpora")


if __name__ == "__main__":
    main()
