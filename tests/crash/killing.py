"""Killing a kitchen at any moment, and looking afterwards whether anything was lost."""

import json
import multiprocessing
import os
import random
import select
import signal
import sqlite3
import time
from contextlib import closing
from dataclasses import dataclass
from functools import cache
from multiprocessing.connection import Connection
from multiprocessing.forkserver import ensure_running
from multiprocessing.process import BaseProcess
from pathlib import Path

from assistant.keep import Journal
from tests.crash import kitchen_child as child

JOURNEYS = sorted((Path(__file__).parent.parent / "journeys").glob("*.txt"))
SAID = ["2.4 kg of blackcurrants", "how much sugar"]
EVENTS = {0: 2}
"""How many events a line leads to, where it is not one: a weight names the fruit too."""
NOTES = 24


class Lost(AssertionError):
    """Something accepted is not there, or not once."""


@dataclass
class Points:
    """How often somebody was killed, and how many accepted events were looked for since."""

    killed: int = 0
    events: int = 0
    finished: int = 0

    def __add__(self, other: "Points") -> "Points":
        return Points(
            self.killed + other.killed,
            self.events + other.events,
            self.finished + other.finished,
        )


@cache
def _context() -> multiprocessing.context.ForkServerContext:
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["tests.crash.kitchen_child"])
    os.environ["PANSIDE_CRASH_SERVER"] = "yes"
    try:
        ensure_running()
    finally:
        del os.environ["PANSIDE_CRASH_SERVER"]
    return context


def line(number: int) -> str:
    """What is typed as the number-th line: mostly notes, each its own."""
    return SAID[number] if number < len(SAID) else f"note number {number} smells of roses"


def sound(store: Path) -> None:
    """The file itself is whole; its log is left beside it, as it was."""
    with closing(sqlite3.connect(f"{store.as_uri()}?mode=ro", uri=True)) as base:
        found = base.execute("PRAGMA integrity_check").fetchall()
    if found != [("ok",)]:
        raise Lost(f"{store}: {found}")


# --- chat ---------------------------------------------------------------------------------------


def chat_batch(folder: Path, chance: random.Random, kills: int) -> Points:
    """One batch typed into `panside chat`, killed so many times on its way, and then finished."""
    store = folder / "chat.sqlite"
    points, first = Points(), 0
    while True:
        last = points.killed == kills
        answered = _one_chat(store, first, None if last else chance)
        accepted = _accepted(store)
        if accepted < answered:
            raise Lost(f"{answered} lines were answered, {accepted} are in the journal")
        points += Points(killed=not last, events=accepted, finished=last)
        first = accepted
        if last:
            if accepted != NOTES:
                raise Lost(f"{accepted} of {NOTES} lines came through")
            return points


def _one_chat(store: Path, first: int, chance: random.Random | None) -> int:
    """Type from that line on, until the end or until killed; the lines answered in all."""
    child_in, mine_in = _context().Pipe(duplex=False)
    mine_out, child_out = _context().Pipe(duplex=False)
    process = _context().Process(target=child.chat, args=(str(store), child_in, child_out))
    process.start()
    child_in.close()
    child_out.close()
    text = "".join(f"{line(n)}\n" for n in range(first, NOTES)).encode()
    answers = _feed(process, mine_in.fileno(), mine_out.fileno(), text, chance)
    mine_in.close()
    answers += _rest(mine_out.fileno())
    mine_out.close()
    process.join()
    whole = answers.count(b"\n")
    for told in answers.split(b"\n")[:whole]:
        if json.loads(told)["verdict"] != "take":
            raise Lost(f"not taken: {told!r}")
    return first + whole


