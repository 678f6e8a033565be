"""Questions about preservatives: sorbate, benzoate, both together, and spirits."""

from collections.abc import Callable

from assistant.calc import preserve as calc
from assistant.calc.answer import Answer
from assistant.calc.preserve_dose import DOSE_PH

_HENDERSON = "Henderson-Hasselbalch at 25 degC"
_STEPS = "In this order: "
_DOSE_RANGE = (
    f"0.05 to 1000 l, pH {DOSE_PH[0]} to {DOSE_PH[1]}; "
    "above it the syrup needs acid, not preservative"
)


def sorbate(
    *,
    volume_l: float,
    ph: float,
    region: str = "strictest",
    food: str = calc.DRINKS,
    density_kg_l: float = 1.0,
) -> Answer:
    """How much potassium sorbate a batch may have, and how much of it works.

    volume_l : finished syrup [l]; ph : measured, to 4.6; density_kg_l : of the syrup [kg/l]
    region : strictest, eu, codex or us; food : category, 14.1.4 for drinks and cordials
    """
    dose = calc.sorbate_dose(volume_l, ph, region, food, density_kg_l)
    spoons = calc.sorbate_teaspoons(dose.grams)
    spoon = (
        f"That is some {spoons.low:.2f} to {spoons.high:.2f} of a level teaspoon: too unsure to "
        "spoon."
    )
    return _answer(dose, volume_l, ph, calc.POTASSIUM_SORBATE_TO_ACID, calc.SORBIC_PKA, (spoon,))


def benzoate(
    *,
    volume_l: float,
    ph: float,
    region: str = "strictest",
    food: str = calc.DRINKS,
    density_kg_l: float = 1.0,
) -> Answer:
    """How much sodium benzoate a batch may have, and how much of it works.

    volume_l : finished syrup [l]; ph : measured, to 4.6; density_kg_l : of the syrup [kg/l]
    region : strictest, eu, codex or us; food : category, 14.1.4 for drinks and cordials
    """
    dose = calc.benzoate_dose(volume_l, ph, region, food, density_kg_l)
    return _answer(dose, volume_l, ph, calc.SODIUM_BENZOATE_TO_ACID, calc.BENZOIC_PKA, ())


def _answer(
    dose: calc.PreservativeDose,
    volume_l: float,
    ph: float,
    to_acid: float,
    pka: float,
    more: tuple[str, ...],
) -> Answer:
    share = calc.undissociated_share(ph, pka)
    rule = dose.ceiling
    return Answer(
        answer=f"At most {dose.grams:g} g of {dose.salt} in {volume_l:g} l, and of the acid in "
        f"it {share:.0%} works at pH {ph:g}.",
        values={
            "salt_g": dose.grams,
            "salt_g_l": dose.g_per_l,
            "acid_mg_l": dose.acid_mg_l,
            "effective_mg_l": dose.effective_mg_l,
            "ceiling_mg_l": dose.ceiling_mg_l,
        },
        working=(
            f"ceiling {dose.ceiling_mg_l:.1f} mg/l of free acid ({rule.region}, food {rule.food})",
            f"/ {to_acid:.4f} x {volume_l:g} l = "
            f"{dose.ceiling_mg_l / to_acid * volume_l / 1000:.4f} g, rounded down to "
            f"{dose.grams:g} g",
            f"{dose.grams:g} g x {to_acid:.4f} / {volume_l:g} l = {dose.acid_mg_l:.1f} mg/l of "
            f"acid",
            f"undissociated at pH {ph:g}: 1 / (1 + 10^({ph:g} - {pka:g})) = {share:.3f}, that is "
            f"{dose.effective_mg_l:.0f} mg/l",
        ),
        source=f"{rule.source} ({rule.status}); {_HENDERSON}",
        valid=_DOSE_RANGE,
        cautions=(*dose.cautions, *more, _STEPS + " ".join(dose.steps)),
    )


