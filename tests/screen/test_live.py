"""A live line: what it takes, what it refuses, and that everybody is told in order."""

import json
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import Any
from urllib.request import Request, urlopen

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from strange_values import spoiled

pytest.importorskip("playwright", reason="kitchens.py drives a browser too: pip install '.[tests]'")
from kitchens import Kitchen
from websockets.exceptions import ConnectionClosed, InvalidStatus
from websockets.sync.client import ClientConnection, connect

from assistant.facts.events import Note
from assistant.keep import Journal
from assistant.screen.guard import COOKIE
from assistant.screen.live import LARGEST_MESSAGE, MOST_MESSAGES

Got = dict[str, Any]


class Place:
    """A kitchen that is served, and lines to it."""

    def __init__(self, kitchen: Kitchen, address: str) -> None:
        self.kitchen, self.address = kitchen, address

    def line(self, batch: str | None = None, origin: str | None = None) -> ClientConnection:
        live = self.address.replace("http", "ws")
        ours = self.address.rstrip("/")
        name = self.kitchen.batch if batch is None else batch
        return connect(f"{live}live?batch={name}", origin=origin or ours, max_queue=None)  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Place]:
    kitchen = Kitchen(tmp_path_factory.mktemp("kitchen"))
    with kitchen.served() as address:
        yield Place(kitchen, address)


def _until(line: ClientConnection, kind: str) -> Got:
    while True:
        got: Got = json.loads(line.recv(timeout=10))
        if got["kind"] == kind:
            return got


def _closed(line: ClientConnection) -> int | None:
    try:
        while True:
            line.recv(timeout=10)
    except ConnectionClosed as closed:
        return closed.rcvd.code if closed.rcvd else None


def _say(name: str, text: str, **more: object) -> str:
    return json.dumps({"kind": "say", "id": name, "text": text, **more})


@pytest.mark.parametrize(
    "words",
    [
        "not json",
        "[]",
        '{"kind": "say"}',
        '{"kind": "dance", "on": true}',
        _say("short", "done"),
        _say("message-x", ""),
        _say("message-x", "x" * 501),
        _say("message-x", "done", age_ms=-1),
        _say("message-x", "done", more=1),
        _say("message-x'; DROP TABLE events", "done"),
    ],
)
def test_what_can_not_be_read_changes_nothing(place: Place, words: str) -> None:
    before = len(place.kitchen.journal.events(place.kitchen.batch))
    with place.line() as line:
        line.send(words)
        assert "can't be read" in _until(line, "trouble")["text"]
    assert len(place.kitchen.journal.events(place.kitchen.batch)) == before


def test_a_page_is_welcomed_with_what_stands(place: Place) -> None:
    with place.line() as line:
        assert json.loads(line.recv(timeout=10))["kind"] == "welcome"
        assert json.loads(line.recv(timeout=10))["view"]["batch"] == place.kitchen.batch


def test_an_answer_comes_after_it_is_written_and_everybody_is_told(place: Place) -> None:
    with place.line() as one, place.line() as other:
        _until(other, "view")
        one.send(_say("note-0001", "note the kettle is on"))
        assert _until(one, "ack") == {"kind": "ack", "id": "note-0001", "verdict": "take"}
        assert place.kitchen.journal.has_mark(place.kitchen.batch, "note-0001")
        turn = _until(other, "turn")
        assert (turn["heard"], turn["verdict"]) == ("note the kettle is on", "take")
        assert _until(other, "view")["view"]["said"][-1]["heard"] == "note the kettle is on"


def test_two_who_talk_at_once_are_taken_one_after_the_other(place: Place) -> None:
    with place.line() as one, place.line() as other:
        for number in range(8):
            one.send(_say(f"from-one-{number}", f"note one {number}"))
            other.send(_say(f"from-other-{number}", f"note other {number}"))
        for line in (one, other):
            for _ in range(8):
                assert _until(line, "ack")["verdict"] == "take"
    notes = [e.heard for e in place.kitchen.journal.events(place.kitchen.batch) if e.kind == "note"]
    for who in ("one", "other"):
        mine = [note for note in notes if note.startswith(f"note {who} ")]
        assert mine == [f"note {who} {number}" for number in range(8)]


def test_a_batch_that_is_not_there_is_told_for_good(place: Place) -> None:
    with place.line("none") as line:
        assert _closed(line) == 4404


def test_another_sites_line_is_not_opened(place: Place) -> None:
    with pytest.raises(InvalidStatus):
        place.line(origin="https://evil.example")


def test_without_ears_the_page_is_told_why(place: Place) -> None:
    with place.line() as line:
        line.send('{"kind": "mic", "on": true}')
        assert _until(line, "mic") == {
            "kind": "mic",
            "on": False,
            "why": "There are no ears in this kitchen.",
        }


def test_too_many_messages_end_the_line(place: Place) -> None:
    with place.line() as line:
        for _ in range(MOST_MESSAGES + 1):
            line.send('{"kind": "sounding", "on": false}')
        assert _closed(line) == 1008


def test_too_large_a_message_ends_the_line(place: Place) -> None:
    with place.line() as line:
        line.send(b"\0" * (LARGEST_MESSAGE + 1))
        assert _closed(line) == 1009


def test_sound_before_the_microphone_is_on_is_nothing(place: Place) -> None:
    with place.line() as line:
        line.send(b"\0" * 2048)
        line.send(_say("note-0002", "note still here"))
        assert _until(line, "ack")["verdict"] == "take"


