"""Batches side by side."""

import pytest
from batch_maker import Maker

from assistant.report.compared import ROWS, comparison_lines, comparison_record


def _whole() -> Maker:
    maker = Maker().up_to("store")
    maker.done()
    return maker


WHOLE = _whole()


HALF = Maker().up_to("steep")


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
