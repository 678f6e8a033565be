"""Amounts in another unit."""

from datetime import UTC, datetime

import pytest

from assistant.cook.converting import converted
from assistant.facts.events import Ask


def _ask(**fields: object) -> Ask:
    at = datetime(2026, 7, 11, tzinfo=UTC)
    return Ask.model_validate({"at": at, "topic": "convert", **fields})


@pytest.mark.parametrize(
    ("fields", "there"),
    [
        ({"value": 1, "unit": "lb", "to": "g"}, 454.0),  # avoirdupois, 453.59237 g by definition
        ({"value": 212, "unit": "degF", "to": "degC"}, 100.0),  # water boils, by definition
        ({"value": 2, "unit": "cup", "to": "ml"}, 480.0),  # NIST, 240 ml a cup
    ],
)
def test_within_a_kind_it_is_exact_to_three_figures(
    fields: dict[str, object], there: float
) -> None:
    (line,) = converted(_ask(**fields))
    assert line.facts["there"].value == there  # type: ignore[union-attr]


def test_between_kinds_it_takes_the_thing_s_weight() -> None:
    # 200 g of sugar a cup (USDA SR26)
    (line,) = converted(_ask(value=1, unit="cup", to="g", about="sugar"))
    assert line.facts["there"].value == pytest.approx(200)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("fields", "line"),
    [
        ({"value": 1, "unit": "cup"}, "convert_how"),
        ({"value": 1, "unit": "cup", "to": "g", "about": "stones"}, "cannot_convert"),
        ({"value": 1e9, "unit": "kg", "to": "g"}, "beyond_a_kitchen"),
    ],
)
def test_what_can_not_be_converted_is_told(fields: dict[str, object], line: str) -> None:
    assert [each.id for each in converted(_ask(**fields))] == [line]
