"""A batch made again: the old recipe and fruit, and what was learnt, grown with the weight."""

from datetime import UTC, datetime

import pytest
from batch_maker import Maker
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.cook import fold
from assistant.facts.events import AnyEvent, Begin, Choose, Note, Reading
from assistant.planning import Hint, again, hints

AT = datetime(2027, 7, 10, 9, 0, tzinfo=UTC)


def _last_year() -> list[AnyEvent]:
    """Off plan with the acid and the juice; blackcurrants, 2.4 kg."""
    maker = Maker()
    maker.up_to("juice")
    maker.reads("juice", 2.6, "l")
    maker.degrees(44)
    maker.done()
    maker.surely("reading", what="citric_acid", value=16, unit="g")
    for _ in range(3):
        maker.does("no")
    maker.reads("ph", 3.5, "pH")
    maker.does("bottle", count=8, size_ml=500)
    maker.done()
    return maker.journal


OLD = _last_year()


def _by_name(found: tuple[Hint, ...]) -> dict[str, Hint]:
    return {hint.name: hint for hint in found}


def test_the_new_journal_begins_like_the_old() -> None:
    made = again(OLD, "new", AT, 2300.0, ["mind the acid"])
    begun, choice, weight, remark, hint = made
    assert isinstance(begun, Begin)
    assert isinstance(OLD[0], Begin)
    assert begun.recipe == OLD[0].recipe
    assert isinstance(choice, Choose)
    assert choice.value == "blackcurrant"
    assert isinstance(weight, Reading)
    assert (weight.value, weight.unit) == (2.3, "kg")
    assert isinstance(remark, Note)
    assert remark.text == "again of b"
    assert isinstance(hint, Note)
    assert {event.at for event in made} == {AT}
    batch, _ = fold(made)
    assert (batch.id, batch.stage.id if batch.stage else None) == ("new", "crush")
    assert batch.notes == ("again of b", "mind the acid")


def test_without_a_weight_it_waits_for_one() -> None:
    batch, _ = fold(again(OLD, "new", AT))
    assert batch.fruit == "blackcurrant"
    assert batch.stage is not None
    assert batch.stage.id == "weigh"
    assert all(hint.scaled is None for hint in hints(OLD, None))


def test_what_was_learnt() -> None:
    found = _by_name(hints(OLD, 4800.0))
    assert found["citric_acid"].last == 16
    assert found["citric_acid"].scaled == pytest.approx(32)
    assert found["juice"].scaled == pytest.approx(5200)
    assert found["ph"].last == 3.5
    assert found["yield"].last == pytest.approx(4000 / 2.4)
    assert found["yield"].scaled == pytest.approx(8000)
    assert found["keep"].last > 0
    assert "crushing_sugar" not in found  # as planned


@settings(max_examples=30, deadline=None)
@given(st.floats(200, 40_000))
def test_hints_grow_with_the_weight(base: float) -> None:
    for hint in hints(OLD, base):
        if hint.kind in ("amount", "juice", "bottled"):
            assert hint.scaled == pytest.approx(hint.last * base / 2400)
        elif hint.kind == "yield":
            assert hint.scaled == pytest.approx(hint.last * base / 1000)
        else:
            assert hint.scaled is None


@pytest.mark.parametrize("base", [0.0, -2300.0, 99.0, 1e6, float("inf"), float("nan")])
def test_weights_that_cannot_be(base: float) -> None:
    with pytest.raises((OutOfRange, ValueError)):
        again(OLD, "new", AT, base)


def test_an_unfinished_batch_can_be_repeated_too() -> None:
    maker = Maker()
    maker.up_to("steep")
    batch, _ = fold(again(maker.journal, "new", AT, 1000.0))
    assert batch.fruit == "blackcurrant"
    assert {hint.kind for hint in hints(maker.journal, 1000.0)} <= {"hold"}
