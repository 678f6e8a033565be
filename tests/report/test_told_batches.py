"""Cost, comparison and the parts of a batch's report."""

import pytest
from batch_maker import Maker
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange, WrongUse
from assistant.report import batch_lines, batch_record
from assistant.report.compared import ROWS, comparison_lines, comparison_record
from assistant.report.costs import cost_lines, priced, used
from assistant.report.repeated import hint_record, hint_words


def _whole() -> Maker:
    maker = Maker().up_to("store")
    maker.done()
    return maker


WHOLE = _whole()
HALF = Maker().up_to("steep")


def test_a_cost_by_hand() -> None:
    """2.4 kg of fruit at 4.50, 600 g and the main sugar at 1.20, nine bottles at 0.60."""
    sugar_kg = used(WHOLE.batch)["sugar"] / 1000
    found = priced(WHOLE.batch, {"fruit": 4.5, "sugar": 1.2, "bottle": 0.6})
    assert found.cost.total == pytest.approx(2.4 * 4.5 + sugar_kg * 1.2 + 9 * 0.6)
    assert found.cost.per_bottle == pytest.approx(found.cost.total / 9)
    assert found.unpriced == ("citric_acid",)
    assert any("without a price: citric acid" in line for line in cost_lines(found))


@given(st.floats(0, 1000), st.floats(0, 10))
def test_prices_grow_the_cost_in_step(price: float, factor: float) -> None:
    one = priced(WHOLE.batch, {"fruit": price}).cost.total
    assert priced(WHOLE.batch, {"fruit": price * factor}).cost.total == pytest.approx(one * factor)


def test_prices_that_cannot_be() -> None:
    with pytest.raises(WrongUse, match="Prices go to: fruit"):
        priced(WHOLE.batch, {"time": 3.0})
    with pytest.raises(OutOfRange):
        priced(WHOLE.batch, {"fruit": -1.0})


def test_without_bottles_nothing_is_shared() -> None:
    assert batch_record(HALF.journal, {"fruit": 4.5})["cost"]["per_bottle"] is None
    assert "cost" not in batch_record(HALF.journal)


def test_the_report_has_its_parts() -> None:
    told = batch_lines(WHOLE.journal, {"fruit": 4.5})
    parts = ["Readings", "Additions", "Stages", "Against the plan", "Result", "Cost"]
    assert [line for line in told if line in parts] == parts
    assert not [line for line in told if "{" in line]
    record = batch_record(WHOLE.journal)
    assert record["yield_ml_per_kilo"] == 1875
    assert record["stages"][0]["stage"] == "weigh"
    assert {d["what"] for d in record["differences"]} >= {"main_sugar", "ph", "hold"}


def test_batches_stand_side_by_side() -> None:
    records = [comparison_record(m.journal) for m in (WHOLE, HALF)]
    assert (records[0]["bottles"], records[1]["bottles"]) == (9, None)
    assert (records[0]["hold_s"], records[0]["hold_complete"]) == (95, True)
    assert (records[1]["ph"], records[1]["keep_days"]) == (None, None)
    rows = comparison_lines(records)
    assert len(rows) == len(ROWS)
    weight = next(row for row in rows if row.startswith("weight"))
    assert weight.split("  ")[-1].strip() == "2.4 kg"
    assert all(len(row) <= max(map(len, rows)) for row in rows)


def test_sugar_in_a_comparison_is_all_that_went_in() -> None:
    added = sum(a.amount for a in WHOLE.batch.added if a.name.endswith("sugar"))
    assert comparison_record(WHOLE.journal)["sugar_g"] == pytest.approx(added, abs=0.1)


def test_hints_are_sentences() -> None:
    from assistant.planning import hints

    found = hints(WHOLE.journal, 1200.0)
    assert found
    for hint in found:
        assert hint_words(hint).startswith("last time ")
        assert hint_record(hint)["last"] == round(hint.last, 3)
    assert any("from each litre" in hint_words(h, "litre") for h in found)
