"""Hearing of what others write, without asking for it all the time.

A server tells (LISTEN, NOTIFY); for a file, SQLite counts what other connections have committed
("PRAGMA data_version").
"""

from contextlib import suppress
from typing import Any

from sqlalchemy import Engine

from assistant.keep.journal import CHANNEL, Journal
from assistant.keep.patience import TURN, within


class Watch:
    """Looks at one journal, wherever it is just now."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        self._engine: Engine | None = None
        self._line: Any = None
        self._kept: Any = None
        self._version: int | None = None

    def anything(self) -> bool:
        """Whether anybody may have written since this was last asked; it waits for nobody."""
        engine = self._journal.engine
        if engine is not self._engine or self._line is None:
            self.close()
            return self._begin(engine)
        try:
            return self._heard() if engine.dialect.name == "postgresql" else self._counted()
        except Exception:
            self.close()
            return True

    def close(self) -> None:
        """Listen no longer."""
        if self._line is not None:
            with suppress(Exception):
                self._line.close()
        self._engine, self._line, self._kept, self._version = None, None, None, None

    def _begin(self, engine: Engine) -> bool:
        """A line of our own; what was written before it was there counts as news."""
        if engine.url.get_backend_name() == "sqlite" and not engine.url.database:
            return False
        try:
            # Kept as it is: detached from the pool, it is closed when nobody holds it.
            with within(TURN):
                self._kept = engine.raw_connection()
            self._kept.detach()
            self._line = self._kept.dbapi_connection
            if engine.dialect.name == "postgresql":
                self._line.autocommit = True
                self._line.execute(f"LISTEN {CHANNEL}")
            else:
                self._counted()
        except Exception:
            self.close()
            return True
        self._engine = engine
        return True

    def _heard(self) -> bool:
        return bool(list(self._line.notifies(timeout=0)))

    def _counted(self) -> bool:
        (version,) = self._line.execute("PRAGMA data_version").fetchone()
        before, self._version = self._version, version
        return bool(before != version)
