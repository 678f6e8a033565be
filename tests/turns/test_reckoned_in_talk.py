"""Everything that can be reckoned is reached in talk, or the map says why not."""

import re
from pathlib import Path

import pytest
from test_wrong_place import Cook

from assistant.commands.reckon import subjects
from assistant.facts.events import Ask

MAP = Path(__file__).parents[2] / "DEVELOPERS.md"


def _rows() -> list[tuple[str, str, str]]:
    """Each subject, the example of asking for it, and what is told in the last column."""
    told = MAP.read_text("utf-8").partition("| reckon's subject |")[2].partition("\n## ")[0]
    lines = [line for line in told.splitlines()[2:] if line.startswith("| ")]
    cells = [[cell.strip() for cell in re.split(r"\|", line)[1:-1]] for line in lines]
    return [(name, asked, why) for name, asked, _, why in cells]


ROWS = _rows()


def test_the_map_has_every_subject_once() -> None:
    assert sorted(name for name, _, _ in ROWS) == sorted(subjects())


@pytest.mark.parametrize(("asked", "why"), [r[1:] for r in ROWS], ids=[row[0] for row in ROWS])
def test_a_subject_is_asked_for_or_has_its_reason(asked: str, why: str) -> None:
    if not asked:
        assert why
        return
    cook = Cook("bottle")
    cook.types("61 brix")
    asks = [e for e in cook.types(asked).events if isinstance(e, Ask)]
    by_talk = any(e.topic == "reckon" for e in asks)
    elsewhere = why.startswith("answered by a")
    assert asks
    assert by_talk != elsewhere
    lines = cook.desk.in_hand().last_reply.lines
    assert lines
    assert not {"card_unknown", "not_in_recipe"} & {line.id for line in lines}
