"""What a maker may wish for."""

import pytest

from assistant.base.errors import OutOfRange
from assistant.planning import Wish


@pytest.mark.parametrize(
    ("kind", "amount"),
    [
        ("bottles", 0),
        ("bottles", -3),
        ("bottles", float("nan")),
        ("litres", 0),
        ("litres", float("inf")),
        ("guests", -1),
        ("fruit", 0),
        ("fruit", 51),
    ],
)
def test_wishes_that_cannot_be(kind: str, amount: float) -> None:
    with pytest.raises(OutOfRange):
        Wish(kind, amount)  # type: ignore[arg-type]


@pytest.mark.parametrize("size", [0, -500, float("nan"), 20_000])
def test_bottles_that_cannot_be(size: float) -> None:
    with pytest.raises(OutOfRange):
        Wish("bottles", 6, bottle_ml=size)


def test_what_is_wished_for_is_so_much_syrup() -> None:
    assert Wish("bottles", 12, bottle_ml=330).syrup_ml(60) == 3960
    assert Wish("litres", 2).syrup_ml(60) == 2000
    assert Wish("fruit", 2).syrup_ml(60) is None


def test_a_syrup_no_sweeter_than_the_drink_is_not_thinned() -> None:
    guests = Wish("guests", 10, glasses=1, glass_ml=200, drink_brix=10)
    assert guests.glass(9) is None
    assert guests.syrup_ml(9) == 2000
