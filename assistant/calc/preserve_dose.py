"""The dose of sorbate or benzoate for a batch, as high as its ceiling and no higher."""

from dataclasses import dataclass
from math import floor

from assistant.calc.bounds import inside
from assistant.calc.preserve_acid import ACID, PKA, SALT, TO_ACID, undissociated_share
from assistant.calc.preserve_ceilings import DRINKS, Ceiling, Preservative, strictest
from assistant.limits import ACID_FOOD_PH

WEAK_ABOVE_PH = 4.5
"""There two thirds of the sorbic and one third of the benzoic acid is left: computed. [-]"""
DOSE_PH = (1.5, ACID_FOOD_PH)
"""The pH a dose is given for; above it a syrup is a low-acid food (21 CFR 114.3). [-]"""
DOSE_VOLUME_L = (0.05, 1000.0)
"""The batch a dose is given for; under 50 ml no kitchen scale weighs it. [l]"""
SCALE_STEP_G = 0.01
"""A dose is rounded down to what a fine scale shows, so that it stays under its ceiling. [g]"""
SYRINGE_STEP_G = 0.001
"""The same for less than 0.2 g, which a syringe of stock solution measures better. [g]"""
STOCK_G_PER_ML = 0.1
"""Salt in a stock solution, 10 g made up to 100 ml with water. [g/ml]"""

NO_RESCUE = (
    "It slows yeast and mould that have not started. It does not stop a batch that ferments, "
    "kills nothing that is there in numbers, and makes up for neither acid, heat nor cold."
)
WEIGH_IT = "Weigh it on a scale that shows 0.01 g, or measure it from a stock solution."
BENZENE = (
    "Benzoate with vitamin C can form traces of benzene, more with heat and light. Most fruit has "
    "vitamin C, blackcurrant much of it: use sorbate, and never benzoate where ascorbic acid is "
    "added. (from memory)"
)
_STEPS = (
    "Weigh the {salt}.",
    "Stir it into about ten times its weight of plain lukewarm water until it is clear.",
    "Pour that in a thin stream into the warm syrup, stirring hard.",
    "Only then add acid, if any: acid first would throw the {acid} out as crystals.",
)


def _stock(kind: Preservative, grams: float) -> tuple[str, ...]:
    if grams >= 100 * SCALE_STEP_G:
        return ()
    return (
        f"So little is surer by syringe: 10 g of {SALT[kind]} made up to 100 ml with water, "
        f"{grams / STOCK_G_PER_ML:.2f} ml of that.",
    )


@dataclass(frozen=True)
class PreservativeDose:
    """How much of a preservative salt goes into a batch, and what of it works.

    grams : salt for the batch, rounded down. [g]
    g_per_l : salt per litre. [g/l]
    acid_mg_l : the same as free acid. [mg/l]
    effective_mg_l : what of that is undissociated at the pH. [mg/l]
    ceiling : the rule kept to; ceiling_mg_l : its figure as free acid. [mg/l]
    """

    salt: str
    grams: float
    g_per_l: float
    acid_mg_l: float
    effective_mg_l: float
    ceiling: Ceiling
    ceiling_mg_l: float
    steps: tuple[str, ...]
    cautions: tuple[str, ...]


def sorbate_dose(
    volume_l: float,
    ph: float,
    region: str = "strictest",
    food: str = DRINKS,
    density_kg_l: float = 1.0,
    mixed: bool = False,
) -> PreservativeDose:
    """Potassium sorbate for a batch: as much as the strictest ceiling that applies allows.

    The ceiling is read as one for the syrup itself, which is stricter than as diluted to drink.

    Parameters
    ----------
    volume_l : float
        Volume of the finished syrup. [l]
    ph : float
        Its measured pH. [-]
    region : str
        "strictest", "eu", "codex" or "us" (which has no number and gets the strictest). [-]
    food : str
        Food category number, from `preserve_ceilings`. [-]
    density_kg_l : float
        Density of the syrup, used where the ceiling is per kilogram; 1 is the stricter. [kg/l]
    mixed : bool
        Whether benzoate is used as well, which lowers the EU figure. [-]

    Returns
    -------
    PreservativeDose
        The dose with its ceiling, steps and cautions.

    Valid for 0.05 to 1000 l and pH 1.5 to 4.6; OutOfRange outside: at a higher pH acid is needed,
    not sorbate.

    >>> dose = sorbate_dose(1.5, ph=3.2)
    >>> dose.grams, dose.ceiling.id
    (0.6, 'eu-drinks-sorbate')
    >>> dose.acid_mg_l, dose.effective_mg_l
    (298.6, 290.6)

    References: Codex GSFA 14.1.4; Regulation (EC) 1333/2008 Annex II; 21 CFR 182.3089, 114.3.
    """
    return _dose("sorbate", volume_l, ph, region, food, density_kg_l, mixed)


