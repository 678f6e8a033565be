"""Has texts spoken: quick voices here, Kokoro's as a list of work for a machine with more cores.

    python -m tests.bench.tuning.speaking --texts FILE --out DIR --digits DIR --quick 2200
        --kokoro 1800 [--corpora SPLIT:SIZE ...] [--skip-quick]

Writes DIR/quick.npz (sounds of the quick voices and of two people's digits), DIR/choosing.npz
(the third person's) and DIR/kokoro.json: for each clip its sounds as numbers of the model's
alphabet, styles and pace. `tests.bench.tuning.kokoro` speaks that list.
"""

import argparse
import io
import json
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import soundfile

from tests.bench.corpus import plan, synthesisers
from tests.bench.corpus.fixture_tools import Sound, resample, rms, trimmed
from tests.bench.tuning.voices import DIGITS_FOR_CHOOSING, kokoro, others

RATE = 16_000
_FIGURES = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
Line = dict[str, Any]


def packed(sound: Sound) -> bytes:
    """A sound at 16 kHz as Ogg Vorbis; trained on through rooms and noise anyway."""
    file = io.BytesIO()
    level = 0.1 / max(rms(sound), 1e-9)
    soundfile.write(file, np.clip(sound * level, -1, 1), RATE, format="OGG", subtype="VORBIS")
    return file.getvalue()


def even(sound: Sound, rate: int) -> Sound:
    """At 16 kHz without spare margins, a tenth of a second left."""
    cut = trimmed(resample(np.asarray(sound, dtype=np.float64), rate, RATE), RATE)
    edge = int(0.25 * RATE)
    return cut[edge:-edge] if cut.size > 3 * edge else cut


def _one(job: tuple[int, str]) -> bytes:
    place, words = job
    rng = Random(f"quick {place}")
    voices = others()
    name, _, speak = rng.choices(voices, [share for _, share, _ in voices])[0]
    try:
        return packed(even(*speak(words, rng.getrandbits(20))))
    except Exception as failed:  # a synthesiser that stumbles costs one clip, not the run
        print(name, words, failed)
        return b""


def quick(texts: list[Line], jobs: int) -> Iterator[tuple[bytes, str]]:
    """Clips of the quick voices."""
    with ProcessPoolExecutor(jobs) as pool:
        work = [(place, line["words"]) for place, line in enumerate(texts)]
        for line, sound in zip(texts, pool.map(_one, work, chunksize=8), strict=True):
            if sound:
                yield sound, line["text"]


def _people(folder: Path) -> dict[str, dict[int, list[Sound]]]:
    found: dict[str, dict[int, list[Sound]]] = {}
    for file in sorted(folder.rglob("*.wav")):
        figure, person, _ = file.stem.split("_")
        sound, rate = soundfile.read(file, dtype="float64")
        found.setdefault(person, {}).setdefault(int(figure), []).append(resample(sound, rate, RATE))
    return found


def digits(folder: Path, joined: int, rng: Random) -> Iterator[tuple[str, bytes, str]]:
    """Each recorded digit of each person, and so many runs of two or three of them."""
    for person, figures in _people(folder).items():
        for figure, sounds in figures.items():
            for sound in sounds:
                yield person, packed(sound), f"{figure}."
        for _ in range(joined):
            run = [rng.randrange(10) for _ in range(rng.choice((2, 3)))]
            parts = [
                part
                for one in run
                for part in (
                    rng.choice(figures[one]) / 1.0,
                    np.zeros(int(rng.uniform(0, 0.08) * RATE)),
                )
            ]
            text = " ".join(_FIGURES[one] for one in run)
            yield person, packed(np.concatenate(parts)), f"{text.capitalize()}."


def _numbers(words: str, british: bool) -> list[list[int]]:
    letters = synthesisers._kokoro_parts()[2]
    spoken = synthesisers._hibari(british=british).phonemize(synthesisers.sentence(words))
    return [[letters[sound] for sound in sounds if sound in letters] for sounds in spoken]


def kokoro_work(texts: list[Line]) -> Iterator[Line]:
    """What is to be spoken for training."""
    for place, line in enumerate(texts):
        voice = kokoro(Random(f"kokoro {place}"))
        numbers = _numbers(line["words"], voice.styles[0].startswith("b"))
        yield {"text": line["text"], "tokens": numbers, "styles": voice.styles,
               "weight": voice.weight, "pace": voice.pace}  # fmt: skip


def corpus_work(split: str, size: int) -> Iterator[Line]:
    """What Kokoro's voices say in a set of `tests.bench.corpus`."""
    for row in plan.rows(split, size, plan.SEED):  # type: ignore[arg-type]
        if row.voice.startswith("kokoro-"):
            style = row.voice.removeprefix("kokoro-")
            yield {"corpus": f"{split}/{row.file}", "text": row.words, "styles": [style],
                   "tokens": _numbers(row.words, style.startswith("b")), "weight": 1.0,
                   "pace": synthesisers.pace(row.seed)}  # fmt: skip


def saved(file: Path, clips: list[tuple[bytes, str]]) -> None:
    """Sounds one behind the other, with where each ends, and the texts."""
    ends = np.cumsum([len(sound) for sound, _ in clips])
    np.savez(file, sounds=np.frombuffer(b"".join(s for s, _ in clips), np.uint8), ends=ends,
             texts=np.array([text for _, text in clips]))  # fmt: skip


def main() -> None:
    """The command."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--texts", type=Path, required=True)
    options.add_argument("--out", type=Path, required=True)
    options.add_argument("--digits", type=Path, required=True)
    options.add_argument("--quick", type=int, default=2200)
    options.add_argument("--kokoro", type=int, default=2000)
    options.add_argument("--corpora", nargs="*", default=[], help="SPLIT:SIZE")
    options.add_argument("--jobs", type=int, default=2)
    options.add_argument("--skip-quick", action="store_true")
    given = options.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    lines = [json.loads(line) for line in given.texts.read_text("utf-8").splitlines()]
    work = list(kokoro_work(lines[given.quick : given.quick + given.kokoro]))
    for corpus in given.corpora:
        split, size = corpus.split(":")
        work += corpus_work(split, int(size))
    (given.out / "kokoro.json").write_text(json.dumps(work), "utf-8")
    print(len(work), "for Kokoro", flush=True)
    people = list(digits(given.digits, 250, Random("digits")))
    saved(given.out / "choosing.npz", [p[1:] for p in people if p[0] == DIGITS_FOR_CHOOSING])
    clips = [p[1:] for p in people if p[0] != DIGITS_FOR_CHOOSING]
    if not given.skip_quick:
        clips += quick(lines[: given.quick], given.jobs)
        saved(given.out / "quick.npz", clips)
    print(len(clips), "quick clips")


if __name__ == "__main__":
    main()
