"""Questions about acid: pH, titratable acidity and how much acid to add."""

from collections.abc import Callable

from assistant.base.errors import WrongUse
from assistant.calc import acid as calc
from assistant.calc import acid_fit as fit
from assistant.calc import acid_measure as measure
from assistant.calc.acid_constants import (
    MONOHYDRATE_PER_ANHYDROUS,
    TITRATION_END_PH,
    acid_named,
    souring_acid,
)
from assistant.calc.answer import Answer
from assistant.calc.spread import Spread, carry
from assistant.limits import ACID_FOOD_PH, MAKERS_PH, above_makers

_BALANCE = (
    "charge balance (Butler, Ionic Equilibrium, Wiley 1998) with activity after Davies (1962)"
)
_LAW = f"21 CFR 114.3 for pH {ACID_FOOD_PH}; FDA Juice HACCP guidance for pH {MAKERS_PH}"
_MASS = "conservation of mass"
_RANGE = "up to 150 g/l of acid, ionic strength up to 0.5 mol/l, 25 degC"
_FIT_RANGE = f"pH 1.5 to 5.2, {_RANGE}"
_MONOHYDRATE = (
    f"These are grams of dry citric acid; of the monohydrate take {MONOHYDRATE_PER_ANHYDROUS:.2f} "
    "times as much."
)
_POTASSIUM_ALONE = (
    "With potassium alone orange juice comes out 0.3 too sour, with all its metals 0.15 (Belitz et "
    "al., Food Chemistry, table 18.41): calcium and protein hold its pH up. Grape juice is alike."
)
_STEPWISE = "Stir in the low figure, wait, measure again, then go on in small steps: acid stays in."
_TRY_A_SAMPLE = "bring a measured sample to the target by weighed steps and reckon `acid-trial`"


def ph(
    *,
    citric_g_l: float = 0.0,
    malic_g_l: float = 0.0,
    tartaric_g_l: float = 0.0,
    ascorbic_g_l: float = 0.0,
    acetic_g_l: float = 0.0,
    lactic_g_l: float = 0.0,
    phosphoric_g_l: float = 0.0,
    potassium_mmol_l: float = 0.0,
    magnesium_mmol_l: float = 0.0,
    calcium_mmol_l: float = 0.0,
) -> Answer:
    """What pH a mixture of acids has.

    citric_g_l, malic_g_l, tartaric_g_l, ascorbic_g_l, acetic_g_l, lactic_g_l, phosphoric_g_l : each
    acid, without crystal water [g/l]
    potassium_mmol_l : potassium and other strong ions that came with fruit or salts [mmol/l]
    magnesium_mmol_l, calcium_mmol_l : of the fruit; each takes the place of two [mmol/l]
    """
    grams = {
        "citric": citric_g_l,
        "malic": malic_g_l,
        "tartaric": tartaric_g_l,
        "ascorbic": ascorbic_g_l,
        "acetic": acetic_g_l,
        "lactic": lactic_g_l,
        "phosphoric": phosphoric_g_l,
    }
    there = {name: amount for name, amount in grams.items() if amount}
    ions = potassium_mmol_l + 2 * (magnesium_mmol_l + calcium_mmol_l)
    mixture = calc.of_grams(ions, **there)
    found = calc.ph_of(mixture)
    shift = measure.activity_shift(mixture)
    acidity = max(calc.titratable_acidity(mixture), 0.0)
    return Answer(
        answer=f"The pH is about {found:.2f}.",
        values={"ph": found, "ph_ideal": found - shift, "acidity_g_l": acidity},
        working=(
            *(
                f"{name} acid: {amount:g} g/l / {acid_named(name).molar_mass:g} g/mol = "
                f"{1000 * mixture.acids[name]:.2f} mmol/l, "
                f"{calc.protons_lost(name, found):.3f} protons a molecule given away"
                for name, amount in there.items()
            ),
            f"strong ions {ions:g} mmol/l; charges cancel at pH {found - shift:.3f} "
            f"with ideal ions",
            f"activity moves that by {shift:+.3f}: pH {found:.2f}; acidity to pH "
            f"{TITRATION_END_PH:g} is {acidity:.2f} g/l as citric acid",
        ),
        source=f"{_BALANCE}; {', '.join(sorted({acid_named(n).source for n in there})) or 'water'}",
        valid=_RANGE,
        cautions=(
            measure.LEFT_OUT,
            _POTASSIUM_ALONE,
            "A reckoned pH proves nothing: measure it.",
            measure.MEASURE,
        ),
    )


