"""How the voice speaks, changed by word."""

import pytest

from assistant.facts.events import How
from assistant.say.manner import FASTEST, LOUDEST, SLOWEST, SOFTEST, Manners


class Voice:
    """A voice that only remembers how it should speak."""

    rate = 165
    volume = 1.0


@pytest.mark.parametrize(
    ("how", "faster", "louder"),
    [("faster", 1, 0), ("slower", -1, 0), ("louder", 0, 1), ("softer", 0, -1)],
)
def test_a_word_changes_one_thing(how: How, faster: int, louder: int) -> None:
    voice = Voice()
    assert Manners(voice).change(how).id == f"manner.{how}"
    assert (voice.rate > 165) - (voice.rate < 165) == faster
    assert (voice.volume > 1) - (voice.volume < 1) == louder


@pytest.mark.parametrize(
    ("how", "rate", "volume"),
    [
        ("faster", FASTEST, 1.0),
        ("slower", SLOWEST, 1.0),
        ("louder", 165, LOUDEST),
        ("softer", 165, SOFTEST),
    ],
)
def test_it_goes_no_further_than_can_be_followed(how: How, rate: int, volume: float) -> None:
    voice = Voice()
    manners = Manners(voice)
    told = [manners.change(how).id for _ in range(20)]
    assert told[0] == f"manner.{how}"
    assert told[-1] == "manner.enough"
    assert (voice.rate, voice.volume) == (rate, volume)


def test_quiet_lasts_until_it_may_speak_again() -> None:
    manners = Manners(Voice())
    assert not manners.quiet
    manners.change("quiet")
    assert manners.quiet
    manners.change("speak")
    assert not manners.quiet


def test_who_wants_it_louder_wants_to_hear_it() -> None:
    manners = Manners(Voice())
    manners.change("quiet")
    manners.change("louder")
    assert not manners.quiet
