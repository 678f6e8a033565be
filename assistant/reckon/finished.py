"""Questions about the pH and acidity of a batch when everything is in."""

from collections.abc import Callable

from assistant.calc import acid as calc
from assistant.calc import acid_measure as measure
from assistant.calc.acid_blend import acids_for_acidity
from assistant.calc.acid_finished import (
    CACO3_MG_PER_MMOL,
    TAP_ALKALINITY,
    Additions,
    finished_ph,
    ph_after,
)
from assistant.calc.acid_fit import TITRATION_SHARE, nearest
from assistant.calc.answer import Answer
from assistant.calc.spread import Spread
from assistant.limits import MAKERS_PH, above_makers

_SOURCE = (
    "charge balance (Butler, Ionic Equilibrium, Wiley 1998) with activity after Davies (1962); "
    "alkalinity as in ISO 9963-1"
)
_JUDGE = "This proves nothing: measure the pH when everything is in, cooled and stirred."
_HARD = "Hard water takes up acid: the water works tells its alkalinity, or its carbonate hardness."
_UNKNOWN = "Nobody told the water's alkalinity, so very soft to very hard water was reckoned."


def finished(
    *,
    volume_l: float,
    citric_g: float = 0.0,
    malic_g: float = 0.0,
    tartaric_g: float = 0.0,
    lactic_g: float = 0.0,
    acetic_g: float = 0.0,
    ascorbic_g: float = 0.0,
    phosphoric_g: float = 0.0,
    sorbate_g: float = 0.0,
    benzoate_g: float = 0.0,
    sodium_citrate_g: float = 0.0,
    potassium_citrate_g: float = 0.0,
    water_l: float = 0.0,
    alkalinity_mg_l: float | None = None,
    juice_l: float = 0.0,
    juice_ph: float = 3.4,
    juice_acidity_g_l: float = 12.0,
) -> Answer:
    """What pH a batch will have when everything is in.

    volume_l : finished batch [l]; water_l : tap water in it [l]
    citric_g, malic_g, tartaric_g, lactic_g, acetic_g, ascorbic_g, phosphoric_g : each acid,
    without crystal water [g]
    sorbate_g, benzoate_g : potassium sorbate and sodium benzoate, which take up acid [g]
    sodium_citrate_g, potassium_citrate_g : trisodium and tripotassium citrate, hydrated [g]
    alkalinity_mg_l : of the water, as calcium carbonate [mg/l]; leave it out if you don't know
    juice_l : juice in the batch [l]; juice_ph : its pH; juice_acidity_g_l : its acidity [g/l]
    """
    added = Additions(
        acids_g={
            "citric": citric_g,
            "malic": malic_g,
            "tartaric": tartaric_g,
            "lactic": lactic_g,
            "acetic": acetic_g,
            "ascorbic": ascorbic_g,
            "phosphoric": phosphoric_g,
        },
        salts_g={
            "potassium sorbate": sorbate_g,
            "sodium benzoate": benzoate_g,
            "trisodium citrate": sodium_citrate_g,
            "tripotassium citrate": potassium_citrate_g,
        },
        water_l=water_l,
        alkalinity_mg_l=_alkalinity(alkalinity_mg_l),
    )
    juice = nearest(juice_ph, juice_acidity_g_l) if juice_l else calc.Mixture()
    found = finished_ph(added, volume_l, juice, juice_l)
    return Answer(
        answer=_words("When everything is in", found),
        values={"ph": found.likely, "ph_low": found.low, "ph_high": found.high},
        working=(
            *_added_lines(added, volume_l),
            *((f"juice: {juice_l:g} l of pH {juice_ph:g}",) if juice_l else ()),
            f"charges cancel at pH {found.likely:.2f}; {found.low:.2f} to {found.high:.2f} with "
            "the water's spread and the model's 0.15",
        ),
        source=_SOURCE,
        valid="0.001 to 10000 l, alkalinity to 1000 mg/l, ionic strength to 0.5 mol/l, 25 degC",
        cautions=_cautions(added, found, alkalinity_mg_l),
    )


