"""The panel in a real browser: every state at every size, and batches made by tapping alone."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from batch_maker import Maker

pytest.importorskip(
    "playwright", reason="the browser's driver is for tests: pip install '.[tests]'"
)
from cooks import TABLET, Cook
from kitchens import Kitchen, browser, needs_chromium
from playwright.sync_api import Browser, expect
from situations import SITUATIONS

from assistant.cook import fold
from assistant.facts.events import TimerSet

pytestmark = [needs_chromium, pytest.mark.audio]

SIZES = (
    (320, 568), (390, 844), (844, 390), (768, 1024), (1024, 768), (1366, 768), (1920, 1080),
    (3840, 2160),
)  # fmt: skip
PHONES = ((390, 844), (844, 390))
ZOOMED = ((195, 422), (512, 384))
"""A phone and a tablet at 200 %."""
STATES = {
    "S01": "measure", "S02": "go", "S05": "measure", "S06": "wait", "S13": "measure",
    "S15": "question", "S17": "go", "S19": "finished", "S20": "acid", "S21": "hot", "S22": "wait",
}  # fmt: skip


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    with browser() as opened:
        yield opened


@pytest.mark.parametrize("name", sorted(STATES))
def test_a_state_fits_every_screen_and_everybody_can_use_it(
    chromium: Browser, tmp_path: Path, name: str
) -> None:
    situation = SITUATIONS[name]()
    kitchen = Kitchen(tmp_path, recipe=None)
    kitchen.clock.forward((situation.now - kitchen.clock.now()).total_seconds())
    for making in situation.makings:
        kitchen.journal.append_all(making.id, making.events, 0)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens(f"?batch={situation.makings[-1].id}")
        cook.in_state(STATES[name])
        for size in (*SIZES, *ZOOMED):
            cook.resized(size)
            cook.page.wait_for_timeout(150)
            cook.shows_all()
            if size in PHONES:
                cook.stands_on_a_phone(13, 5)
        for light in ("light", "dark"):
            cook.page.emulate_media(color_scheme=light)  # type: ignore[arg-type]
            cook.check_access()
        cook.context.close()


def test_two_batches_and_five_timers_fit_while_bells_ring(
    chromium: Browser, tmp_path: Path
) -> None:
    situation = SITUATIONS["S25"]()
    for number, name in enumerate(("jars", "oven", "second kettle", "lids", "tea")):
        making = situation.makings[number % 2]
        making.take(TimerSet, name=name, seconds=1 + 900 * (number // 3))
    kitchen = Kitchen(tmp_path, recipe=None)
    for making in situation.makings:
        kitchen.journal.append_all(making.id, making.events, 0)
    kitchen.clock.forward((situation.now - kitchen.clock.now()).total_seconds())
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens(f"?batch={situation.makings[-1].id}")
        expect(cook.page.locator("#rings button")).to_have_count(2)
        cook.reads("rings", "1 more")
        expect(cook.page.locator("#strip .run")).to_have_count(5)
        for size in (*PHONES, TABLET, (1920, 1080)):
            cook.resized(size)
            cook.page.wait_for_timeout(150)
            cook.shows_all()
        cook.check_access()
        cook.page.locator("#rings button").first.click()
        expect(cook.page.locator("#rings")).not_to_contain_text("more")
        assert cook.faults == []


def test_no_connection_is_a_state_of_its_own(chromium: Browser, tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
    cook.in_state("lost").reads("word", "No connection")
    cook.shows_all()
    cook.check_access()


def test_a_page_follows_the_talk_to_another_batch_and_back(
    chromium: Browser, tmp_path: Path
) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        cook.types("2 kg of raspberries")
        cook.at("Crush").types("start a batch of rhubarb syrup")
        cook.at("Weigh the fruit").types("3 kg")
        cook.at("Draw").types("for the raspberry, done")
        cook.at("Water")
        expect(cook.page).to_have_url(re.compile(re.escape(kitchen.batch)))
        expect(cook.page.locator("#strip")).to_contain_text("rhubarb")
        cook.shows_all()
        cook.context.close()


def _tap_on(cook: Cook, kitchen: Kitchen, weight: str) -> None:
    """One step by tapping, whatever the state asks."""
    place = cook.page.locator("#place").inner_text()
    control = cook.page.locator("#control").get_attribute("data-kind")
    words = cook.page.locator("#control button").first.inner_text()
    if control == "list":
        cook.chooses(words, "Raspberry")
        expect(cook.page.locator("#control")).to_have_attribute("data-kind", "pad")
        return
    if control == "pad":
        cook.pads(*_figures(cook, words, weight))
    else:
        kitchen.clock.forward(40_000 if words == "Done waiting" else 60)
        cook.page.wait_for_timeout(700)
        cook.page.locator("#control button").last.click()
    _settled(cook, kitchen, place)


def _figures(cook: Cook, words: str, weight: str) -> tuple[str, ...]:
    asked = {
        "Type the weight": (weight, "kg"),
        "Type the juice": ("2.4", "l"),
        "Type the water": ("1", "l"),
        "Type the pH": ("3.3",),
        "Type the Brix": ("62",),
        "Type how many bottles": ("3" if weight == "1" else "6", "500 ml"),
    }
    if words != "Type the temperature":
        return asked[words]
    place = cook.page.locator("#place").inner_text()
    shown = int(float(cook.page.locator("#value").inner_text()))
    return (str({"Cool": 40, "Hold": shown}.get(place, shown + 1)), "°C")


def _settled(cook: Cook, kitchen: Kitchen, place: str) -> None:
    """A hold wants several readings; an open question its yes; all else goes on."""
    if place == "Hold":
        for _ in range(8):
            cook.page.wait_for_timeout(300)
            if cook.page.locator("#place").inner_text() != "Hold":
                return
            kitchen.clock.forward(25)
            cook.pads(cook.page.locator("#value").inner_text(), "°C")
    expect(cook.page.locator("#place")).not_to_have_text(place)


@pytest.mark.parametrize(
    ("recipe", "weight"), [("berry-syrup", "2"), ("rhubarb-syrup", "2"), ("plain-syrup", "1")]
)
def test_a_batch_is_made_by_tapping_alone(
    chromium: Browser, tmp_path: Path, recipe: str, weight: str
) -> None:
    kitchen = Kitchen(tmp_path, recipe=recipe)
    with kitchen.served() as address:
        cook = Cook(chromium, address, TABLET).opens()
        expect(cook.page.locator("#place")).not_to_be_empty()
        for _ in range(40):
            if cook.page.locator("body").get_attribute("data-state") == "finished":
                break
            _tap_on(cook, kitchen, weight)
        cook.in_state("finished")
        assert cook.faults == []
    batch, _ = fold(kitchen.journal.events(kitchen.batch))
    assert batch.ended == "finished"


def test_a_double_tap_never_skips_a_step(chromium: Browser, tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        cook.types("2 kg of raspberries")
        cook.at("Crush").page.wait_for_timeout(700)
        cook.page.locator("#control button").dblclick()
        cook.at("Water").page.wait_for_timeout(500)
        cook.at("Water")


def test_undo_stands_beside_the_control_for_ten_seconds(chromium: Browser, tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        expect(cook.page.locator("#undo")).to_be_hidden()
        cook.types("2 kg of raspberries")
        cook.at("Crush")
        cook.shows_all()
        cook.taps("Undo")
        cook.at("Weigh the fruit")
        expect(cook.page.locator("#undo")).to_be_hidden()
        cook.types("2 kg of raspberries")
        expect(cook.page.locator("#undo")).to_be_visible()
        expect(cook.page.locator("#undo")).to_be_hidden(timeout=12_000)


def test_an_answer_stands_where_the_instruction_was_and_goes_again(
    chromium: Browser, tmp_path: Path
) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        cook.types("how long does it keep")
        expect(cook.page.locator("#panel")).to_have_attribute("data-answer", "")
        cook.shows_all()
        expect(cook.page.locator("#instruction")).to_have_text(
            re.compile("Which fruit"), timeout=16_000
        )


def test_what_became_of_bottles_is_tapped_in_the_larder(chromium: Browser, tmp_path: Path) -> None:
    (making,) = SITUATIONS["S19"]().makings
    kitchen = Kitchen(tmp_path, recipe=None)
    kitchen.journal.append_all(making.id, making.events, 0)
    kitchen.clock.forward((SITUATIONS["S19"]().now - kitchen.clock.now()).total_seconds())
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens("larder")
        cook.reads("content", "9 in store")
        cook.taps("Write down")
        cook.taps("One was opened")
        cook.reads("content", "8 closed, 1 open")
        cook.taps("Write down")
        cook.taps("Some were given away")
        cook.page.fill("#count", "2")
        cook.page.fill("#to", "the kiosk")
        cook.check_access()
        cook.taps("Write it down")
        cook.reads("content", "6 closed, 1 open")
        cook.taps("Write down")
        cook.taps("Something is wrong with one")
        cook.taps("It fizzes or popped")
        cook.reads("told", "never taste it")
        assert cook.faults == []
    assert [e.kind for e in kitchen.journal.events(making.id)[-3:]] == ["opened", "used", "sign"]


def test_labels_are_looked_at_and_printed_from_the_report(
    chromium: Browser, tmp_path: Path
) -> None:
    (making,) = SITUATIONS["S19"]().makings
    kitchen = Kitchen(tmp_path, recipe=None)
    kitchen.journal.append_all(making.id, making.events, 0)
    kitchen.clock.forward((SITUATIONS["S19"]().now - kitchen.clock.now()).total_seconds())
    with kitchen.served() as address:
        cook = Cook(chromium, address, PHONES[0]).opens(f"batches?batch={making.id}")
        with cook.page.expect_response("**/label/*.svg?sheet=a4-14") as picture:
            cook.page.select_option("#sheet", "a4-14")
        assert picture.value.headers["content-type"].startswith("image/svg+xml")
        cook.page.fill("#start", "3")
        wide = "(p) => p.decode().then(() => p.naturalWidth)"
        assert cook.page.locator("#label-picture-0").evaluate(wide) == 4 * 99
        cook.check()
        cook.check_access()
        link = cook.page.get_by_role("link", name="Labels (PDF)").get_attribute("href")
        assert link is not None
        assert "sheet=a4-14&copies=&start=3" in link
        got = cook.page.request.get(address.rstrip("/") + link)
        assert got.headers["content-type"] == "application/pdf"
        assert got.body().startswith(b"%PDF")
        cook.page.emulate_media(media="print", color_scheme="dark")
        for name in ("header", "#labels", "#strip"):
            expect(cook.page.locator(name).first).to_be_hidden()
        expect(cook.page.locator(".report")).to_have_css("color", "rgb(0, 0, 0)")


def test_each_size_of_a_batch_is_looked_at_and_taken_by_itself(
    chromium: Browser, tmp_path: Path
) -> None:
    maker = Maker().up_to("bottle")
    jars = {"count": 3, "size_ml": 250.0, "of": "jar"}
    maker.does("bottle", count=6, size_ml=500, more=[jars])
    maker.done()
    kitchen = Kitchen(tmp_path, recipe=None)
    kitchen.journal.append_all("b", tuple(maker.journal), 0)
    kitchen.clock.forward((maker.now - kitchen.clock.now()).total_seconds())
    with kitchen.served() as address:
        cook = Cook(chromium, address, PHONES[0]).opens("batches?batch=b")
        wide = "(p) => p.decode().then(() => p.naturalWidth)"
        for n in (0, 1):
            assert cook.page.locator(f"#label-picture-{n}").evaluate(wide) == 4 * 99
        expect(cook.page.locator("figcaption").nth(1)).to_contain_text("3 × 250 ml")
        png = cook.page.locator("#label-png-1").get_attribute("href")
        got = cook.page.request.get(address.rstrip("/") + str(png))
        assert got.headers["content-type"] == "image/png"
        cook.page.select_option("#label-size", "250")
        link = cook.page.get_by_role("link", name="Labels (PDF)").get_attribute("href")
        assert "size=250" in str(link)
        cook.check()
        cook.check_access()
        cook.opens("larder")
        cook.page.get_by_role("button", name="Write down").nth(1).click()
        cook.page.get_by_role("button", name="One was used up").click()
        cook.reads("told", "1 jar of 250 ml used, 2 of them left.")
        cook.check()


def test_a_shopping_list_is_planned_on_the_page(chromium: Browser, tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        cook = Cook(chromium, address, PHONES[0]).opens("plan")
        cook.page.select_option("#recipe", "berry-syrup")
        cook.page.select_option("#fruit", "raspberry")
        cook.page.fill("#amount", "6")
        cook.taps("Plan it")
        cook.reads("content", "Shopping list")
        cook.reads("content", "6 bottles of 500 ml")
        cook.check()
        cook.check_access()
        cook.page.fill("#amount", "9000")
        cook.taps("Plan it")
        cook.reads("line", "9000")
        assert cook.faults == []


def test_units_are_chosen_once_and_a_timer_has_buttons(chromium: Browser, tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        cook.types("2.4 kg of raspberries")
        cook.at("Crush").reads("number", "600")
        cook.types("set a timer called jars for ten minutes")
        cook.reads("strip", "jars")
        cook.opens_more()
        cook.taps("Measures: g, l")
        cook.taps("Degrees: °C")
        cook.taps("jars: one minute more")
        cook.reads("running-list", "10:")
        cook.check_access()
        cook.taps("Stop jars")
        expect(cook.page.locator("#running")).to_be_hidden()
        cook.page.locator("#more-close").click()
        cook.reads("number", "1lb 5 oz")
        cook.page.reload()
        cook.reads("number", "1lb 5 oz")
        cook.reads("instruction", "1 lb 5 oz of sugar")
        assert cook.faults == []
        cook.context.close()
    assert fold(kitchen.journal.events(kitchen.batch))[0].start is not None


def test_a_finished_batch_leads_on(chromium: Browser, tmp_path: Path) -> None:
    (making,) = SITUATIONS["S19"]().makings
    kitchen = Kitchen(tmp_path, recipe=None)
    kitchen.journal.append_all(making.id, making.events, 0)
    kitchen.clock.forward((SITUATIONS["S19"]().now - kitchen.clock.now()).total_seconds())
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens(f"?batch={making.id}").in_state("finished")
        cook.chooses("What next", "Make it again")
        cook.page.wait_for_url(lambda url: making.id not in url)
        cook.in_state("measure")
        assert cook.faults == []
        cook.context.close()
    assert len(kitchen.journal.batches()) == 2
