"""The README tells every bound there is, with what it is a bound of."""

from pathlib import Path

import pytest

from assistant.limits import Limit, all_limits

README = Path(__file__).parents[2].joinpath("README.md").read_text("utf-8")
TABLE = README.partition("## What stops a batch")[2].partition("\n## ")[0]
WORDS = {"ph": "pH", "temperature": "°C", "sulphite": "sulphite"}


@pytest.mark.parametrize("limit", all_limits(), ids=lambda limit: limit.id)
def test_each_bound_is_told(limit: Limit) -> None:
    digits = (
        f"{limit.bound:.4f}" if limit.unit == "g/l" else f"{limit.bound:.1f}".removesuffix(".0")
    )
    bound = "4.0" if limit.id == "ph-makers" else digits
    word = WORDS.get(limit.quantity, limit.quantity)
    rows = [row for row in TABLE.splitlines() if bound in row and word in row]
    assert rows, (bound, word)
    stops = limit.effect == "stop"
    assert all(("stop" in row) >= stops for row in rows)
