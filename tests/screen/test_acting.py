"""What becomes of bottles, with a tap: written as the larder's commands write it, or refused."""

from pathlib import Path

import pytest
from batch_maker import Maker
from pydantic import ValidationError
from situations import SITUATIONS

from assistant.base.clock import SetClock
from assistant.base.errors import WrongUse
from assistant.cook import fold
from assistant.keep import Journal
from assistant.screen.acting import ActIn, event_of
from assistant.screen.looking import larder_page
from assistant.turns.desk import Desk
from assistant.turns.rendering import refusal


@pytest.fixture
def stored(tmp_path: Path) -> Journal:
    """Nine bottles in the fridge since yesterday."""
    journal = Journal(tmp_path / "larder.sqlite")
    (making,) = SITUATIONS["S19"]().makings
    journal.append_all(making.id, making.events, 0)
    return journal


BATCH, AT = SITUATIONS["S19"]().makings[0].id, SITUATIONS["S19"]().now


@pytest.mark.parametrize(
    ("what", "left", "kind"),
    [
        ({"act": "use"}, 8, "used"),
        ({"act": "give", "to": "the kiosk", "count": 2}, 7, "used"),
        ({"act": "open"}, 9, "opened"),
        ({"act": "move", "place": "freezer"}, 9, "moved"),
        ({"act": "discard", "count": 3}, 6, "discard"),
        ({"act": "sign", "sign": "fizzing"}, 9, "sign"),
        ({"act": "recall"}, 9, "recalled"),
    ],
)
def test_it_is_written_down_and_answered(
    stored: Journal, what: dict[str, object], left: int, kind: str
) -> None:
    wanted = ActIn(batch=BATCH, **what)  # type: ignore[arg-type]
    turn = Desk(stored, SetClock(AT)).record(BATCH, event_of(wanted, AT))
    assert (turn.verdict, bool(turn.told)) == ("take", True)
    events = stored.events(BATCH)
    assert events[-1].kind == kind
    assert fold(events)[0].in_store == left


@pytest.mark.parametrize(
    "what",
    [
        {"act": "give", "to": "  "},
        {"act": "move"},
        {"act": "sign"},
    ],
)
def test_half_a_wish_is_refused(what: dict[str, object]) -> None:
    with pytest.raises(WrongUse):
        event_of(ActIn(batch=BATCH, **what), AT)  # type: ignore[arg-type]


def test_more_bottles_than_there_are_is_refused_and_not_written(stored: Journal) -> None:
    before = stored.events(BATCH)
    event = event_of(ActIn(batch=BATCH, act="use", count=10), AT)
    turn = Desk(stored, SetClock(AT)).record(BATCH, event)
    assert turn.verdict == "refuse"
    assert "only 9" in str(refusal(turn))
    assert stored.events(BATCH) == before


@pytest.mark.parametrize("text", ['{"batch": "x"}', '{"batch": "x", "act": "eat"}', "[]", "{"])
def test_what_is_no_such_wish_is_no_wish(text: str) -> None:
    with pytest.raises(ValidationError):
        ActIn.model_validate_json(text)


def test_a_tap_may_name_the_sort() -> None:
    wanted = ActIn.model_validate(
        {"batch": BATCH, "act": "use", "vessel": {"size_ml": 330, "of": "jar"}}
    )
    event = event_of(wanted, AT)
    assert event.meaning() == {
        "kind": "used",
        "count": 1,
        "to": "",
        "vessel": {"size_ml": 330, "of": "jar"},
    }


def test_a_batch_of_several_sorts_has_a_row_for_each(tmp_path: Path) -> None:
    journal = Journal(tmp_path / "mixed.sqlite")
    maker = Maker().up_to("bottle")
    jars = {"size_ml": 250.0, "of": "jar"}
    maker.does("bottle", count=6, size_ml=500, more=[{"count": 4, **jars}])
    maker.done()
    maker.does("opened", count=1, vessel=jars)
    journal.append_all("b", tuple(maker.journal), 0)
    rows = larder_page(journal, maker.now)["kept"]
    assert [(row["sort"], row["closed"], row["opened"]) for row in rows] == [
        ("bottles of 500 ml", 6, 0),
        ("jars of 250 ml", 3, 1),
    ]
    assert rows[1]["vessel"] == {"size_ml": 250.0, "of": "jar"}
