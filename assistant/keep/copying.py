"""Copies of a store's file, made while others may be writing to it."""

import os
import sqlite3
from contextlib import closing
from itertools import count
from pathlib import Path

from assistant.base.errors import WrongUse
from assistant.keep.standing import say_closed


def copy_file(source: Path, target: Path) -> None:
    """Copy a SQLite file as it is at this moment, on the disk when this returns.

    The target appears whole or not at all; WrongUse when there is one already.
    """
    part = target.with_name(target.name + ".part")
    part.unlink(missing_ok=True)
    with closing(sqlite3.connect(source)) as had, closing(sqlite3.connect(part)) as made:
        had.backup(made)
    say_closed(part)
    put_in_place(part, target)


def put_in_place(part: Path, target: Path) -> None:
    """Give a finished file its name, synced, never over another of that name."""
    with part.open("rb+") as file:
        os.fsync(file.fileno())
    try:
        os.link(part, target)
    except FileExistsError as error:
        raise WrongUse(f"{target} is there already; give another name.") from error
    except OSError:
        # A disk without hard links: the check and the renaming are two steps there.
        if target.exists():
            raise WrongUse(f"{target} is there already; give another name.") from None
        part.rename(target)
    part.unlink(missing_ok=True)
    sync_folder(target.parent)


def sync_folder(folder: Path) -> None:
    """A name given in a folder is on the disk when this returns, where the system can do that."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def free_name(wanted: Path) -> Path:
    """That name, or the first of name-2, name-3 ... that is not taken."""
    names = (wanted.with_name(f"{wanted.name}-{number}") for number in count(2))
    return wanted if not wanted.exists() else next(n for n in names if not n.exists())
