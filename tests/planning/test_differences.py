"""Where a batch went another way than its recipe."""

import pytest
from batch_maker import Maker

from assistant.planning import differences, yield_ml_per_kilo


@pytest.fixture
def maker() -> Maker:
    return Maker()


def _found(maker: Maker) -> dict[str, tuple[float, bool]]:
    return {one.name: (one.got, one.off) for one in differences(maker.journal)}


def test_a_plain_batch_keeps_to_its_plan(maker: Maker) -> None:
    maker.up_to("store")
    maker.done()
    found = _found(maker)
    assert {name for name, (_, off) in found.items() if off} == set()
    assert found["crushing_sugar"][0] == pytest.approx(600)
    assert found["hold"][0] == 95
    assert found["bottled"][0] == 4500


@pytest.mark.parametrize(
    ("stage", "what", "said", "unit", "name"),
    [
        ("sharpen", "citric_acid", 20.0, "g", "citric_acid"),
        ("dissolve", "sugar", 2.0, "kg", "main_sugar"),
        ("juice", "juice", 2.2, "l", "juice"),
        ("ph", "ph", 3.8, "pH", "ph"),
    ],
)
def test_what_is_off_plan_is_marked(
    maker: Maker, stage: str, what: str, said: float, unit: str, name: str
) -> None:
    maker.up_to(stage)
    maker.surely("reading", what=what, value=said, unit=unit)
    assert _found(maker)[name][1] is True


@pytest.mark.parametrize(("count", "off"), [(5, True), (8, True), (9, False), (12, True)])
def test_a_rest_that_fills_no_bottle_is_nothing_to_remark_upon(
    maker: Maker, count: int, off: bool
) -> None:
    """2.9 l of juice and its sugar make about 4.9 l: nine bottles of half a litre and a rest."""
    maker.up_to("bottle")
    maker.surely("bottle", count=count, size_ml=500)
    assert _found(maker)["bottled"] == (500 * count, off)


def test_a_skipped_hold_is_off_plan(maker: Maker) -> None:
    maker.up_to("hold")
    maker.done()
    maker.done()
    assert _found(maker)["hold"] == (0.0, True)


def test_a_yield_is_bottled_else_reckoned(maker: Maker) -> None:
    assert yield_ml_per_kilo(maker.batch) is None
    reckoned = yield_ml_per_kilo(Maker().up_to("ph").batch)
    maker.up_to("store")
    # 9 bottles of half a litre from 2.4 kg.
    assert yield_ml_per_kilo(maker.batch) == pytest.approx(4500 / 2.4)
    assert reckoned == pytest.approx(2000, rel=0.1)
