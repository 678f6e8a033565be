"""The square code that finds a batch again, as rows of dark and light."""

import segno

Modules = tuple[tuple[bool, ...], ...]
QUIET = 4
"""Light modules that must stand around the code. ISO/IEC 18004, QR Code symbol; from memory."""


def modules(content: str) -> Modules:
    """The QR code of a text without its quiet zone, True for dark; 15 per cent may be damaged.

    >>> len(modules("panside:2026-07-11-1-k7m4p"))
    25
    """
    return tuple(
        tuple(bool(cell) for cell in row)
        for row in segno.make(content, error="m", micro=False).matrix
    )