def acid_dose(
    *,
    volume_l: float,
    ph: float,
    target_ph: float,
    acidity_g_l: float = 0.0,
    fruit: str = "",
    juice_share: float = 1.0,
    acid: str = "citric",
    ph_unsure: float = measure.METER_PH,
) -> Answer:
    """How much acid brings a batch down to a pH.

    volume_l : batch [l]; ph : measured; target_ph : wanted; ph_unsure : how far ph may be off
    acidity_g_l : titratable acidity of the batch, as citric acid [g/l], 0 if not known
    fruit : gives the main acid, and the acidity if that is not known
    juice_share : juice in the batch [l/l]
    acid : citric, malic, tartaric, ascorbic, acetic, lactic or phosphoric
    """
    _must_fit(ph, ph_unsure)
    acidity, main = _acidity(acidity_g_l, fruit, juice_share)
    per_l = fit.dose_spread(ph, acidity, target_ph, souring_acid(acid), main, ph_unsure)
    grams = carry(lambda dose: dose * volume_l, per_l)
    own = fit.nearest(ph, acidity.likely, main, fit.cations_within(acidity))
    return Answer(
        answer=f"About {grams.likely:.1f} g of {acid} acid, {grams.low:.1f} to {grams.high:.1f} g, "
        f"brings {volume_l:g} l from pH {ph:g} to {target_ph:g}."
        if grams.high
        else _there_already(ph, target_ph),
        values={
            "acid_g": grams.likely,
            "acid_low_g": grams.low,
            "acid_high_g": grams.high,
            "acid_g_l": per_l.likely,
        },
        working=(
            _acidity_line(acidity),
            f"pH {ph:g} with that acidity means {1000 * own.acids[main]:.1f} mmol/l of {main} acid "
            f"and {1000 * own.cations:.1f} mmol/l of potassium and the like",
            f"charges cancel at pH {target_ph:g} with {per_l.likely:.2f} g/l more {acid} acid",
            f"{per_l.likely:.2f} g/l x {volume_l:g} l = {grams.likely:.1f} g",
        ),
        source=_BALANCE,
        valid=f"{_FIT_RANGE}; volume taken as unchanged",
        cautions=(*_dose_cautions(acid, target_ph), measure.LEFT_OUT, measure.MEASURE),
    )


