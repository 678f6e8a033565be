"""Mass balance of sugar: whatever is stirred in must be there afterwards."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc import sugar

MASS = st.floats(1, 1e5)
BRIX = st.floats(0, 99)


@given(MASS, BRIX, BRIX)
def test_sugar_to_a_target_reaches_it(mass_g, brix, target):
    assume(target >= brix)
    added = sugar.sugar_for_brix(mass_g, brix, target)
    assert sugar.brix_of([(mass_g, brix), (added, 100)]) == pytest.approx(target)


@given(MASS, st.floats(1, 99), st.floats(1, 99))
def test_water_to_a_target_reaches_it(mass_g, brix, target):
    assume(target <= brix)
    added = sugar.water_for_brix(mass_g, brix, target)
    assert sugar.brix_of([(mass_g, brix), (added, 0)]) == pytest.approx(target)


@given(MASS, st.floats(1, 99), st.floats(1, 99))
def test_boiling_off_to_a_target_reaches_it(mass_g, brix, target):
    assume(target >= brix)
    lost = sugar.water_to_boil_off(mass_g, brix, target)
    assert mass_g * brix == pytest.approx((mass_g - lost) * target)


@given(MASS, BRIX, BRIX, st.floats(0, 0.99))
def test_a_blend_reaches_its_target(mass_a, brix_a, brix_b, way):
    assume(abs(brix_a - brix_b) > 0.01)
    target = brix_a + way * (brix_b - brix_a)
    mass_b = sugar.blend(mass_a, brix_a, brix_b, target)
    assert sugar.brix_of([(mass_a, brix_a), (mass_b, brix_b)]) == pytest.approx(target, abs=1e-6)


@given(st.lists(st.tuples(MASS, st.floats(0, 100)), min_size=1, max_size=6))
def test_a_mixture_lies_between_its_parts(parts):
    brix = [b for _, b in parts]
    assert min(brix) - 1e-9 <= sugar.brix_of(parts) <= max(brix) + 1e-9


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (sugar.sugar_for_brix, (1000, 62, 61)),
        (sugar.sugar_for_brix, (1000, 10, 100)),
        (sugar.sugar_for_brix, (-1, 10, 20)),
        (sugar.sugar_for_brix, (1000, float("nan"), 61)),
        (sugar.water_for_brix, (1000, 60, 61)),
        (sugar.water_for_brix, (1000, 60, 0)),
        (sugar.water_to_boil_off, (1000, 60, 59)),
        (sugar.blend, (1000, 40, 70, 71)),
        (sugar.blend, (1000, 40, 70, 39)),
        (sugar.blend, (1000, 40, 70, 70)),
        (sugar.brix_of, ([],)),
        (sugar.brix_of, ([(0, 10)],)),
        (sugar.brix_of, ([(10, 101)],)),
        (sugar.brix_of, ([(-1, 10), (5, 10)],)),
    ],
)
def test_what_cannot_be_is_refused(function, arguments):
    with pytest.raises(OutOfRange):
        function(*arguments)


def test_nothing_to_do_is_nothing():
    assert sugar.sugar_for_brix(1000, 61, 61) == 0
    assert sugar.water_for_brix(1000, 61, 61) == 0
    assert sugar.blend(1000, 40, 70, 40) == 0
    assert sugar.water_to_boil_off(1000, 20, 20) == 0


def test_the_public_face_is_complete():
    assert all(hasattr(sugar, name) for name in sugar.__all__)
