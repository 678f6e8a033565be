"""The devices that were let in, one by one, and those that were sent away again."""

import os
from collections.abc import Callable
from pathlib import Path

from pydantic import BaseModel, ValidationError

from assistant.base.errors import StoreUnusable

KEPT_S = 30 * 86_400.0
"""So long a device is remembered after it was seen or sent away: as long as its cookie. [s]"""
SEEN_EVERY_S = 3600.0
"""When a device was last seen is written down no oftener. [s]"""
_KINDS = (
    ("iphone", "iPhone"), ("ipad", "iPad"), ("android", "Android"), ("windows", "Windows"),
    ("macintosh", "Mac"), ("linux", "Linux"),
)  # fmt: skip


class Device(BaseModel):
    """A device that may come in. paired, seen : seconds of the clock that is passed in."""

    id: str
    name: str
    paired: float
    seen: float


class _Kept(BaseModel):
    devices: dict[str, Device] = {}
    sent_away: dict[str, float] = {}


class Devices:
    """Who was let in. Kept in a file that only its owner may read, or nowhere.

    StoreUnusable where the file can't be read or written: who was sent away must stay outside.
    """

    def __init__(self, now: Callable[[], float], file: Path | None = None) -> None:
        self._now, self._file = now, file
        self._kept = self._read()

    def saw(self, device: str, name: str) -> None:
        """A device is let in, or has come again; one of an older version is listed from now on."""
        now, known = self._now(), self._kept.devices.get(device)
        if known is not None and now - known.seen < SEEN_EVERY_S:
            return
        first = known.paired if known else now
        made = Device(id=device, name=known.name if known else name, paired=first, seen=now)
        self._kept.devices[device] = made
        self._write()

    def may_come_in(self, device: str) -> bool:
        """Whether it was not sent away."""
        return device not in self._kept.sent_away

    def send_away(self, device: str) -> bool:
        """A device may come in no more; False where there is none of that name."""
        if self._kept.devices.pop(device, None) is None:
            return False
        self._kept.sent_away[device] = self._now()
        self._write()
        return True

    def listed(self) -> list[Device]:
        """The one seen last comes first."""
        return sorted(self._kept.devices.values(), key=lambda each: -each.seen)

    def _read(self) -> _Kept:
        if self._file is None or not self._file.exists():
            return _Kept()
        try:
            return _Kept.model_validate_json(self._file.read_bytes())
        except (OSError, ValidationError) as error:
            raise StoreUnusable(
                f"the list of paired devices in {self._file} can't be read; take it away and start "
                "with --forget, which unpairs every device"
            ) from error

    def _write(self) -> None:
        since = self._now() - KEPT_S
        kept, away = self._kept.devices, self._kept.sent_away
        self._kept = _Kept(
            devices={name: each for name, each in kept.items() if each.seen > since},
            sent_away={name: at for name, at in away.items() if at > since},
        )
        if self._file is None:
            return
        fresh = self._file.with_suffix(".new")
        try:
            with os.fdopen(
                os.open(fresh, os.O_CREAT | os.O_TRUNC | os.O_WRONLY, 0o600), "w"
            ) as out:
                out.write(self._kept.model_dump_json())
            fresh.replace(self._file)
        except OSError as error:
            raise StoreUnusable(
                f"the list of paired devices in {self._file} can't be written ({error.strerror})"
            ) from error


def kind_of(agent: str) -> str:
    """What a browser says of its device, in a word.

    >>> kind_of("Mozilla/5.0 (Linux; Android 14) Chrome/131"), kind_of("")
    ('Android', 'Device')
    """
    return next((name for sign, name in _KINDS if sign in agent.lower()), "Device")
