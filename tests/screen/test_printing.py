"""Labels as pictures and plans for the page: the same words as the PDF and the command have."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from xml.etree import ElementTree

import pytest
from asking import ask
from batch_maker import Maker
from room_maker import Tent
from situations import SITUATIONS
from starlette.types import ASGIApp

from assistant.base.errors import EarsMissing, PansideError, WrongUse
from assistant.hear.heard import Ears
from assistant.keep import Journal
from assistant.screen.house import House
from assistant.screen.looking import batch_page
from assistant.screen.network import HERE
from assistant.screen.printing import label_picture, label_png, plan_page
from assistant.screen.site import Host, site

NOW = datetime(2026, 7, 12, tzinfo=UTC)
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def bottled(tmp_path: Path) -> Iterator[tuple[Journal, str]]:
    (making,) = SITUATIONS["S19"]().makings
    with Journal(tmp_path / "journal.sqlite") as journal:
        journal.append_all(making.id, making.events, 0)
        yield journal, making.id


@pytest.mark.parametrize(("sheet", "labels"), [("a4-8", 1), ("letter-30", 2)])
def test_a_label_is_drawn_as_it_is_printed(
    bottled: tuple[Journal, str], sheet: str, labels: int
) -> None:
    drawn = ElementTree.fromstring(label_picture(*bottled, NOW, sheet))
    words = " ".join(each.text or "" for each in drawn.iter(f"{SVG}text"))
    assert "lackcurrant" in words
    assert bottled[1] in words
    assert len(list(drawn.iter(f"{SVG}g"))) == labels


def test_each_size_has_its_picture(tmp_path: Path) -> None:
    maker = Maker().up_to("bottle")
    maker.does("bottle", count=6, size_ml=500, more=[{"count": 3, "size_ml": 250}])
    with Journal(tmp_path / "mixed.sqlite") as journal:
        journal.append_all("b", tuple(maker.journal), 0)
        for size in (500.0, 250.0):
            drawn = label_picture(journal, "b", maker.now, size=size)
            assert f"{size:.0f} ml" in drawn
            assert label_png(journal, "b", maker.now, size=size).startswith(b"\x89PNG")
        with pytest.raises(WrongUse, match="labels for: 500 ml, 250 ml"):
            label_picture(journal, "b", maker.now, size=330)
        told = batch_page(journal, "b", maker.now)
    assert [(each["size"], each["count"]) for each in told["sizes"]] == [("500", 6), ("250", 3)]
    assert told["pictures"]


def test_without_bottles_there_is_no_label(tmp_path: Path) -> None:
    tent = Tent(tmp_path)
    with pytest.raises(WrongUse, match="bottle"):
        label_picture(tent.journal, tent.id, NOW)


@pytest.mark.parametrize(
    ("recipe", "kind", "amount"),
    [("nothing", "bottles", 6), ("berry-syrup", "barrels", 6), ("berry-syrup", "bottles", 9000)],
)
def test_a_plan_that_can_not_be_is_told(recipe: str, kind: str, amount: float) -> None:
    with pytest.raises(PansideError):
        plan_page(recipe, kind, amount, NOW)


async def _no_ears() -> Ears:
    raise EarsMissing("no ears here")


@pytest.fixture
def app(tmp_path: Path) -> ASGIApp:
    tent = Tent(tmp_path)
    return site(Host(House(tent.journal, tent.clock), _no_ears, set(HERE)))


@pytest.mark.parametrize("amount", ["many", "nan", "1e99", "-3", ""])
def test_an_odd_amount_is_told_in_a_sentence(app: ASGIApp, amount: str) -> None:
    reply = ask(app, f"/api/plan?recipe=berry-syrup&kind=bottles&amount={amount}")
    assert reply.status == 400
    assert reply.json()["error"]
