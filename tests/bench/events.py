"""Generated events without end: what every sequence of them must keep to.

    python -m tests.bench.events [--events 1000000] [--seed 1]

Batches of every recipe, begun in the middle or at the start, get events that a cook may send at any
time, sensible or not: readings on and far off the plan, signs of spoilage, answers, corrections,
what is taken back, bottles; the clock on the wall is set now and then, and another process takes
over. After each event the rules below are held against the batch; each batch is folded anew from
its journal as text. What breaks a rule is told with its seed.
"""

import argparse
import sys
import time
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime
from random import Random
from typing import Any

from assistant.base.clock import SetClock
from assistant.cook import Batch, Recipe, begin, fold, step
from assistant.cook.holding import best_run, held
from assistant.cook.kinds import Add
from assistant.cook.reply import Reply
from assistant.cook.sorts import closed_of, sorts_left
from assistant.facts.events import RULES, AnyEvent, Begin, event_adapter
from assistant.limits import ACID_FOOD_PH
from assistant.recipebook.files import load_recipe, recipe_names

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
LENGTH = 60
READINGS = [
    ("fruit", "kg", 0.1, 30), ("juice", "l", 0.1, 40), ("temperature", "degC", -5, 115),
    ("temperature", "degC", 74, 79), ("ph", "pH", 1.5, 8), ("ph", "pH", 3.0, 4.2),
    ("brix", "Brix", 0, 84), ("sugar", "g", 1, 9000), ("water", "ml", 1, 5000),
    ("citric_acid", "g", 0.1, 600), ("sorbate", "g/l", 0, 9), ("glycerin", "ml", 1, 500),
    ("yield", "kg", 0.1, 40), ("bottles", "count", 1, 99),
]  # fmt: skip
KINDS = (
    "reading", "reading", "onward", "yes", "no", "undo", "correct", "ask", "bottle", "choose",
    "timer_set", "timer_stop", "say_again", "note", "sign", "used", "opened", "later", "repeat",
    "pause", "discard", "moved",
)  # fmt: skip
SENSIBLE = 0.6
"""How often a cook does what the batch waits for, so that batches come to their end."""
MORE = ({"count": 2, "size_ml": 330.0}, {"count": 3, "size_ml": 330.0, "of": "jar"})
SORTS = (
    None,
    None,
    {"size_ml": 500.0},
    *({k: v for k, v in m.items() if k != "count"} for m in MORE),
)
"""What bottles are filled besides, and which are named afterwards."""
SELDOM = ("discard", "sign", "undo")
TOPICS = ("keep", "how_much", "more", "why", "limit", "where", "bottles", "yield", "may_i", "next")


class Making:
    """One batch under random events."""

    def __init__(self, seed: int, recipes: list[Recipe]) -> None:
        self.random = Random(seed)
        self.clock = SetClock(START)
        recipe = self.random.choice(recipes)
        first = Begin(at=START, batch="b", recipe=recipe.model_dump(mode="json"), rules=RULES)
        self.journal: list[AnyEvent] = [first]
        self.batch, self.reply = begin(first)

    def steps(self) -> Iterator[str]:
        """What is wrong after each event, "" for nothing."""
        for _ in range(LENGTH):
            self._time()
            event = self._event()
            before = self.batch
            self.journal.append(event)
            self.batch, self.reply = step(before, event)
            yield broken(before, event, self.batch, self.reply)
        again = [event_adapter.validate_json(event_adapter.dump_json(e)) for e in self.journal]
        if fold(again)[0] != self.batch:
            yield "a replay is another batch"

    def _time(self) -> None:
        self.clock.forward(self.random.choice([0, 2, 20, 45, 60, 90, 1500, 90_000]))
        if self.random.random() < 0.03:
            self.clock.jump(self.random.choice([-3600, -30, 300, 86_400]))
        if self.random.random() < 0.02:
            self.clock.restart(f"{self.random.random()}")

    def _event(self) -> AnyEvent:
        if self.random.random() < SENSIBLE:
            fields = self._expected()
        else:
            kind = self.random.choice(KINDS)
            if kind in SELDOM and self.random.random() < 0.7:
                kind = "ask"
            fields = {"kind": kind, **self._fields(kind)}
        stamp = {"at": self.clock.now(), **self.clock.tick()._asdict()}
        return event_adapter.validate_python({**stamp, **fields})

    def _fields(self, kind: str) -> dict[str, Any]:
        pick = self.random.choice
        if kind == "reading":
            what, unit, low, high = pick(READINGS)
            value = self.random.uniform(low, high)
            return {
                "what": what,
                "unit": unit,
                "value": round(value, 0 if what == "bottles" else 6),
            }
        made: dict[str, dict[str, Any]] = {
            "correct": {
                "value": self.random.uniform(0, 100),
                "what": pick([None, None, "fruit", "juice", "sugar", "bottles"]),
                "vessel": pick(SORTS),
            },
            "ask": {"topic": pick(TOPICS)},
            "bottle": {
                "count": self.random.randint(1, 50),
                "size_ml": pick([250.0, 500.0, None]),
                "more": pick([(), MORE[:1], MORE]),
            },
            "choose": {"option": "fruit", "value": pick(["raspberry", "fig", "plum", "rhubarb"])},
            "timer_set": {"seconds": pick([60.0, 600.0])},
            "note": {"text": "smells good"},
            "sign": {"what": pick(["mould", "fizzing", "off_smell", "cloudy"])},
            "used": {"count": pick([1, 2]), "vessel": pick(SORTS)},
            "opened": {"count": 1, "vessel": pick(SORTS)},
            "moved": {"place": "freezer", "count": pick([None, 2]), "vessel": pick(SORTS)},
            "discard": {"count": pick([None, 1]), "vessel": pick(SORTS)},
        }
        return made.get(kind, {})

    def _expected(self) -> dict[str, Any]:
        """What the batch waits for: an answer, a reading, else "done"."""
        if self.batch.held or self.batch.spoiling:
            return {"kind": "no"}
        stage = self.batch.stage
        awaited = stage.awaits(self.batch, self.clock.now()) if stage else ()
        if not awaited or isinstance(stage, Add):
            return {"kind": "onward"}
        first = awaited[0]
        if first.what == "temperature":
            value = self.random.choice([76.0, 77.0, 40.0])
            return {"kind": "reading", "what": "temperature", "unit": "degC", "value": value}
        if first.what == "ph":
            return {"kind": "reading", "what": "ph", "unit": "pH", "value": 3.4}
        value = first.planned or min(max(2400.0, first.low), first.high)
        unit = {"bottles": "count", "brix": "Brix"}.get(first.what)
        if first.what == "bottles":
            more = self.random.choice([(), MORE])
            return {"kind": "bottle", "count": 6 if more else 9, "size_ml": 500.0, "more": more}
        measured = unit or ("g" if first.units[0] in ("kg", "g") else "ml")
        return {"kind": "reading", "what": first.what, "unit": measured, "value": value}


