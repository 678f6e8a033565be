"""One kind of reading, without a batch around it."""

import pytest

from assistant.base.errors import WrongUse
from assistant.cook.awaiting import AWAITABLE, asked_for
from assistant.facts.stuff import RANGES


@pytest.mark.parametrize("what", AWAITABLE)
def test_what_is_asked_for_comes_first_and_once(what: str) -> None:
    names = [a.what for a in asked_for(what).awaited]
    assert len(names) == len(set(names))
    if what in RANGES:
        assert names[0] == what


def test_yes_and_no_count_only_where_they_are_asked_for() -> None:
    assert asked_for("yes_no").yes_no
    assert not asked_for("fruit").yes_no


def test_a_fruit_may_be_named_with_its_weight() -> None:
    assert "blackcurrant" in asked_for("fruit").options
    assert asked_for("juice").options == ()


def test_nothing_waits_for_anything_else() -> None:
    with pytest.raises(WrongUse, match="Choose from: fruit"):
        asked_for("mood")
