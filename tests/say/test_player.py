"""The loudspeaker, on a sound system that only keeps time."""

import subprocess
import sys
import threading
from collections.abc import Generator, Iterator
from contextlib import suppress
from itertools import cycle
from pathlib import Path

import numpy as np
import pytest

from assistant.base.errors import SoundDeviceMissing
from assistant.say import player as player_module
from assistant.say.player import NoPlayer, Player, RecordingPlayer, _feed

RATE = 22_050


def tone(seconds: float) -> np.ndarray[tuple[int], np.dtype[np.int16]]:
    return (8000 * np.sin(np.arange(int(RATE * seconds)) / 10)).astype(np.int16)


@pytest.fixture
def player() -> Iterator[Player]:
    opened = Player(backend="NULL")
    yield opened
    opened.close()


def test_a_sound_plays_to_its_end(player: Player) -> None:
    assert not player.is_playing()
    player.play(tone(0.1), RATE)
    assert player.wait()
    assert not player.is_playing()


def test_playing_returns_while_it_sounds(player: Player) -> None:
    player.play(tone(60), RATE)
    assert player.is_playing()
    assert not player.wait(timeout=0.05)
    player.stop()
    assert not player.is_playing()
    assert player.wait()


def test_a_new_sound_takes_the_place_of_the_old(player: Player) -> None:
    player.play(tone(60), RATE)
    player.play(tone(0.05), 16_000)
    assert player.wait(timeout=50)
    assert not player.is_playing()


def test_who_waits_is_let_go_by_a_stop(player: Player) -> None:
    player.play(tone(60), RATE)
    waited: list[bool] = []
    thread = threading.Thread(target=lambda: waited.append(player.wait()))
    thread.start()
    player.stop()
    thread.join(timeout=30)
    assert waited == [True]


def test_no_samples_only_stop(player: Player) -> None:
    player.play(tone(60), RATE)
    player.play(tone(0), RATE)
    assert not player.is_playing()
    assert player.wait()


def test_stopping_and_closing_twice_does_no_harm(player: Player) -> None:
    player.stop()
    player.stop()
    player.close()
    player.close()
    player.play(tone(0.05), RATE)
    assert player.wait()


def test_several_threads_may_play_and_stop(player: Player) -> None:
    def play() -> None:
        for _ in range(5):
            player.play(tone(5), RATE)
            player.stop()

    threads = [threading.Thread(target=play) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
        assert not thread.is_alive()
    assert not player.is_playing()


def test_an_unplugged_loudspeaker_does_not_hold_the_session(
    player: Player, monkeypatch: pytest.MonkeyPatch
) -> None:
    def deaf(*_: object) -> Iterator[bytes]:
        while True:
            yield b""

    monkeypatch.setattr(player_module, "_feed", deaf)
    monkeypatch.setattr(player_module, "_GRACE", 0.05)
    player.play(tone(0.05), RATE)
    assert player.wait()
    assert not player.is_playing()


def iter_send(feed: Generator[bytes, int, None], wanted: int) -> Iterator[bytes]:
    """The one portion that the feed has left to give, or nothing."""
    with suppress(StopIteration):
        yield feed.send(wanted)


def test_it_knows_what_sounds_and_since_when() -> None:
    times = iter(range(1, 100))
    player = Player("NULL", timer=lambda: float(next(times)))
    assert player.sounding() is None
    player.play(tone(0.05), RATE)
    assert player.wait()
    first = player.sounding()
    assert first is not None
    assert (first.rate, first.since, first.until) == (RATE, 1.0, 2.0)
    assert np.array_equal(first.samples, tone(0.05))
    player.play(tone(5.0), RATE)
    player.stop()
    second = player.sounding()
    assert second is not None
    assert second.until == times.__next__() - 1
    player.close()


@pytest.mark.parametrize("sizes", [[7], [1000], [3, 11, 5]])
def test_the_device_is_fed_every_sample_once(sizes: list[int]) -> None:
    samples = np.arange(1, 101, dtype=np.int16)
    begun, ended = threading.Event(), threading.Event()
    feed = _feed(samples, begun.set, ended.set)
    next(feed)
    given = b""
    for wanted in cycle(sizes):
        portion = next(iter_send(feed, wanted), None)
        if portion is None:
            break
        assert len(portion) <= 2 * wanted
        assert not ended.is_set()
        given += portion
    assert ended.is_set()
    assert np.array_equal(np.frombuffer(given, dtype=np.int16), samples)


@pytest.mark.parametrize("backend", ["COREAUDIO", "no such system"])
def test_a_missing_loudspeaker_is_told(backend: str) -> None:
    with pytest.raises(SoundDeviceMissing, match=r"no loudspeaker .*or use --mute"):
        Player(backend=backend)


def test_a_device_that_goes_missing_is_told(
    player: Player, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(player, "_backend", "COREAUDIO")
    with pytest.raises(SoundDeviceMissing):
        player.play(tone(1), RATE)
    assert not player.is_playing()


OWN_SYSTEM = """
from assistant.base.errors import SoundDeviceMissing
from assistant.say.player import Player
try:
    Player().close()
    print("opened")
except SoundDeviceMissing as missing:
    print(missing)
"""


def test_without_sound_hardware_one_sentence_and_nothing_else() -> None:
    root = Path(player_module.__file__).parents[2]
    ran = subprocess.run(
        [sys.executable, "-c", OWN_SYSTEM], capture_output=True, text=True, cwd=root, check=True
    )
    assert ran.stdout.startswith(("opened", "no loudspeaker could be opened"))
    assert ran.stdout.count("\n") == 1
    assert "ALSA lib" not in ran.stderr


def test_no_player_is_never_playing() -> None:
    player = NoPlayer()
    player.play(tone(60), RATE)
    assert not player.is_playing()
    assert player.wait(timeout=0)
    player.stop()
    player.close()


def test_the_recording_player_collects() -> None:
    player = RecordingPlayer()
    player.play(tone(1), RATE)
    assert player.is_playing()
    player.stop()
    assert not player.is_playing()
    player.play(tone(2), 8000)
    assert player.wait()
    assert not player.is_playing()
    assert [(len(samples), rate) for samples, rate in player.played] == [
        (RATE, RATE),
        (2 * RATE, 8000),
    ]
    assert player.stops == 1
