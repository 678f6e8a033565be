"""Who may come in: a short code shown on the kitchen's machine, exchanged for a signed cookie."""

import hashlib
import hmac
import os
import secrets
from collections import OrderedDict, deque
from collections.abc import Callable
from pathlib import Path

from itsdangerous import BadSignature, TimestampSigner

from assistant.base.errors import StoreUnusable
from assistant.screen.devices import Devices

LIFE_S = 600.0
"""A code is good for so long. [s]"""
TRIES, TRIES_S = 5, 60.0
"""So many wrong codes in so long from one address; then it may not try for a while. [s]"""
MOST_ADDRESSES = 256
MOST_WRONG = 20
"""After so many wrong ones the code itself is replaced."""
DAYS = 30
"""A paired device stays paired for so long."""
_LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
_LONG = 8
_DAY_S = 86_400
_SALT = b"panside.screen.pairing"


class TooManyTries(Exception):
    """Wrong codes come too fast."""


class _Signer(TimestampSigner):
    """Signs with the time of the clock that is passed in."""

    def __init__(self, key: bytes, now: Callable[[], float]) -> None:
        super().__init__(key, salt=_SALT, key_derivation="hmac", digest_method=hashlib.sha256)
        self._now = now

    def get_timestamp(self) -> int:
        """Whole seconds."""
        return int(self._now())


class Pairing:
    """The code of the moment, and the cookies given out for it.

    key : secret that signs the cookies; a new one unpairs every device
    now : seconds of a clock that keeps running over restarts
    on_new : told of every new code, so that the host can show it
    devices : where those that were let in are listed; in memory, where left out
    """

    def __init__(
        self,
        key: bytes,
        now: Callable[[], float],
        on_new: Callable[[str], None] = lambda _: None,
        choose: Callable[[str], str] = secrets.choice,
        devices: Devices | None = None,
    ) -> None:
        self._signer = _Signer(key, now)
        self._now, self._on_new, self._choose = now, on_new, choose
        self.devices = devices or Devices(now)
        self._wrong: OrderedDict[str, deque[float]] = OrderedDict()
        self._wrong_in_all = 0
        self._renew()

    def code(self) -> str:
        """The code now; a new one when the last has grown old."""
        if self._now() - self._made >= LIFE_S:
            self._renew()
        return self._code

    def left_s(self) -> float:
        """How long the code is still good. [s]"""
        self.code()
        return max(0.0, LIFE_S - (self._now() - self._made))

    def exchange(self, said: str, address: str = "", name: str = "") -> str | None:
        """A cookie's value for the right code, which is good for one device; None for a wrong one.

        address, name : who asks, and what its device is called
        TooManyTries when too many wrong ones have come from there lately; the right one is refused
        then too.
        """
        now = self._now()
        wrong = self._wrong_from(address)
        if len(wrong) == TRIES and now - wrong[0] < TRIES_S:
            raise TooManyTries
        if hmac.compare_digest(tidy(said).encode(), self.code().encode()):
            self._renew()
            device = secrets.token_urlsafe(16)
            self.devices.saw(device, name)
            return self._signer.sign(device).decode()
        wrong.append(now)
        self._wrong_in_all += 1
        if self._wrong_in_all >= MOST_WRONG:
            self._renew()
        return None

    def knows(self, cookie: str) -> bool:
        """Whether a cookie's device may come in."""
        return self.device(cookie) is not None

    def device(self, cookie: str) -> str | None:
        """Whose cookie it is; None where it was not given out here, or in the future, has run out,
        or its device was sent away."""
        try:
            device = self._signer.unsign(cookie, max_age=DAYS * _DAY_S).decode()
        except BadSignature:
            return None
        return device if self.devices.may_come_in(device) else None

    def _wrong_from(self, address: str) -> deque[float]:
        """When wrong codes came from an address; those that tried longest ago are forgotten."""
        found = self._wrong.setdefault(address, deque(maxlen=TRIES))
        self._wrong.move_to_end(address)
        while len(self._wrong) > MOST_ADDRESSES:
            self._wrong.popitem(last=False)
        return found

    def _renew(self) -> None:
        self._code = "".join(self._choose(_LETTERS) for _ in range(_LONG))
        self._made = self._now()
        self._wrong_in_all = 0
        self._on_new(self._code)


def tidy(said: str) -> str:
    """A code as it was typed, without spaces, dashes and small letters.

    >>> tidy(" abcd-23 45")
    'ABCD2345'
    """
    return "".join(c for c in said.upper() if c.isalnum())[:64]


def spaced(code: str) -> str:
    """A code in two halves, to be read off.

    >>> spaced("ABCD2345")
    'ABCD 2345'
    """
    half = len(code) // 2
    return f"{code[:half]} {code[half:]}"


def read_key(file: Path, fresh: bool = False) -> bytes:
    """The secret in a file that only its owner may read; made where there is none.

    fresh : make a new one in any case, which unpairs every device
    StoreUnusable where the file can't be read or made.
    """
    try:
        if file.exists() and not fresh:
            key = file.read_bytes()
            if len(key) >= 32:
                return key
        file.parent.mkdir(parents=True, exist_ok=True)
        file.unlink(missing_ok=True)
        key = secrets.token_bytes(32)
        with os.fdopen(os.open(file, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb") as made:
            made.write(key)
    except OSError as error:
        raise StoreUnusable(
            f"the key of the kitchen page in {file} can't be used ({error.strerror}); "
            "make the folder writable, or take the file away"
        ) from error
    return key
