"""Units for the eye that somebody has chosen."""

import pytest

from assistant.base.units import Unit
from assistant.cook.reply import Line, Quantity
from assistant.say import by_eye as line_by_eye
from assistant.say.amounts import by_ear, by_eye
from assistant.say.chosen import Chosen, shown_in

US = Chosen(heat="degF", measure="us")


@pytest.mark.parametrize(
    ("value", "unit", "exact", "words"),
    [
        (75, "degC", True, "167 °F"),  # NIST SP 811, appendix B.9: 1.8 t + 32
        (82, "degC", True, "180 °F"),  # 179.6
        (600, "g", False, "1 lb 5 oz"),  # NIST Handbook 44, appendix C: 28.349523125 g
        (2.4, "kg", True, "5 lb 4.5 oz"),  # 84.66 oz
        (20, "g", False, "20 g"),
        (3, "lb", True, "3 lb"),
        (960, "ml", False, "4 cups"),  # NIST, Cooking Measurement Equivalencies: 240 ml
        (30, "ml", False, "2 tbsp"),
        (500, "ml", True, "16.9 fl oz"),  # NIST Handbook 44, appendix C: 29.5735 ml
        (3.2, "pH", True, "pH 3.2"),
        (62, "Brix", True, "62 °Bx"),
        (90, "s", False, "1 min 30 s"),
    ],
)
def test_amounts_come_in_the_units_of_an_american_kitchen(
    value: float, unit: Unit, exact: bool, words: str
) -> None:
    quantity = Quantity(value=value, unit=unit, exact=exact)
    as_said, aloud = by_eye(quantity), by_ear(quantity)
    with shown_in(US):
        assert by_eye(quantity) == words
        assert by_ear(quantity) == aloud
    assert by_eye(quantity) == as_said


def test_a_difference_is_no_temperature() -> None:
    target = Quantity(value=75, unit="degC", exact=True)
    facts = {"left": 5, "target": target}
    line = Line(id="x", rank="detail", text="{left} {left|degree|degrees} to {target}", facts=facts)
    assert line_by_eye(line) == "5 degrees to 75 °C."
    with shown_in(Chosen(heat="degF")):
        assert line_by_eye(line) == "9 degrees to 167 °F."
