"""Whether this cook works on a batch, or somebody else does: joining is asked, losing it is told.

What is said while somebody else has the batch is not taken, and not lost either: whoever joins
finds it among the notes, to be said again if it still counts. It is not taken of itself, because
the batch has gone on and a thermometer's word is old by then.
"""

from datetime import datetime

from assistant.cook.reply import Line
from assistant.keep import LENGTH, Journal, Lease

_KEPT = 20
"""So many things that were said are kept; nobody says more to a batch that is somebody else's."""


class AtWork:
    """One batch, seen from one program.

    theirs : who has it, where it is somebody else
    """

    def __init__(self, batch_id: str, journal: Journal, now: datetime) -> None:
        self._batch, self._journal = batch_id, journal
        self._taken = False
        self._kept: list[str] = []
        self._was_ours = False
        self.theirs = _somebody_elses(journal.lease(batch_id), now)

    def take(self, now: datetime) -> bool:
        """Work on it from now on, unless somebody else does or has taken it over."""
        if not self._taken:
            self._acquire(now, join=False)
            return self.theirs is None
        lease = self._journal.lease(self._batch)
        if lease is not None and not lease.mine:
            self.lose(lease)
        return self._taken

    def join(self, now: datetime) -> tuple[str, ...]:
        """Take it over; what was said meanwhile and not taken."""
        self._acquire(now, join=True)
        kept, self._kept = tuple(self._kept), []
        return kept

    def lose(self, lease: object) -> None:
        """Somebody else has taken it over."""
        self._taken, self._was_ours = False, True
        self.theirs = lease if isinstance(lease, Lease) else None

    def leave(self) -> None:
        """This cook works on it no longer."""
        if self._taken:
            self._taken = False
            self._journal.release(self._batch)

    def keep(self, said: str) -> None:
        """Remember what was said and not taken."""
        self._kept = [*self._kept, said][-_KEPT:]

    def forget(self) -> None:
        """Nothing that was said counts: the cook leaves the batch to the other."""
        self._kept = []

    def _acquire(self, now: datetime, join: bool) -> None:
        found = self._journal.acquire(self._batch, now, now + LENGTH, join)
        self._taken = found.mine
        self.theirs = None if found.mine else found

    def question(self) -> Line:
        """Who works on it, what was not taken, and whether this cook wants to join in."""
        assert self.theirs is not None
        facts = {"who": self.theirs.words, "since": f"{self.theirs.since:%H:%M}"}
        if not self._kept:
            return Line(id="lease.theirs", rank="question", facts=facts)
        facts |= {"said": self._kept[-1]}
        was_ours, self._was_ours = self._was_ours, False
        if was_ours:
            return Line(id="lease.lost", rank="question", facts=facts)
        return Line(id="lease.kept", rank="question", facts=facts)

    def left(self) -> Line:
        """The batch is left to the other."""
        assert self.theirs is not None
        return Line(id="lease.left", rank="answer", facts={"who": self.theirs.words})


def _somebody_elses(lease: Lease | None, now: datetime) -> Lease | None:
    return lease if lease is not None and not lease.mine and lease.counts(now) else None
