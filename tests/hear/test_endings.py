"""How long to wait, by the last words."""

import pytest

from assistant.hear.endings import OPEN_PAUSE, ROUND_PAUSE, pause_after

USUAL = 0.7


@pytest.mark.parametrize(
    "text",
    ["Six hundred and", "one point", "Minus", "Temperature is", "Six hundred...", "two kilos of",
     "p h", "PH", "three point two and a"],
)  # fmt: skip
def test_an_open_end_waits_long(text: str) -> None:
    assert pause_after(text, USUAL) == OPEN_PAUSE


@pytest.mark.parametrize(
    "text", ["Six hundred.", "600", "1,200.", "two thousand", "12,000.", "1200"]
)
def test_a_round_number_waits_longer(text: str) -> None:
    assert pause_after(text, USUAL) == ROUND_PAUSE


@pytest.mark.parametrize(
    "text",
    ["", "72.", "Seventy-two degrees.", "600 grams", "100.5", "It's in.", "Done!", "610", "00",
     "How much does it make?", "what for"],
)  # fmt: skip
def test_anything_else_waits_as_usual(text: str) -> None:
    assert pause_after(text, USUAL) == USUAL


def test_never_shorter_than_usual() -> None:
    assert pause_after("600 and", 2.0) == pause_after("600", 2.0) == 2.0
