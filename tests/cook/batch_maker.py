"""A batch to try things on, and the demo-like way through it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from assistant.cook import Batch, Reply, begin, step
from assistant.facts.events import RULES, AnyEvent, Begin, event_adapter
from assistant.recipebook.files import load_recipe

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
RECIPE = load_recipe("berry-syrup").model_dump(mode="json")


class Maker:
    """Makes a batch event by event; the clock moves as it is told.

    recipe : a recipe of the book by name; `up_to` knows the way through the plain one only
    """

    def __init__(self, recipe: str = "berry-syrup") -> None:
        self.begin(
            RECIPE if recipe == "berry-syrup" else load_recipe(recipe).model_dump(mode="json")
        )

    def begin(self, recipe: dict[str, Any]) -> None:
        self.now = START
        self.journal: list[AnyEvent] = [Begin(at=START, batch="b", recipe=recipe, rules=RULES)]
        self.batch, self.reply = begin(self.journal[0])  # type: ignore[arg-type]

    @classmethod
    def of(cls, recipe: dict[str, Any]) -> "Maker":
        """A batch of a recipe that is no file, the plain one with a difference."""
        maker = cls()
        maker.begin(recipe)
        return maker

    def does(self, kind: str, after_s: float = 30, **fields: object) -> Reply:
        self.now += timedelta(seconds=after_s)
        event = event_adapter.validate_python({"kind": kind, "at": self.now, **fields})
        self.journal.append(event)
        self.batch, self.reply = step(self.batch, event)
        return self.reply

    def reads(self, what: str, value: float, unit: str, after_s: float = 30) -> Reply:
        return self.does("reading", after_s, what=what, value=value, unit=unit)

    def surely(self, kind: str, after_s: float = 30, **fields: object) -> Reply:
        """The same, with a yes where it is asked about."""
        self.does(kind, after_s, **fields)
        return self.does("yes", 5) if self.batch.held else self.reply

    def degrees(self, value: float, after_s: float = 30) -> Reply:
        return self.reads("temperature", value, "degC", after_s)

    def done(self, after_s: float = 30) -> Reply:
        return self.does("onward", after_s)

    def ids(self) -> list[str]:
        return [line.id for line in self.reply.lines]

    @property
    def stage(self) -> str | None:
        return self.batch.stage.id if self.batch.stage else self.batch.ended

    def up_to(self, stage: str) -> "Maker":
        """The plain way to a stage: 2.4 kg of blackcurrants, nothing goes wrong."""
        for name, act in self._way():
            if self.stage == stage:
                return self
            assert self.stage == name, (self.stage, name)
            act()
        assert self.stage == stage
        return self

    def up_to_bottle_unmeasured(self) -> "Maker":
        """The plain way to the bottles, with "done" said twice in place of a pH."""
        for name, act in self._way():
            if self.stage == "bottle":
                break
            if self.stage != name:
                continue
            if name == "ph":
                self.done()
                self.done()
            else:
                act()
        return self

    def _way(self) -> list[tuple[str, Callable[[], object]]]:
        return [
            ("weigh", lambda: self.does("choose", option="fruit", value="blackcurrant")),
            ("weigh", lambda: self.reads("fruit", 2.4, "kg")),
            ("crush", self.done),
            ("water", self.done),
            ("heat", lambda: self.degrees(76)),
            ("hold", lambda: self.degrees(77, 45)),
            ("hold", lambda: self.degrees(76, 50)),
            ("steep", lambda: self.done(1260)),
            ("strain", self.done),
            ("make_up", self.done),
            ("juice", lambda: self.reads("juice", 2.9, "l")),
            ("cool", lambda: self.degrees(44)),
            ("dissolve", self.done),
            ("sharpen", self.done),
            ("ask_ascorbic", lambda: self.does("no")),
            ("ask_glycerin", lambda: self.does("no")),
            ("ask_sorbate", lambda: self.does("no")),
            ("ph", lambda: self.reads("ph", 3.4, "pH")),
            ("bottle", lambda: self.does("bottle", count=9, size_ml=500)),
            ("store", self.done),
        ]


def without_history(batch: Batch) -> Batch:
    """The state alone, for comparing two batches."""
    return replace(batch, before=None, last_reply=Reply())
