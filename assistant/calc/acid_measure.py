"""What a reckoned pH leaves out and how large that is, how to measure, and what a pH means."""

from dataclasses import dataclass
from typing import Literal

from assistant.calc.acid import Mixture, ideal_ph, ph_of
from assistant.calc.acid_constants import CITRIC_G_PER_EQUIVALENT
from assistant.calc.bounds import inside
from assistant.calc.spread import Spread
from assistant.limits import ACID_FOOD_PH, MAKERS_PH, above_makers, is_low_acid

METER_PH = 0.1
"""How far a kitchen pH meter, set with buffers, may be off: common practice, no source. [-]"""

SUGAR = (
    "Sucrose up to 50 % by weight did not move the pH of lemon juice and of citric acid "
    '("Stability of the buffer system of lemon juice"; from memory: Sinclair & Eny, Plant '
    "Physiology, 1946). Thicker syrup only makes the electrode slow and unsure."
)
MEASURE = (
    "Set the meter with buffers 4.01 and 7.01 (or 3.00), at the syrup's temperature. Cool the "
    "syrup to about 20 degC. Stir thick syrup with an equal volume of distilled water; that reads "
    "a little high, which is the careful side. Wait until it stands still, rinse, read twice."
)
LEFT_OUT = (
    "Left out: calcium and magnesium bound to citrate, acid taken up by pectin and pulp, and warmth"
    " (constants are for 25 degC). Tables differ by up to 0.1 in a pKa. Together some 0.1 to 0.2."
)


def activity_shift(mixture: Mixture) -> float:
    """How far the pH lies from the one with ideal ions: the size of what simple sums leave out.

    Parameters
    ----------
    mixture : Mixture
        Acids and strong ions. [mol/l]

    Returns
    -------
    float
        Mostly negative: real syrup is a little more acid than with ideal ions. [-]

    Valid for ionic strength up to 0.5 mol/l; OutOfRange beyond.

    >>> activity_shift(Mixture({"citric": 0.05}, cations=0.05))
    -0.18

    References: Davies (1962), Ion Association, Butterworths.
    """
    return ph_of(mixture) - ideal_ph(mixture)


@dataclass(frozen=True)
class Acidity:
    """What a pH means: kind, and the words for it."""

    kind: Literal["low-acid", "doubtful", "acid", "well acid"]
    words: str


def acidity_of(ph: float, unsure: float = METER_PH) -> Acidity:
    """What a measured pH means for keeping, in doubt the stricter.

    Parameters
    ----------
    ph : float
        Measured pH. [-]
    unsure : float
        How far the reading may be off. [-]

    Returns
    -------
    Acidity
        low-acid above 4.6, doubtful where it may be, acid to 4.6, well acid to 4.0 for sure.

    Valid for pH 0 to 14 and unsureness 0 to 1; OutOfRange outside.

    >>> [acidity_of(ph).kind for ph in (4.7, 4.55, 4.2, 3.4)]
    ['low-acid', 'doubtful', 'acid', 'well acid']

    References: 21 CFR 114.3; FDA, Juice HACCP Hazards and Controls Guidance, for pH 4.0.
    """
    inside("pH", ph, 0.0, 14.0)
    inside("unsureness of the pH", unsure, 0.0, 1.0)
    if is_low_acid(ph):
        return Acidity("low-acid", f"pH {ph:g} is low-acid: it must not stand at room temperature.")
    if is_low_acid(ph + unsure):
        return Acidity("doubtful", f"pH {ph:g} may be over {ACID_FOOD_PH:g}: treat it as low-acid.")
    if above_makers(ph + unsure):
        return Acidity("acid", f"pH {ph:g} is acid, but makers go under {MAKERS_PH:.1f}.")
    return Acidity("well acid", f"pH {ph:g} is well acid, where makers like it.")


def acidity_from_titration(sample_ml: float, base_ml: float, base_mol_l: float = 0.1) -> float:
    """Titratable acidity from the base a sample took to pH 8.2, or to a lasting pink.

    Parameters
    ----------
    sample_ml : float
        Syrup or juice titrated, before any water was added. [ml]
    base_ml : float
        Sodium hydroxide solution used. [ml]
    base_mol_l : float
        Its strength. [mol/l]

    Returns
    -------
    float
        Acidity as citric acid without crystal water. [g/l]

    Valid for samples 1 to 1000 ml, base 0 to 1000 ml of 0.001 to 2 mol/l; OutOfRange outside.

    >>> acidity_from_titration(10, 15.6)
    9.99

    References: ISO 750, titratable acidity of fruit products; 64.04 g of citric acid a mole.
    """
    inside("sample", sample_ml, 1.0, 1000.0, "ml")
    inside("base", base_ml, 0.0, 1000.0, "ml")
    inside("strength of the base", base_mol_l, 0.001, 2.0, "mol/l")
    return base_ml * base_mol_l / sample_ml * CITRIC_G_PER_EQUIVALENT


def trial_for_batch(
    sample_ml: float, added_g: float, batch_l: float, scale_step_g: float = 0.1
) -> Spread:
    """Acid for a batch from what a sample of it took: the way when its acidity is not known.

    Parameters
    ----------
    sample_ml : float
        Sample taken from the batch. [ml]
    added_g : float
        Acid that brought the sample to the target. [g]
    batch_l : float
        Batch that is left. [l]
    scale_step_g : float
        Smallest step of the scale, half of which the weight may be off. [g]

    Returns
    -------
    Spread
        Acid for the batch. [g]

    Valid for samples 10 to 5000 ml, 0 to 500 g, batches 0.05 to 1000 l; OutOfRange outside.

    >>> trial_for_batch(500, 2.0, 3.5)
    Spread(low=13.65, likely=14.0, high=14.35)

    References: conservation of mass.
    """
    inside("sample", sample_ml, 10.0, 5000.0, "ml")
    inside("acid", added_g, 0.0, 500.0, "g")
    inside("batch", batch_l, 0.05, 1000.0, "l")
    inside("step of the scale", scale_step_g, 0.001, 10.0, "g")
    times = batch_l * 1000 / sample_ml
    half = scale_step_g / 2
    return Spread(max(added_g - half, 0.0) * times, added_g * times, (added_g + half) * times)
