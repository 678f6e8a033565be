import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.heat import (
    STEEL_CP,
    Part,
    after_sugar,
    cp_component,
    cp_fruit,
    cp_sugar,
    cp_syrup,
    mixing_temperature,
    pour_temperature,
)

parts_in_pan = st.lists(
    st.builds(Part, st.floats(1.0, 5000.0), st.floats(0.4, 4.3), st.floats(0.0, 100.0)),
    min_size=1,
    max_size=6,
)


@pytest.mark.parametrize(
    ("component", "temp_c", "expected"),
    [
        # Choi & Okos (1986), in ASHRAE Handbook, Refrigeration: the polynomials put in figures
        ("protein", 50, 2.0654),
        ("fat", 50, 2.0459),
        ("ash", 50, 1.1779),
        ("carbohydrate", 0, 1.5488),
    ],
)
def test_choi_okos(component, temp_c, expected):
    assert cp_component(component, temp_c) == pytest.approx(expected, abs=1e-4)


def test_water_rises_with_temperature_when_hot():
    # printed copies with the two signs of water swapped fall instead: a misprint
    assert cp_component("water", 90) > cp_component("water", 40)


@pytest.mark.parametrize(
    ("brix", "temp_c", "expected"),
    [
        # technical sucrose solution formula, 4184 - 2971 B + 460 B P + 7.5 B T, put in figures
        (0, 20, 4.184),
        (50, 20, 3.0035),
        (60, 70, 2.9924),
    ],
)
def test_syrup(brix, temp_c, expected):
    assert cp_syrup(brix, temp_c) == pytest.approx(expected, abs=1e-4)


@given(st.floats(0.0, 84.0), st.floats(0.0, 100.0), st.floats(0.01, 1.0))
def test_more_sugar_needs_less_heat(brix, temp_c, more):
    assert cp_syrup(brix + more, temp_c) < cp_syrup(brix, temp_c)


def test_fruit_lies_between_water_and_dry():
    assert cp_component("carbohydrate", 20) < cp_fruit(0.85) < cp_component("water", 20)


def strawberry_mash(water_c):
    return [
        Part(675, cp_fruit(0.9095, 5), 5),
        Part(200, cp_sugar(20), 20),
        Part(500, cp_component("water", water_c), water_c),
    ]


@pytest.mark.parametrize("water_c", [75, 80, 85])
def test_preheated_water_on_cold_fruit_is_only_lukewarm(water_c):
    # common practice, no source: 500 ml of preheated water on 675 g crushed fridge-cold
    # strawberries with 200 g sugar gives only about 35 to 40 C
    assert 34 <= mixing_temperature(strawberry_mash(water_c)) <= 40


def test_the_pan_takes_its_share():
    cold_pan = Part(1500, STEEL_CP, 20)
    with_pan = mixing_temperature([*strawberry_mash(80), cold_pan])
    assert with_pan < mixing_temperature(strawberry_mash(80)) - 1


def test_a_warm_bottle_cools_syrup_less():
    glass_cp = 0.84  # J/(g K), from memory
    syrup = Part(600, cp_syrup(60, 75), 75)
    cold, warm = (mixing_temperature([syrup, Part(400, glass_cp, c)]) for c in (20, 60))
    assert cold < warm < 75


@given(parts_in_pan)
def test_mixture_lies_between_its_parts(parts):
    mixed = mixing_temperature(parts)
    temps = [p.temp_c for p in parts]
    assert min(temps) - 1e-9 <= mixed <= max(temps) + 1e-9


@given(parts_in_pan)
def test_order_does_not_matter(parts):
    assert mixing_temperature(parts) == pytest.approx(mixing_temperature(parts[::-1]))


@given(parts_in_pan)
def test_heat_is_kept(parts):
    mixed = mixing_temperature(parts)
    gained = sum(p.mass_g * p.cp * (mixed - p.temp_c) for p in parts)
    scale = sum(p.mass_g * p.cp for p in parts) * 100
    assert abs(gained) < 1e-9 * scale + 1e-6


@given(parts_in_pan, st.floats(100.0, 3000.0), st.floats(5.0, 95.0))
def test_pour_temperature_gives_the_mixture_back(parts, mass_g, target_c):
    try:
        needed = pour_temperature(parts, mass_g, 4.18, target_c)
    except OutOfRange:
        return
    poured = Part(mass_g, 4.18, needed)
    assert mixing_temperature([*parts, poured]) == pytest.approx(target_c, abs=1e-6)


def test_pouring_cannot_do_everything():
    with pytest.raises(OutOfRange):
        pour_temperature(strawberry_mash(80), 100, 4.18, target_c=75)


def test_sugar_cools_by_its_own_heat_and_by_dissolving():
    # by hand: cp_syrup(0, 80) = 4.184, cp_sugar(20) = 1.2217, heat of solution 15.78 J/g
    by_hand = (1000 * 4.184 * 80 + 500 * 1.2217 * 20 - 15.78 * 500) / (4184 + 500 * 1.2217)
    assert after_sugar(1000, 0, 80, 500) == pytest.approx(by_hand, abs=0.01)


@given(st.floats(0.0, 60.0), st.floats(40.0, 95.0), st.floats(1.0, 2000.0))
def test_cold_sugar_always_cools(brix, temp_c, sugar_g):
    assert after_sugar(1000, brix, temp_c, sugar_g) < temp_c


@pytest.mark.parametrize(
    "call",
    [
        lambda: cp_syrup(-0.1),
        lambda: cp_syrup(85.1),
        lambda: cp_syrup(60, 100.1),
        lambda: cp_syrup(60, 20, 1.1),
        lambda: cp_fruit(0.49),
        lambda: cp_fruit(1.01),
        lambda: cp_sugar(-1),
        lambda: cp_component("water", math.nan),
        lambda: mixing_temperature([]),
        lambda: mixing_temperature([Part(-1, 4, 20)]),
        lambda: mixing_temperature([Part(1, 4, 101)]),
        lambda: mixing_temperature([Part(1, 4, 20)], dissolved_sugar_g=2),
        lambda: after_sugar(1000, 10, 80, -1),
        lambda: pour_temperature([], 0, 4.2, 50),
    ],
)
def test_outside_is_refused(call):
    with pytest.raises(OutOfRange):
        call()
