"""A whole batch by voice alone on the kitchen page: recordings for a microphone, real ears.

    python -m tests.bench.page_voice

The demo's recordings are played into Chromium's microphone stream one by one, each when the last
has been answered, as a cook waits; nothing is tapped but Talk. What is asked back is answered with
the recorded yes, and what was not understood is said again. The kitchen's clock goes on between
them as in the demo. Printed: what was heard of each, and what the batch came to; exit code 1 where
it did not come to its end.
"""

import base64
import json
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests" / "screen"), str(ROOT / "tests" / "hear")]

from cooks import Cook  # noqa: E402
from kitchens import Kitchen, browser  # noqa: E402
from playwright.sync_api import WebSocket  # noqa: E402
from sounds import write_wav  # noqa: E402

from assistant.base.data import folder  # noqa: E402
from assistant.cook import fold  # noqa: E402
from assistant.hear.audio import read_recording  # noqa: E402
from assistant.hear.choose import open_ears  # noqa: E402

PATIENCE_S, TRIES = 40.0, 3
"""So long an answer is waited for, and so often something is said. [s]"""
_MICROPHONE = """(() => {
  let context, stream;
  navigator.mediaDevices.getUserMedia = async () => {
    context ??= new AudioContext();
    stream ??= new MediaStreamAudioDestinationNode(context);
    await context.resume();
    return stream.stream;
  };
  window.play = async (wav) => {
    const bytes = Uint8Array.from(atob(wav), (letter) => letter.charCodeAt(0));
    const source = new AudioBufferSourceNode(context, {
      buffer: await context.decodeAudioData(bytes.buffer),
    });
    source.connect(stream);
    source.start();
    await new Promise((ended) => source.addEventListener("ended", ended));
  };
})()"""
Row = dict[str, Any]


class Speaker:
    """Somebody who speaks recordings, and waits for each answer."""

    def __init__(self, cook: Cook, scratch: Path) -> None:
        self._cook, self._scratch = cook, scratch
        self.turns: list[Row] = []
        self.waits: list[float] = []
        cook.page.on("websocket", self._line)

    def _line(self, line: WebSocket) -> None:
        line.on("framereceived", self._take)

    def _take(self, frame: str | bytes) -> None:
        got = json.loads(frame)
        if got["kind"] == "turn" and got["verdict"] != "reminder":
            self.turns.append(got)

    def says(self, row: Row) -> Row | None:
        """The turn that a recording led to; None where nothing came in time."""
        file = self._scratch / "clip.wav"
        write_wav(file, read_recording(folder("audio_fixtures").joinpath(row["file"])))
        before = len(self.turns)
        self._cook.page.evaluate("play", base64.b64encode(file.read_bytes()).decode())
        begun = time.monotonic()
        while len(self.turns) == before and time.monotonic() - begun < PATIENCE_S:
            self._cook.page.wait_for_timeout(100)
        if len(self.turns) == before:
            return None
        self.waits.append(time.monotonic() - begun)
        return self.turns[-1]

    def insists(self, row: Row, yes: Row) -> str:
        """Said until it is taken, a question answered; what came of it."""
        for _ in range(TRIES):
            turn = self.says(row)
            if turn is not None and turn["verdict"] == "ask" and turn["yes_no"]:
                turn = self.says(yes)
            if turn is not None and turn["verdict"] == "take":
                return f"“{turn['heard']}”: {' '.join(turn['show'])[:90]}"
        return f"not taken: {turn}"[:200]


def main() -> int:
    """Make the batch."""
    text = folder("audio_fixtures").joinpath("manifest.jsonl").read_text("utf-8")
    rows = [row for row in map(json.loads, text.splitlines()) if row["set"] == "demo"]
    yes = next(row for row in rows if row["words"] == "yes")
    with TemporaryDirectory() as scratch:
        kitchen = Kitchen(Path(scratch), open_ears("whisper"))
        with kitchen.served() as address, browser() as chromium:
            cook = Cook(chromium, address)
            cook.context.add_init_script(_MICROPHONE)
            speaker = Speaker(cook, Path(scratch))
            cook.opens().at("Weigh the fruit")
            cook.page.evaluate("localStorage.setItem('panside-voice', 'off')")
            cook.taps("Talk")
            cook.reads("mic-word", "Listening")
            for row in rows:
                kitchen.clock.forward(row["after_s"])
                if row["words"] == "yes":
                    continue
                place = cook.page.locator("#place").inner_text()
                print(f"{place:20} {row['words']:40} {speaker.insists(row, yes)}", flush=True)
            print("faults of the page:", cook.faults)
        batch, _ = fold(kitchen.journal.events(kitchen.batch))
    bottles = batch.bottled.count if batch.bottled else 0
    waits = sorted(speaker.waits)
    print(f"ended: {batch.ended}, {bottles} bottles; {len(waits)} recordings said, 1 tap (Talk)")
    print(f"from the end of a recording to its answer {waits[len(waits) // 2]:.1f} s (median)")
    return 0 if batch.ended == "finished" else 1


if __name__ == "__main__":
    sys.exit(main())
