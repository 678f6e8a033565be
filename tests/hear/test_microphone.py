"""The microphone, on miniaudio's silent sound system and on a make-believe device."""

import sys
import threading
from collections.abc import Generator

import miniaudio
import numpy as np
import pytest

from assistant.base.errors import SoundDeviceMissing
from assistant.hear import microphone as module
from assistant.hear.heard import SAMPLE_RATE
from assistant.hear.microphone import Microphone, check_microphone


class Device:
    """Stands for miniaudio's capture device; the test plays the sound system."""

    def __init__(self, backend: str = "ALSA", fails: bool = False) -> None:
        self.backend, self.fails = backend, fails
        self.stop_callback = None
        self.closed = 0
        self.given: dict[str, object] = {}

    def start(self, taker: Generator[None, bytearray, None]) -> None:
        if self.fails:
            raise miniaudio.MiniaudioError("busy")
        self.taker = taker

    def close(self) -> None:
        self.closed += 1

    def send(self, value: float, count: int = 1024) -> None:
        self.taker.send(bytearray(np.full(count, value, dtype=np.float32).tobytes()))


@pytest.fixture
def device(monkeypatch: pytest.MonkeyPatch) -> Device:
    device = Device()

    def opened(**given: object) -> Device:
        device.given = given
        return device

    monkeypatch.setattr(miniaudio, "CaptureDevice", opened)
    return device


def test_blocks_come_in_order_as_samples(device: Device) -> None:
    with Microphone() as microphone:
        for value in (0.1, 0.2, 0.3):
            device.send(value)
        blocks = microphone.blocks()
        found = [next(blocks) for _ in range(3)]
    assert [block[0] for block in found] == pytest.approx([0.1, 0.2, 0.3])
    assert all(block.dtype == np.float32 and block.shape == (1024,) for block in found)
    assert device.given["sample_rate"] == SAMPLE_RATE
    assert device.given["nchannels"] == 1


def test_sound_is_handed_on_as_loud_as_was_agreed(device: Device) -> None:
    with Microphone(gain=20.0) as microphone:
        device.send(0.01)
        assert next(microphone.blocks())[0] == pytest.approx(0.1)


def test_what_is_too_much_is_dropped_and_counted(device: Device) -> None:
    with Microphone(held=0.2) as microphone:
        for value in range(10):
            device.send(value / 10)
        assert microphone.dropped == 7
        first = next(microphone.blocks())
    assert first[0] == 0.0


def test_leaving_closes_the_device_and_ends_the_blocks(device: Device) -> None:
    with Microphone() as microphone:
        device.send(0.1)
        blocks = microphone.blocks()
    assert list(blocks) == []
    assert device.closed == 1
    microphone.stop()
    assert device.closed == 1
    with pytest.raises(StopIteration):
        device.send(0.1)


def test_stopping_wakes_who_waits_for_a_block(device: Device) -> None:
    with Microphone() as microphone:
        found: list[list[object]] = []
        waiting = threading.Thread(target=lambda: found.append(list(microphone.blocks())))
        waiting.start()
        microphone.stop()
        waiting.join(timeout=5)
        assert not waiting.is_alive()
    assert found == [[]]
    assert device.closed == 1


def test_a_microphone_that_is_pulled_out_is_said(device: Device) -> None:
    with Microphone() as microphone:
        device.send(0.1)
        assert device.stop_callback is not None
        device.stop_callback()
        blocks = microphone.blocks()
        next(blocks)
        with pytest.raises(SoundDeviceMissing, match="stopped sending sound"):
            next(blocks)


def test_a_microphone_that_sends_nothing_is_said(
    device: Device, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "_PATIENCE", 0.1)
    with Microphone() as microphone, pytest.raises(SoundDeviceMissing, match="panside chat"):
        next(microphone.blocks())
    assert device.closed == 1


def test_a_busy_microphone_is_said_and_let_go(device: Device) -> None:
    device.fails = True
    with pytest.raises(SoundDeviceMissing, match="busy"), Microphone():
        pass
    assert device.closed == 1


def test_the_silent_sound_system_is_no_microphone_unless_asked_for(device: Device) -> None:
    device.backend = "Null"
    with pytest.raises(SoundDeviceMissing, match="no sound system"), Microphone():
        pass
    assert device.closed == 1


@pytest.mark.parametrize("backend", ["NO SUCH SYSTEM", "COREAUDIO", "WASAPI"])
def test_a_sound_system_that_is_not_here_is_said(backend: str) -> None:
    with pytest.raises(SoundDeviceMissing, match="no microphone could be opened"):
        check_microphone(backend)


def test_the_real_library_sends_blocks_and_stops() -> None:
    with Microphone("NULL") as microphone:
        blocks = microphone.blocks()
        found = [next(blocks) for _ in range(3)]
        assert microphone.system == "Null"
    assert all(block.dtype == np.float32 and len(block) > 0 for block in found)
    assert list(blocks) == []
    assert microphone.system == "none"


def test_it_can_be_opened_again() -> None:
    for _ in range(2):
        with Microphone("NULL") as microphone:
            assert len(next(microphone.blocks())) > 0


def test_the_check_names_the_sound_system() -> None:
    assert check_microphone("NULL") == "microphone through Null"


def test_a_missing_library_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "miniaudio", None)
    with pytest.raises(SoundDeviceMissing, match="miniaudio"):
        check_microphone()
