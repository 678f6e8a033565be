"""What is in the pan when it is heated, and how big a pan that takes."""

from dataclasses import dataclass

from assistant.calc import scale
from assistant.calc.heat import Part, cp_fruit, cp_sugar, cp_syrup
from assistant.cook import Batch
from assistant.cook.amounts import amount
from assistant.cook.basket import figures
from assistant.cook.kinds import Add, Measure
from assistant.cook.stock import juice, syrup
from assistant.facts.stuff import in_mash, stuff_of

BOILS_C = 95.0
"""From here a pan of syrup moves and climbs like one that boils. Common practice, no source."""
ROOM_C, HOT_WATER_C = 20.0, 80.0
"""How warm things go in: a kitchen's room, and water off the boil for a while. [C]"""
_FRUIT_BRIX, _FRUIT_WATER = 10.0, 0.86
_ANY_PAN_ML = 1_000_000.0


@dataclass(frozen=True)
class Contents:
    """What is in the pan when it goes on the heat. [g]

    water_c : how warm the water among it is [C]; strained : it is juice, the fruit is gone
    """

    fruit_g: float
    water_g: float
    sugar_g: float
    brix: float
    water_share: float
    target_c: float
    boils: bool
    water_c: float
    strained: bool = False

    @property
    def volume_ml(self) -> float:
        """Volume, hot. [ml]"""
        return scale.mash_ml(self.fruit_g, self.water_g, self.sugar_g, self.brix)

    def parts(self, fruit_c: float = ROOM_C) -> tuple[Part, ...]:
        """Its parts with their heat; those of no mass are left out."""
        cp = cp_syrup(self.brix) if self.strained else cp_fruit(self.water_share)
        parts = (
            Part(self.fruit_g, cp, fruit_c),
            Part(self.water_g, cp_syrup(0.0), self.water_c),
            Part(self.sugar_g, cp_sugar(), ROOM_C),
        )
        return tuple(p for p in parts if p.mass_g > 0)


@dataclass(frozen=True)
class PanNeed:
    """The pan a batch takes. [ml]

    fullest_ml : the most that is in it; how : cold, heated or boiling; pan_ml : to the brim
    """

    fullest_ml: float
    how: scale.Heat
    pan_ml: float


def pan_need(batch: Batch) -> PanNeed:
    """The smallest pan for the heating and for the finished syrup; shares by `calc.scale`."""
    finished = syrup(batch)
    needs = [_need(finished.volume_ml.high, "cold")] if finished else []
    heated = contents(batch)
    if heated is not None:
        needs.append(_need(heated.volume_ml, "boiling" if heated.boils else "heated"))
    return max(needs, key=lambda need: need.pan_ml)


def _need(volume_ml: float, how: scale.Heat) -> PanNeed:
    return PanNeed(volume_ml, how, scale.pan_fit(volume_ml, _ANY_PAN_ML, how).needed_pan_ml)


def contents(batch: Batch) -> Contents | None:
    """What is heated first, or None where the recipe heats nothing."""
    stages = batch.recipe.stages
    fires = {i: fire for i, s in enumerate(stages) if (fire := s.fire_c()) is not None}
    if not fires or batch.start is None:
        return None
    first, target_c = next(iter(fires.items()))
    boils = max(fires.values()) >= BOILS_C
    before = [s for s in stages[:first] if s.when is None]
    strained = any(isinstance(s, Measure) and s.reading == "juice" for s in before[1:])
    names = {s.amount for s in before if isinstance(s, Add)}
    return _mixed(batch, names, target_c, boils, strained)


def _mixed(batch: Batch, names: set[str], target_c: float, boils: bool, strained: bool) -> Contents:
    fruit = figures(batch)
    brix = min(fruit.brix().likely, 40.0) if fruit else _FRUIT_BRIX
    water_share = fruit.water / 100 if fruit and fruit.water else _FRUIT_WATER
    base_g = batch.start.base if batch.start else 0.0
    sugar = sum(_in(batch, n) for n in names if stuff_of(n) == "sugar")
    liquid = sum(_in(batch, n) for n in names & in_mash() if stuff_of(n) != "sugar")
    liquid += sum(_in(batch, n) for n in names & set(batch.recipe.ingredients))
    stock = juice(batch)
    if strained and stock is not None:
        sugar = _in(batch, "main_sugar") if "main_sugar" in names else 0.0
        base_g, liquid, brix = stock.mass_g.likely, 0.0, stock.brix.likely
    elif batch.recipe.base == "water":
        base_g, liquid = 0.0, liquid + base_g
    warm = "hot_water" in names and not strained
    water_c = HOT_WATER_C if warm and batch.recipe.base != "water" else ROOM_C
    is_juice = strained or batch.recipe.base == "juice"
    return Contents(
        base_g, liquid, sugar, brix, water_share, target_c, boils, water_c, strained=is_juice
    )


def _in(batch: Batch, name: str) -> float:
    wanted = amount(batch, name)
    return 0.0 if wanted is None else wanted.value
