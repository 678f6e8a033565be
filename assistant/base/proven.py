"""Whether a large file that came along is still as it was published, looked at once.

Reading a model through takes a tenth of a second; so what was proven is remembered among this
user's cached files, with the file's size and times, and looked at again only when those change.
"""

import hashlib
import json
import os
from contextlib import suppress
from pathlib import Path
from typing import Any

from platformdirs import user_cache_dir

Known = dict[str, list[Any]]


def is_as_published(file: Path, digest: str) -> bool:
    """Whether a file has that SHA-256, as hex; OSError where it can't be read."""
    found = file.resolve()
    now = os.stat(found)
    standing = [now.st_size, now.st_mtime_ns, now.st_ctime_ns]
    known = _known()
    if known.get(str(found), [])[:3] == standing:
        return bool(known[str(found)][3:] == [digest])
    with found.open("rb") as opened:
        read = hashlib.file_digest(opened, "sha256").hexdigest()
    _remember(str(found), [*standing, read])
    return read == digest


def _memory() -> Path:
    return Path(user_cache_dir("panside", appauthor=False)) / "proven.json"


def _known() -> Known:
    try:
        known = json.loads(_memory().read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    well = isinstance(known, dict) and all(isinstance(row, list) for row in known.values())
    return known if well else {}


def _remember(file: str, row: list[Any]) -> None:
    """Written under another name first, since several programs may start at once."""
    memory = _memory()
    part = memory.with_name(f"{memory.name}.{os.getpid()}")
    with suppress(OSError):  # Without it the file is read again the next time.
        memory.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(json.dumps(_known() | {file: row}), "utf-8")
        part.replace(memory)
