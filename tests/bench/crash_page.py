"""The kitchen page's server killed while it is talked to: is what it acknowledged there, once?

    python -m tests.bench.crash_page [--points 25] [--seed 1]

A page sends notes and readings, each under an id; the server is killed at a random moment and
started again; what was not acknowledged is sent again under the same id, as the page does. At the
end every note must stand in the journal exactly once. Printed: points, acknowledged, sent twice.
"""

import argparse
import json
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

from websockets.exceptions import ConnectionClosed
from websockets.sync.client import connect

from assistant.keep import Journal

sys.path.append(str(Path(__file__).parents[1] / "screen"))
from kitchens import Command

LINES_A_POINT = 6


class Talk:
    """What was said under which id, and what was acknowledged."""

    def __init__(self, batch: str, random: Random) -> None:
        self.batch, self.random = batch, random
        self.waiting: dict[str, str] = {}
        self.acked: set[str] = set()
        self.said: list[str] = []
        self.sent: Counter[str] = Counter()

    def new(self) -> None:
        name = f"message-{len(self.said):05}"
        self.waiting[name] = f"note number {len(self.said)} stands here"
        self.said.append(self.waiting[name])

    def over(self, address: str, killer: "Killer | None") -> None:
        """Send what waits, and new lines while a kill is due; stop when the line breaks."""
        url = f"{address.replace('http', 'ws')}live?batch={self.batch}"
        try:
            with connect(url, origin=address.rstrip("/"), max_queue=None) as line:  # type: ignore[arg-type]
                for _ in range(LINES_A_POINT if killer else 0):
                    self.new()
                for name, text in self.waiting.items():
                    self.sent[name] += 1
                    line.send(json.dumps({"kind": "say", "id": name, "text": text}))
                if killer:
                    killer.after(self.random.uniform(0.0, 0.25))
                while self.waiting:
                    self._take(json.loads(line.recv(timeout=10)))
        except (ConnectionClosed, EOFError, OSError):
            return

    def _take(self, message: dict[str, str]) -> None:
        if message["kind"] == "ack":
            self.acked.add(message["id"])
            self.waiting.pop(message["id"], None)


class Killer:
    """Kills the server once."""

    def __init__(self, command: Command) -> None:
        self.command = command

    def after(self, seconds: float) -> None:
        time.sleep(seconds)
        self.command.kill()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--points", type=int, default=25)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        command = Command(folder, "--recipe", "berry-syrup", "--mute")
        with Journal(folder / "journal.sqlite") as journal:
            (batch,) = journal.names()
            talk = Talk(batch, Random(given.seed))
            for _ in range(given.points):
                talk.over(command.address, Killer(command))
                command.start()
            while talk.waiting:
                talk.over(command.address, None)
            command.end()
            notes = Counter(e.heard for e in journal.events(batch) if e.kind == "note")
    lost = [text for text in talk.said if notes[text] == 0]
    twice = [text for text in talk.said if notes[text] > 1]
    print(f"{given.points} kills in {time.perf_counter() - begun:.0f} s, seed {given.seed}:")
    print(
        f"{len(talk.said)} notes said, {len(talk.acked)} acknowledged, "
        f"{talk.sent.total() - len(talk.sent)} of them sent again,"
    )
    print(f"{len(lost)} lost, {len(twice)} written twice, {sum(notes.values())} in the journal.")


if __name__ == "__main__":
    main()