def lemon_dose(
    *,
    volume_l: float,
    ph: float,
    target_ph: float,
    acidity_g_l: float = 0.0,
    fruit: str = "",
    juice_share: float = 1.0,
    lemon_ph: float = 2.3,
    lemon_acidity_g_l: float = 50.0,
    ph_unsure: float = measure.METER_PH,
) -> Answer:
    """How much lemon juice brings a batch down to a pH.

    volume_l : batch [l]; ph : measured; target_ph : wanted; ph_unsure : how far ph may be off
    acidity_g_l : titratable acidity of the batch, as citric acid [g/l], 0 if not known
    fruit : gives the main acid, and the acidity if that is not known
    juice_share : juice in the batch [l/l]
    lemon_ph, lemon_acidity_g_l : of the lemon juice, typical ones unless given [g/l]
    """
    _must_fit(ph, ph_unsure)
    acidity, main = _acidity(acidity_g_l, fruit, juice_share)
    lemon = fit.nearest(lemon_ph, lemon_acidity_g_l)
    most = fit.cations_within(acidity)

    def poured(at: float, own: float) -> float:
        juice = fit.nearest(at, own, main, most)
        return 1000 * fit.pour_for_ph(juice, volume_l, lemon, target_ph)

    ml = carry(poured, Spread(ph - ph_unsure, ph, ph + ph_unsure), fit.titrated(acidity))
    return Answer(
        answer=f"About {ml.likely:.0f} ml of lemon juice, {ml.low:.0f} to {ml.high:.0f} ml, brings "
        f"{volume_l:g} l from pH {ph:g} to {target_ph:g}."
        if ml.high
        else _there_already(ph, target_ph),
        values={"lemon_ml": ml.likely, "lemon_low_ml": ml.low, "lemon_high_ml": ml.high},
        working=(
            _acidity_line(acidity),
            f"lemon juice of pH {lemon_ph:g} and {lemon_acidity_g_l:g} g/l means "
            f"{1000 * lemon.acids['citric']:.0f} mmol/l of citric acid and "
            f"{1000 * lemon.cations:.0f} mmol/l of potassium",
            f"charges of both together cancel at pH {target_ph:g} with {ml.likely:.1f} ml",
        ),
        source=f"{_BALANCE}; lemon juice of at least 4.5 % from concentrate by 21 CFR 146.114",
        valid=_FIT_RANGE,
        cautions=(
            "Lemons differ by a third: bottled juice is steadier. It thins the syrup too.",
            *_dose_cautions("", target_ph),
            measure.LEFT_OUT,
            measure.MEASURE,
        ),
    )


def acidity_dose(
    *, volume_l: float, acidity_g_l: float, target_g_l: float, acid: str = "citric"
) -> Answer:
    """How much acid brings a batch up to a titratable acidity, which is how sour it tastes.

    volume_l : batch [l]; acidity_g_l : measured, as citric acid [g/l]; target_g_l : wanted [g/l]
    acid : citric, malic, tartaric, ascorbic, acetic, lactic or phosphoric
    """
    own = calc.of_grams(citric=acidity_g_l / calc.titratable_acidity(calc.of_grams(citric=1.0)))
    per_l = fit.acid_for_acidity(own, souring_acid(acid), target_g_l)
    grams = per_l * volume_l
    return Answer(
        answer=f"{grams:.1f} g of {acid} acid brings {volume_l:g} l from {acidity_g_l:g} to "
        f"{target_g_l:g} g/l.",
        values={"acid_g": grams, "acid_g_l": per_l},
        working=(
            f"lacking: {target_g_l:g} - {acidity_g_l:g} = {target_g_l - acidity_g_l:g} g/l as "
            f"citric acid",
            f"as {acid} acid that is {per_l:.2f} g/l; x {volume_l:g} l = {grams:.1f} g",
        ),
        source="acid equivalents at pH 8.2; method ISO 750",
        valid="0 to 150 g/l",
        cautions=((_MONOHYDRATE,) if acid == "citric" else ())
        + ("Acidity is taste; keeping goes by pH: measure that too.",),
    )


def titration(*, sample_ml: float, base_ml: float, base_mol_l: float = 0.1) -> Answer:
    """What acidity a titration with sodium hydroxide found.

    sample_ml : syrup before any water went in [ml]; base_ml : used until the pink stays or the
    meter shows 8.2 [ml]; base_mol_l : strength of the base [mol/l]
    """
    found = measure.acidity_from_titration(sample_ml, base_ml, base_mol_l)
    return Answer(
        answer=f"The acidity is {found:.1f} g/l as citric acid, {found / 10:.2f} %.",
        values={"acidity_g_l": found, "acidity_percent": found / 10},
        working=(
            f"{base_ml:g} ml x {base_mol_l:g} mol/l = {base_ml * base_mol_l:.3f} mmol of base",
            f"x 64.04 mg / {sample_ml:g} ml = {found:.2f} g/l",
        ),
        source="ISO 750, titratable acidity of fruit products",
        valid="samples of 1 to 1000 ml, base of 0.001 to 2 mol/l",
        cautions=(
            "Sodium hydroxide burns skin and eyes: wear goggles, and throw the sample away.",
            "Dark juice hides the pink: thin it with water, or stop at pH 8.2 on the meter.",
        ),
    )


