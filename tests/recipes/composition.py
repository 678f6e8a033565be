"""What every recipe makes, worked out once more from its file: python -m tests.recipes.composition

Nothing of the package is imported. The figures are published ones, put down here again, and the
mass balance is written from what the recipe tells the cook to do.
"""

import tomllib
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent.parent.parent / "recipes"
DENSITY = (
    (0, 0.9982), (10, 1.0381), (20, 1.0810), (30, 1.1270), (40, 1.1764), (50, 1.2296),
    (60, 1.2865), (70, 1.3472), (80, 1.4117),
)  # fmt: skip
"""Sucrose in water at 20 degC: CRC Handbook of Chemistry and Physics, concentrative properties of
aqueous solutions. [mass %], [g/ml]"""
WATER = 0.9982
FRUIT = {
    "blackcurrant": (0.8196, 0.150), "raspberry": (0.8575, 0.105), "apple": (0.8556, 0.133),
    "lemon": (0.8898, 0.089), "grape": (0.8054, 0.160), "orange": (0.8675, 0.118),
    "pineapple": (0.8600, 0.143), "pomegranate": (0.7793, 0.160), "quince": (0.8380, 0.133),
    "sour-cherry": (0.8613, 0.143), "plum": (0.8723, 0.143),
}  # fmt: skip
"""Water of the fruit, USDA SR26; dissolved solids of its juice, 19 CFR 151.91, of pomegranate
21 CFR 101.30. [g/g]"""
RHUBARB = (0.9361, 0.036)
"""USDA SR26: 1.1 g of sugars in 93.61 of water; acid 1.5 and minerals 1 beside it. [g/g]"""
GINGER = (0.7889, 0.033)
"""USDA SR26: 1.7 g of sugars in 78.89 of water, and 1 g of else. [g/g]"""
WASHED_OUT = 0.6
"""Of the solids that the pulp holds a rinse brings out so much (common practice, no source)."""
GLYCERIN = 1.26
"""Of 99.5 per cent at 20 degC, CRC Handbook. [g/ml]"""


@dataclass(frozen=True)
class Liquid:
    """A mass and what is dissolved in it. [g]

    spirit_ml : of its volume, what is spirit: alcohol makes room of its own [ml]
    spirit_g : the same by mass [g]
    """

    mass: float
    solids: float
    spirit_ml: float = 0.0
    spirit_g: float = 0.0

    @property
    def brix(self) -> float:
        """[mass %]"""
        return 100 * self.solids / self.mass if self.mass else 0.0

    @property
    def ml(self) -> float:
        """At 20 degC. [ml]"""
        rest = self.mass - self.spirit_g
        return rest / density(100 * self.solids / rest) + self.spirit_ml

    def plus(self, mass: float = 0.0, solids: float = 0.0) -> "Liquid":
        """With more of both."""
        return Liquid(self.mass + mass, self.solids + solids, self.spirit_ml, self.spirit_g)


@dataclass(frozen=True)
class Made:
    """The juice, the sugar for it, and the finished syrup."""

    juice: Liquid
    sugar: float
    syrup: Liquid


def density(brix: float) -> float:
    """By straight lines between the table's rows. [g/ml]"""
    for (low, one), (high, other) in pairwise(DENSITY):
        if brix <= high:
            return one + (other - one) * (brix - low) / (high - low)
    return DENSITY[-1][1]


def figures(card: dict[str, Any]) -> tuple[float, float]:
    """Water and dissolved solids of the first fruit that the recipe is for."""
    fruit = card.get("fruits", ["blackcurrant"])[0]
    return {"rhubarb": RHUBARB, "ginger": GINGER}.get(fruit) or FRUIT[fruit]


def composition(card: dict[str, Any], base: float) -> Made:
    """What so much of the base makes. [g] of fruit, [ml] of juice or water"""
    early, late = _adds(card)
    start = _start(card, base, early)
    juice = start if not _reduced(card) else Liquid(start.mass * _reduced(card), start.solids)
    if not _reduced(card) and card["juice"]["kind"] != "mash":
        juice = _strained(card, base, start)
    target = card["targets"]["brix"] / 100
    sweet = "main_sugar" in card["amounts"]
    sugar = max(0.0, (target * juice.mass - juice.solids) / (1 - target)) if sweet else 0.0
    syrup = juice.plus(sugar, sugar)
    for name in late:
        if name != "main_sugar":
            syrup = _added(card, name, base, juice, juice.plus(sugar, sugar), syrup)
    return Made(start if _reduced(card) else juice, sugar, syrup)


def _reduced(card: dict[str, Any]) -> float:
    return next((s["to_share"] for s in card["stages"] if s["kind"] == "reduce"), 0.0)


def _adds(card: dict[str, Any]) -> tuple[list[str], list[str]]:
    """What goes in before the juice is measured, boiled down or sugared; and what goes in after."""
    stages = card["stages"]
    ends = [n for n, s in enumerate(stages) if n and s.get("reading") == "juice"]
    ends = ends or [n for n, s in enumerate(stages) if s["kind"] == "reduce"]
    ends = ends or [n for n, s in enumerate(stages) if s.get("amount") == "main_sugar"]
    bound = ends[0] if ends else len(stages)
    sure = [(n, s) for n, s in enumerate(stages) if "when" not in s]
    put_in = [(n, s["amount"]) for n, s in sure if s["kind"] == "add"]
    before = [name for n, name in put_in if n < bound and name != "main_sugar"]
    return before, [name for n, name in put_in if n >= bound]