def broken(before: Batch, event: AnyEvent, batch: Batch, reply: Reply) -> str:
    """Which rule an event broke, "" for none."""
    rules = {
        "a pH above the bound stops nothing": _sour_enough(batch),
        "a stopped batch was bottled": bool(
            before.bottled or not batch.bottled or not before.stopped
        ),
        "a spoiling batch went on": _stands(before, event, batch),
        "what waits for a yes has counted": _waits(batch),
        "nothing was answered": bool(reply.lines),
        "a hold is longer than the time that passed": _held_in_time(batch),
        "bottles are owed": batch.in_store >= 0 and batch.closed >= 0,
        "the sorts do not add up": _add_up(batch),
    }
    return next((rule for rule, kept in rules.items() if not kept), "")


def _add_up(batch: Batch) -> bool:
    """Whether what is left of each sort is all that is left, closed and open."""
    left, stored = sorts_left(batch), batch.stored
    if len(left) < 2:
        return True
    closed = [closed_of(batch, vessel) for vessel, _ in left]
    apart = [stored.apart_of(vessel) for vessel, _ in left]
    return (
        sum(count for _, count in left) == batch.in_store
        and sum(closed) == batch.closed
        and all(there >= gone for there, gone in zip(closed, apart, strict=True))
        and sum(apart) == stored.apart_count
    )


def _newly_filled(before: Batch, batch: Batch) -> bool:
    return before.bottled is None and batch.bottled is not None


def _sour_enough(batch: Batch) -> bool:
    ph = batch.last("ph")
    low_acid = batch.recipe.acidity == "low-acid"
    return low_acid or ph is None or ph.base <= ACID_FOOD_PH or batch.stopped_by is not None


def _stands(before: Batch, event: AnyEvent, batch: Batch) -> bool:
    spoils = before.spoiling and batch.spoiling and event.kind != "undo"
    return not spoils or batch.stage_index == before.stage_index


def _waits(batch: Batch) -> bool:
    base = batch.before
    return not (batch.held and base) or (batch.taken, batch.added) == (base.taken, base.added)


def _held_in_time(batch: Batch) -> bool:
    run = [t.reading for t in best_run(batch)]
    if not run or run[0].elapsed_s is None or run[-1].elapsed_s is None:
        return True
    return held(batch).seconds <= run[-1].elapsed_s - run[0].elapsed_s + 1e-6


def main() -> int:
    """Run until so many events; 1 where a rule was broken."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--events", type=int, default=1_000_000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    recipes = [load_recipe(name) for name in recipe_names()]
    began, done, batches = time.monotonic(), 0, 0
    wrong: Counter[str] = Counter()
    ends: Counter[str] = Counter()
    while done < args.events:
        seed = args.seed * 1_000_000_000 + batches
        batches += 1
        making = Making(seed, recipes)
        try:
            for found in making.steps():
                done += 1
                if found:
                    wrong[found] += 1
                    print(f"seed {seed}, event {len(making.journal)}: {found}", flush=True)
        except Exception as error:
            wrong[f"{type(error).__name__}: {error}"] += 1
            print(f"seed {seed}, event {len(making.journal)}: {error!r}", flush=True)
        ends[making.batch.ended or ("bottled" if making.batch.bottled else "unfinished")] += 1
    seconds = time.monotonic() - began
    print(f"{done} events in {batches} batches, {seconds:.0f} s: {sum(wrong.values())} violations")
    print(", ".join(f"{count} {end}" for end, count in sorted(ends.items())))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