def after(
    *,
    ph: float,
    acidity_g_l: float,
    before_l: float,
    after_l: float,
    citric_g: float = 0.0,
    malic_g: float = 0.0,
    sorbate_g: float = 0.0,
    benzoate_g: float = 0.0,
    water_l: float = 0.0,
    alkalinity_mg_l: float | None = None,
    ph_unsure: float = measure.METER_PH,
) -> Answer:
    """What becomes of a pH that was read before more went in.

    ph : read before; ph_unsure : how far it may be off; acidity_g_l : as citric acid then [g/l]
    before_l, after_l : batch then and when all is in [l]; water_l : tap water poured in since [l]
    citric_g, malic_g : acid stirred in since [g]
    sorbate_g, benzoate_g : potassium sorbate and sodium benzoate since, which take up acid [g]
    alkalinity_mg_l : of the water, as calcium carbonate [mg/l]; leave it out if you don't know
    """
    added = Additions(
        {"citric": citric_g, "malic": malic_g},
        {"potassium sorbate": sorbate_g, "sodium benzoate": benzoate_g},
        water_l,
        _alkalinity(alkalinity_mg_l),
    )
    found = ph_after(ph, acidity_g_l, before_l, added, after_l, ph_unsure=ph_unsure)
    return Answer(
        answer=_words(f"From pH {ph:g} before", found),
        values={
            "ph": found.likely,
            "ph_low": found.low,
            "ph_high": found.high,
            "moved": found.likely - ph,
        },
        working=(
            f"pH {ph:g} and {acidity_g_l:g} g/l in {before_l:g} l, now {after_l:g} l",
            *_added_lines(added, after_l),
            f"charges cancel at pH {found.likely:.2f}, moved by {found.likely - ph:+.2f}",
        ),
        source=_SOURCE,
        valid="pH 1.5 to 5.2 before, alkalinity 0 to 1000 mg/l, 25 degC",
        cautions=_cautions(added, found, alkalinity_mg_l),
    )


def acidity_blend(
    *,
    volume_l: float,
    acidity_g_l: float,
    target_g_l: float,
    citric_parts: float = 0.0,
    malic_parts: float = 0.0,
    tartaric_parts: float = 0.0,
    lactic_parts: float = 0.0,
) -> Answer:
    """How much of several acids, in proportion, brings a batch to a titratable acidity.

    volume_l : batch [l]; acidity_g_l, target_g_l : there and wanted, as citric acid [g/l]
    citric_parts, malic_parts, tartaric_parts, lactic_parts : of each acid by weight, as 2 and 1
    """
    parts = {
        "citric": citric_parts,
        "malic": malic_parts,
        "tartaric": tartaric_parts,
        "lactic": lactic_parts,
    }
    there = {name: n for name, n in parts.items() if n}
    own = calc.of_grams(citric=acidity_g_l / calc.titratable_acidity(calc.of_grams(citric=1.0)))
    each = acids_for_acidity(own, there, target_g_l)
    grams = {name: per_l * volume_l for name, per_l in each.items()}
    told = " and ".join(f"{g:.1f} g of {name} acid" for name, g in grams.items())
    share = _lacking_share(acidity_g_l, target_g_l)
    return Answer(
        answer=f"{told} bring {volume_l:g} l from {acidity_g_l:g} to {target_g_l:g} g/l, give or "
        f"take {100 * share:.0f} % for the titration.",
        values={f"{name}_g": g for name, g in grams.items()}
        | {f"{name}_low_g": g * (1 - share) for name, g in grams.items()}
        | {f"{name}_high_g": g * (1 + share) for name, g in grams.items()},
        working=(
            f"lacking: {max(target_g_l - acidity_g_l, 0.0):g} g/l as citric acid",
            *(f"{name} acid: {each[name]:.2f} g/l x {volume_l:g} l" for name in each),
        ),
        source="acid equivalents at pH 8.2; method ISO 750",
        valid="0 to 150 g/l; a kitchen titration is good to some 5 %: stir in the low figures, "
        "titrate again",
        cautions=("Acidity is taste; keeping goes by pH: measure that too.",),
    )


def _lacking_share(acidity_g_l: float, target_g_l: float) -> float:
    """How far the lacking acidity may be off, of itself, for a titration that is off."""
    lacking = target_g_l - acidity_g_l
    return min(TITRATION_SHARE * acidity_g_l / lacking, 1.0) if lacking > 0 else 0.0


def _alkalinity(given: float | None) -> Spread | float:
    return TAP_ALKALINITY if given is None else given


def _words(start: str, found: Spread) -> str:
    line = f"{start} expect about pH {found.likely:.2f}, {found.low:.2f} to {found.high:.2f}."
    return f"{line} Makers stay at or under {MAKERS_PH:.1f}." if above_makers(found.high) else line


def _added_lines(added: Additions, volume_l: float) -> tuple[str, ...]:
    lime = added.alkalinity()
    water = (
        f"water: {added.water_l:g} l of {lime.likely:g} mg/l as calcium carbonate brings "
        f"{lime.likely / CACO3_MG_PER_MMOL * added.water_l / volume_l:.2f} mmol/l of base",
    )
    return (
        *(f"{name} acid: {grams:g} g" for name, grams in added.acids_g.items() if grams),
        *(f"{name}: {grams:g} g" for name, grams in added.salts_g.items() if grams),
        *(water if added.water_l else ()),
    )


def _cautions(added: Additions, found: Spread, told: float | None) -> tuple[str, ...]:
    said = [_JUDGE]
    if added.water_l:
        said.append(_HARD if told is not None else f"{_UNKNOWN} {_HARD}")
    if above_makers(found.high):
        said.append(
            measure.acidity_of(round(min(found.high, 14.0), 2), 0.0).words + " Put in more acid."
        )
    return (*said, measure.LEFT_OUT, measure.MEASURE)


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "finished-ph": finished,
    "ph-after": after,
    "acidity-blend": acidity_blend,
}
