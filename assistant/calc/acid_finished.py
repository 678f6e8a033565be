"""The pH of a batch when everything is in: acids, salts, preservative, and the water's own lime.

What a salt of a weak acid does is told by two numbers: its acid, and the strong ions it brings.
Water is hard by bicarbonate, which takes up acid as potassium in the fruit does; what it sets free
is carbonic acid, and how much of that a pan loses is not known, so both ends are reckoned.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.base.errors import WrongUse
from assistant.calc.acid import Mixture, ph_of
from assistant.calc.acid_constants import acid_named
from assistant.calc.acid_fit import cations_within, nearest
from assistant.calc.acid_measure import METER_PH
from assistant.calc.bounds import inside
from assistant.calc.spread import Spread

CACO3_MG_PER_MMOL = 50.04
"""Calcium carbonate that takes up a millimole of acid: atomic weights, 100.087 / 2. [mg/mmol]"""
TAP_ALKALINITY = Spread(10.0, 150.0, 400.0)
"""Tap water of unknown hardness, from very soft to very hard: from memory. [mg/l as CaCO3]"""
MODEL_PH = 0.15
"""How far a reckoned pH may lie from a measured one besides what its inputs explain: pKa, calcium
bound to citrate, pulp, warmth; see `LEFT_OUT` in `acid_measure`. [-]"""

SALTS: Mapping[str, tuple[str, float, int]] = {
    "potassium sorbate": ("sorbic", 150.218, 1),
    "sodium benzoate": ("benzoic", 144.105, 1),
    "trisodium citrate": ("citric", 294.099, 3),
    "tripotassium citrate": ("citric", 324.410, 3),
}
"""Each salt: its acid, its molar mass [g/mol], the strong ions of a mole of it [mol]. Sodium
citrate with its two waters of crystal, potassium citrate with its one. Molar masses from standard
atomic weights."""


@dataclass(frozen=True)
class Additions:
    """What goes into a batch and can move its pH. Sugar cannot.

    acids_g : each acid by name, without crystal water [g]
    salts_g : each of `SALTS` by name, as weighed [g]
    water_l : water from the tap [l]; alkalinity_mg_l : of that water, as calcium carbonate [mg/l]
    """

    acids_g: Mapping[str, float] = field(default_factory=dict)
    salts_g: Mapping[str, float] = field(default_factory=dict)
    water_l: float = 0.0
    alkalinity_mg_l: Spread | float = TAP_ALKALINITY

    def alkalinity(self) -> Spread:
        """The alkalinity with its spread. [mg/l as CaCO3]"""
        given = self.alkalinity_mg_l
        return given if isinstance(given, Spread) else Spread.exactly(given)


def with_everything(
    added: Additions,
    volume_l: float,
    before: Mixture = Mixture(),  # noqa: B008 - frozen, so one for all calls
    before_l: float = 0.0,
    alkalinity_mg_l: float | None = None,
    carbonic_share: float = 0.0,
) -> Mixture:
    """The mixture that a batch is when everything has gone in.

    Parameters
    ----------
    added : Additions
        What went in after `before`. [g], [l]
    volume_l : float
        The finished batch, sugar and all. [l]
    before : Mixture
        What was there, juice perhaps. [mol/l]
    before_l : float
        How much of that. [l]
    alkalinity_mg_l : float | None
        Of the water, as calcium carbonate; the likely one where none is given. [mg/l]
    carbonic_share : float
        How much of the carbonic acid that the water's lime sets free stays in. [-]

    Returns
    -------
    Mixture
        The finished batch, in mol/l of it.

    Valid for 0.001 to 10000 l, alkalinity 0 to 1000 mg/l, shares 0 to 1; OutOfRange outside,
    WrongUse for an unknown acid or salt.

    >>> sour = Additions({"citric": 19.2123}, {"potassium sorbate": 1.50218})
    >>> with_everything(sour, volume_l=2.0).acids
    {'citric': 0.05, 'sorbic': 0.005}

    References: conservation of mass and charge; alkalinity as in ISO 9963-1:1994, Water quality,
    determination of alkalinity.
    """
    inside("volume", volume_l, 0.001, 10_000.0, "l")
    inside("water", added.water_l, 0.0, 10_000.0, "l")
    lime = added.alkalinity().likely if alkalinity_mg_l is None else alkalinity_mg_l
    inside("alkalinity", lime, 0.0, 1000.0, "mg/l")
    inside("share of carbonic acid", carbonic_share, 0.0, 1.0)
    bicarbonate = lime / CACO3_MG_PER_MMOL / 1000 * added.water_l / volume_l
    mixture = _thinned(before, before_l, volume_l)
    cations = mixture.cations + bicarbonate
    moles = {**mixture.acids}
    for name, grams in added.acids_g.items():
        _pour(moles, name, grams, acid_named(name).molar_mass, volume_l)
    for name, grams in added.salts_g.items():
        acid, molar_mass, ions = salt_named(name)
        cations += ions * _pour(moles, acid, grams, molar_mass, volume_l)
    if bicarbonate and carbonic_share:
        moles["carbonic"] = bicarbonate * carbonic_share
    return Mixture(moles, cations)


def _thinned(before: Mixture, before_l: float, volume_l: float) -> Mixture:
    """What was there, in the finished volume; boiling down leaves more of it in a litre."""
    inside("volume before", before_l, 0.0, 10_000.0, "l")
    share = before_l / volume_l
    return Mixture({n: c * share for n, c in before.acids.items()}, before.cations * share)


def _pour(
    moles: dict[str, float], acid: str, grams: float, molar_mass: float, volume_l: float
) -> float:
    inside(f"{acid} acid", grams, 0.0, 1e6, "g")
    more = grams / molar_mass / volume_l
    moles[acid] = moles.get(acid, 0.0) + more
    return more


def finished_ph(
    added: Additions,
    volume_l: float,
    before: Mixture = Mixture(),  # noqa: B008 - frozen, so one for all calls
    before_l: float = 0.0,
) -> Spread:
    """The pH to expect when everything is in, with its spread. No substitute for a reading.

    Parameters
    ----------
    added : Additions
        What goes in after `before`. [g], [l]
    volume_l : float
        The finished batch, sugar and all. [l]
    before : Mixture
        What was there, juice perhaps. [mol/l]
    before_l : float
        How much of that. [l]

    Returns
    -------
    Spread
        pH at 25 degC; the high end is the one to judge by. [-]

    Valid as `with_everything`, and for a pH up to 7; higher ones are given as they come and mean
    only that nothing sour is in.

    >>> plain = Additions({"citric": 1.0}, {"potassium sorbate": 0.4}, 0.55, 400.0)
    >>> finished_ph(plain, 1.0).likely > finished_ph(Additions({"citric": 1.0}), 1.0).likely
    True

    References: charge balance, Butler (1998), Ionic Equilibrium, Wiley; activity after Davies
    (1962); carbonic acid, pK 6.352 and 10.329, Plummer & Busenberg (1982), from memory.
    """
    lime = added.alkalinity()
    likely = ph_of(with_everything(added, volume_l, before, before_l, lime.likely, 0.5))
    low = ph_of(with_everything(added, volume_l, before, before_l, lime.low, 1.0))
    high = ph_of(with_everything(added, volume_l, before, before_l, lime.high, 0.0))
    return Spread(min(low, likely) - MODEL_PH, likely, max(high, likely) + MODEL_PH)


def ph_after(
    ph: float,
    acidity_g_l: Spread | float,
    before_l: float,
    added: Additions,
    volume_l: float,
    main_acid: str = "citric",
    ph_unsure: float = METER_PH,
) -> Spread:
    """The pH to expect from one that was read before more went in.

    Parameters
    ----------
    ph : float
        Read before. [-]
    acidity_g_l : Spread | float
        Titratable acidity then, as citric acid, with its spread if unsure. [g/l]
    before_l : float
        The batch then. [l]
    added : Additions
        What went in since. [g], [l]
    volume_l : float
        The batch afterwards. [l]
    main_acid : str
        The acid that stands for all that was there. [-]
    ph_unsure : float
        How far the reading may be off. [-]

    Returns
    -------
    Spread
        pH afterwards. [-]

    Valid for pH 1.5 to 5.2 and as `with_everything`; OutOfRange outside. Model doubt is counted
    only on the way from the reading, up to `MODEL_PH` for a whole unit moved.

    >>> ph_after(3.0, 10.0, 1.0, Additions(water_l=1.0, alkalinity_mg_l=300.0), 2.0)
    Spread(low=3.1, likely=3.2, high=3.3)

    References: as `finished_ph`.
    """
    inside("unsureness of the pH", ph_unsure, 0.0, 1.0)
    acidity = acidity_g_l if isinstance(acidity_g_l, Spread) else Spread.exactly(acidity_g_l)
    lime, most = added.alkalinity(), cations_within(acidity_g_l)

    def then(at: float, acid_g_l: float, lime_mg_l: float, carbonic: float) -> float:
        was = nearest(at, acid_g_l, main_acid, most)
        return ph_of(with_everything(added, volume_l, was, before_l, lime_mg_l, carbonic))

    likely = then(ph, acidity.likely, lime.likely, 0.5)
    ends = [
        then(at, acid_g_l, lime_mg_l, carbonic)
        for at in {ph - ph_unsure, ph + ph_unsure}
        for acid_g_l in {acidity.low, acidity.high}
        for lime_mg_l, carbonic in ((lime.low, 1.0), (lime.high, 0.0))
    ]
    doubt = MODEL_PH * min(1.0, abs(likely - ph))
    return Spread(min(*ends, likely) - doubt, likely, max(*ends, likely) + doubt)


def salt_named(name: str) -> tuple[str, float, int]:
    """A salt of a weak acid by its name.

    Parameters
    ----------
    name : str
        One of the names of `SALTS`. [-]

    Returns
    -------
    tuple[str, float, int]
        Its acid [-], molar mass [g/mol] and strong ions [mol/mol].

    WrongUse, with the known names, for another.

    >>> salt_named("trisodium citrate")
    ('citric', 294.099, 3)

    References: molar masses from standard atomic weights.
    """
    found = SALTS.get(name)
    if found is None:
        raise WrongUse(f"no salt {name!r}: use one of {', '.join(SALTS)}")
    return found
