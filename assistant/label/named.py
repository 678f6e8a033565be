"""What the code on a label says, and which batch that is."""

CODE_PREFIX = "panside:"
"""What a label's code begins with, so that it is no batch of something else."""
_EARLIER_PREFIX = "panside:batch:"


def code_of(batch: str) -> str:
    """What the code on a label of the batch says.

    >>> code_of("2026-07-11-1-k7m4p")
    'panside:2026-07-11-1-k7m4p'
    """
    return f"{CODE_PREFIX}{batch}"


def batch_of(content: str) -> str:
    """The batch that a code or an id names.

    >>> batch_of("panside:2026-07-11-1-k7m4p"), batch_of("2026-07-11-1-k7m4p")
    ('2026-07-11-1-k7m4p', '2026-07-11-1-k7m4p')
    >>> batch_of("panside:batch:2026-07-11-1")  # as labels had it first
    '2026-07-11-1'
    """
    return content.removeprefix(_EARLIER_PREFIX).removeprefix(CODE_PREFIX)
