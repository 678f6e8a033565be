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
_DECIDING = ("assistant/hear", "assistant/understand", "grammars")
_ROOTS = ("assistant/units.py", "assistant/asked.py", "assistant/events.py")
_BENCH = {
    "whisper": ("engines.py", "plain_numbers.py", "corpus/fixed.py"),
    "pocketsphinx": ("engines.py", "sphinx.py", "automaton.py"),
}


@cache
def code_of(engine: str, root: Path = ROOT) -> str:
    """A checksum of the code that makes an engine's results."""
    files = [file for folder in _DECIDING for file in (root / folder).rglob("*")]
    files += [root / name for name in _ROOTS]
    files += [root / "tests/bench" / name for name in _BENCH.get(engine, ("engines.py",))]
    found = hashlib.sha256(engine.encode())
    for file in sorted(files):
        if file.suffix in (".py", ".jsgf", ".toml") and file.is_file():
            found.update(file.relative_to(root).as_posix().encode() + file.read_bytes())
    return found.hexdigest()[:16]


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
