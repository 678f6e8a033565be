"""Pairing: a short code, a few tries, a cookie that can't be made up."""

import re
from itertools import cycle
from pathlib import Path

import pytest

from assistant.base.errors import StoreUnusable
from assistant.screen.devices import Devices
from assistant.screen.pairing import (
    DAYS,
    LIFE_S,
    MOST_WRONG,
    TRIES,
    TRIES_S,
    Pairing,
    TooManyTries,
    read_key,
)


class Door:
    """A pairing with a clock and codes that are known."""

    def __init__(self, key: bytes = b"k" * 32) -> None:
        self.now = 1_000_000.0
        self.shown: list[str] = []
        letters = cycle("ABCDEFGH23456789")
        self.pairing = Pairing(key, lambda: self.now, self.shown.append, lambda _: next(letters))


@pytest.fixture
def door() -> Door:
    return Door()


def test_the_right_code_gives_a_cookie_that_is_known(door: Door) -> None:
    cookie = door.pairing.exchange(" abcd-efgh ")
    assert cookie is not None
    assert door.pairing.knows(cookie)
    assert Door().pairing.knows(cookie), "a restart with the same key unpairs nobody"
    assert not Door(b"o" * 32).pairing.knows(cookie)


@pytest.mark.parametrize("said", ["", "ABCDEFG", "ABCDEFGHA", "abcdefg2", "ÄÖ", "0" * 500])
def test_a_wrong_code_gives_none(door: Door, said: str) -> None:
    assert door.pairing.exchange(said) is None


@pytest.mark.parametrize(
    ("found", "put"),
    [
        (r"$", "0"),
        (r".$", ""),
        (r"^", "x"),
        (r".*", ""),
        (r"\.", ""),
        (r".*", ".."),
        (r"\.[^.]+\.", ".AAAA."),
        (r"^[^.]+", "someoneelse"),
    ],
)
def test_a_cookie_that_was_tampered_with_is_not_known(door: Door, found: str, put: str) -> None:
    cookie = door.pairing.exchange("ABCDEFGH")
    assert cookie is not None
    assert not door.pairing.knows(re.sub(found, put, cookie, count=1))


def test_a_cookie_runs_out(door: Door) -> None:
    cookie = door.pairing.exchange("ABCDEFGH")
    assert cookie is not None
    door.now += DAYS * 86_400
    assert door.pairing.knows(cookie)
    door.now += 1
    assert not door.pairing.knows(cookie)


def test_a_cookie_of_the_future_is_not_known(door: Door) -> None:
    """The clock was set back since, or somebody has made it up for long."""
    cookie = door.pairing.exchange("ABCDEFGH")
    assert cookie is not None
    door.now -= 1
    assert not door.pairing.knows(cookie)
    door.now += 1
    assert door.pairing.knows(cookie)


def test_a_code_grows_old_and_the_new_one_is_shown(door: Door) -> None:
    assert door.shown == ["ABCDEFGH"]
    door.now += LIFE_S
    assert door.pairing.exchange("ABCDEFGH") is None
    assert door.shown == ["ABCDEFGH", "23456789"]
    assert door.pairing.exchange("23456789") is not None


def test_after_too_many_wrong_codes_even_the_right_one_has_to_wait(door: Door) -> None:
    for _ in range(TRIES):
        door.pairing.exchange("WRONGONE")
    with pytest.raises(TooManyTries):
        door.pairing.exchange("ABCDEFGH")
    door.now += TRIES_S
    assert door.pairing.exchange("ABCDEFGH") is not None


def test_who_guesses_shuts_the_door_to_nobody_else(door: Door) -> None:
    for _ in range(TRIES):
        door.pairing.exchange("WRONGONE", "192.168.7.66")
    with pytest.raises(TooManyTries):
        door.pairing.exchange("ABCDEFGH", "192.168.7.66")
    assert door.pairing.exchange("ABCDEFGH", "192.168.7.20") is not None


def test_a_code_is_good_for_one_device(door: Door) -> None:
    assert door.pairing.exchange("ABCDEFGH") is not None
    assert door.pairing.exchange("ABCDEFGH") is None
    assert door.shown == ["ABCDEFGH", "23456789"]


def test_a_code_that_many_have_guessed_at_is_replaced(door: Door) -> None:
    for _ in range(MOST_WRONG):
        door.now += TRIES_S / TRIES
        door.pairing.exchange("WRONGONE")
    assert len(door.shown) == 2


def test_the_key_is_kept_for_its_owner_alone(tmp_path: Path) -> None:
    file = tmp_path / "new" / "screen.key"
    key = read_key(file)
    assert read_key(file) == key
    assert file.stat().st_mode & 0o077 == 0
    assert read_key(file, fresh=True) != key


def test_a_device_that_is_sent_away_stays_outside_and_the_others_come_in(tmp_path: Path) -> None:
    file = tmp_path / "devices.json"

    def pairing() -> Pairing:
        letters = cycle("ABCDEFGH")
        list_ = Devices(lambda: 1e6, file)
        return Pairing(b"k" * 32, lambda: 1e6, choose=lambda _: next(letters), devices=list_)

    door = pairing()
    phone, tablet = (door.exchange("ABCDEFGH", name=name) for name in ("phone", "tablet"))
    assert phone
    assert tablet
    assert sorted(each.name for each in door.devices.listed()) == ["phone", "tablet"]
    gone = next(each.id for each in door.devices.listed() if each.name == "phone")
    assert door.devices.send_away(gone)
    assert not door.devices.send_away(gone)
    for each in (door, pairing()):
        assert (each.knows(phone), each.knows(tablet)) == (False, True)
        assert [device.name for device in each.devices.listed()] == ["tablet"]
    assert file.stat().st_mode & 0o077 == 0


def test_a_device_of_an_older_version_is_listed_when_it_comes() -> None:
    devices = Devices(lambda: 1e6)
    devices.saw("from-before", "Android")
    assert [each.name for each in devices.listed()] == ["Android"]


def test_a_damaged_list_of_devices_lets_nobody_in(tmp_path: Path) -> None:
    file = tmp_path / "devices.json"
    file.write_text("{", "utf-8")
    with pytest.raises(StoreUnusable, match="--forget"):
        Devices(lambda: 1e6, file)
