"""What a stage asks for: the readings it awaits and the sentence that asks."""

from datetime import datetime
from string import Formatter
from typing import Any

from assistant.calc.fruits import all_fruits
from assistant.cook.amounts import amount
from assistant.cook.basket import is_mixed, kinds
from assistant.cook.batch import Batch
from assistant.cook.brix import place
from assistant.cook.due import due, enough_in
from assistant.cook.keep_answers import ending_lines, sign_lines
from assistant.cook.keeping import keep_by_words
from assistant.cook.kinds import Add, Measure, Option, Rest, Stage
from assistant.cook.kinds.awaited import awaited, awaited_ph
from assistant.cook.parts import Pieces
from assistant.cook.recipe import PIECES, Recipe
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.sorts import sorts_left
from assistant.cook.stock import made_up_volume, start_mass
from assistant.cook.totals import stuff_total
from assistant.facts.asked import Asked
from assistant.facts.stuff import PRESERVATIVES, stuff_words

LONG_MIN = 180.0
"""A wait that nobody stands beside (common practice, no source). [min]"""


def asked(batch: Batch, at: datetime) -> Asked:
    """What the cook may say now, most expected first. `at` is now, for holds that run."""
    stage, told = batch.stage, _told_of(batch)
    if stage is None:
        return Asked(**told)
    if batch.spoiling:
        return Asked(yes_no=not batch.sign_sure, kind="sign", about="sign", **told)
    first = stage.awaits(batch, at)
    always = (awaited(batch, "temperature"), awaited_ph(batch), awaited(batch, "brix"))
    names = {a.what for a in first}
    return Asked(
        awaited=(*first, *(a for a in always if a.what not in names)),
        yes_no=batch.held is not None or isinstance(stage, Option),
        options=tuple(all_fruits()) if isinstance(stage, Measure) else (),
        stage=stage.id,
        kind=stage.kind,
        about=stage.subject,
        says=stage.say,
        **told,
    )


def _told_of(batch: Batch) -> dict[str, Any]:
    """What has been told of the batch so far, whatever is asked now."""
    return {
        "fruit": batch.fruit or "",
        "fruits": tuple(batch.recipe.fruits),
        "mixture": kinds(batch) if is_mixed(batch) else (),
        "process": batch.recipe.process,
        "had": tuple(dict.fromkeys(t.what for t in batch.taken)),
        "things": things_of(batch.recipe),
        "in_store": batch.in_store if batch.bottled else None,
        "sorts": sorts_left(batch),
        "opened": tuple(dict.fromkeys(o.vessel for o in batch.stored.opened if o.vessel)),
        "sizes": tuple(batch.recipe.bottles.items()),
    }


def things_of(recipe: Recipe) -> tuple[tuple[str, str], ...]:
    """What a cook may call the recipe's own ingredients, with the key of each."""
    own = recipe.ingredients.items()
    return tuple((said, key) for key, one in own for said in one.names(key))


def announce(batch: Batch, at: datetime, arriving: bool = False) -> tuple[Line, ...]:
    """The sentence that asks for the stage; on arriving there its caution too, and only then."""
    stage = batch.stage
    if stage is None:
        return ending_lines(batch, at)
    if batch.spoiling:
        return sign_lines(batch)
    if batch.held:
        return batch.held.lines
    if isinstance(stage, Add) and enough_in(batch, stage.amount):
        facts_ = {"stuff": batch.recipe.words(stage.amount)}
        return (Line(id="acid_enough", rank="do", facts=facts_),)
    if isinstance(stage, Option) and _dosed(batch, stage.option):
        said: dict[str, Fact] = {"stuff": stuff_words(stage.option)}
        return (Line(id="dosed_already", rank="do", facts=said),)
    lines = [
        Line(
            id="stage",
            rank="do",
            text=stage.say,
            facts=facts(batch, stage.say, stage, at),
            repeat=_to_repeat(batch, stage),
        )
    ]
    if stage.caution and arriving:
        lines.append(Line(id="stage_caution", rank="caution", text=stage.caution))
    if batch.stage_index == 0 and batch.start is None:
        lines += long_waits(batch.recipe)
    return (*lines, *(place(batch) if arriving else ()))


def greeting(batch: Batch, at: datetime) -> tuple[Line, ...]:
    """What is said on coming to a batch; at its beginning also what must be known before it."""
    fresh = batch.before is None and batch.stage_index == 0
    return batch.last_reply.lines if fresh else announce(batch, at)


def _dosed(batch: Batch, stuff: str) -> bool:
    """Whether a preservative is in already: nobody is asked whether to put it in."""
    return stuff in PRESERVATIVES and stuff_total(batch, stuff) > 0


def long_waits(recipe: Recipe) -> tuple[Line, ...]:
    """The longest wait on the way, told while the batch need not be begun yet."""
    longest = max((s.minutes for s in recipe.stages if isinstance(s, Rest)), default=0.0)
    if longest < LONG_MIN:
        return ()
    facts = {"rest": Quantity(value=longest, unit="min")}
    return (Line(id="long_wait", rank="caution", facts=facts),)


def _to_repeat(batch: Batch, stage: Stage) -> str | None:
    if isinstance(stage, Add) and amount(batch, stage.amount) is not None:
        return stage.amount
    return None


def facts(batch: Batch, words: str, stage: Stage | None, at: datetime) -> dict[str, Fact]:
    """The facts that the braces of a recipe's sentence name."""
    names = {name for _, name, _, _ in Formatter().parse(words) if name}
    return {name: _fact(batch, name, stage, at) for name in names}


def _fact(batch: Batch, name: str, stage: Stage | None, at: datetime) -> Fact:
    if name in batch.recipe.amounts:
        return _plain_amount(batch, name)
    if name.removesuffix(PIECES) in batch.recipe.ingredients:
        return _pieces(batch, name.removesuffix(PIECES))
    if name == "fruit":
        return batch.fruit or "fruit"
    if name == "keep_by":
        return keep_by_words(batch, at)
    if name == "juice_target":
        return Quantity(value=made_up_volume(batch), unit="ml")
    if name == "brix":
        return Quantity(value=batch.recipe.targets.brix, unit="Brix")
    return figure(name, stage, batch)


def _plain_amount(batch: Batch, name: str) -> Fact:
    planned = due(batch, name)
    return "some" if planned is None else planned.likely()


def _pieces(batch: Batch, name: str) -> Fact:
    """How many of an ingredient go in; halves are not told."""
    rule, start = batch.recipe.amounts[name], batch.start
    own = batch.recipe.ingredients[name]
    if start is None or own.piece_g is None:
        return "some"
    if isinstance(rule, Pieces):
        return max(1, round(start.base / 1000 * rule.pieces))
    planned = due(batch, name)
    return "some" if planned is None else max(1, round(planned.value / own.piece_g[1]))


def figure(name: str, stage: Stage | None, batch: Batch | None = None) -> Quantity:
    """A figure of the stage that its own sentences may name; KeyError for any other name.

    Figures that follow from the first measurement need the batch.
    """
    if stage is None:
        raise KeyError(name)
    return stage.figures(start_mass(batch) if batch else 0.0)[name]
