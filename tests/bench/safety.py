"""Random events that try to talk a batch into being keepable, against an oracle of the rules.

    python -m tests.bench.safety [--events 1000000] [--seed 1]

All recipes, some of them edited; early and repeated pH, doses again and again, water at any time,
silences of any length, what is taken back and put right. The oracle is written from the rules, and
keeps its own books from what each event changed:

- a pH counts only where nothing went in after it; without one the batch is low in acid
- a pH that fell from there though nothing went in earns no days either
- a pH of 4.6 or more stops the batch until another is read, whatever is taken back
- no bottle is filled with more of a preservative than its ceiling, all doses together
- a preservative that went in is not asked for again
- a hold counts only where nobody was silent for longer than two thirds of it
- a refused fruit stays refused until another is named
- spirit that went in, a fifth of it pure alcohol, earns two weeks without a pH and no more
- after bottling no date is ever later than one that was told before
- nothing raises
"""

import argparse
import sys
import time
from collections import Counter
from collections.abc import Sequence
from copy import deepcopy
from datetime import date
from itertools import pairwise
from random import Random
from typing import Any

from assistant.cook import Batch, Recipe, asked
from assistant.cook.holding import best_run, held, hold_stage
from assistant.cook.keeping import closed_until, keeping
from assistant.cook.kinds import Add, Option
from assistant.cook.stock import syrup
from assistant.facts.events import AnyEvent, Choose, Correct, Undo, Yes
from assistant.recipebook.files import load_recipe, recipe_names
from tests.bench.events import Making

LOW_ACID_PH = 4.6  # 21 CFR 114.3 with this project's margin: 4.6 itself counts as low in acid
LOW_ACID_DAYS = 3  # this project's own rule
# g of the salt a litre: Codex GSFA 14.1.4, sorbates 500, benzoates 250, sulphites 70 mg/kg as acid
# or sulphur dioxide (the last two from memory), over 0.7464, 0.8475 and 0.5763 by atomic weights
CEILINGS = {"sorbate": 0.6699, "benzoate": 0.2950, "sulphite": 0.1215}
LONGEST_SHARE, LONGEST_S = 2 / 3, 120.0  # this project's own rule for a silence in a hold
SPIRITED, SPIRITED_DAYS = 0.2, 14  # this project's own rule; common practice, no source
FIGS = "fig"  # low in acid by its pH of 5.05 to 5.98 (FDA list)

TRICKS = (
    *[("sorbate", "g", 0.05, 4.0)] * 3,
    ("sorbate", "g/l", 0.05, 1.0),
    ("sorbate", "ppm", 50, 900),
    ("benzoate", "g", 0.05, 2.0),
    ("sulphite", "%", 0.001, 0.05),
    *[("ph", "pH", 2.4, 4.0)] * 4,
    *[("ph", "pH", 4.0, 5.4)] * 3,
    ("ph", "pH", -3.0, 14.0),
    *[("water", "ml", 1, 3000)] * 2,
    ("citric_acid", "g", 0.05, 90),
    ("yield", "l", 0.3, 12),
    *[("temperature", "degC", 70, 80)] * 3,
)
SILENCES = (0, 5, 20, 40, 59, 61, 75, 89, 130, 600, 3600, 90_000)


class Trying(Making):
    """A batch under events that try to get around the rules."""

    def _time(self) -> None:
        self.clock.forward(self.random.choice(SILENCES))
        if self.random.random() < 0.01:
            self.clock.jump(self.random.choice([-3600, -30, 300, 86_400]))

    def _fields(self, kind: str) -> dict[str, Any]:
        roll = self.random.random()
        if kind == "reading" and roll < 0.7:
            what, unit, low, high = self.random.choice(TRICKS)
            return {"what": what, "unit": unit, "value": self.random.uniform(low, high)}
        if kind == "choose" and roll < 0.4:
            return {"option": "ph_by", "value": self.random.choice(["meter", "strips"])}
        return super()._fields(kind)

    def _expected(self) -> dict[str, Any]:
        if self.batch.held is not None and self.random.random() < 0.5:
            return {"kind": "yes"}
        if self.batch.stopped_by and self.random.random() < 0.6:
            kind = self.random.choice(["undo", "undo", "bottle", "onward"])
            return {"kind": kind, **self._fields(kind)}
        if isinstance(self.batch.stage, Option) and self.random.random() < 0.8:
            return {"kind": self.random.choice(["yes", "yes", "no"])}
        found = super()._expected()
        if found["kind"] == "onward" and self.random.random() < 0.2:
            return {"kind": "reading", **self._fields("reading")}
        return found


