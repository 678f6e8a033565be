"""A number that is wished for or asked about: "how do I get it to 62 Brix"."""

from assistant.understand.wished.again import again
from assistant.understand.wished.ways import TO, Wish, brix_in, read_off, wish

__all__ = ["TO", "Wish", "again", "brix_in", "read_off", "wish"]
