"""What if: the batch as it would be, while the real one stays."""

from batch_maker import Maker


def _asks(maker: Maker, **fields: object) -> dict[str, object]:
    maker.does("ask", topic="what_if", **fields)
    return {line.id: line for line in maker.reply.lines}


def test_asking_changes_nothing(maker: Maker) -> None:
    maker.up_to("heat")
    before = (maker.batch.taken, maker.batch.added)
    assert "what_if_base" in _asks(maker, value=3, unit="kg", about="fruit")
    assert (maker.batch.taken, maker.batch.added) == before


def test_without_an_amount_it_asks_how_much(maker: Maker) -> None:
    assert list(_asks(maker, about="sugar")) == ["what_if_how"]


def test_a_unit_that_can_not_be_is_told(maker: Maker) -> None:
    assert list(_asks(maker, value=3, unit="l", about="citric_acid")) == ["what_if_other_unit"]


def test_what_no_kitchen_has_is_not_reckoned(maker: Maker) -> None:
    assert list(_asks(maker, value=900, unit="kg", about="fruit")) == ["what_if_never"]


def test_too_little_sugar_names_the_fruit_it_is_enough_for(maker: Maker) -> None:
    found = _asks(maker, value=300, unit="g", about="sugar")
    line = found["what_if_for"]
    assert 0 < line.facts["base"].value < 1000  # type: ignore[attr-defined]
