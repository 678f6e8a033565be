"""How long the kitchen page takes: from the end of speech in a browser to words, and under load.

    python -m tests.bench.page [--ears whisper] [--seconds 20]

A recording stands in for the browser's microphone; the last loud block that the page sends is the
end of speech. Load is 20 live lines on one batch, typed words on each of 4 batches, and then 4
microphones speaking at once. Numbers are printed, nothing is asserted.
"""

import argparse
import asyncio
import json
import os
import statistics
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from urllib.request import Request, urlopen
from uuid import uuid4

import numpy as np
from websockets.asyncio.client import ClientConnection, connect

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "screen"))

from cooks import Cook  # noqa: E402
from kitchens import Command, browser  # noqa: E402

from assistant.base.data import folder  # noqa: E402
from assistant.hear.audio import read_recording, to_pcm16  # noqa: E402
from assistant.hear.heard import SAMPLE_RATE, Samples  # noqa: E402
from tests.hear.sounds import write_wav  # noqa: E402

CLIPS = (
    "02_how_much_sugar", "05_fifty_eight_degrees", "12_whats_next", "28_how_long_does_it_keep",
    "20_p_h_three_point_four", "16_two_point_nine_litres",
)  # fmt: skip
PAUSE_S = 5.0
BLOCK = 1024
PAGES, BATCHES = 20, 4
_WATCH = """(() => {
  window.waits = [];
  let loud = 0;
  const send = WebSocket.prototype.send;
  WebSocket.prototype.send = function (data) {
    if (data instanceof ArrayBuffer) {
      const pcm = new Int16Array(data);
      const power = pcm.reduce((sum, value) => sum + value * value, 0) / pcm.length;
      if (Math.sqrt(power) > 180) loud = performance.now();
    }
    return send.call(this, data);
  };
  addEventListener("DOMContentLoaded", () => {
    const seen = () => {
      if (loud) window.waits.push((performance.now() - loud) / 1000);
      loud = 0;
    };
    for (const id of ["reply-words", "bar-state"]) {
      new MutationObserver(seen).observe(document.getElementById(id), { childList: true });
    }
  });
})()"""


def spoken(name: str) -> Samples:
    return read_recording(folder("audio_fixtures").joinpath(f"demo/{name}.flac"))


def told(name: str, values: list[float]) -> str:
    """A line of the table."""
    if not values:
        return f"{name:52}   none"
    p95 = sorted(values)[max(0, round(0.95 * len(values)) - 1)]
    return f"{name:52}{statistics.median(values):8.3f} s{p95:8.3f} s   {len(values)}"


def in_the_browser(address: str, scratch: Path) -> list[float]:
    """From the last loud block to words on the page, for each utterance. [s]"""
    quiet = np.zeros(int(PAUSE_S * SAMPLE_RATE), np.float32)
    parts = [part for name in CLIPS for part in (quiet, spoken(name))]
    file = scratch / "words.wav"
    write_wav(file, np.concatenate([quiet, *parts, quiet]))
    with browser(file) as chromium:
        cook = Cook(chromium, address)
        cook.context.add_init_script(_WATCH)
        cook.opens().at("Weigh")
        cook.types("2.4 kg of blackcurrants")
        cook.at("Crush")
        cook.page.evaluate("localStorage.setItem('panside-voice', 'off')")
        cook.taps("Talk")
        seconds = sum(len(part) for part in parts) / SAMPLE_RATE + 3 * PAUSE_S
        cook.page.wait_for_timeout(seconds * 1000)
        waits: list[float] = cook.page.evaluate("window.waits")
    return waits


class Line:
    """A live line without a page."""

    def __init__(self, socket: ClientConnection) -> None:
        self.socket = socket
        self.sent: dict[str, float] = {}
        self.acks: list[float] = []
        self.turns: dict[str, float] = {}
        self.reading = asyncio.create_task(self._read())

    async def _read(self) -> None:
        async for text in self.socket:
            got: dict[str, Any] = json.loads(text)
            now = time.perf_counter()
            if got["kind"] == "ack":
                self.acks.append(now - self.sent[got["id"]])
            elif got["kind"] == "turn":
                self.turns[got["id"]] = now

    async def say(self, words: str) -> str:
        name = uuid4().hex
        self.sent[name] = time.perf_counter()
        await self.socket.send(json.dumps({"kind": "say", "id": name, "text": words}))
        return name

    async def speak(self, samples: Samples) -> float:
        """A recording at the speed of a microphone; when its last sound was sent."""
        await self.socket.send(json.dumps({"kind": "mic", "on": True}))
        whole = np.concatenate([samples, np.zeros(SAMPLE_RATE * 2, np.float32)])
        begun, ended = time.perf_counter(), 0.0
        for place in range(0, len(whole), BLOCK):
            await asyncio.sleep(max(0.0, begun + place / SAMPLE_RATE - time.perf_counter()))
            await self.socket.send(to_pcm16(whole[place : place + BLOCK]))
            if place < len(samples):
                ended = time.perf_counter()
        return ended