def sorbate_check(*, g_per_l: float, region: str = "strictest", food: str = calc.DRINKS) -> Answer:
    """Whether a potassium sorbate dose can be meant as said.

    g_per_l : potassium sorbate in a litre of syrup [g/l]
    region : strictest, eu, codex or us; food : category, 14.1.4 for drinks and cordials
    """
    ceiling = calc.strictest("sorbate", region, food)
    slip = calc.sorbate_slip(g_per_l, ceiling)
    acid = 1000 * g_per_l * calc.POTASSIUM_SORBATE_TO_ACID
    low, high = calc.SORBATE_WORKING_G_L
    return Answer(
        answer=slip.words if slip else f"{g_per_l:g} g a litre works and is under its ceiling.",
        values={"acid_mg_l": acid, "ceiling_mg_l": ceiling.acid_mg_l() or 0.0},
        working=(
            f"{g_per_l:g} g/l x {calc.POTASSIUM_SORBATE_TO_ACID:.4f} = {acid:.0f} mg/l of sorbic "
            f"acid; ceiling {ceiling.acid_mg_l() or 0.0:.0f} mg/l",
            f"doses in use are {low:g} to {high:g} g/l, though not all under every ceiling",
        ),
        source=f"{ceiling.source} ({ceiling.status}); doses in use: common practice, no source",
        valid="0 to 1000 g/l",
        cautions=(calc.WEIGH_IT, calc.NO_RESCUE),
    )


def both_preservatives(
    *,
    sorbate_g_l: float,
    benzoate_g_l: float,
    region: str = "strictest",
    food: str = calc.DRINKS,
) -> Answer:
    """Whether sorbate and benzoate together stay under what is allowed.

    sorbate_g_l : potassium sorbate [g/l]; benzoate_g_l : sodium benzoate [g/l]
    region : strictest, eu, codex or us; food : category, 14.1.4 for drinks and cordials
    """
    use = calc.together(sorbate_g_l, benzoate_g_l, region, food)
    sorbic = 1000 * sorbate_g_l * calc.POTASSIUM_SORBATE_TO_ACID
    benzoic = 1000 * benzoate_g_l * calc.SODIUM_BENZOATE_TO_ACID
    rules = [calc.strictest(kind, region, food, mixed=True) for kind in ("sorbate", "benzoate")]
    most = [rule.acid_mg_l(mixed=True) or 0.0 for rule in rules]
    return Answer(
        answer=use.words,
        values={"share": use.share, "sorbic_mg_l": sorbic, "benzoic_mg_l": benzoic},
        working=(
            f"sorbic acid {sorbic:.0f} of {most[0]:.0f} mg/l, benzoic acid {benzoic:.0f} of "
            f"{most[1]:.0f} mg/l",
            f"shares add up to {use.share:.2f}; 1 is the most",
        ),
        source="; ".join(f"{rule.source} ({rule.status})" for rule in rules),
        valid="0 to 1000 g/l; adding shares is the stricter reading of the sum rule",
        cautions=(calc.BENZENE, calc.NO_RESCUE),
    )


def spirit(*, volume_l: float, spirit_ml: float, abv: float = 40.0) -> Answer:
    """Whether a spirit in a syrup preserves it.

    volume_l : syrup before the spirit [l]; spirit_ml : spirit [ml]; abv : its strength [% by vol]
    """
    effect = calc.alcohol_preserves(volume_l, spirit_ml, abv)
    needed = {} if effect.needed_ml is None else {"needed_ml": effect.needed_ml}
    return Answer(
        answer=effect.words,
        values={"abv": effect.abv, **needed},
        working=(
            f"{spirit_ml:g} ml x {abv:g} % / ({1000 * volume_l:g} + {spirit_ml:g}) ml = "
            f"{effect.abv:.2f} %",
            "about 20 % is needed; the hardiest spoilage yeast was found to grow at 18 %",
        ),
        source="20 %: common practice, no source; 18 %: reviews of Zygosaccharomyces bailii",
        valid="0.01 to 1000 l, spirit to 96 %; volumes simply added",
        cautions=(*effect.cautions, "With alcohol in it the syrup is not for children: label it."),
    )


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "sorbate": sorbate,
    "sorbate-check": sorbate_check,
    "benzoate": benzoate,
    "both-preservatives": both_preservatives,
    "spirit": spirit,
}
