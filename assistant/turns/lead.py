"""From a wish to a begun batch: short questions, while there is no batch on the desk.

"I've got four kilos of blackcurrants, what now", "twenty bottles for a fete", "make last week's
again": what is told is kept, what is missing is asked for, and nothing is begun without a yes.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache

from assistant.base.errors import WrongUse
from assistant.cook import Batch, Recipe, begin, fold, step
from assistant.cook.basket import is_mixed, joined
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.stock import syrup
from assistant.facts.asked import Asked
from assistant.facts.events import RULES, Begin, Choose, Reading
from assistant.hear.heard import Heard
from assistant.keep import Journal
from assistant.understand import understand
from assistant.understand.parsing import parser
from assistant.understand.told import freely
from assistant.understand.told.clauses import Clause, clauses
from assistant.understand.told.spans import quantities, things

HALF_LITRE = 500.0
"""What a bottle holds where nobody says (common practice, no source). [ml]"""
_AGAIN = re.compile(r"\b(again|once more|same (as|thing|again)|another (batch|lot|round))\b")
_BOTTLES = re.compile(r"\b(bottles?|jars?)\b")
_COMMON = frozenset(
    ("syrup", "fruit", "fruits", "and", "with", "of", "the", "in", "from", "that", "its", "to",
     "one", "two", "solution", "juice", "oil", "sugar", "colour", "acid", "blend", "a", "water",
     "make", "keep", "light", "lightly")
)  # fmt: skip


@dataclass(frozen=True)
class Offer:
    """A batch that a yes begins.

    said : what was told of the fruit's weight, "" for nothing
    """

    recipe: Recipe
    fruit: str = ""
    said: str = ""


@dataclass(frozen=True)
class _Wish:
    """What the cook has told so far.

    mixture : several fruits that were told at once; weight is then all that was said
    """

    fruit: str = ""
    mixture: tuple[str, ...] = ()
    weight: str = ""
    bottles: int = 0
    recipes: tuple[Recipe, ...] = ()


class Lead:
    """The talk before there is a batch.

    recipes : all that there are; recipe_of : the usual one for a fruit, WrongUse where none is
    """

    def __init__(
        self,
        journal: Journal,
        recipes: Callable[[], tuple[Recipe, ...]],
        recipe_of: Callable[[str], Recipe],
    ) -> None:
        self._journal, self._recipe_of = journal, recipe_of
        self._recipes = cache(recipes)
        self._wish, self._asked = _Wish(), False
        self._offer: tuple[Offer, Line] | None = None

    def ask(self) -> Line:
        """The question that begins it, worded anew the second time."""
        again, self._asked = self._asked, True
        return Line(id="lead.which_again" if again else "lead.which", rank="question")

    def hear(self, heard: Heard, at: datetime) -> Offer | Line:
        """What comes next: a question, or the batch that the cook has said yes to."""
        open_offer = self._offer
        if open_offer is None:
            return self._next(heard.text, at)
        answer = _yes_or_no(heard, at)
        if answer == "yes":
            return open_offer[0]
        if answer == "no":
            self._wish, self._offer = _Wish(), None
            return Line(id="lead.what_else", rank="question")
        line = self._next(heard.text, at)
        return open_offer[1] if line.id.startswith("lead.which") else line

    def is_over(self, heard: Heard, at: datetime) -> bool:
        """Whether the cook wants none."""
        return any(e.kind == "stop" for e in understand(heard, Asked(), at).events)

    def _next(self, text: str, at: datetime) -> Line:
        found = clauses(text)
        wish = _mixing(text, found, self._told(found))
        if _AGAIN.search(" ".join(c.text for c in found)) and not (wish.fruit or wish.recipes):
            return self._once_more()
        if wish == self._wish:
            return self.ask()
        self._wish = wish
        if len(wish.recipes) > 1 and not wish.fruit:
            one, other = (recipe.title for recipe in wish.recipes[:2])
            return Line(id="lead.either", rank="question", facts={"one": one, "other": other})
        recipe = self._recipe(wish)
        if recipe is None and wish.fruit:
            self._wish = replace(wish, fruit="")
            return Line(id="lead.no_recipe", rank="question", facts={"fruit": wish.fruit})
        if recipe is None and wish.bottles:
            return Line(id="lead.of_what", rank="question", facts={"count": wish.bottles})
        return self.ask() if recipe is None else self._offers(recipe, wish, at)

    def _told(self, found: tuple[Clause, ...]) -> _Wish:
        """The wish with what these words add to it."""
        wish = self._wish
        for clause in found:
            fruit = next((t.fruit for t in things(clause.words) if t.fruit), "")
            weights = [q.words for q in quantities(clause.words) if q.kind == "amount"]
            count = _count(clause) if _BOTTLES.search(clause.text) else 0
            wish = replace(
                wish,
                fruit=fruit or wish.fruit,
                weight=" ".join(weights[0]) if weights and not count else wish.weight,
                bottles=count or wish.bottles,
            )
        named = self._named({_one(w) for c in found for w in c.words}, wish.fruit)
        return replace(wish, recipes=named or wish.recipes)

    def _named(self, words: set[str], fruit: str) -> tuple[Recipe, ...]:
        """The recipes that the words tell of best, of those for the fruit where one is known."""
        fits = [r for r in self._recipes() if not fruit or fruit in r.fruits]
        scored = [(len(words & _keys(recipe)), recipe) for recipe in fits]
        best = max((score for score, _ in scored), default=0)
        return tuple(recipe for score, recipe in scored if score == best) if best else ()

    def _recipe(self, wish: _Wish) -> Recipe | None:
        if wish.mixture:
            return self._for_all(wish)
        fits = [r for r in wish.recipes if not wish.fruit or wish.fruit in r.fruits]
        if len(fits) == 1 or not wish.fruit:
            return fits[0] if fits else None
        try:
            usual = self._recipe_of(wish.fruit)
        except WrongUse:
            return None
        return usual if not fits or usual in fits else fits[0]

    def _for_all(self, wish: _Wish) -> Recipe | None:
        """The recipe that takes all of the fruits, of those named where they do."""
        takes = [r for r in self._recipes() if r.base == "fruit" and {*wish.mixture} <= {*r.fruits}]
        named = [r for r in takes if r in wish.recipes] or takes
        return min(named, key=lambda r: (len(r.fruits), r.name), default=None)

    def _offers(self, recipe: Recipe, wish: _Wish, at: datetime) -> Line:
        fruit = wish.fruit if wish.fruit in recipe.fruits else ""
        said = wish.weight if fruit else ""
        told = joined(wish.mixture) if wish.mixture else fruit
        facts: dict[str, Fact] = {"title": recipe.title, "fruit": told.replace("-", " ")}
        line = _offering(recipe, facts)
        if wish.mixture:
            self._offer = Offer(recipe, "", wish.weight), line
            return line
        per_kilo = _syrup_per_kilo(recipe, fruit, at) if fruit and wish.bottles else None
        if per_kilo:
            need = Quantity(value=1000 * wish.bottles * HALF_LITRE / per_kilo, unit="g")
            facts |= {"count": wish.bottles, "need": need}
            line = Line(id="lead.offer_bottles", rank="question", facts=facts)
        self._offer = Offer(recipe, fruit, said), line
        return line

    def _once_more(self) -> Line:
        rows = self._journal.batches()
        batch = fold(self._journal.events(rows[-1].id))[0] if rows else None
        if batch is None:
            return Line(id="lead.none_before", rank="question")
        fruit = batch.fruit or ""
        line = _offering(
            batch.recipe, {"title": batch.recipe.title, "fruit": fruit.replace("-", " ")}
        )
        again = "" if is_mixed(batch) else fruit
        self._offer, self._wish = (Offer(batch.recipe, again), line), _Wish()
        return line


def _mixing(text: str, found: tuple[Clause, ...], wish: _Wish) -> _Wish:
    """The wish with all the fruits of a sentence that weighs several."""
    named = tuple(dict.fromkeys(t.fruit for c in found for t in things(c.words) if t.fruit))
    weights = [q for c in found for q in quantities(c.words) if q.kind == "amount"]
    if len(named) < 2 or len(weights) < len(named):
        return wish
    return replace(wish, fruit=named[0], mixture=named, weight=text)


def _offering(recipe: Recipe, facts: dict[str, Fact]) -> Line:
    """The offer, its fruit named where the title does not."""
    fruit = str(facts["fruit"])
    named = not fruit or fruit in recipe.title.casefold()
    return Line(id="lead.offer" if named else "lead.offer_of", rank="question", facts=facts)


def _yes_or_no(heard: Heard, at: datetime) -> str:
    """ "yes", "no" or "" for neither, in any words."""
    asked = Asked(yes_no=True)
    for found in (understand(heard, asked, at), freely(heard, asked, at, None, understand)):
        kinds = [event.kind for event in found.events]
        if kinds in (["yes"], ["no"]):
            return kinds[0]
    return ""


def _one(word: str) -> str:
    """A word in the singular, as far as names of recipes need it.

    >>> _one("berries"), _one("shrubs")
    ('berry', 'shrub')
    """
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    return word.removesuffix("s")


def _keys(recipe: Recipe) -> set[str]:
    """The words that tell of a recipe: its name's, its title's, its own ingredients'."""
    own = (name for each in recipe.ingredients for name in each.split("_"))
    words = (*recipe.name.split("-"), *re.findall(r"\w+", recipe.title.casefold()), *own)
    return {_one(word) for word in words if word not in _COMMON}


def _count(clause: Clause) -> int:
    """How many bottles are wished for, 0 where no number says."""
    spans = parser().within(clause.words, ("whole", "dozens"))
    for rule, found in spans.items():
        for begins, ends in found:
            values = parser().values(clause.words[begins:ends], rule)
            if values:
                return int(float(str(next(iter(values))[0])))
    return 0


def _syrup_per_kilo(recipe: Recipe, fruit: str, at: datetime) -> float | None:
    """The syrup that a kilo of fruit makes, by the recipe's own reckoning. [ml]"""
    if recipe.base != "fruit":
        return None
    batch: Batch = begin(Begin(at=at, batch="", recipe=recipe.model_dump(), rules=RULES))[0]
    for event in (
        Choose(at=at, option="fruit", value=fruit),
        Reading(at=at, what="fruit", value=1.0, unit="kg"),
    ):
        batch = step(batch, event)[0]
    stock = syrup(batch)
    return stock.volume_ml.likely if stock else None
