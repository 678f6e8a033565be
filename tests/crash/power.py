"""A model of the power failing: what was written and not synced may be lost, in any part.

The journal's own SQL is recorded while it writes, and replayed with the same pragmas over a VFS
that notes every write, cut and sync. From these notes the files are made as they may stand after a
power cut at any moment: all that was synced, and of the rest any sectors of 512 bytes. (SQLite
keeps its promise for disks on which a write spares its neighbours: sqlite.org, "Powersafe
Overwrite".)
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

import apsw
from sqlalchemy import Engine, event

from assistant.facts.events import AnyEvent
from assistant.keep import Journal

SECTOR = 512
PRAGMAS = ("locking_mode=EXCLUSIVE", "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON")
"""As the journal sets them; exclusive, because a VFS written in Python has no shared memory."""


@dataclass(frozen=True)
class Op:
    """One note: what was done to the file of that suffix, or that so many events were accepted."""

    kind: str
    file: str = ""
    at: int = 0
    data: bytes = b""


@dataclass
class Disk:
    """One file: what is surely there, and what may be."""

    synced: bytearray = field(default_factory=bytearray)
    pending: list[Op] = field(default_factory=list)


class Recording(NamedTuple):
    """The bytes of a new store, and what the journal then does: its statements, and a number of
    events after each turn that was accepted."""

    empty: bytes
    statements: list[str | int]


def record_sql(folder: Path, turns: list[tuple[AnyEvent, ...]]) -> Recording:
    """What the journal does while some turns are written.

    A new store gets its name only when all of it is on the disk.
    """
    Journal(folder / "traced.sqlite").close()
    empty = (folder / "traced.sqlite").read_bytes()
    told: list[str | int] = []

    def listen(connection: Any, _record: object) -> None:
        connection.set_trace_callback(told.append)

    event.listen(Engine, "connect", listen)
    try:
        with Journal(folder / "traced.sqlite") as journal:
            seq = 0
            for events in turns:
                journal.append_all(turns[0][0].batch, events, seq)  # type: ignore[union-attr]
                seq += len(events)
                told.append(seq)
    finally:
        event.remove(Engine, "connect", listen)
    writing = ("BEGIN", "COMMIT", "ROLLBACK", "INSERT", "UPDATE", "PRAGMA wal_checkpoint")
    statements = [t for t in told if isinstance(t, int) or t.lstrip().startswith(writing)]
    return Recording(empty, statements)


class _File(apsw.VFSFile):
    def __init__(self, vfs: "_Notes", name: Any, flags: list[int]) -> None:
        super().__init__("", name, flags)
        self._notes = vfs.notes
        self._suffix = (name if isinstance(name, str) else str(name.filename())).rpartition(
            "recorded.sqlite"
        )[2]

    def xWrite(self, data: bytes, offset: int) -> None:
        self._notes.append(Op("write", self._suffix, offset, bytes(data)))
        super().xWrite(data, offset)

    def xTruncate(self, size: int) -> None:
        self._notes.append(Op("cut", self._suffix, size))
        super().xTruncate(size)

    def xSync(self, flags: int) -> None:
        self._notes.append(Op("sync", self._suffix))
        super().xSync(flags)


class _Notes(apsw.VFS):
    """Passes everything on to the system's own VFS and notes it."""

    def __init__(self) -> None:
        self.notes: list[Op] = []
        super().__init__("notes", "")

    def xOpen(self, name: Any, flags: list[int]) -> _File:
        return _File(self, name, flags)

    def xDelete(self, name: str, sync: bool) -> None:
        self.notes.append(Op("delete", name.rpartition("recorded.sqlite")[2]))
        super().xDelete(name, sync)


def replay(folder: Path, recording: Recording, checkpoint: int) -> list[Op]:
    """What the statements do to the disk, with a checkpoint after so many pages of log."""
    (folder / "recorded.sqlite").write_bytes(recording.empty)
    vfs = _Notes()
    vfs.notes += [Op("write", "", 0, recording.empty), Op("sync", ""), Op("accepted")]
    base = apsw.Connection(str(folder / "recorded.sqlite"), vfs="notes")
    for pragma in (*PRAGMAS, f"wal_autocheckpoint={checkpoint}"):
        base.execute(f"PRAGMA {pragma}").fetchall()
    for statement in recording.statements:
        if isinstance(statement, int):
            vfs.notes.append(Op("accepted", at=statement))
        else:
            base.execute(statement).fetchall()
    base.close()
    vfs.unregister()
    return vfs.notes


def power_cuts(
    notes: list[Op], chance: random.Random, share: float
) -> Iterator[tuple[int, dict[str, bytes]]]:
    """Events accepted, and the files as they may stand, for a share of the moments and the last."""
    disks: dict[str, Disk] = {}
    accepted, begun = 0, False
    for number, op in enumerate(notes, start=1):
        if op.kind == "accepted":
            accepted, begun = op.at, True
        elif op.kind == "sync":
            disk = disks.setdefault(op.file, Disk())
            for pending in disk.pending:
                _do(disk.synced, pending)
            disk.pending.clear()
        elif op.kind == "delete":
            disks.pop(op.file, None)
        else:
            disks.setdefault(op.file, Disk()).pending.append(op)
        if begun and (chance.random() < share or number == len(notes)):
            yield accepted, {name: _left(disk, chance) for name, disk in disks.items()}


def _do(data: bytearray, op: Op) -> None:
    if op.kind == "cut":
        del data[op.at :]
        return
    data.extend(bytes(max(0, op.at + len(op.data) - len(data))))
    data[op.at : op.at + len(op.data)] = op.data


def _left(disk: Disk, chance: random.Random) -> bytes:
    """The file after the cut: of what was not synced, none, all, or any sectors."""
    data = bytearray(disk.synced)
    likely = chance.choice((0.0, 0.3, 0.7, 1.0))
    for op in disk.pending:
        parts = _sectors(op) if op.kind == "write" else [op]
        for part in parts:
            if chance.random() < likely:
                _do(data, part)
    return bytes(data)


def _sectors(op: Op) -> Iterator[Op]:
    at, data = op.at, op.data
    while data:
        size = SECTOR - at % SECTOR
        yield Op("write", op.file, at, data[:size])
        at, data = at + size, data[size:]
