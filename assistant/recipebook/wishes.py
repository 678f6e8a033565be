"""A recipe file written from a cook's answers: what it starts from, what goes in, how sweet."""

import re
from dataclasses import dataclass

from assistant.base.errors import WrongUse
from assistant.cook.parts import Base
from assistant.cook.recipe import RICH

_PULP = (0.35, 0.65)
"""Left in the cloth for each gram of fruit, as for berries (common practice, no source). [g/g]"""
_HOT_C = {"fruit": 75.0, "juice": 80.0, "water": 80.0}
HOT = "Hot sugar burns: stir slowly, and probe the coldest spot."
DIP = "Thin a spoonful with as much water before you dip the meter, and rinse it after."
WHY_PH = (
    "Acid keeps the botulism germ down; the regulation draws its line at 4.6, makers stay below 4."
)


@dataclass(frozen=True)
class Steeped:
    """What is steeped and strained out, or stays in: so much for a kilo or a litre. [g]

    allergens : groups of the table, or "none", or "unknown"
    """

    words: str
    grams: float
    stays: bool
    allergens: str = "unknown"


@dataclass(frozen=True)
class Wishes:
    """A cook's answers.

    brix : sweetness of the syrup, 0 for no sugar [mass %]; citric : acid for each litre of juice,
    or of water at the start [g/l]; heated : it is held hot
    """

    title: str
    base: Base
    fruits: tuple[str, ...] = ()
    steeped: tuple[Steeped, ...] = ()
    brix: float = 60.0
    citric: float = 8.0
    heated: bool = True


def name_of(title: str) -> str:
    """The name of a recipe by its title.

    >>> name_of("Ana's lilac syrup")
    'ana-s-lilac-syrup'
    """
    name = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")
    if not name or not name[0].isalpha():
        raise WrongUse(f"{title!r} makes no name: begin with a letter.")
    return name


def written(wishes: Wishes, low_acid: bool = False) -> str:
    """The recipe as the text of a file.

    low_acid : the fruit is; else what starts from water counts as low in acid by nature. Where acid
    goes in it is soured, to be confirmed by a checked meter; without any, and with what is rich in
    protein, it keeps days only.
    """
    nature = low_acid or wishes.base == "water"
    rich = any(each.allergens in RICH for each in wishes.steeped)
    soured = "soured" if wishes.citric and not rich else "low-acid"
    acidity = soured if nature or rich else "acid"
    parts = (
        _head(wishes, acidity),
        _targets(wishes, acidity),
        _juice(wishes),
        *_amounts(wishes, early=acidity == "soured"),
        *_ingredients(wishes),
        *_stages(wishes, acidity),
    )
    return "\n".join(parts)


def _table(head: str, **rows: object) -> str:
    return f"{head}\n" + "".join(f"{key} = {_value(value)}\n" for key, value in rows.items())


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_value, value))}]"
    if isinstance(value, str):
        plain = value.replace("\\", " ").replace('"', "'")
        return '"' + "".join(each for each in plain if each.isprintable()) + '"'
    return f"{value}"


def _head(wishes: Wishes, acidity: str) -> str:
    rows: dict[str, object] = {"name": name_of(wishes.title), "title": wishes.title}
    rows["summary"] = f"{wishes.title}, written from a cook's answers."
    rows["acidity"] = acidity
    if wishes.base != "fruit":
        rows["base"] = wishes.base
    if wishes.fruits:
        rows["fruits"] = list(wishes.fruits)
    rows |= {"storage": "fridge", "lists_all": True}
    return _table("# Amounts are the cook's own: no source.\n", **rows)


def _targets(wishes: Wishes, acidity: str) -> str:
    most = 6.5 if acidity == "low-acid" else 4.0
    return _table("[targets]", brix=float(wishes.brix), ph_low=1.8, ph_high=most)


def _juice(wishes: Wishes) -> str:
    if wishes.base == "fruit":
        low, high = _PULP
        return _table("[juice]", kind="mash", pulp_low=low, pulp_high=high, litres_per_kilo=1.2)
    if wishes.base == "juice":
        return _table("[juice]", kind="fresh")
    return _table("[juice]", kind="plain", kept=0.95 if wishes.steeped else 1.0)


def key_of(words: str) -> str:
    """What a file calls an ingredient.

    >>> key_of("Lemon balm")
    'lemon_balm'
    """
    return re.sub(r"[^a-z0-9]+", "_", words.lower()).strip("_") or "extra"


def _amounts(wishes: Wishes, early: bool) -> list[str]:
    found = []
    if wishes.base == "fruit":
        found.append(_table("[amounts.hot_water]", rule="share_of_base", share=0.4, unit="ml"))
    if wishes.citric and (early or wishes.base == "water"):
        share = wishes.citric / 1000
        found.append(_table("[amounts.citric_acid]", rule="share_of_base", share=share))
    elif wishes.citric:
        rows = {"rule": "per_litre", "of": "juice", "amount": float(wishes.citric)}
        found.append(_table("[amounts.citric_acid]", **rows))
    for each in wishes.steeped:
        share = each.grams / 1000
        found.append(_table(f"[amounts.{key_of(each.words)}]", rule="share_of_base", share=share))
    if wishes.brix:
        found.append(_table("[amounts.main_sugar]", rule="sugar_to_target"))
    return found