class Oracle:
    """What the rules say of a batch, kept from what each event changed."""

    def __init__(self) -> None:
        self.ph: float | None = None
        self.clean: bool | None = False
        self.high = False
        self.unexplained = False
        self.added_at_high: int | None = None
        self.refused = False
        self.best: date | None = None

    def sees(self, before: Batch, event: AnyEvent, after: Batch) -> str:
        """What is wrong now, "" for nothing."""
        self._books(before, event, after)
        rules = {
            "a stale or missing pH earned days": self._earns(after),
            "a high pH was talked away": not self.high or after.stopped_by is not None,
            "a stopped batch was bottled": not (_filled(before, after) and before.stopped_by),
            "too much of a preservative": _within(after) or after.stopped_by is not None,
            "a preservative is asked for again": not _asks_again(after),
            "a hold that nobody watched": _watched(after),
            "a refused fruit was taken": not (self.refused and after.start),
            "a date was lengthened": self._dated(after, event),
        }
        return next((rule for rule, kept in rules.items() if not kept), "")

    def _books(self, before: Batch, event: AnyEvent, after: Batch) -> None:
        held = before.held.event if isinstance(event, Yes) and before.held else event
        self._fruit(before, held, after)
        if after is before or (after.taken, after.added) == (before.taken, before.added):
            return
        if isinstance(event, Undo):
            self.clean, self.ph = None, None
            if len(after.added) != len(before.added):
                self.added_at_high = None
            return
        read = after.last("ph")
        if len(after.added) > len(before.added):
            self.clean = False
        elif read is not None and read != before.last("ph"):
            self.ph, self.clean = read.base, after.start is not None
            low_acid = after.recipe.acidity == "low-acid"
            self.high = read.base >= LOW_ACID_PH and not low_acid
            self.unexplained = not self.high and self.added_at_high == len(after.added)
            if self.high:
                self.added_at_high = len(after.added)
            elif not self.unexplained:
                self.added_at_high = None
        elif isinstance(event, Correct) or len(after.taken) < len(before.taken):
            self.clean = None

    def _fruit(self, before: Batch, event: AnyEvent, after: Batch) -> None:
        of_fruit = after.recipe.base == "fruit"
        if not of_fruit or not isinstance(event, Choose) or event.option != "fruit":
            return
        if after.fruit != before.fruit:
            self.refused = False
        elif event.value == FIGS and FIGS not in after.recipe.fruits and not after.start:
            self.refused = True

    def _earns(self, batch: Batch) -> bool:
        if self.clean is None:
            return True
        poor = self.ph is None or not self.clean or self.ph >= LOW_ACID_PH or self.unexplained
        poor = poor or batch.recipe.acidity == "low-acid"
        poor = poor or (batch.recipe.acidity == "soured" and batch.ph_by != "meter")
        most = SPIRITED_DAYS if _spirited(batch) else LOW_ACID_DAYS
        return not poor or (keeping(batch).days or 0) <= most

    def _dated(self, batch: Batch, event: AnyEvent) -> bool:
        if batch.bottled is None or batch.stored.moves or batch.stored.apart:
            return True
        until = closed_until(batch, event.at)
        if until is None:
            return True
        kept = self.best is None or until <= self.best
        self.best = min(until, self.best or until)
        return kept


