"""Kitchens that serve the page: in this process with a clock that is told, or as a command."""

import asyncio
import os
import shutil
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright
from room_maker import START

from assistant.base.clock import SetClock
from assistant.base.errors import EarsMissing
from assistant.hear.heard import Ears
from assistant.keep import Journal
from assistant.recipebook.files import load_recipe
from assistant.say.voice import SilentVoice
from assistant.screen.entrance import Limits, server
from assistant.screen.house import House, Listener
from assistant.screen.network import HERE
from assistant.screen.pairing import Pairing
from assistant.screen.site import Host, site
from assistant.screen.speech import Speech
from assistant.turns.desk import Desk

ROOT = Path(__file__).resolve().parents[2]
CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"
ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream",
]  # fmt: skip

needs_chromium = pytest.mark.skipif(
    not Path(CHROMIUM).exists(), reason="no Chromium here: apt-get install chromium"
)


@contextmanager
def browser(recording: Path | None = None) -> Iterator[Browser]:
    """Chromium with a folder of its own, and a recording for a microphone."""
    more = [f"--use-file-for-fake-audio-capture={recording}%noloop"] if recording else []
    with sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=CHROMIUM, args=[*ARGUMENTS, *more])
        try:
            yield opened
        finally:
            opened.close()


class Kitchen:
    """The site in a thread of this process."""

    def __init__(
        self, folder: Path, ears: Ears | None = None, recipe: str | None = "berry-syrup"
    ) -> None:
        self.clock = SetClock(START)
        self.journal = Journal(folder / "journal.sqlite")
        self.batch = ""
        if recipe is not None:
            self.batch = Desk(self.journal, self.clock).begin(load_recipe(recipe)).id
        self.codes: list[str] = []
        self._ears = ears
        house = House(self.journal, self.clock, Speech(SilentVoice(seconds_a_word=0.01)))
        pairing = Pairing(b"k" * 32, time.time, self.codes.append)
        self._host = Host(house, self._open, set(HERE), pairing)

    def lets_in(self) -> str:
        """The cookie of a device that was paired now."""
        assert self._host.pairing is not None
        cookie = self._host.pairing.exchange(self.codes[-1])
        assert cookie is not None
        return cookie

    def sounding(self) -> set[Listener]:
        """The pages from which an answer sounds."""
        return self._host.house.sounding

    async def _open(self) -> Ears:
        if self._ears is None:
            raise EarsMissing("There are no ears in this kitchen.")
        return self._ears

    @contextmanager
    def served(self, address: str = "127.0.0.1", limits: Limits | None = None) -> Iterator[str]:
        """The page's address, while it is served."""
        bound = socket.socket()
        bound.bind((address, 0))
        bound.listen()
        serving = server(site(self._host), limits, log_level="error", timeout_graceful_shutdown=1)
        thread = threading.Thread(target=lambda: asyncio.run(serving.serve([bound])))
        thread.start()
        try:
            yield f"http://{address}:{bound.getsockname()[1]}/"
        finally:
            serving.should_exit = True
            thread.join(10)
            self.journal.close()


class Command:
    """`panside screen` as a process of its own, which can be killed."""

    def __init__(self, folder: Path, *args: str, port: int = 0) -> None:
        self._folder, self._args, self._port = folder, args, port
        self.start()

    def start(self) -> None:
        run = [sys.executable, "-c", "from assistant.commands import main; main()", "screen"]
        self.process = subprocess.Popen(
            [*run, *self._args, "--port", str(self._port)],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env={
                **os.environ,
                "PANSIDE_STORE": str(self._folder / "journal.sqlite"),
                "PYTHONPATH": str(ROOT),
            },
            text=True,
        )
        assert self.process.stdout is not None
        said = next(line for line in self.process.stdout if "kitchen page" in line)
        self.address = next(word for word in said.split() if word.startswith("http"))
        self._port = int(self.address.rpartition(":")[2].strip("/"))

    def kill(self) -> None:
        self.process.kill()
        self._gone()

    def end(self) -> int:
        """As with Ctrl-C."""
        self.process.send_signal(signal.SIGINT)
        return self._gone()

    def _gone(self) -> int:
        code = self.process.wait(15)
        assert self.process.stdout is not None
        self.process.stdout.close()
        return code
