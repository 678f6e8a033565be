"""Sound out of the loudspeaker, to be stopped at any moment."""

import threading
from collections.abc import Callable, Generator
from dataclasses import dataclass, replace
from typing import Any, Protocol

from assistant.base.errors import SoundDeviceMissing
from assistant.base.soundcard import NO_SYSTEM, backends, quieten_alsa, reason
from assistant.say.voice import Speech

_BUFFER_MS = 20
"""What the device is given ahead, and so what still sounds after a stop."""
_GRACE = 2.0
"""How much longer than its sound a loudspeaker may take, before it counts as gone. [s]"""


@dataclass(frozen=True)
class Sounding:
    """The newest sound of a loudspeaker and when it was heard, by the player's timer.

    rate : samples a second [Hz]
    since, until : when the device asked for its first sample, and when it ended or was stopped;
        None while it has not [s]
    """

    samples: Speech
    rate: int
    since: float | None = None
    until: float | None = None


class Sounds(Protocol):
    """Anything that plays samples."""

    def play(self, samples: Speech, rate: int) -> None:
        """Begin to play, in place of what is playing; returns at once."""

    def stop(self) -> None:
        """Be silent now."""

    def is_playing(self) -> bool:
        """Whether something still sounds."""

    def sounding(self) -> Sounding | None:
        """What sounds, or sounded last; None before anything did."""

    def wait(self, timeout: float | None = None) -> bool:
        """Wait till the sound has ended or was stopped; False when the time [s] is over first."""

    def close(self) -> None:
        """Be silent and let go of the loudspeaker."""


class Player:
    """The loudspeaker, through miniaudio; SoundDeviceMissing when there is none.

    backend : name of a sound system ("ALSA", "PULSEAUDIO", "NULL" ...); the machine's own when None
    timer : seconds of some clock, for `sounding`
    """

    def __init__(
        self, backend: str | None = None, timer: Callable[[], float] = lambda: 0.0
    ) -> None:
        self._backend = backend
        self._timer = timer
        self._sounding: Sounding | None = None
        self._change = threading.Lock()
        self._device: Any = None
        self._ended = threading.Event()
        self._ended.set()
        self._longest = 0.0
        self._open(22_050).close()

    def play(self, samples: Speech, rate: int) -> None:
        """Begin to play, in place of what is playing; returns at once."""
        with self._change:
            self._halt()
            if not len(samples):
                return
            self._device = self._open(rate)
            self._ended = threading.Event()
            self._longest = len(samples) / rate + _GRACE
            self._sounding = Sounding(samples, rate)
            feed = _feed(samples, self._begun, self._over(self._ended))
            next(feed)
            try:
                self._device.start(feed)
            except Exception as error:
                self._halt()
                raise _no_speaker(error) from error

    def stop(self) -> None:
        """Be silent now; the device may play out its last 20 ms."""
        with self._change:
            self._halt()

    def is_playing(self) -> bool:
        """Whether something still sounds."""
        return not self._ended.is_set()

    def sounding(self) -> Sounding | None:
        """What sounds, or sounded last; None before anything did."""
        return self._sounding

    def wait(self, timeout: float | None = None) -> bool:
        """Wait till the sound has ended or was stopped; False when the time [s] is over first.

        A loudspeaker that was unplugged meanwhile counts as stopped, a little after its time.
        """
        ended = self._ended
        longest = self._longest
        over = ended.wait(longest if timeout is None else min(timeout, longest))
        if not over and timeout is not None and timeout < longest:
            return False
        with self._change:
            if ended is self._ended:
                self._halt()
        return True

    def close(self) -> None:
        """Be silent and let go of the loudspeaker."""
        self.stop()

    def _halt(self) -> None:
        device, self._device = self._device, None
        if device is not None:
            device.close()
        self._over(self._ended)()

    def _begun(self) -> None:
        if self._sounding is not None:
            self._sounding = replace(self._sounding, since=self._timer())

    def _over(self, ended: threading.Event) -> Callable[[], None]:
        """To be called when the sound is over; a sound that came after it is left alone."""

        def over() -> None:
            if ended is self._ended and not ended.is_set() and self._sounding is not None:
                self._sounding = replace(self._sounding, until=self._timer())
            ended.set()

        return over

    def _open(self, rate: int) -> Any:
        try:
            import miniaudio

            quieten_alsa()
            device = miniaudio.PlaybackDevice(
                output_format=miniaudio.SampleFormat.SIGNED16,
                nchannels=1,
                sample_rate=rate,
                buffersize_msec=_BUFFER_MS,
                backends=backends(self._backend),
                app_name="Panside",
            )
        except Exception as error:
            raise _no_speaker(error) from error
        if device.backend == "Null" and self._backend != "NULL":
            device.close()
            raise _no_speaker(NO_SYSTEM)
        return device


def _feed(
    samples: Speech, begun: Callable[[], None], over: Callable[[], None]
) -> Generator[bytes, int, None]:
    """Samples in the portions that the device asks for, and silence till they have sounded."""
    wanted = yield b""
    begun()
    place = 0
    while place < len(samples):
        portion = samples[place : place + wanted]
        place += len(portion)
        wanted = yield portion.tobytes()
    for _ in range(3):
        yield b""
    over()


def _no_speaker(why: object) -> SoundDeviceMissing:
    return SoundDeviceMissing(
        f"no loudspeaker could be opened ({reason(why)}); connect or switch one on, or use --mute"
    )


class NoPlayer:
    """No sound at all, for a session that is only read."""

    def play(self, samples: Speech, rate: int) -> None:
        """Nothing."""

    def stop(self) -> None:
        """Nothing."""

    def is_playing(self) -> bool:
        """Never."""
        return False

    def sounding(self) -> Sounding | None:
        """Nothing ever did."""
        return None

    def wait(self, timeout: float | None = None) -> bool:  # noqa: ARG002
        """Nothing to wait for."""
        return True

    def close(self) -> None:
        """Nothing."""


class RecordingPlayer(NoPlayer):
    """Collects what it is given, for tests and for writing down what was said.

    stops : how often it was told to be silent
    """

    def __init__(self) -> None:
        self.played: list[tuple[Speech, int]] = []
        self.stops = 0
        self._playing = False

    def play(self, samples: Speech, rate: int) -> None:
        """Collect; it counts as playing until `stop` or `wait`."""
        self.played.append((samples, rate))
        self._playing = True

    def stop(self) -> None:
        """Be silent."""
        self.stops += 1
        self._playing = False

    def is_playing(self) -> bool:
        """Whether the last one was neither stopped nor waited for."""
        return self._playing

    def wait(self, timeout: float | None = None) -> bool:  # noqa: ARG002
        """The end of the last one, at once."""
        self._playing = False
        return True