def _filled(before: Batch, after: Batch) -> bool:
    return before.bottled is None and after.bottled is not None


def _within(batch: Batch) -> bool:
    stock = syrup(batch)
    if stock is None or not batch.added:
        return True
    totals: Counter[str] = Counter()
    for added in batch.added:
        totals[added.name] += added.amount  # type: ignore[assignment]
    litres = stock.volume_ml.high / 1000
    return all(totals[name] / litres <= most * 1.001 for name, most in CEILINGS.items())


def _spirited(batch: Batch) -> bool:
    """Whether what went in is a fifth alcohol of the least volume the syrup may have."""
    own = batch.recipe.ingredients
    spirits = [(own[a.name], a) for a in batch.added if a.name in own and own[a.name].alcohol]
    stock = syrup(batch)
    if stock is None:
        return False
    ml = sum(
        one.alcohol * (added.amount if added.unit == "ml" else added.amount / (one.density or 1.0))
        for one, added in spirits
    )
    return ml >= SPIRITED * stock.volume_ml.low


def _asks_again(batch: Batch) -> bool:
    stage = batch.stage
    asked_for = isinstance(stage, Add) and stage.amount in CEILINGS
    return asked_for and any(a.name == stage.subject for a in batch.added)  # type: ignore[union-attr]


def _watched(batch: Batch) -> bool:
    stage = hold_stage(batch)
    if stage is None or not held(batch).complete:
        return True
    run = best_run(batch)
    longest = min(LONGEST_S, LONGEST_SHARE * stage.seconds) + 1e-6
    gaps = [(b.at - a.at).total_seconds() for a, b in pairwise(run)]
    return all(0 <= gap <= longest for gap in gaps) and sum(gaps) >= stage.seconds - 1e-6


def edited(recipe: Recipe, random: Random) -> Recipe:
    """A recipe as somebody might change its file in a journal."""
    body = deepcopy(recipe.model_dump(mode="json"))
    ph = [n for n, s in enumerate(body["stages"]) if s.get("reading") == "ph"]
    if ph and random.random() < 0.5:
        body["stages"].insert(1, body["stages"].pop(ph[0]))
    if "sorbate" in body["amounts"]:
        each = 0.4 * random.choice([1, 12, 60])
        body["amounts"]["sorbate"] = {"rule": "per_litre", "of": "syrup", "amount": each}
    for stage in body["stages"]:
        if stage["kind"] == "hold":
            stage["seconds"] = random.choice([1.0, 15.0, 90.0, 1200.0])
    return Recipe.model_validate(body)


def run(
    events: int, seed: int, tell: bool = True, names: Sequence[str] = ()
) -> tuple[int, int, Counter[str]]:
    """So many events at least: how many, in how many batches, and what broke a rule how often.

    names : the recipes to try, () for all
    """
    plain = [load_recipe(name) for name in names or recipe_names()]
    recipes = [*plain, *(edited(recipe, Random(seed)) for recipe in plain)]
    done = batches = 0
    wrong: Counter[str] = Counter()
    while done < events:
        this = seed * 1_000_000_000 + batches
        batches += 1
        making, oracle = Trying(this, recipes), Oracle()
        before, found = making.batch, ""
        try:
            for basic in making.steps():
                done += 1
                found = basic or oracle.sees(before, making.journal[-1], making.batch)
                before = making.batch
                if done % 7 == 0:
                    asked(before, making.clock.now())
                if found:
                    break
        except Exception as error:
            found = f"{type(error).__name__}: {error}"
        if found:
            wrong[found] += 1
            if tell:
                print(f"seed {this}, event {len(making.journal)}: {found}", flush=True)
    return done, batches, wrong


def main() -> int:
    """Run until so many events; 1 where a rule was broken."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--events", type=int, default=1_000_000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    began = time.monotonic()
    done, batches, wrong = run(args.events, args.seed)
    seconds = time.monotonic() - began
    print(f"{done} events in {batches} batches, {seconds:.0f} s: {sum(wrong.values())} violations")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