async def lines(address: str, batch: str, count: int) -> list[Line]:
    url = f"{address.replace('http', 'ws')}live?batch={batch}"
    return [Line(await connect(url, origin=address.rstrip("/"))) for _ in range(count)]  # type: ignore[arg-type]


def begun(address: str, count: int) -> list[str]:
    """New batches."""

    def one() -> str:
        body = b'{"recipe": "berry-syrup"}'
        asked = Request(f"{address}api/batches", body, {"origin": address.rstrip("/")})
        with urlopen(asked, timeout=30) as reply:
            return str(json.load(reply)["batch"])

    return [one() for _ in range(count)]


async def typed_load(address: str, batches: list[str], seconds: float) -> Iterator[str]:
    """20 pages on the first batch, one on each other; a question a second on every batch."""
    crowd = await lines(address, batches[0], PAGES)
    others = [(await lines(address, batch, 1))[0] for batch in batches[1:]]
    speakers = [crowd[0], *others]
    for line in speakers:
        await line.say("2 kg of raspberries")
    names = []
    until = time.perf_counter() + seconds
    while time.perf_counter() < until:
        names += [(line, await line.say("how much sugar")) for line in speakers]
        await asyncio.sleep(1.0)
    await asyncio.sleep(2.0)
    mine = [name for line, name in names if line is crowd[0]]
    reached = [
        max(line.turns[name] for line in crowd) - crowd[0].sent[name]
        for name in mine
        if all(name in line.turns for line in crowd)
    ]
    acks = [wait for line in speakers for wait in line.acks]
    missing = len(names) + len(speakers) - len(acks)
    for line in (*crowd, *others):
        await line.socket.close()
    return iter(
        [
            told("typed word written and acknowledged, 4 batches", acks),
            told(f"typed word seen on all {PAGES} pages of a batch", reached),
            f"words without an answer: {missing}",
        ]
    )


async def spoken_load(address: str, batches: list[str]) -> list[float]:
    """4 microphones on 4 batches say something at the same moment, three times. [s]"""
    speakers = [(await lines(address, batch, 1))[0] for batch in batches]
    waits = []
    for name in ("12_whats_next", "02_how_much_sugar", "28_how_long_does_it_keep"):
        before = [set(line.turns) for line in speakers]
        ends = await asyncio.gather(*(line.speak(spoken(name)) for line in speakers))
        await asyncio.sleep(6.0)
        for line, known, end in zip(speakers, before, ends, strict=True):
            waits += [at - end for turn, at in line.turns.items() if turn not in known]
    for line in speakers:
        await line.socket.close()
    return waits


def used(pid: int) -> tuple[float, float]:
    """Processor time and memory of the server. [s], [MB]"""
    parts = Path(f"/proc/{pid}/stat").read_text("ascii").rpartition(")")[2].split()
    ticks = int(parts[11]) + int(parts[12])
    pages = int(Path(f"/proc/{pid}/statm").read_text("ascii").split()[1])
    return ticks / os.sysconf("SC_CLK_TCK"), pages * os.sysconf("SC_PAGE_SIZE") / 2**20


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--ears", default="whisper")
    parser.add_argument("--seconds", type=float, default=20.0)
    chosen = parser.parse_args()
    with TemporaryDirectory() as scratch:
        command = Command(Path(scratch), "--recipe", "berry-syrup", "--ears", chosen.ears)
        print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}")
        print(f"{'':52}{'median':>10}{'95 %':>10}")
        waits = in_the_browser(command.address, Path(scratch))
        print(told("end of speech in the browser to words on the page", waits))
        batches = begun(command.address, BATCHES)
        before, _ = used(command.process.pid)
        for line in asyncio.run(typed_load(command.address, batches, chosen.seconds)):
            print(line)
        after, memory = used(command.process.pid)
        share = (after - before) / (chosen.seconds + 2)
        print(f"server under typed load: {100 * share:.0f} % of a core, {memory:.0f} MB")
        waits = asyncio.run(spoken_load(command.address, batches))
        print(told("4 microphones at once, end of speech to the answer", waits))
        memory = used(command.process.pid)[1]
        print(f"load at the end {os.getloadavg()[0]:.1f}, server {memory:.0f} MB")
        command.end()


if __name__ == "__main__":
    main()
