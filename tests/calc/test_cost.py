import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.cost import HOB_SHARE, batch_cost, cost_of, heating_kwh

prices = st.dictionaries(
    st.sampled_from(["fruit", "sugar", "acid", "bottles", "energy"]), st.floats(0.0, 100.0)
)


def test_part_of_a_pack():
    assert cost_of(675, 1000, 6.40) == pytest.approx(4.32)


def test_heating_by_hand():
    # 2000 g x 3.9 J/(g K) x 55 K = 429 kJ = 0.1192 kWh into the pan
    assert heating_kwh(2000, 3.9, 20, 75, "gas") == pytest.approx(0.1192 / 0.40, abs=1e-3)


def test_gas_wastes_most():
    used = {hob: heating_kwh(1000, 4.0, 20, 80, hob) for hob in HOB_SHARE}
    assert used["gas"] > used["electric"] > used["induction"] > 0


@given(prices, st.integers(1, 50))
def test_lines_add_up(lines, bottles):
    cost = batch_cost(lines, bottles)
    assert cost.total == pytest.approx(sum(lines.values()))
    assert cost.per_bottle * bottles == pytest.approx(cost.total)
    assert list(cost.lines.values()) == sorted(lines.values(), reverse=True)


def test_a_glass():
    assert batch_cost({"fruit": 9.0}, 6).per_glass(15) == pytest.approx(0.1)


@pytest.mark.parametrize(
    "call",
    [
        lambda: cost_of(-1, 1000, 1),
        lambda: cost_of(1, 0, 1),
        lambda: cost_of(1, 1000, -1),
        lambda: heating_kwh(1000, 4.0, 80, 20, "gas"),
        lambda: heating_kwh(1000, 4.0, 20, 101, "gas"),
        lambda: heating_kwh(-1, 4.0, 20, 80, "gas"),
        lambda: batch_cost({"fruit": -1.0}, 6),
        lambda: batch_cost({"fruit": 1.0}, 0),
        lambda: batch_cost({"fruit": 1.0}, 6).per_glass(0),
    ],
)
def test_outside_is_refused(call):
    with pytest.raises(OutOfRange):
        call()
