"""Pictures of the kitchen page's states, to be looked at by people, and the sizes that stand there.

    python -m tests.bench.page_shots FOLDER [--sizes 390x844,1920x1080] [--only S06,S21]

Every state in a bright and a dark room. The height of figures and letters is told in millimetres
for the screens that the page is made for: capitals and figures of the face are 0.68 of its size.
"""

import argparse
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests" / "screen"), str(ROOT / "tests" / "panel")]

from cooks import Cook  # noqa: E402
from kitchens import Kitchen, browser  # noqa: E402
from playwright.sync_api import Browser, expect  # noqa: E402
from situations import SITUATIONS, Situation  # noqa: E402

from assistant.facts.events import TimerSet  # noqa: E402

SIZES = "390x844,844x390,1024x768,1920x1080"
STATES = "S01,S02,S05,S06,S07,S13,S15,S17,S19,S20,S21,S25,BUSY"
TIMERS = (("jars", 90), ("oven", 10), ("second kettle", 700), ("lids", 2400), ("tea", 4000))
"""Five timers over two batches, one of them up: the fullest that a screen must hold. [s]"""
CAPITAL = 0.68
MM_PER_PX = {1920: 0.277, 1024: 0.198, 390: 0.168, 844: 0.168}
"""A 24" wall screen, a 10" tablet, a phone 65 mm wide. [mm]"""
_SIZES_OF = "(id) => parseFloat(getComputedStyle(document.getElementById(id)).fontSize)"


def situation_of(name: str) -> Situation:
    """A situation by its name; BUSY is two batches and five timers."""
    if name != "BUSY":
        return SITUATIONS[name]()
    found = SITUATIONS["S25"]()
    for number, (timer, seconds) in enumerate(TIMERS):
        found.makings[number % 2].take(TimerSet, name=timer, seconds=seconds)
    return found


def shoot(chromium: Browser, name: str, sizes: list[tuple[int, int]], folder: Path) -> None:
    """One state at every size."""
    situation = situation_of(name)
    with TemporaryDirectory() as scratch:
        kitchen = Kitchen(Path(scratch), recipe=None)
        for making in situation.makings:
            kitchen.journal.append_all(making.id, making.events, 0)
        kitchen.clock.forward((situation.now - kitchen.clock.now()).total_seconds())
        with kitchen.served() as address:
            cook = Cook(chromium, address).opens(f"?batch={situation.makings[-1].id}")
            expect(cook.page.locator("#word")).not_to_be_empty()
            cook.page.wait_for_timeout(700)
            for width, height in sizes:
                cook.resized((width, height))
                for light in ("light", "dark"):
                    cook.page.emulate_media(color_scheme=light)  # type: ignore[arg-type]
                    cook.page.wait_for_timeout(350)
                    cook.page.screenshot(path=folder / f"{name}-{width}x{height}-{light}.png")
                try:
                    cook.shows_all()
                except AssertionError as cut:
                    print(f"{name} {width} x {height}: {cut}")
                each = MM_PER_PX.get(width, 0.2) * CAPITAL
                number, words = (
                    cook.page.evaluate(_SIZES_OF, id_) * each for id_ in ("number", "instruction")
                )
                print(f"{name} {width} x {height}: figures {number:.0f} mm, words {words:.1f} mm")
            cook.context.close()


def main() -> None:
    """Take them all."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--sizes", default=SIZES)
    parser.add_argument("--only", default=STATES)
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    pairs = [each.split("x") for each in given.sizes.split(",")]
    sizes = [(int(width), int(height)) for width, height in pairs]
    with browser() as chromium:
        for name in given.only.split(","):
            shoot(chromium, name, sizes, given.folder)


if __name__ == "__main__":
    main()