@settings(max_examples=6, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_nonsense_from_a_page_changes_nothing_and_stops_nothing(
    place: Place, data: st.DataObject
) -> None:
    """Fifty messages a line: JSON with a value spoiled, text, sound of odd lengths."""
    before = len(place.kitchen.journal.events(place.kitchen.batch))
    plain = {"kind": "say", "id": "nonsense-0001", "text": "qwx", "stage": "crush", "age_ms": 5}
    with place.line() as line:
        for number in range(50):
            plain["id"] = f"nonsense-{data.draw(st.integers(0, 9))}-{number:04}"
            line.send(_nonsense(data, plain))
    with place.line() as line:
        line.send('{"kind": "sounding", "on": false}')
        assert _until(line, "view")["view"]["batch"] == place.kitchen.batch
    assert len(place.kitchen.journal.events(place.kitchen.batch)) == before


def _nonsense(data: st.DataObject, plain: Got) -> str | bytes:
    match data.draw(st.integers(0, 3)):
        case 0:
            return data.draw(st.text(max_size=80))
        case 1:
            return data.draw(st.binary(max_size=700))
        case _:
            return json.dumps(spoiled(plain, data.draw))


def test_what_another_program_writes_is_shown(place: Place) -> None:
    with place.line() as line:
        _until(line, "view")
        batch, journal = place.kitchen.batch, place.kitchen.journal
        with Journal(journal.store) as other:
            other.append(
                batch, Note(at=place.kitchen.clock.now(), text="plums"), other.length(batch)
            )
        shown = _until(line, "view")
        assert shown["view"]["revision"] == journal.length(batch)


def test_a_page_turns_to_the_batch_that_is_talked_about(place: Place) -> None:
    with place.line() as line:
        _until(line, "view")
        line.send(_say("begin-0001", "start a batch of rhubarb syrup"))
        other = _until(line, "turn")["batch"]
        assert other != place.kitchen.batch
        while _until(line, "view")["view"]["batch"] != other:
            """What it showed before may have been told once more."""
        line.send(_say("begin-0002", "3 kg", stage="weigh", batch=other))
        assert _until(line, "turn")["batch"] == other
        assert _until(line, "ack")["verdict"] == "take"


def test_an_answer_that_never_ends_leaves_nobody_deaf_for_good(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A page that is gone, or whose sound hangs, does not say that it has ended."""
    monkeypatch.setattr("assistant.screen.live.LONGEST_SOUNDING_S", 0.3)
    with place.line() as line:
        _until(line, "view")
        line.send('{"kind": "sounding", "on": true}')
        assert _becomes(lambda: len(place.kitchen.sounding()) == 1)
        assert _becomes(lambda: not place.kitchen.sounding())


def test_an_answer_that_has_ended_ends_no_later_one(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    with place.line() as line:
        _until(line, "view")
        monkeypatch.setattr("assistant.screen.live.LONGEST_SOUNDING_S", 0.4)
        line.send('{"kind": "sounding", "on": true}')
        assert _becomes(lambda: len(place.kitchen.sounding()) == 1)
        monkeypatch.setattr("assistant.screen.live.LONGEST_SOUNDING_S", 60.0)
        line.send('{"kind": "sounding", "on": false}')
        assert _becomes(lambda: not place.kitchen.sounding())
        line.send('{"kind": "sounding", "on": true}')
        assert _becomes(lambda: len(place.kitchen.sounding()) == 1)
        time.sleep(0.8)
        assert len(place.kitchen.sounding()) == 1


def test_one_device_does_not_take_every_line(place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("assistant.screen.site.is_here", lambda _scope: False)
    monkeypatch.setattr("assistant.screen.site.MOST_FROM_ONE", 2)
    with place.line() as one, place.line() as other:
        _until(one, "view")
        _until(other, "view")
        with pytest.raises(InvalidStatus), place.line() as third:
            _until(third, "view")
        other.close()

        def again() -> bool:
            with suppress(InvalidStatus), place.line() as fresh:
                return _until(fresh, "view")["kind"] == "view"
            return False

        assert _becomes(again)


def test_the_lines_of_a_device_that_is_removed_are_closed(place: Place) -> None:
    cookie = place.kitchen.lets_in()
    devices, live = f"{place.address}api/devices", place.address.replace("http", "ws")
    with connect(
        f"{live}live?batch={place.kitchen.batch}",
        origin=place.address.rstrip("/"),  # type: ignore[arg-type]
        additional_headers={"cookie": f"{COOKIE}={cookie}"},
    ) as line:
        _until(line, "view")
        (device,) = json.load(urlopen(devices, timeout=10))["devices"]
        assert device["here"]
        body = json.dumps({"device": device["id"]}).encode()
        urlopen(Request(devices, body, {"origin": place.address.rstrip("/")}), timeout=10)
        assert _closed(line) == 1008


def test_units_are_told_to_their_page_alone(place: Place) -> None:
    with place.line() as one, place.line() as other:
        plain = _until(one, "view")["view"]["panel"]
        _until(other, "view")
        one.send('{"kind": "units", "chosen": {"heat": "degF", "measure": "us"}}')
        assert _until(one, "view")["view"]["batch"] == place.kitchen.batch
        one.send(_say("units-0001", "where are we"))
        _until(other, "turn")
        assert _until(other, "view")["view"]["panel"] == plain


def _becomes(true: Callable[[], bool], within_s: float = 5.0) -> bool:
    until = time.monotonic() + within_s
    while not true() and time.monotonic() < until:
        time.sleep(0.01)
    return true()
