"""The parts of a batch's report."""

from batch_maker import Maker

from assistant.report import batch_lines, batch_record


def _whole() -> Maker:
    maker = Maker().up_to("store")
    maker.done()
    return maker


WHOLE = _whole()


HALF = Maker().up_to("steep")


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