def _ingredients(wishes: Wishes) -> list[str]:
    return [
        _table(
            f"[ingredients.{key_of(each.words)}]",
            words=each.words.lower(),
            role="dissolved" if each.stays else "extracted",
            allergens=[each.allergens],
            source="the cook's own figure",
        )
        for each in wishes.steeped
    ]


def _stage(**rows: object) -> str:
    return _table("[[stages]]", **rows)


def _stages(wishes: Wishes, acidity: str) -> list[str]:
    acid = [_sour()] if wishes.citric else []
    early = acid if acidity == "soured" else []
    return [
        _first(wishes),
        *_water(wishes),
        *early,
        *(_steep(each) for each in wishes.steeped),
        *(_hot(_HOT_C[wishes.base]) if wishes.heated else []),
        *_strained(wishes),
        *_sweetened(wishes),
        *([] if early else acid),
        *_last(),
    ]


def _first(wishes: Wishes) -> str:
    asks = {
        "fruit": "What does the fruit weigh?",
        "juice": "How much juice do you have?",
        "water": "How much water will you take?",
    }
    return _stage(
        id="start",
        kind="measure",
        reading=wishes.base,
        low=50.0,
        high=20000.0,
        say=asks[wishes.base],
        why="Everything follows from this.",
    )


def _water(wishes: Wishes) -> list[str]:
    if wishes.base != "fruit":
        return []
    say = "Crush the fruit, pour in {hot_water} of hot water, stir, and say done."
    caution = "Mind the steam, and keep the handle turned in."
    why = "Water keeps the pan from catching."
    return [_stage(id="water", kind="add", amount="hot_water", say=say, why=why, caution=caution)]


def _sour() -> str:
    say = "Stir in {citric_acid} of citric acid, and say done."
    why = "Acid lowers the pH; weigh it."
    return _stage(id="sour", kind="add", amount="citric_acid", say=say, why=why)


def _steep(each: Steeped) -> str:
    key = key_of(each.words)
    say = f"Put in {{{key}}} of {each.words.lower()}, and say done, or tell me what it weighed."
    return _stage(id=key, kind="add", amount=key, say=say, why="It gives its taste.")


def _hot(target: float) -> list[str]:
    warm = "Warm it, stirring, to {target}, and call out the thermometer."
    keep = "Hold it at {target} or a little over for {seconds}, and call the thermometer again."
    why = "Germs die by time at temperature; between two readings I count the cooler one."
    return [
        _stage(
            id="heat",
            kind="heat",
            repeatable=True,
            target_c=target,
            say=warm,
            why="Below that, germs and yeast live on.",
            caution=HOT,
        ),
        _stage(
            id="hold",
            kind="hold",
            target_c=target,
            seconds=90.0,
            ceiling_c=target + 12,
            say=keep,
            why=why,
        ),
    ]


def _strained(wishes: Wishes) -> list[str]:
    taken_out = any(not each.stays for each in wishes.steeped)
    if wishes.base != "fruit" and not taken_out:
        return []
    strain = "Strain it through a scalded cloth, and say done when it only drips."
    why = "What is left in clouds it and spoils first."
    juice = "Measure or weigh the juice and tell me."
    return [
        _stage(id="strain", kind="do", repeatable=True, say=strain, why=why),
        _stage(
            id="juice",
            kind="measure",
            reading="juice",
            low=50.0,
            high=80000.0,
            say=juice,
            why="The sugar is reckoned from what you really have.",
        ),
    ]


def _sweetened(wishes: Wishes) -> list[str]:
    if not wishes.brix:
        return []
    say = "Stir in {main_sugar} of sugar until it is clear, and say done."
    why = "So much sugar brings it to {brix}."
    return [_stage(id="dissolve", kind="add", amount="main_sugar", say=say, why=why, caution=HOT)]


def _last() -> list[str]:
    fill = "Fill scalded bottles, leave two fingers of air, and tell me how many of what size."
    air = "Air at the top gives a fermenting bottle some room, and you a warning."
    store = "Write {keep_by} on the labels, put the bottles in the fridge, and say done."
    cold = "Cold slows the yeasts and moulds that get in with the filling."
    return [
        _stage(
            id="ph",
            kind="measure",
            repeatable=True,
            reading="ph",
            low=1.0,
            high=8.0,
            say="Measure the pH and tell me.",
            why=WHY_PH,
            caution=DIP,
        ),
        _stage(
            id="bottle",
            kind="bottle",
            say=fill,
            why=air,
            caution="Wet glass slips and hot glass cracks: warm the bottles first.",
        ),
        _stage(id="store", kind="do", say=store, why=cold),
    ]
