"""One cook, two microphones in one room: how often an utterance counts twice.

    python -m tests.bench.two_mics [--utterances 200]

Both write down the same words, one in figures and one spelled out, the second up to 2.5 s later.
What counts is how many events the journal has more than with one microphone alone.
"""

import argparse
import random
import sys
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests" / "screen")]

from room_maker import TO_THE_HEAT, Tent, spoken  # noqa: E402

from assistant.say.numerals import in_words  # noqa: E402
from assistant.turns.utterance import Utterance  # noqa: E402


def said(number: int) -> tuple[str, str]:
    """One thing that is said, as the two write it."""
    degrees, minutes = 40 + number % 30, 5 + number % 20
    pairs = [
        (f"{in_words(Decimal(degrees))} degrees", f"{degrees} degrees"),
        (
            f"set a timer called pan {in_words(Decimal(number))} for {in_words(Decimal(minutes))} "
            "minutes",
            f"set a timer called pan {number} for {minutes} minutes",
        ),
        (f"note batch smells of roses {in_words(Decimal(number))}",) * 2,
        ("where are we", "where are we"),
        ("scratch that", "scratch that"),
    ]
    return pairs[number % len(pairs)]


def run(utterances: int, twice: bool) -> tuple[int, int]:
    """How many events came of it, and how many second hearings were held back."""
    draw, held_back = random.Random(7), 0
    with TemporaryDirectory() as folder:
        tent = Tent(Path(folder))
        tent.all(TO_THE_HEAT)
        before = tent.events()
        for number in range(utterances):
            one, other = said(number)
            tent.clock.forward(20)
            _hear(tent, one, "a", number)
            if twice:
                tent.clock.forward(draw.uniform(0.0, 2.5))
                held_back += _hear(tent, other, "b", number) == "twice"
        return tent.events() - before, held_back


def _hear(tent: Tent, text: str, device: str, number: int) -> str:
    name = f"{device}-{number:05d}-heard"
    heard = Utterance(heard=spoken(text), id=name, device=device, batch=tent.id)
    return tent.room.take(heard).verdict


def main() -> None:
    """Both ways, and what the second microphone has added."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--utterances", type=int, default=200)
    utterances = parser.parse_args().utterances
    (alone, _), (both, held_back) = run(utterances, False), run(utterances, True)
    print(f"{utterances} utterances: {alone} events with one microphone, {both} with two;")
    print(f"{held_back} second hearings held back, {both - alone} counted twice")


if __name__ == "__main__":
    main()
