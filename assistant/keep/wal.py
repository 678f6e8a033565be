"""The write-ahead log beside a SQLite file, read without SQLite, to see whether it is whole.

SQLite stops reading the log at the first frame that does not check and takes the rest for never
written. After a power cut that is right; where a disk has spoiled the middle, it would silently
drop what was accepted. (sqlite.org, "Database File Format", sec. 4.)
"""

import struct
from dataclasses import dataclass
from pathlib import Path

_HEADER, _FRAME = 32, 24
_MAGIC = {0x377F0682: "<", 0x377F0683: ">"}
_SIZES = tuple(2**n for n in range(9, 17))
_USUAL = 4096


@dataclass(frozen=True)
class Log:
    """What a log holds.

    pages : page number to its newest committed bytes
    lost : commits of this log that stand behind a frame which does not check
    """

    pages: dict[int, bytes]
    lost: int


def read_log(data: bytes) -> Log:
    """The committed pages of a log; empty for bytes that are no log.

    >>> read_log(b"")
    Log(pages={}, lost=0)
    """
    if len(data) < _HEADER + _FRAME:
        return Log({}, 0)
    magic, size = struct.unpack(">I4xI", data[:12])
    size = size if size in _SIZES else _USUAL
    frames = range(_HEADER, len(data) - _FRAME - size + 1, _FRAME + size)
    order, salts = _MAGIC.get(magic, ">"), data[16:24]
    sums = _checksum(data[:24], order, (0, 0))
    if magic not in _MAGIC or struct.pack(">II", *sums) != data[24:32]:
        salts = data[_HEADER + 8 : _HEADER + 16]
        return Log({}, sum(_commits(data, at, salts) for at in frames))
    pages: dict[int, bytes] = {}
    pending: dict[int, bytes] = {}
    for number, at in enumerate(frames):
        body = data[at + _FRAME : at + _FRAME + size]
        sums = _checksum(data[at : at + 8] + body, order, sums)
        if data[at + 8 : at + 16] != salts or struct.pack(">II", *sums) != data[at + 16 : at + 24]:
            return Log(pages, sum(_commits(data, later, salts) for later in frames[number:]))
        pending[struct.unpack(">I", data[at : at + 4])[0]] = body
        if _commits(data, at, salts):
            pages |= pending
            pending = {}
    return Log(pages, 0)


def is_broken(database: Path) -> bool:
    """Whether accepted events stand behind a spoiled place of a store's log.

    One commit may be under way when the power fails, so that a single one proves nothing; a second
    was begun only after the first was on the disk.
    """
    log = log_beside(database)
    before = _bytes(log)
    if read_log(before).lost < 2:
        return False
    # Another program may have begun the log anew while it was read.
    again = _bytes(log)
    return again[:_HEADER] == before[:_HEADER] and read_log(again).lost >= 2


def log_beside(database: Path) -> Path:
    """Where SQLite keeps the log of a file."""
    return database.with_name(database.name + "-wal")


def _bytes(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError:
        return b""


def _commits(data: bytes, at: int, salts: bytes) -> bool:
    return data[at + 4 : at + 8] != b"\0\0\0\0" and data[at + 8 : at + 16] == salts


def _checksum(data: bytes, order: str, start: tuple[int, int]) -> tuple[int, int]:
    one, two = start
    words = struct.unpack(f"{order}{len(data) // 4}I", data)
    for first, second in zip(words[::2], words[1::2], strict=True):
        one = (one + first + two) & 0xFFFFFFFF
        two = (two + second + one) & 0xFFFFFFFF
    return one, two
