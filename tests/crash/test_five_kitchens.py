"""A short day of five kitchens with everything that goes wrong, and an oracle that can tell."""

import pytest

from tests.bench.day import Entry, Row, a_day, held_against, judged

pytest.importorskip("psycopg", reason="the PostgreSQL driver is an extra")


def test_a_short_day_loses_nothing_and_mistakes_nobody() -> None:
    with a_day(batches=20, seed=7, pace=0.08) as day:
        day.run()
        ledgers = [entry for kitchen in day.kitchens for entry in kitchen.ledger]
        found = judged(day.server, day.database, ledgers)
        assert [kitchen.wrong for kitchen in day.kitchens] == [[]] * 5
        assert len(day.happened) == 5
        assert sum("Going on in this kitchen's" in t for k in day.kitchens for t in k.told) >= 3
    assert (found.examples, dict(found.wrong)) == ((), {})
    assert found.entries > 400


def _row(batch: str, seq: int, kitchen: str = "hut") -> Row:
    by = {"kitchen": kitchen, "person": f"cook of {kitchen}"}
    return batch, seq, {"kind": "note", "heard": f"{batch} {seq}", "by": by}


def _rows() -> list[Row]:
    return [_row(batch, seq) for batch in ("d-1", "d-2") for seq in range(3)]


def _spoil(rows: list[Row], how: str) -> list[Row]:
    if how == "lost":
        return rows[:-1]
    if how == "doubled":
        return [*rows, ("d-2", 3, rows[-1][2])]
    if how == "misattributed":
        return [*rows[:-1], _row("d-2", 2, "barn")]
    if how == "moved":
        return [*rows[:3], ("d-1", 3, rows[-1][2]), *rows[3:-1]]
    if how == "changed":
        return [*rows[:-1], ("d-2", 2, rows[-1][2] | {"kind": "used"})]
    if how == "strange":
        return [*rows, _row("d-2", 3)]
    if how == "out of order":
        return [("d-1", 0, rows[1][2]), ("d-1", 1, rows[0][2]), *rows[2:]]
    return [*rows[:-1], ("d-2", 4, rows[-1][2])]


_LEDGER = [Entry("hut", row[0], row[2], turn) for turn, row in enumerate(_rows())]


def test_the_oracle_is_content_where_all_is_well() -> None:
    assert not held_against(_rows(), _LEDGER).wrong


@pytest.mark.parametrize(
    "how",
    ["lost", "doubled", "misattributed", "moved", "changed", "strange", "out of order", "gap"],
)
def test_the_oracle_tells_each_fault(how: str) -> None:
    assert how in held_against(_spoil(_rows(), how), _LEDGER).wrong