def _planned(card: dict[str, Any], name: str, base: float, juice: Liquid, syrup: Liquid) -> float:
    """How much of it the recipe asks for. [g] or [ml]"""
    rule, own = card["amounts"][name], card.get("ingredients", {}).get(name, {})
    match rule["rule"]:
        case "share_of_base":
            return float(base * rule["share"])
        case "pieces_per_base":
            return float(base / 1000 * rule["pieces"] * own["piece_g"][1])
        case "per_litre":
            litres = (juice if rule["of"] == "juice" else syrup).ml / 1000
            return float(litres * rule["amount"])
    raise ValueError(name)


def _added(
    card: dict[str, Any], name: str, base: float, juice: Liquid, sweet: Liquid, into: Liquid
) -> Liquid:
    """The liquid with one thing more in it."""
    own = card.get("ingredients", {}).get(name)
    amount = _planned(card, name, base, juice, sweet)
    if own is not None:
        return _own(card["amounts"][name], own, amount, into)
    if name in ("hot_water", "vinegar"):
        return into.plus(amount)
    if name == "glycerin":  # no sugar: it thins what is dissolved
        return into.plus(amount * GLYCERIN)
    if name == "gum_arabic":  # wetted in its own weight of water
        return into.plus(2 * amount, amount)
    if name == "darker_syrup":
        target = card["targets"]["brix"]
        mass = amount * density(target)
        return into.plus(mass, mass * target / 100)
    return into.plus(amount, amount)


def _own(rule: dict[str, Any], own: dict[str, Any], amount: float, into: Liquid) -> Liquid:
    grams = amount * own.get("density", 1.0) if rule.get("unit") == "ml" else amount
    solids = grams * (own.get("sugar", 0.0) + own.get("acid", 0.0) + own.get("solids", 0.0))
    if own["role"] == "extracted":
        return into.plus(solids, solids)
    made = into.plus(grams, solids)
    if own["role"] != "spirit":
        return made
    ml = grams / own["density"]
    return Liquid(made.mass, made.solids, made.spirit_ml + ml, made.spirit_g + grams)


def _soaked(card: dict[str, Any], base: float, full: Liquid) -> float:
    """Liquor that plants carry off when they are strained out. [g]"""
    early, _ = _adds(card)
    own = card.get("ingredients", {})
    plants = (n for n in early if n in own and own[n]["role"] == "extracted")
    return float(
        sum(_planned(card, n, base, full, full) * own[n].get("soaks", 0.0) for n in plants)
    )


def _start(card: dict[str, Any], base: float, early: list[str]) -> Liquid:
    if card["juice"]["kind"] == "mash":
        return _mash(card, base, early)
    if card.get("base", "fruit") == "juice":
        brix = card["targets"]["brix"] / 100 if "darker_syrup" in early else figures(card)[1]
        mass = base * density(100 * brix)
        found = Liquid(mass, mass * brix)
    else:
        found = Liquid(base * WATER if card.get("base") == "water" else 0.0, 0.0)
    for name in early:
        found = _added(card, name, base, found, found, found)
    return found


def _strained(card: dict[str, Any], base: float, full: Liquid) -> Liquid:
    """What is left of an infusion: a share of its volume, less what the plants carry off."""
    left = (full.ml * card["juice"].get("kept", 1.0) - _soaked(card, base, full)) / full.ml
    return Liquid(full.mass * left, full.solids * left)


def _mash(card: dict[str, Any], fruit: float, early: list[str]) -> Liquid:
    """Juice run off and rinsed through the pulp to its volume."""
    water, solids = figures(card)
    liquor = min(fruit, fruit * water / (1 - solids))
    mash = Liquid(liquor, liquor * solids)
    for name in early:
        mash = _added(card, name, fruit, mash, mash, mash)
    source = card["juice"]
    cloth = fruit * (source["pulp_low"] + source["pulp_high"]) / 2
    held = cloth - (fruit - liquor)
    share = held / mash.mass
    ran_off = Liquid(mash.mass * (1 - share), mash.solids * (1 - share))
    wanted = fruit * source["litres_per_kilo"]
    if ran_off.ml >= wanted:
        return _to_volume(ran_off, wanted)
    poured = 0.0
    while (made := _rinsed(ran_off, mash.solids * share, poured)).ml < wanted:
        poured += 0.2
    return made


def _to_volume(liquid: Liquid, ml: float) -> Liquid:
    return Liquid(liquid.mass * ml / liquid.ml, liquid.solids * ml / liquid.ml)


def _rinsed(ran_off: Liquid, held_solids: float, poured: float) -> Liquid:
    """So much water poured through: what runs out is no sweeter than what the pulp held."""
    out = min(WASHED_OUT * held_solids, poured * ran_off.solids / ran_off.mass)
    return ran_off.plus(poured, out)


def read(name: str) -> dict[str, Any]:
    """A recipe as its file has it."""
    return tomllib.loads((FOLDER / f"{name}.toml").read_text("utf-8"))


def names() -> list[str]:
    """Every recipe that comes along."""
    return sorted(path.stem for path in FOLDER.glob("*.toml"))


if __name__ == "__main__":
    for name in names():
        made = composition(read(name), 1000.0)
        print(
            f"{name:28} juice {made.juice.mass:6.0f} g {made.juice.brix:5.1f} Bx  "
            f"sugar {made.sugar:6.0f} g  syrup {made.syrup.mass:6.0f} g "
            f"{made.syrup.brix:5.1f} Bx {made.syrup.ml:6.0f} ml"
        )
