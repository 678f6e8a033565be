"""Alcohol and water: density, strength, and what mixing takes away."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.alcohol import alcohol_density, mass_share_of, spirit_mixed


@pytest.mark.parametrize(
    ("share", "published"),
    [  # NBS Circular 19, as in the CRC Handbook, 20 degC, g/ml; from memory
        (0.1, 0.98187),
        (0.3, 0.95382),
        (0.5, 0.91384),
        (0.8, 0.84344),
    ],
)
def test_density(share: float, published: float) -> None:
    assert alcohol_density(share) == pytest.approx(published, abs=0.0003)


def test_forty_per_cent_spirit() -> None:
    """OIML R 22 (1973): 40 % vol has 948.05 kg/m3; from memory."""
    assert alcohol_density(mass_share_of(40.0)) == pytest.approx(0.94805, abs=0.00002)


def test_strong_spirit_and_water_shrink() -> None:
    """Half a litre of each shrinks by 3 to 4 %: common knowledge, 96.5 from 50 and 50 of pure."""
    mix = spirit_mixed(500, 0, 500, 97)
    assert 28 < mix.shrunk_ml < 38
    assert mix.abv.likely > 48.5


@given(st.floats(0, 85), st.floats(1, 3000), st.floats(1, 97))
def test_alcohol_is_kept(brix: float, spirit_ml: float, abv: float) -> None:
    mix = spirit_mixed(1000, brix, spirit_ml, abv)
    assert mix.abv.likely * mix.volume_ml.likely / 100 == pytest.approx(spirit_ml * abv / 100)
    assert mix.shrunk_ml >= -0.002 * mix.volume_ml.likely  # weak spirit in water swells a hair
    assert mix.abv.likely >= spirit_ml * abv / (1000 + spirit_ml) - 0.1


def test_nothing_poured_changes_nothing() -> None:
    mix = spirit_mixed(1000, 60, 0, 40)
    assert mix.volume_ml.likely == pytest.approx(1000)
    assert mix.abv.likely == 0


def test_delle_units() -> None:
    """Amerine & Kunkee (1965): per cent of sugar plus 4.5 times per cent of alcohol by volume."""
    mix = spirit_mixed(1000, 20, 300, 40)
    assert mix.delle == pytest.approx(mix.sugar_g_l / 10 + 4.5 * mix.abv.likely)


@pytest.mark.parametrize(
    "arguments", [(0.5, 60, 10, 40), (1000, 86, 10, 40), (1000, 60, -1, 40), (1000, 60, 10, 98)]
)
def test_outside_is_refused(arguments) -> None:
    with pytest.raises(OutOfRange):
        spirit_mixed(*arguments)