def acid_trial(
    *, sample_ml: float, added_g: float, batch_l: float, scale_step_g: float = 0.1
) -> Answer:
    """How much acid a batch takes, from what a sample of it took.

    sample_ml : taken from the batch [ml]; added_g : acid that brought it to the target [g]
    batch_l : what is left to treat [l]; scale_step_g : smallest step of the scale [g]
    """
    grams = measure.trial_for_batch(sample_ml, added_g, batch_l, scale_step_g)
    return Answer(
        answer=f"{grams.likely:.1f} g of acid for the batch, {grams.low:.1f} to {grams.high:.1f} g "
        f"by what the scale can tell.",
        values={"acid_g": grams.likely, "acid_low_g": grams.low, "acid_high_g": grams.high},
        working=(
            f"{added_g:g} g x {1000 * batch_l:g} ml / {sample_ml:g} ml = {grams.likely:.2f} g",
        ),
        source=_MASS,
        valid="samples of 10 to 5000 ml; the larger the sample, the surer",
        cautions=(_STEPWISE, "Measure the batch again when it is in."),
    )


def ph_meaning(*, ph: float, ph_unsure: float = measure.METER_PH) -> Answer:
    """What a measured pH means for keeping.

    ph : measured; ph_unsure : how far it may be off, 0.1 for a meter, 0.3 for strips
    """
    meaning = measure.acidity_of(ph, ph_unsure)
    return Answer(
        answer=meaning.words,
        values={"ph": ph, "ph_high": ph + ph_unsure},
        working=(
            f"measured {ph:g}, at most {ph + ph_unsure:g}",
            f"low-acid above {ACID_FOOD_PH}; makers stay at or under "
            f"{MAKERS_PH:.1f}: {meaning.kind}",
        ),
        source=_LAW,
        valid="pH 0 to 14, in the finished, cooled and stirred syrup",
        cautions=(
            "pH alone keeps nothing from yeast and mould: heat, cold and clean bottles do.",
            measure.SUGAR,
            measure.MEASURE,
        ),
    )


def _acidity(acidity_g_l: float, fruit: str, juice_share: float) -> tuple[Spread, str]:
    if fruit:
        typical, main = fit.fruit_acidity(fruit, juice_share)
        return (Spread.exactly(acidity_g_l) if acidity_g_l else typical), main
    if acidity_g_l:
        return Spread.exactly(acidity_g_l), "citric"
    raise WrongUse(
        "the batch's own acidity decides the dose: give acidity_g_l or a fruit, or " + _TRY_A_SAMPLE
    )


def _must_fit(ph: float, ph_unsure: float) -> None:
    if ph + ph_unsure > fit.FIT_PH[1]:
        raise WrongUse(
            f"at pH {ph:g} more than fruit acid holds the pH, so a dose can't be reckoned: "
            + _TRY_A_SAMPLE
        )


def _acidity_line(acidity: Spread) -> str:
    line = f"acidity {acidity.likely:.1f} g/l as citric acid"
    sure = acidity.low == acidity.high
    return line if sure else f"{line}, {acidity.low:.1f} to {acidity.high:.1f} by its kind"


def _there_already(ph: float, target_ph: float) -> str:
    return f"Add none: pH {ph:g} is as low as {target_ph:g} already, even if read a little wrong."


def _dose_cautions(acid: str, target_ph: float) -> tuple[str, ...]:
    said = [_STEPWISE]
    if acid == "citric":
        said.append(_MONOHYDRATE)
    if above_makers(target_ph):
        said.append(measure.acidity_of(target_ph).words + " Aim lower.")
    return tuple(said)


SUBJECTS: dict[str, Callable[..., Answer]] = {
    "ph": ph,
    "ph-meaning": ph_meaning,
    "acid-dose": acid_dose,
    "lemon-dose": lemon_dose,
    "acidity-dose": acidity_dose,
    "acid-trial": acid_trial,
    "titration": titration,
}
