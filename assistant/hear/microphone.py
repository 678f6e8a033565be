"""The microphone, in blocks of samples, with a bounded wait between it and the ears."""

import threading
import time
from collections.abc import Callable, Generator, Iterator
from queue import Empty, Full, Queue
from types import TracebackType
from typing import Any, Self

import numpy as np

from assistant.base.errors import SoundDeviceMissing
from assistant.base.soundcard import NO_SYSTEM, backends, quieten_alsa, reason
from assistant.hear.gain import louder
from assistant.hear.heard import SAMPLE_RATE, Samples

BLOCK_MS = 64
"""Sound the device hands over at a time."""
HELD_S = 20.0
"""Sound that may wait while the ears are busy; what comes on top is dropped and counted."""
_PATIENCE = 5.0
"""A microphone that sends nothing for so long is gone. [s]"""
_MEND = "plug one in or switch it on, or type instead: panside chat"


class Microphone:
    """The microphone as a context manager; SoundDeviceMissing when there is none.

    backend : name of a sound system ("ALSA", "PULSEAUDIO", "NULL" ...); the machine's own when None
    held : sound that may wait for the ears [s]
    timer : seconds of some clock, for `at`
    gain : how much louder its sound is handed on [dB]
    at : when the newest block of `blocks` had been recorded, by that timer [s]
    dropped : blocks that were lost because the ears were too slow
    """

    def __init__(
        self,
        backend: str | None = None,
        held: float = HELD_S,
        timer: Callable[[], float] = time.monotonic,
        gain: float = 0.0,
    ) -> None:
        self._backend = backend
        self._timer = timer
        self._gain = gain
        self.at = 0.0
        self._waiting: Queue[tuple[Samples, float]] = Queue(max(1, int(held * 1000 / BLOCK_MS)))
        self._stopped = threading.Event()
        self._gone = threading.Event()
        self._device: Any = None
        self.dropped = 0

    def __enter__(self) -> Self:
        self._device = _open(self._backend)
        self._device.stop_callback = self._gone.set
        taker = self._take()
        next(taker)
        try:
            self._device.start(taker)
        except Exception as broken:
            self.stop()
            raise _missing(broken) from broken
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.stop()

    @property
    def system(self) -> str:
        """The sound system it runs on."""
        return str(self._device.backend) if self._device is not None else "none"

    def blocks(self) -> Iterator[Samples]:
        """Blocks of sound until `stop`; SoundDeviceMissing when the microphone goes away."""
        silent = 0.0
        while not self._stopped.is_set():
            try:
                block, self.at = self._waiting.get(timeout=BLOCK_MS / 1000)
            except Empty:
                silent += BLOCK_MS / 1000
                if silent >= _PATIENCE or self._gone.is_set():
                    raise _missing("it stopped sending sound") from None
                continue
            silent = 0.0
            yield louder(block, self._gain)

    def stop(self) -> None:
        """Stop recording; `blocks` ends at once."""
        self._stopped.set()
        device, self._device = self._device, None
        if device is not None:
            device.stop_callback = None
            device.close()

    def _take(self) -> Generator[None, bytearray, None]:
        """Runs in the sound system's thread, so it never waits."""
        while True:
            data = yield
            if self._stopped.is_set():
                return
            try:
                block = np.frombuffer(bytes(data), dtype=np.float32)
                self._waiting.put_nowait((block, self._timer()))
            except Full:
                self.dropped += 1


def check_microphone(backend: str | None = None) -> str:
    """Open the microphone and wait for a first block; the sound system's name.

    Raises SoundDeviceMissing when there is none or it sends nothing.
    """
    with Microphone(backend) as microphone:
        next(microphone.blocks())
        return f"microphone through {microphone.system}"


def _open(backend: str | None) -> Any:
    try:
        import miniaudio

        quieten_alsa()
        device = miniaudio.CaptureDevice(
            input_format=miniaudio.SampleFormat.FLOAT32,
            nchannels=1,
            sample_rate=SAMPLE_RATE,
            buffersize_msec=BLOCK_MS,
            backends=backends(backend),
            app_name="Panside",
        )
    except Exception as broken:
        raise _missing(broken) from broken
    if device.backend == "Null" and backend != "NULL":
        device.close()
        raise _missing(NO_SYSTEM)
    return device


def _missing(why: object) -> SoundDeviceMissing:
    return SoundDeviceMissing(f"no microphone could be opened ({reason(why)}); {_MEND}")
