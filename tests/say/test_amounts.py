"""Amounts by ear and by eye."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from number_reader import read_amount

from assistant.base.errors import OutOfRange
from assistant.base.units import UNITS, dimension, to_base
from assistant.cook.reply import Quantity
from assistant.say.amounts import by_ear, by_eye

TOLD = [
    (1340, "g", "one point three four kilos", "1.34 kg"),
    (1, "kg", "one kilo", "1 kg"),
    (997.6, "g", "one kilo", "1 kg"),
    (994.9, "g", "nine hundred and ninety-five grams", "995 g"),
    (1234, "g", "one point two three kilos", "1.23 kg"),
    (342, "g", "three hundred and forty grams", "340 g"),
    (199.6, "g", "two hundred grams", "200 g"),
    (23.4, "g", "twenty-three grams", "23 g"),
    (7.26, "g", "seven point three grams", "7.3 g"),
    (1, "g", "one gram", "1 g"),
    (0.03, "g", "thirty milligrams", "30 mg"),
    (0.0004, "g", "zero point four milligrams", "0.4 mg"),
    (0, "g", "zero grams", "0 g"),
    (1.5, "l", "one and a half litres", "1.5 l"),
    (500, "ml", "half a litre", "500 ml"),
    (50, "cl", "half a litre", "500 ml"),
    (330, "ml", "three hundred and thirty millilitres", "330 ml"),
    (3.25, "lb", "three pounds four ounces", "3 lb 4 oz"),
    (3, "lb", "three pounds", "3 lb"),
    (0.5, "lb", "eight ounces", "8 oz"),
    (15.96, "oz", "one pound", "1 lb"),
    (0.5, "tsp", "half a teaspoon", "½ tsp"),
    (0.26, "tsp", "a quarter of a teaspoon", "¼ tsp"),
    (1.7, "tbsp", "one and three quarters tablespoons", "1¾ tbsp"),
    (2.1, "cup", "two cups", "2 cups"),
    (63.1, "degC", "sixty-three degrees", "63 °C"),
    (71.6, "degC", "seventy-one point five degrees", "71.5 °C"),
    (1, "degC", "one degree", "1 °C"),
    (-18, "degC", "minus eighteen degrees", "−18 °C"),
    (-0.01, "degC", "zero degrees", "0 °C"),
    (161.6, "degF", "one hundred and sixty-two degrees Fahrenheit", "162 °F"),
    (3.18, "pH", "p h three point one eight", "pH 3.18"),
    (3.2, "pH", "p h three point two", "pH 3.2"),
    (61, "Brix", "sixty-one Brix", "61 °Bx"),
    (15, "s", "fifteen seconds", "15 s"),
    (1200, "s", "twenty minutes", "20 min"),
    (65, "min", "one hour five minutes", "1 h 5 min"),
    (1.5, "h", "one hour thirty minutes", "1 h 30 min"),
    (599, "s", "ten minutes", "10 min"),
    (90, "s", "one minute thirty seconds", "1 min 30 s"),
    (21, "day", "three weeks", "21 days"),
    (1, "day", "one day", "1 day"),
    (10, "day", "ten days", "10 days"),
    (365, "day", "one year", "365 days"),
    (0.66, "g/l", "zero point six six grams a litre", "0.66 g/l"),
    (4, "count", "four", "4"),
]


@pytest.mark.parametrize(("value", "unit", "ear", "eye"), TOLD)
def test_told_as_a_person_would(value: float, unit: Any, ear: str, eye: str) -> None:
    quantity = Quantity(value=value, unit=unit)
    assert (by_ear(quantity), by_eye(quantity)) == (ear, eye)


@pytest.mark.parametrize(
    ("value", "unit", "ear", "eye"),
    [
        (1097.3, "g", "one thousand and ninety-seven point three grams", "1097.3 g"),
        (1.1, "kg", "one point one kilos", "1.1 kg"),
        (71.9, "degC", "seventy-one point nine degrees", "71.9 °C"),
        (4.204, "pH", "p h four point two zero four", "pH 4.204"),
        (14.6, "s", "fourteen point six seconds", "14.6 s"),
        (3.25, "lb", "three pounds four ounces", "3 lb 4 oz"),
        (3.3, "lb", "three point three pounds", "3.3 lb"),
        (500, "ml", "five hundred millilitres", "500 ml"),
        (0.1 + 0.2, "kg", "zero point three kilos", "0.3 kg"),
        (21, "day", "twenty-one days", "21 days"),
    ],
)
def test_a_reading_is_read_back_with_its_digits(
    value: float, unit: Any, ear: str, eye: str
) -> None:
    quantity = Quantity(value=value, unit=unit, exact=True)
    assert (by_ear(quantity), by_eye(quantity)) == (ear, eye)


@pytest.mark.parametrize(
    ("quantity", "ear", "eye"),
    [
        (
            Quantity(value=61.2, unit="Brix", low=58, high=64),
            "about sixty-one Brix, fifty-eight to sixty-four",
            "61 °Bx (58–64)",
        ),
        (
            Quantity(value=1100, unit="g", low=950, high=1200),
            "about one point one kilos, nine hundred and fifty grams to one point two kilos",
            "1.1 kg (950 g–1.2 kg)",
        ),
        (
            Quantity(value=3.2, unit="pH", low=3.1, high=3.4),
            "about p h three point two, three point one to three point four",
            "pH 3.2 (3.1–3.4)",
        ),
        (
            Quantity(value=600, unit="g", high=651),
            "about six hundred grams, up to six hundred and fifty-five",
            "600 g (up to 655)",
        ),
        (
            Quantity(value=600, unit="g", low=549),
            "about six hundred grams, five hundred and forty-five or more",
            "600 g (545 or more)",
        ),
        (Quantity(value=600, unit="g", low=599.2, high=601), "six hundred grams", "600 g"),
    ],
)
def test_a_spread_is_told_outwards_unless_finer_than_the_amount(
    quantity: Quantity, ear: str, eye: str
) -> None:
    assert (by_ear(quantity), by_eye(quantity)) == (ear, eye)


def test_bare_leaves_the_ph_out() -> None:
    quantity = Quantity(value=3.18, unit="pH")
    assert by_ear(quantity, bare=True) == "three point one eight"
    assert by_eye(quantity, bare=True) == "3.18"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 1.1e9])
def test_what_is_no_amount_is_refused(value: float) -> None:
    for exact in (True, False):
        with pytest.raises(OutOfRange, match="amount to be said"):
            by_ear(Quantity(value=value, unit="g", exact=exact))
        with pytest.raises(OutOfRange):
            by_eye(Quantity(value=value, unit="g", exact=exact))


amounts = st.floats(-1e6, 1e6) | st.floats(-200, 200) | st.floats(0, 5)


@given(amounts, st.sampled_from(UNITS), st.booleans())
def test_never_nan_never_minus_zero(value: float, unit: Any, exact: bool) -> None:
    quantity = Quantity(value=value, unit=unit, exact=exact)
    ear, eye = by_ear(quantity), by_eye(quantity)
    assert "nan" not in eye
    assert not eye.startswith(("−0 ", "-"))
    assert eye != "−0"
    assert not ear.startswith("minus zero ") or " point " in ear


@given(st.floats(-1e5, 1e6) | st.floats(-200, 200), st.sampled_from(UNITS))
def test_exact_words_read_back_as_the_value(value: float, unit: Any) -> None:
    value = float(f"{value:.6g}")
    spoken = read_amount(by_ear(Quantity(value=value, unit=unit, exact=True)))
    expected = value if dimension(unit) == "temperature" else to_base(value, unit)
    assert float(spoken) == pytest.approx(expected, rel=1e-9, abs=1e-12)


_SCALES = ((995, 5), (199.5, 2.5), (19.9, 0.5), (0, 0.05))
_POUNDS = ((450, 0.25 * 28.35), (0, 0.05 * 28.35))
_ALLOWED: dict[str, tuple[tuple[float, float], ...]] = {
    **dict.fromkeys(("g", "kg", "mg", "ml", "cl", "l"), _SCALES),
    **dict.fromkeys(("lb", "oz"), _POUNDS),
    **dict.fromkeys(("s", "min", "h"), ((259200, 86400), (600, 60), (59, 5), (0, 1))),
    "day": ((86400, 86400), (600, 60), (59, 5), (0, 1)),
    "tsp": ((4.6, 0.625), (0, 0.3125)),
    "tbsp": ((14, 1.875), (0, 0.9375)),
    "cup": ((224, 30), (0, 15)),
    "fl_oz": ((0, 1.4787),),
    "pint": ((0, 23.66),),
    "degC": ((0, 0.25),),
    "degF": ((0, 0.5),),
    "g/l": ((9.9, 0.05), (0, 0.005)),
    "g/kg": ((9.9, 0.05), (0, 0.005)),
    "ppm": ((0, 0.0005),),
    "%": ((0, 0.05),),
    "pH": ((0, 0.01),),
    "Brix": ((0, 0.05),),
    "count": ((0, 0.5),),
}
"""How far the words may be from the amount: (from this size up, this much), in the base unit."""


@given(st.floats(0, 1e5) | st.floats(0, 200) | st.floats(0, 2), st.sampled_from(UNITS))
def test_words_stay_within_half_a_step(value: float, unit: Any) -> None:
    spoken = float(read_amount(by_ear(Quantity(value=value, unit=unit))))
    expected = value if dimension(unit) == "temperature" else to_base(value, unit)
    allowed = next(far for size, far in _ALLOWED[unit] if expected >= size)
    assert abs(spoken - expected) <= allowed * (1 + 1e-6) + 1e-6 * expected


@given(st.floats(0, 14), st.floats(0, 10**6), st.floats(1, 3000))
def test_ph_and_waiting_go_up_and_keeping_goes_down(ph: float, wait: float, days: float) -> None:
    assert float(read_amount(by_ear(Quantity(value=ph, unit="pH")))) >= ph - 1e-7
    assert float(read_amount(by_ear(Quantity(value=wait, unit="s")))) >= wait * (1 - 1e-8)
    kept = float(read_amount(by_ear(Quantity(value=days, unit="day"))))
    assert kept <= days * 86400 * (1 + 1e-8)


@given(st.floats(0, 5000), st.floats(0, 500), st.floats(0, 500), st.sampled_from(["g", "ml"]))
def test_a_spread_that_is_told_holds_the_one_given(
    value: float, below: float, above: float, unit: Any
) -> None:
    low, high = max(value - below, 0), value + above
    words = by_ear(Quantity(value=value, unit=unit, low=low, high=high))
    if "," not in words:
        return
    middle, ends = words.removeprefix("about ").split(", ")
    told = [end if _has_unit(end) else f"{end} {_unit_of(middle)}" for end in ends.split(" to ")]
    assert float(read_amount(told[0])) <= low * (1 + 1e-8)
    assert float(read_amount(told[1])) >= high * (1 - 1e-8)


def _has_unit(words: str) -> bool:
    return words.endswith(("s", "gram", "kilo", "litre")) and not words.endswith("plus")


def _unit_of(words: str) -> str:
    return "millilitres" if words == "half a litre" else words.rsplit(" ", 1)[-1]
