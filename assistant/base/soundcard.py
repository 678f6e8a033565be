"""Opening the machine's sound devices through miniaudio, quietly."""

import ctypes
from typing import Any

_Handler = ctypes.CFUNCTYPE(
    None, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p
)
_say_nothing = _Handler(lambda *_args: None)

NO_SYSTEM = "this machine has no sound system"
"""What miniaudio's bare number -401 and its silent null device both mean."""


def quieten_alsa() -> None:
    """Keep the Linux sound library from writing its complaints over the talk."""
    try:
        ctypes.CDLL("libasound.so.2").snd_lib_error_set_handler(_say_nothing)
    except (OSError, AttributeError):
        return


def backends(name: str | None) -> list[Any] | None:
    """The sound systems to try: the named one, or None for the machine's own choice."""
    import miniaudio

    return [miniaudio.Backend[name]] if name else None


def reason(error: object) -> str:
    """A sound error in words a cook can use; miniaudio gives most as a tuple with a number."""
    arguments = getattr(error, "args", ())
    code = next((a for a in arguments if isinstance(a, int)), None)
    if code is None:
        return str(error)
    return NO_SYSTEM if code == -401 else f"error {code} of the sound system"