def benzoate_dose(
    volume_l: float,
    ph: float,
    region: str = "strictest",
    food: str = DRINKS,
    density_kg_l: float = 1.0,
    mixed: bool = False,
) -> PreservativeDose:
    """Sodium benzoate for a batch: as much as the strictest ceiling that applies allows.

    Parameters
    ----------
    volume_l : float
        Volume of the finished syrup. [l]
    ph : float
        Its measured pH. [-]
    region : str
        "strictest", "eu", "codex" or "us". [-]
    food : str
        Food category number, from `preserve_ceilings`. [-]
    density_kg_l : float
        Density of the syrup, used where the ceiling is per kilogram; 1 is the stricter. [kg/l]
    mixed : bool
        Whether sorbate is used as well. [-]

    Returns
    -------
    PreservativeDose
        The dose with its ceiling, steps and cautions, the one about vitamin C always among them.

    Valid for 0.05 to 1000 l and pH 1.5 to 4.6; OutOfRange outside.

    >>> dose = benzoate_dose(10, ph=3.2)
    >>> dose.grams, dose.effective_mg_l
    (1.76, 135.7)

    References: Regulation (EC) 1333/2008 Annex II; Codex GSFA 14.1.4; 21 CFR 184.1733(d).
    """
    return _dose("benzoate", volume_l, ph, region, food, density_kg_l, mixed)


def _dose(
    kind: Preservative,
    volume_l: float,
    ph: float,
    region: str,
    food: str,
    density_kg_l: float,
    mixed: bool,
) -> PreservativeDose:
    inside("volume", volume_l, *DOSE_VOLUME_L, "l")
    inside("pH", ph, *DOSE_PH)
    inside("density", density_kg_l, 0.95, 1.5, "kg/l")
    ceiling = strictest(kind, region, food, density_kg_l, mixed)
    ceiling_mg_l = ceiling.acid_mg_l(density_kg_l, mixed) or 0.0
    most_g = ceiling_mg_l / 1000 / TO_ACID[kind] * volume_l
    step = SCALE_STEP_G if most_g >= 20 * SCALE_STEP_G else SYRINGE_STEP_G
    grams = round(floor(most_g / step) * step, 3)
    acid_mg_l = grams / volume_l * TO_ACID[kind] * 1000
    return PreservativeDose(
        salt=SALT[kind],
        grams=grams,
        g_per_l=grams / volume_l,
        acid_mg_l=acid_mg_l,
        effective_mg_l=acid_mg_l * undissociated_share(ph, PKA[kind]),
        ceiling=ceiling,
        ceiling_mg_l=ceiling_mg_l,
        steps=tuple(s.format(salt=SALT[kind], acid=ACID[kind]) for s in _STEPS),
        cautions=(*_cautions(kind, ph, region, ceiling), *_stock(kind, grams)),
    )


def _cautions(kind: Preservative, ph: float, region: str, ceiling: Ceiling) -> tuple[str, ...]:
    said = [NO_RESCUE, WEIGH_IT]
    if kind == "benzoate":
        said.insert(0, BENZENE)
    if ph > WEAK_ABOVE_PH:
        share = undissociated_share(ph, PKA[kind])
        said.insert(0, f"Weak here: at pH {ph:g} only {share:.0%} works. Lower the pH first.")
    if ceiling.status == "memory":
        said.append(f"Check the ceiling before you sell by it: {ceiling.source} (from memory).")
    if region not in ("strictest", ceiling.region):
        said.append(f"The {region.upper()} rule has no number; the strictest other one is used.")
    return tuple(said)
