"""Bookkeeping bottle by bottle and day by day, written without looking at the package's own."""

from collections import Counter
from dataclasses import dataclass

OPENED_DAYS = 7
FREEZER_DAYS = 180
NEAR = 3


@dataclass
class Jar:
    """One bottle: how many nights it spent open in the fridge, and where it went."""

    opened_on: int | None = None
    open_nights: int = 0
    gone: str | None = None  # "used" or "thrown"
    gone_on: int = 0
    to: str = ""


@dataclass
class Crate:
    """The bottles of one batch; days are counted from the season's first."""

    filled_on: int
    budget: int
    jars: list[Jar]
    place: str = "fridge"
    nights: int = 0
    was_frozen: bool = False
    barred: str | None = None
    called: bool = False
    over: bool = False
    last_day: int = -1

    def here(self) -> list[Jar]:
        return [jar for jar in self.jars if jar.gone is None]

    def _open(self) -> list[Jar]:
        found = [jar for jar in self.here() if jar.opened_on is not None]
        return sorted(found, key=lambda jar: jar.opened_on or 0)

    def _shut(self) -> list[Jar]:
        return [jar for jar in self.here() if jar.opened_on is None]

    def night(self) -> None:
        """Midnight passes over the bottles."""
        if self.place != "fridge":
            return
        self.nights += 1
        for jar in self.here():
            if jar.opened_on is not None:
                jar.open_nights += 1

    def takes(self, count: int, how: str, day: int, to: str = "") -> bool:
        if self.over or count > len(self.here()):
            return False
        order = self._shut() + self._open() if to else self._open() + self._shut()
        for jar in order[:count]:
            jar.gone, jar.gone_on, jar.to = how, day, to
        return True

    def opens(self, count: int, day: int) -> bool:
        if self.over or count > len(self._shut()):
            return False
        for jar in self._shut()[:count]:
            jar.opened_on = day
        return True

    def moves(self, place: str) -> bool:
        if self.over or not self.here() or place in ("cupboard", self.place):
            return False
        self.place = place
        self.was_frozen = self.was_frozen or place == "freezer"
        return True

    def bars(self, why: str) -> bool:
        if why == "recalled" and self.called:
            return False
        self.called = self.called or why == "recalled"
        if self.barred != "signed":
            self.barred = why
        return True

    def empties(self, day: int) -> bool:
        for jar in self.here():
            jar.gone, jar.gone_on = "thrown", day
        self.over = True
        return True

    def standing(self, day: int) -> Counter[tuple[bool, int, str, str]]:
        """(opened, since, advice, why) of every bottle in store."""
        return Counter(self._judged(jar, day) for jar in self.here())

    def _judged(self, jar: Jar, day: int) -> tuple[bool, int, str, str]:
        opened = jar.opened_on is not None
        since = self.filled_on if jar.opened_on is None else jar.opened_on
        if self.barred:
            return opened, since, "throw_away", self.barred
        left = self._nights_left(day)
        if opened:
            left = min(left, OPENED_DAYS - jar.open_nights) if self._thaws(jar) else left
        if left < 0:
            return opened, since, "throw_away", "past"
        if opened:
            return opened, since, "use_first", "opened"
        return opened, since, *(("use_first", "near") if left <= NEAR else ("keep", "in_time"))

    def _nights_left(self, day: int) -> int:
        end = self.filled_on + FREEZER_DAYS - day
        left = self.budget - self.nights
        if self.place == "freezer":
            return min(end, left) if left < 0 else end
        return min(end, left) if self.was_frozen else left

    def _thaws(self, jar: Jar) -> bool:
        """In the freezer an open bottle's nights stand still, unless they were over before."""
        return self.place == "fridge" or jar.open_nights > OPENED_DAYS

    def count(self, how: str) -> int:
        return sum(jar.gone == how for jar in self.jars)
