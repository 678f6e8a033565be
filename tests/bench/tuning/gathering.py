"""What training needs besides clips, out of the installed wheels: gathered into one folder.

    python -m tests.bench.tuning.gathering --out WORK [--corpora dev:1200]

Writes WORK/filters.npy (80 mel bands), WORK/noise.npz (the kitchen noises of the corpora but those
that are kept for the held-out set), WORK/wanted.json (the texts that count as right for the clips
by which the mix is chosen), WORK/tokenizer.json and WORK/model.bin.
"""

import argparse
import json
import shutil
from pathlib import Path
from zlib import crc32

import numpy as np

from assistant.hear.mel import filters
from assistant.hear.whisper_model import model_folder
from tests.bench.corpus import mixing, plan
from tests.bench.corpus.fixture_tools import NOISES
from tests.bench.tuning.voices import CHOOSING
from tests.bench.tuning.writing import readings

RATE, SECONDS, EACH = 16_000, 8, 12
TRAINED_ON = ("boiling", "fan", "clatter")
"""Tap water and pink noise are never trained on."""


def noises() -> "np.ndarray[tuple[int, int], np.dtype[np.int16]]":
    """So many pieces of each noise (pieces, 128000), 16 bits, each as loud as it may be."""
    rows = []
    for name in sorted(set(TRAINED_ON) & set(NOISES)):
        for number in range(EACH):
            rng = np.random.default_rng(crc32(f"tuning {name} {number}".encode()))
            sound = mixing.noise_of(name, RATE * SECONDS, rng)
            rows.append((sound / np.abs(sound).max() * 32_000).astype(np.int16))
    return np.array(rows)


def wanted(corpora: list[str]) -> dict[str, tuple[str, ...]]:
    """For each clip of the voices that choose: the texts that count as right."""
    found = {}
    for corpus in corpora:
        split, size = corpus.split(":")
        for row in plan.rows(split, int(size), plan.SEED):  # type: ignore[arg-type]
            if row.voice in CHOOSING:
                found[f"{split}/{row.file}"] = (*readings(row.words), row.words)
    return found


def main() -> None:
    """The command."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--out", type=Path, required=True)
    options.add_argument("--corpora", nargs="*", default=["dev:1200"], help="SPLIT:SIZE")
    given = options.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    np.save(given.out / "filters.npy", filters())
    np.savez_compressed(given.out / "noise.npz", noise=noises())
    (given.out / "wanted.json").write_text(json.dumps(wanted(given.corpora)), "utf-8")
    for name in ("tokenizer.json", "model.bin"):
        shutil.copy(model_folder() / name, given.out / name)


if __name__ == "__main__":
    main()
