"""Results kept as they come, so that a run that was killed goes on where it was.

A line of JSON a clip, under a key of the sound, the context, the engine and the engine's code: when
any of these changes, the clip is done again and old lines are left lying.
"""

import hashlib
import json
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from tests.bench.result import Made
from tests.bench.scoring import Clip, asked_for

ROOT = Path(__file__).parents[2]
_READING = ("assistant/understand", "grammars", "assistant/base/units.py", "assistant/facts")
_GATE = ("assistant/hear/audio.py", "assistant/hear/heard.py", "assistant/hear/voice_activity.py")
_OURS = ("assistant/hear", *_READING)
_CODE = {
    "whisper": (
        *_GATE, "assistant/hear/whisper_model.py", "tests/bench/plain_numbers.py",
        "tests/bench/corpus/fixed.py",
    ),
    "pocketsphinx": (
        *_GATE, *_READING, "tests/bench/sphinx.py", "tests/bench/stages.jsgf",
        "tests/bench/automaton.py",
    ),
}  # fmt: skip
"""What makes the results of an engine that is not ours: the gate, its own code, how it is read."""


@cache
def code_of(engine: str, root: Path = ROOT) -> str:
    """A checksum of the code that makes an engine's results; what counts them is not in it."""
    found = hashlib.sha256(engine.encode())
    for name in ("tests/bench/engines.py", *_CODE.get(engine, _OURS)):
        for file in _files(root / name):
            found.update(file.relative_to(root).as_posix().encode() + file.read_bytes())
    return found.hexdigest()[:16]


def _files(place: Path) -> list[Path]:
    """The file, or the code and grammars of a folder."""
    inside = sorted(place.rglob("*")) if place.is_dir() else [place]
    return [f for f in inside if f.suffix in (".py", ".jsgf", ".toml") and f.is_file()]


def key_of(clip: Clip, sound: bytes, engine: str, code: str) -> str:
    """The key of one clip's result."""
    found = hashlib.sha256(f"{engine} {code}".encode())
    found.update(asked_for(clip).model_dump_json().encode())
    found.update(sound)
    return found.hexdigest()[:24]


class Kept:
    """The file of results. A last line that was cut off is passed over."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._made = dict(_lines(file)) if file.exists() else {}

    def get(self, key: str) -> Made | None:
        """The result under a key, if there is one."""
        return self._made.get(key)

    def add(self, key: str, made: Made) -> None:
        """Keep a result, at once; on a line of its own even behind one that was cut off."""
        self._made[key] = made
        line = json.dumps({"key": key, "made": made.model_dump(mode="json")})
        with self._file.open("a", encoding="utf-8") as out:
            out.write(f"\n{line}")


def _lines(file: Path) -> Iterable[tuple[str, Made]]:
    for line in file.read_text("utf-8").splitlines():
        try:
            row = json.loads(line)
            yield row["key"], Made.model_validate(row["made"])
        except (ValueError, KeyError):
            continue