def _feed(
    process: BaseProcess, into: int, out: int, text: bytes, chance: random.Random | None
) -> bytes:
    """Write in pieces and read along; kill after some bytes and some time, if asked to."""
    stop = chance.randrange(len(text) + 1) if chance else len(text)
    piece = chance.choice((7, 30, 90, 1000)) if chance else 1000
    answers, sent = b"", 0
    while sent < stop:
        sent += os.write(into, text[sent : min(sent + piece, stop)])
        if chance and chance.random() < 0.5:
            time.sleep(chance.uniform(0, 0.004))
        while select.select([out], [], [], 0)[0]:
            read = os.read(out, 65536)
            if not read:
                return answers
            answers += read
    if chance:
        wanted = chance.randrange(text[:sent].count(b"\n") + 1)
        while answers.count(b"\n") < wanted and (read := os.read(out, 65536)):
            answers += read
        time.sleep(chance.choice((0, 0.001, 0.01, 0.1)) * chance.random())
        assert process.pid is not None
        os.kill(process.pid, signal.SIGKILL)
    return answers


def _rest(out: int) -> bytes:
    answers = b""
    while read := os.read(out, 65536):
        answers += read
    return answers


def _accepted(store: Path) -> int:
    """How many of the lines are in the journal; Lost unless each is there once and in order."""
    if not store.exists():
        return 0
    sound(store)
    with Journal(store) as journal:
        names = journal.names()
        events = journal.events(names[0]) if names else ()
    if len(names) > 1:
        raise Lost(f"the batch was begun again: {names}")
    heard = [event.heard for event in events if event.kind not in ("begin", "stop")]
    many = len(dict.fromkeys(heard))
    if heard != [line(n) for n in range(many) for _ in range(EVENTS.get(n, 1))]:
        raise Lost(f"{heard} is not what was said, each once")
    return many


# --- scripted batches -----------------------------------------------------------------------------


def scripted_batch(folder: Path, script: Path, chance: random.Random, kills: int) -> Points:
    """A journey on a set clock, killed so many times; in the end the same as undisturbed."""
    store = folder / f"{script.stem}.sqlite"
    counts, expected = _reference(script)
    points, first = Points(), 0
    while True:
        last = points.killed == kills
        told = _one_script(store, script, first, None if last else chance)
        held = _held(store)
        for number, (is_there, was_written) in enumerate(zip(held, expected, strict=False)):
            if is_there != was_written:
                raise Lost(f"{store}, entry {number}: {is_there} for {was_written}")
        if told >= 0 and len(held) < counts[told]:
            raise Lost(f"{counts[told]} events were answered, {len(held)} are there")
        if len(held) not in (0, *counts):
            raise Lost(f"{len(held)} events: half a turn was written")
        points += Points(killed=not last, events=len(held), finished=last)
        # A line that wrote nothing (a question back) is said again, as a cook would.
        first = counts.index(len(held)) if held else 0
        if last:
            if held != expected:
                raise Lost(f"{len(held)} of {len(expected)} events in the end")
            return points


@cache
def _reference(script: Path) -> tuple[list[int], list[str]]:
    return child.reference(script)


def _one_script(store: Path, script: Path, first: int, chance: random.Random | None) -> int:
    mine, theirs = _context().Pipe(duplex=False)
    process = _context().Process(
        target=child.scripted, args=(str(store), str(script), first, theirs)
    )
    process.start()
    theirs.close()
    told = -1
    left = chance.randrange(1, 30) if chance else 10_000
    while left and (number := _next(mine)) is not None:
        told, left = number, left - 1
    if chance:
        time.sleep(chance.choice((0, 0.002, 0.02)) * chance.random())
        process.kill()
        while (number := _next(mine)) is not None:
            told = number
    process.join()
    mine.close()
    return told


def _next(pipe: Connection) -> int | None:
    try:
        return int(json.loads(pipe.recv_bytes()))
    except (EOFError, ConnectionResetError):
        return None


def _held(store: Path) -> list[str]:
    if not store.exists():
        return []
    sound(store)
    with Journal(store) as journal:
        names = journal.names()
        return child.bodies(journal, names[0]) if names else []
