"""How much sugar inverts."""

from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.inversion import inversion_rate, inverted_share


def test_warmth_by_the_published_activation_energy() -> None:
    """Tombari et al. (2007): 109.2 kJ/mol, so 37 degC is 5.5 times as fast as 25."""
    ratio = inversion_rate(3.0, 37).likely / inversion_rate(3.0, 25).likely
    assert log(ratio) == pytest.approx(109_200 / 8.314463 * (1 / 298.15 - 1 / 310.15))


@pytest.mark.parametrize(("minutes", "share"), [(20, 0.67), (40, 0.96)])
def test_syrup_boiled_with_tartaric_acid(minutes: float, share: float) -> None:
    """J. Ind. Eng. Chem. (1922), abstract; pH 3.0 by charge balance, boiling taken as 108 degC."""
    assert inverted_share(3.02, 108, minutes / 1440).about(share)


@given(st.floats(2, 5), st.floats(0, 60), st.floats(0, 300), st.floats(0, 1))
def test_a_share_stays_a_share_and_grows(ph: float, temp_c: float, days: float, was: float) -> None:
    found = inverted_share(ph, temp_c, days, was)
    assert was - 1e-12 <= found.low <= found.likely <= found.high <= 1
    assert inverted_share(ph, temp_c, days + 1, was).likely >= found.likely
    assert inverted_share(ph - 0.3, temp_c, days, was).likely >= found.likely


@pytest.mark.parametrize(
    "arguments", [(1.4, 20, 1), (6.1, 20, 1), (3, 131, 1), (3, 20, -1), (3, 20, 1, 1.1)]
)
def test_outside_is_refused(arguments) -> None:
    with pytest.raises(OutOfRange):
        inverted_share(*arguments)
