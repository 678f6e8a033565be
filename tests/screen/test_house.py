"""The kitchen on one event loop: who is told what, and what a page turns to."""

from itertools import count
from pathlib import Path

import pytest
from room_maker import START, spoken

from assistant.base.clock import SetClock
from assistant.base.errors import WrongUse
from assistant.keep import Journal
from assistant.say.chosen import AS_SAID
from assistant.screen.acting import ActIn
from assistant.screen.house import House, Message
from assistant.turns.utterance import Utterance

pytestmark = pytest.mark.anyio


class Page:
    """A page that notes what it is told."""

    def __init__(self, device: str) -> None:
        self.device = device
        self.chosen = AS_SAID
        self.told: list[Message] = []

    def tell(self, message: Message) -> None:
        self.told.append(message)

    def turns(self) -> list[str]:
        """The verdicts of the turns that it was told since this was last asked."""
        found = [each["verdict"] for each in self.told if each["kind"] == "turn"]
        self.told.clear()
        return found

    def views(self) -> list[str]:
        return [each["view"]["batch"] for each in self.told if each["kind"] == "view"]


class Kitchen:
    """A house with pages."""

    def __init__(self, folder: Path) -> None:
        self.clock = SetClock(START)
        self.house = House(Journal(folder / "journal.sqlite"), self.clock)
        self._wishes = count()

    async def page(self, device: str, batch: str) -> Page:
        page = Page(device)
        await self.house.sit(page, batch)
        return page

    async def types(self, page: Page, batch: str, text: str, stage: str | None = None) -> str:
        self.clock.forward(20)
        said = Utterance.typed(text, device=page.device, batch=batch, stage=stage)
        return (await self.house.say(said)).turn.batch

    async def begins(self, recipe: str, again_of: str = "", wish: str = "") -> str:
        return await self.house.begin(recipe, again_of, wish or f"wish-{next(self._wishes)}")

    async def says(self, page: Page, batch: str, text: str) -> None:
        self.clock.forward(1)
        await self.house.say(Utterance(heard=spoken(text), device=page.device, batch=batch))


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    return Kitchen(tmp_path)


async def test_what_counts_is_told_to_all_who_look_at_the_batch(kitchen: Kitchen) -> None:
    batch = await kitchen.begins("berry-syrup")
    one, other = await kitchen.page("one", batch), await kitchen.page("other", batch)
    await kitchen.types(one, batch, "2 kg of raspberries")
    assert (one.turns(), other.turns()) == (["take"], ["take"])


async def test_what_concerns_nobody_else_is_told_to_its_sender_alone(kitchen: Kitchen) -> None:
    batch = await kitchen.begins("berry-syrup")
    one, other = await kitchen.page("one", batch), await kitchen.page("other", batch)
    await kitchen.types(one, batch, "2 kg of raspberries")
    await kitchen.types(one, batch, "done", stage="crush")
    one.turns(), other.turns()
    await kitchen.types(other, batch, "done", stage="crush")
    assert (one.turns(), other.turns()) == ([], ["late"])
    await kitchen.says(one, batch, "water is in")
    one.turns(), other.turns()
    await kitchen.says(other, batch, "water is in")
    assert (one.turns(), other.turns()) == ([], ["twice"])
    kitchen.clock.forward(20)
    await kitchen.says(other, batch, "did you see the regatta on sunday")
    assert (one.turns(), other.turns()) == ([], ["refuse"])


async def test_a_turn_is_told_to_its_sender_and_to_the_batch_that_it_is_about(
    kitchen: Kitchen,
) -> None:
    berries = await kitchen.begins("berry-syrup")
    rhubarb = await kitchen.begins("rhubarb-syrup")
    one, same, other = [
        await kitchen.page(device, batch)
        for device, batch in (("one", berries), ("same", berries), ("other", rhubarb))
    ]
    assert await kitchen.types(one, berries, "for the rhubarb, 3 kg", stage="weigh") == rhubarb
    assert other.views() == [rhubarb]
    assert (one.turns(), same.turns(), other.turns()) == (["take"], [], ["take"])


