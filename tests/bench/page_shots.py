"""Pictures of the kitchen page, to be looked at by people.

    python -m tests.bench.page_shots FOLDER

Measuring, heating with the curve, a limit tripped and the larder, each 390, 1024 and 1920 px wide,
in a bright and a dark room.
"""

import argparse
import sys
from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "screen"))

from cooks import Cook  # noqa: E402
from kitchens import Kitchen, browser  # noqa: E402

from assistant.hear.heard import Heard  # noqa: E402
from assistant.recipebook.files import load_recipe  # noqa: E402
from assistant.turns.session import Session  # noqa: E402

SIZES = ((390, 844), (1024, 768), (1920, 1080))
TO_THE_HEAT = ("2.4 kg of blackcurrants", "done", "done")
READINGS = ((0, "48 C"), (90, "58 C"), (100, "67 C"), (80, "73 C"))
HOLDING = ((60, "76 C"), (45, "78 C"), (30, "77 C"))
SEASON = (
    (0, "2 kg of raspberries", "8 half litre bottles"),
    (3, "1.5 kg of gooseberries", "6 half litre bottles"),
    (20, "3 kg of blackcurrants", "9 bottles of half a litre"),
)


def hear(kitchen: Kitchen, session: Session, words: str, after_s: float = 5) -> None:
    kitchen.clock.forward(after_s)
    session.hear(Heard.typed(words))


def fill_the_larder(kitchen: Kitchen) -> None:
    """Three batches, one of them with an opened bottle, one that has begun to fizz."""
    for days, fruit, bottles in SEASON:
        kitchen.clock.forward(timedelta(days=days).total_seconds())
        session = Session.start(load_recipe("berry-syrup"), kitchen.journal, kitchen.clock)
        for words in (fruit, "done", "done", "76 C", "77 C", "77 C"):
            hear(kitchen, session, words, 60)
        rest = ("done", "done", "done", "2.5 litres", "40 C", "done", "ph 3.3", "done")
        for words in ("done", *rest, "no", "no", "no", bottles, "done"):
            hear(kitchen, session, words, 1300)
        if days == 0:
            hear(kitchen, session, "it's fizzing")
        if days == 3:
            hear(kitchen, session, "i opened one")


def shoot(cook: Cook, folder: Path, name: str) -> None:
    for size in SIZES:
        cook.resized(size)
        for light in ("light", "dark"):
            cook.page.emulate_media(color_scheme=light)  # type: ignore[arg-type]
            cook.page.wait_for_timeout(400)
            cook.page.screenshot(path=folder / f"{name}-{size[0]}-{light}.png")
        cook.page.emulate_media(color_scheme="light")
        cook.page.screenshot(path=folder / f"{name}-{size[0]}-whole.png", full_page=True)


def main() -> None:
    """Take them all."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("folder", type=Path)
    folder: Path = parser.parse_args().folder
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as scratch, browser() as chromium:
        kitchen = Kitchen(Path(scratch), recipe=None)
        fill_the_larder(kitchen)
        session = Session.start(load_recipe("berry-syrup"), kitchen.journal, kitchen.clock)
        with kitchen.served() as address:
            cook = Cook(chromium, address)
            cook.opens("larder").reads("content", "fizz")
            shoot(cook, folder, "larder")
            cook.opens("batches").reads("content", "A new batch")
            shoot(cook, folder, "batches")
            cook.opens(f"?batch={session.batch.id}").at("Weigh")
            shoot(cook, folder, "measuring")
            steps = [(5, words) for words in TO_THE_HEAT] + [*READINGS]
            for after_s, words in (*steps, (1, "set a timer for ten minutes"), (1, "again")):
                kitchen.clock.forward(after_s)
                cook.types(words)
                cook.page.wait_for_timeout(500)
            shoot(cook, folder, "heating")
            for after_s, words in HOLDING:
                kitchen.clock.forward(after_s)
                cook.types(words)
                cook.page.wait_for_timeout(500)
            shoot(cook, folder, "holding")
            cook.types("ph 4.8")
            cook.reads("stop", "do not bottle")
            shoot(cook, folder, "limit")
    print(f"{len(list(folder.glob('*.png')))} pictures in {folder}")


if __name__ == "__main__":
    main()
