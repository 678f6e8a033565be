"""The command line as a process of its own, the way a cook starts it."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
RUN = [sys.executable, "-c", "from assistant.commands import main; main()"]


def environment(store: Path) -> dict[str, str]:
    return {**os.environ, "PANSIDE_STORE": str(store), "PYTHONPATH": str(ROOT)}


def panside(store: Path, *args: str, stdin: str | bytes = "") -> subprocess.CompletedProcess[str]:
    text = stdin.encode() if isinstance(stdin, str) else stdin
    done = subprocess.run(
        [*RUN, *args], input=text, capture_output=True, env=environment(store), check=False
    )
    return subprocess.CompletedProcess(
        done.args, done.returncode, done.stdout.decode(), done.stderr.decode()
    )


def objects(done: subprocess.CompletedProcess[str]) -> list[dict[str, Any]]:
    return [json.loads(line) for line in done.stdout.splitlines()]


def _listens_to_ctrl_c() -> None:
    """A job in the background is started deaf to it, and so are its children."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Typing:
    """A chat that stays open: one line in, one object out."""

    def __init__(self, store: Path, *args: str) -> None:
        self.process = subprocess.Popen(
            [*RUN, "chat", "--json", *args],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env=environment(store),
            text=True,
            preexec_fn=_listens_to_ctrl_c,
        )

    def says(self, words: str) -> dict[str, Any]:
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.write(words + "\n")
        self.process.stdin.flush()
        answer: dict[str, Any] = json.loads(self.process.stdout.readline())
        return answer

    def ends(self) -> int:
        self.process.communicate(timeout=30)
        return self.process.returncode
