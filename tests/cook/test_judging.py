"""Lines that judge a reading."""

from datetime import UTC, datetime

import pytest

from assistant.cook.judging import limit_line, read_back, whose_measure
from assistant.facts.events import Reading
from assistant.limits import all_limits
from assistant.say import by_eye

AT = datetime(2026, 7, 11, tzinfo=UTC)


def _reading(what: str, value: float, unit: str) -> Reading:
    return Reading.model_validate({"at": AT, "what": what, "value": value, "unit": unit})


def test_a_reading_is_read_back_in_the_unit_that_was_said() -> None:
    assert by_eye(read_back(_reading("fruit", 5.5, "lb"))) == "5 lb 8 oz."


@pytest.mark.parametrize(("unit", "said"), [("cup", 1), ("pint", 1), ("fl_oz", 1), ("ml", 0)])
def test_measures_that_differ_by_country_say_whose_they_are(unit: str, said: int) -> None:
    assert len(whose_measure(_reading("juice", 2, unit))) == said


@pytest.mark.parametrize("limit", all_limits(), ids=lambda limit: limit.id)
def test_every_limit_speaks_with_its_bound_and_the_reading(limit: object) -> None:
    assert hasattr(limit, "quantity")
    line = limit_line(limit, _reading(limit.quantity, 97, limit.unit))  # type: ignore[arg-type]
    words = by_eye(line)
    assert "97" in words
    assert line.rank == ("limit" if limit.effect == "stop" else "caution")  # type: ignore[attr-defined]
