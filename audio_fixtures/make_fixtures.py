"""Make the recordings and `manifest.jsonl` from `utterances.toml`.

    python audio_fixtures/make_fixtures.py                 every recording, from nothing
    python audio_fixtures/make_fixtures.py 'demo/0[1-3]*'  those only, and any that is missing

Needs this project's `audio` extra and the Debian packages `flite` and `espeak-ng`. Recordings
that `utterances.toml` no longer lists are removed. Each clip's random numbers come from its file
name, so that a change to one clip leaves the others as they are.
"""

import json
import sys
import tomllib
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from fnmatch import fnmatch
from pathlib import Path
from typing import Any

import numpy as np
import shaping
import soundfile
from noises import MAKERS, Sound
from voices import VOICES, speak

HERE = Path(__file__).resolve().parent
RATE = 16_000
NO_VOICE = "CC0-1.0"
NONSPEECH_SECONDS = 3.0


@dataclass(frozen=True)
class Clip:
    """One recording to make."""

    file: str
    set: str
    words: str
    awaiting: str
    events: list[dict[str, Any]]
    say: str = ""
    voice: str = ""
    noise: str = ""
    snr_db: float | None = None
    level_db: float = 0.0
    rate: int = RATE
    channels: int = 1
    after_s: float | None = None
    seed: int = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "seed", zlib.crc32(self.file.encode()))


@dataclass(frozen=True)
class Take:
    """Who says it, over which noise, into which kind of file: "slt fan 10 wav 44100 2"."""

    voice: str
    noise: str = ""
    snr_db: float | None = None
    wav: bool = False
    rate: int = RATE
    channels: int = 1

    @classmethod
    def read(cls, text: str) -> "Take":
        """Parse one entry of `takes`."""
        voice, *rest = text.split()
        made: dict[str, Any] = {}
        if rest and rest[0] in MAKERS:
            made |= {"noise": rest[0], "snr_db": float(rest[1])}
            rest = rest[2:]
        if rest and rest[0] == "wav":
            made |= {"wav": True, "rate": int(rest[1]), "channels": int(rest[2])}
            rest = rest[3:]
        if rest or voice not in VOICES:
            raise ValueError(f"take not understood: {text!r}")
        return cls(voice=voice, **made)


def slug(text: str) -> str:
    """A text as part of a file name."""
    letters = "".join(c if c.isalnum() else "_" for c in text.replace("'", "").replace(",", ""))
    return letters[:48].rstrip("_")


def clips(listed: dict[str, Any]) -> Iterator[Clip]:
    """Every clip that `utterances.toml` asks for, the demo first and in its order."""
    for number, row in enumerate(listed["demo"], start=1):
        yield _demo_clip(number, row, listed["demo_voice"])
    for part in ("test", "chatter"):
        for row in listed[part]:
            for text in row["takes"]:
                yield _spoken_clip(part, row, text)
    for row in listed["nonspeech"]:
        yield _noise_clip(row)


def _common(row: dict[str, Any]) -> dict[str, Any]:
    return {
        "words": row["words"],
        "say": row.get("say", row["words"]),
        "awaiting": row["awaiting"],
        "events": row.get("events", []),
    }


def _demo_clip(number: int, row: dict[str, Any], voice: str) -> Clip:
    take = Take.read(f"{voice} {row.get('over', '')}")
    return Clip(
        file=f"demo/{number:02d}_{slug(row['words'])}.flac",
        set="demo",
        voice=voice,
        noise=take.noise,
        snr_db=take.snr_db,
        after_s=row["after_s"],
        **_common(row),
    )


def _spoken_clip(part: str, row: dict[str, Any], text: str) -> Clip:
    take = Take.read(text)
    ending = "wav" if take.wav else "flac"
    stem = "-".join([row["awaiting"] or "idle", slug(row["words"]), *text.split()])
    return Clip(
        file=f"{part}/{stem}.{ending}",
        set=part,
        voice=take.voice,
        noise=take.noise,
        snr_db=take.snr_db,
        rate=take.rate,
        channels=take.channels,
        **_common(row),
    )


def _noise_clip(row: dict[str, Any]) -> Clip:
    name = f"{row['noise']}-{abs(row['level_db']):g}"
    return Clip(
        file=f"nonspeech/{name}.flac",
        set="nonspeech",
        words="",
        awaiting=row["awaiting"],
        events=[],
        noise=row["noise"],
        level_db=row["level_db"],
    )


def samples(clip: Clip) -> Sound:
    """The sound of a clip at the clip's own rate."""
    rng = np.random.default_rng(clip.seed)
    if not clip.voice:
        size = int(NONSPEECH_SECONDS * clip.rate)
        return shaping.not_over(
            MAKERS[clip.noise](rng, size, clip.rate) * 10 ** (clip.level_db / 20)
        )
    said, rate = speak(VOICES[clip.voice], clip.say, clip.seed)
    sound = shaping.trimmed(shaping.resample(said, rate, clip.rate), clip.rate)
    sound = shaping.at_level(sound, clip.rate, rng.uniform(-34.0, -26.0))
    if clip.snr_db is not None:
        sound = shaping.with_noise(sound, clip.rate, clip.noise, clip.snr_db, rng)
    return shaping.not_over(sound)


def write(clip: Clip) -> None:
    """Make one recording."""
    target = HERE / clip.file
    target.parent.mkdir(exist_ok=True)
    sound = samples(clip)
    shaped = shaping.two_channels(sound) if clip.channels == 2 else sound
    soundfile.write(target, shaped, clip.rate, subtype="PCM_16")


def manifest_line(clip: Clip) -> dict[str, Any]:
    """What the manifest says about a recording that exists."""
    voice = VOICES.get(clip.voice)
    line = {
        "file": clip.file,
        "set": clip.set,
        "words": clip.words,
        "awaiting": clip.awaiting,
        "events": clip.events,
        "voice": clip.voice,
        "voice_kind": voice.kind if voice else "none",
        "noise": clip.noise,
        "snr_db": clip.snr_db,
        "licence": voice.licence if voice else NO_VOICE,
        "seconds": round(soundfile.info(HERE / clip.file).duration, 3),
    }
    return line if clip.after_s is None else {**line, "after_s": clip.after_s}


def remove_unlisted(wanted: list[Clip]) -> None:
    """Delete recordings that nothing asks for any more."""
    keep = {clip.file for clip in wanted}
    for path in [*HERE.glob("*/*.flac"), *HERE.glob("*/*.wav")]:
        if path.relative_to(HERE).as_posix() not in keep:
            path.unlink()


def main(patterns: list[str]) -> None:
    """Make what the patterns name (all, without any) and write the manifest."""
    listed = tomllib.loads((HERE / "utterances.toml").read_text("utf-8"))
    wanted = list(clips(listed))
    if len({clip.file for clip in wanted}) != len(wanted):
        raise ValueError("two clips would have the same file name")
    for clip in wanted:
        named = not patterns or any(fnmatch(clip.file, pattern) for pattern in patterns)
        if named or not (HERE / clip.file).exists():
            write(clip)
    remove_unlisted(wanted)
    lines = [json.dumps(manifest_line(clip)) for clip in wanted]
    (HERE / "manifest.jsonl").write_text("\n".join(lines) + "\n", "utf-8")
    print(f"{len(wanted)} recordings listed")


if __name__ == "__main__":
    main(sys.argv[1:])