async def test_a_bell_is_told_where_its_batch_is_looked_at_else_everywhere(
    kitchen: Kitchen,
) -> None:
    berries = await kitchen.begins("berry-syrup")
    rhubarb = await kitchen.begins("rhubarb-syrup")
    one, other = await kitchen.page("one", berries), await kitchen.page("other", rhubarb)
    for text in ("set a timer for ten minutes", "set a timer called jars for twenty minutes"):
        await kitchen.types(one, berries, text)
    one.turns(), other.turns()
    kitchen.clock.forward(600)
    await kitchen.house.tick()
    assert (one.turns(), other.turns()) == (["reminder"], [])
    await kitchen.house.rise(one, berries)
    kitchen.clock.forward(600)
    await kitchen.house.tick()
    assert (one.turns(), other.turns()) == ([], ["reminder"])


async def test_a_tap_on_the_larder_is_shown_where_the_batch_is_looked_at(kitchen: Kitchen) -> None:
    batch = await kitchen.begins("berry-syrup")
    page = await kitchen.page("one", batch)
    for text in ("2 kg of raspberries", "done"):
        await kitchen.types(page, batch, text)
    before = page.told[-1]["view"]["revision"]
    with pytest.raises(WrongUse):
        await kitchen.house.act(ActIn(batch=batch, act="use", count=3))
    assert await kitchen.house.act(ActIn(batch=batch, act="sign", sign="fizzing"))
    assert page.told[-1]["view"]["revision"] == before + 1


async def test_a_batch_that_is_not_there_has_no_seat(kitchen: Kitchen) -> None:
    with pytest.raises(WrongUse):
        await kitchen.page("one", "none")


async def test_a_wish_for_a_batch_counts_once_after_a_restart_too(
    kitchen: Kitchen, tmp_path: Path
) -> None:
    batch = await kitchen.begins("berry-syrup", wish="wish-first")
    assert await kitchen.begins("berry-syrup", wish="wish-first") == batch
    later = Kitchen(tmp_path)
    assert await later.begins("berry-syrup", wish="wish-first") == batch
    assert await later.begins("berry-syrup", wish="wish-second") != batch


async def test_a_batch_is_made_again_once(kitchen: Kitchen) -> None:
    old = await kitchen.begins("berry-syrup")
    page = await kitchen.page("one", old)
    await kitchen.types(page, old, "2 kg of raspberries")
    new = await kitchen.begins("", old, wish="wish-again")
    assert new not in ("", old)
    assert await kitchen.begins("", old, wish="wish-again") == new
    with pytest.raises(WrongUse, match="no such batch"):
        await kitchen.begins("", "nowhere")


async def test_a_page_without_a_batch_hears_every_bell(kitchen: Kitchen) -> None:
    berries = await kitchen.begins("berry-syrup")
    one, larder = await kitchen.page("one", berries), await kitchen.page("larder", "")
    await kitchen.types(one, berries, "set a timer for ten minutes")
    (pan,) = larder.told[-1]["kitchen"]
    assert (pan["id"], [each["name"] for each in pan["running"]]) == (berries, ["timer"])
    await kitchen.house.rise(one, berries)
    kitchen.clock.forward(600)
    await kitchen.house.tick()
    assert larder.turns() == ["reminder"]
    await kitchen.types(larder, berries, "stop the timer")
    assert larder.told[-1]["kitchen"][0]["running"] == []
    await kitchen.house.rise(larder, "")


async def test_after_a_start_the_batches_at_work_ring_though_nobody_looks_at_them(
    kitchen: Kitchen, tmp_path: Path
) -> None:
    berries = await kitchen.begins("berry-syrup")
    await kitchen.begins("rhubarb-syrup")
    one = await kitchen.page("one", berries)
    await kitchen.types(one, berries, "set a timer for ten minutes")
    later = Kitchen(tmp_path)
    later.clock.forward(700)
    shown = await later.house.sit(Page("larder"), "")
    assert [pan["id"] for pan in shown["kitchen"]] == [berries], "the rhubarb waits for nobody"
    forgotten = Kitchen(tmp_path)
    forgotten.clock.forward(700 + 3600)
    assert (await forgotten.house.sit(Page("larder"), ""))["kitchen"] == []
