"""The kitchen page in a real browser."""

import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

pytest.importorskip(
    "playwright", reason="the browser's driver is for tests: pip install '.[tests]'"
)
from cooks import PHONE, TABLET, WALL, Cook
from kitchens import Command, Kitchen, browser, needs_chromium
from playwright.sync_api import Browser, expect
from sounds import write_wav

from assistant.base.data import folder
from assistant.cook import fold
from assistant.hear.audio import read_recording
from assistant.hear.choose import open_ears
from assistant.hear.heard import SAMPLE_RATE
from assistant.screen.network import own_addresses

pytestmark = [needs_chromium, pytest.mark.audio]

SPOKEN = ("01_two_point_four_kilos_of_blackcurrants", "02_how_much_sugar")
PAUSE_S = 1.5


@pytest.fixture(scope="module")
def recording(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's first words, one after another, as a microphone gives them."""
    quiet = np.zeros(int(PAUSE_S * SAMPLE_RATE), np.float32)
    clips = [read_recording(folder("audio_fixtures").joinpath(f"demo/{n}.flac")) for n in SPOKEN]
    file = tmp_path_factory.mktemp("microphone") / "words.wav"
    write_wav(file, np.concatenate([part for clip in clips for part in (quiet, clip)] + [quiet]))
    return file


@pytest.fixture(scope="module")
def chromium(recording: Path) -> Iterator[Browser]:
    with browser(recording) as opened:
        yield opened


def test_a_batch_from_fruit_to_bottles(chromium: Browser, tmp_path: Path) -> None:
    """The first words through the browser's microphone and Whisper, the others typed."""
    kitchen = Kitchen(tmp_path, open_ears("whisper"))
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens()
        cook.at("Weigh the fruit").page.evaluate("localStorage.setItem('panside-voice', 'off')")
        cook.taps("Talk")
        cook.at("Crush").reads("number", "600")
        cook.reads("said", "2.4 kg of fruit")
        cook.reads("said", "ow much")
        cook.taps("Listening")
        cook.opens_more()
        cook.taps("Aloud: off")
        cook.taps("Back")
        with cook.page.expect_response("**/speech/*.wav") as sound:
            cook.controls("The first sugar is in")
        assert sound.value.headers["content-type"] == "audio/wav"
        cook.at("Water")
        cook.page.evaluate("localStorage.setItem('panside-voice', 'off')")
        cook.controls("Water is in")
        cook.at("Heat")
        _warm_and_hold(cook, kitchen)
        _sour_and_bottle(cook, kitchen)
        assert cook.faults == []
        batch, _ = fold(kitchen.journal.events(kitchen.batch))
        assert batch.ended == "finished"
        assert batch.bottled is not None
        assert batch.bottled.count == 9


def _warm_and_hold(cook: Cook, kitchen: Kitchen) -> None:
    for words, place, shown in [
        ("48 C", "sense", "27 degrees to go"),
        ("60 C", "sense", "15 degrees to go"),
        ("no, 61", "sense", "14 degrees to go"),
        ("76 C", "place", "Hold"),
        ("77 C", "hold-words", "counted"),
    ]:
        kitchen.clock.forward(30)
        cook.types(words)
        cook.reads(place, shown)
    cook.opens_more()
    expect(cook.page.locator("#curve circle")).to_have_count(4)
    expect(cook.page.locator("#curve .counted")).to_have_count(1)
    expect(cook.page.locator("#curve")).to_contain_text("no hotter than 82 °C")
    cook.check_access()
    cook.taps("Back")
    for size in (PHONE, TABLET, WALL):
        cook.resized(size)
        cook.check()
    for _ in range(2):
        kitchen.clock.forward(30)
        cook.types("77 C")
    cook.at("Steep").in_state("wait").reads("number", "19:")


def _sour_and_bottle(cook: Cook, kitchen: Kitchen) -> None:
    kitchen.clock.forward(1300)
    for words in ("done", "done", "done", "2.9 litres", "44 C", "done"):
        before = cook.page.locator("#place").inner_text()
        cook.types(words)
        expect(cook.page.locator("#place")).not_to_have_text(before)
    cook.types("ph 4.8")
    cook.in_state("acid").reads("word", "Not sour enough")
    cook.check_access()
    cook.types("70 grams of citric acid")
    cook.reads("said", "70 g")
    cook.types("ph 3.4")
    expect(cook.page.locator("body")).not_to_have_attribute("data-state", "acid")
    _to_the_bottles(cook)
    cook.pads("9", "500 ml")
    cook.at("Label and store")
    cook.controls("Done")
    cook.in_state("finished").reads("sense", "Keep by")


def _to_the_bottles(cook: Cook) -> None:
    """Through whatever the recipe still asks, by tapping: no options, a pH where one is asked."""
    for _ in range(12):
        place = cook.page.locator("#place").inner_text()
        if place == "Fill bottles":
            return
        if place == "pH":
            cook.pads("3.4")
        else:
            cook.page.wait_for_timeout(700)
            cook.page.locator("#control button").last.click()
        expect(cook.page.locator("#place")).not_to_have_text(place)


def test_two_pages_stay_in_step(chromium: Browser, tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        one, other = (
            Cook(chromium, address, size).opens().at("Weigh the fruit") for size in (PHONE, TABLET)
        )
        one.types("2 kg of raspberries")
        other.at("Crush").reads("number", "500")
        other.opens_more()
        other.page.click("#mend summary")
        other.page.fill("#right", "2.1")
        other.taps("Put it right")
        other.taps("Back")
        one.reads("number", "525")
        one.types("note <img src=x onerror=alert(1)><b>bold</b>")
        other.reads("said", "<img src=x onerror=alert(1)><b>bold</b>")
        expect(other.page.locator("#said img, #said b")).to_have_count(0)
        # Both say that it is done, the other before it has heard of the first: it counts once.
        other.page.evaluate("window.held = []")
        one.controls("The first sugar is in")
        one.at("Water")
        other.controls("The first sugar is in")
        other.page.evaluate(
            "const held = window.held; window.held = null; held.forEach((f) => f())"
        )
        other.at("Water").reads("instruction", "The batch went on meanwhile")
        one.check()
        other.check()
        kinds = [event.kind for event in kitchen.journal.events(kitchen.batch)]
        assert kinds.count("onward") == 1


def test_a_bell_rings_on_every_page_and_over_every_sheet_until_it_is_answered(
    chromium: Browser, tmp_path: Path
) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        paths = ("", "", "larder", f"batches?batch={kitchen.batch}")
        one, *others = cooks = [Cook(chromium, address, PHONE).opens(path) for path in paths]
        one.at("Weigh the fruit").types("set a timer called jars for two seconds")
        others[0].reads("strip", "jars")
        one.opens_more()
        for cook in cooks:
            cook.reads("rings", "jars is up")
            expect(cook.page.locator("html")).to_have_attribute("data-rings", re.compile("[1-9]"))
            cook.check()
        others[-1].check_access()
        kitchen.clock.forward(3)
        one.reads("said", "Time is up")
        one.page.locator("#rings button").scroll_into_view_if_needed()
        others[1].page.locator("#rings button").click()
        for cook in cooks:
            expect(cook.page.locator("#rings")).to_be_hidden()
        expect(others[1].page).to_have_url(re.compile("larder"))


def test_a_kitchen_that_is_killed_loses_nothing(chromium: Browser, tmp_path: Path) -> None:
    command = Command(tmp_path, "--recipe", "berry-syrup", "--mute")
    cook = Cook(chromium, command.address).opens().at("Weigh the fruit")
    cook.types("2 kg of raspberries")
    cook.at("Crush")
    cook.page.evaluate("navigator.serviceWorker.ready")
    command.kill()
    cook.reads("line", "No connection. What stands here is as it was at")
    cook.types("done")
    cook.reads("waiting", "done")
    cook.page.reload()
    cook.at("Crush").reads("waiting", "done")
    cook.reads("line", "No connection")
    cook.opens("larder").reads("line", "There is no connection")
    cook.opens("label/x.pdf").reads("main", "This page opens by itself")
    cook.opens().at("Crush").reads("waiting", "done")
    command.start()
    cook.at("Water")
    expect(cook.page.locator("#line")).to_be_empty()
    expect(cook.page.locator("#waiting li")).to_have_count(0)
    expect(cook.page.locator("#said li .heard")).to_have_text(["“done”", "“2 kg of raspberries”"])
    cook.check()
    assert command.end() == 0


def test_what_is_not_there_is_told_with_a_way_back(chromium: Browser, tmp_path: Path) -> None:
    """The last without anything kept: as a phone that opens the page while the machine is away."""
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens("nowhere")
        cook.reads("main", "no such page")
        cook.check_access()
        cook.opens("batches?batch=none").reads("line", "no such batch")
        cook.page.get_by_role("link", name="All batches").click()
        cook.reads("content", "at Weigh")
        cook.opens("?batch=none").reads("word", "Not found")
        cook.shows_all()
        cook.controls("The kitchen")
        cook.at("Weigh the fruit")
        fresh = Cook(chromium, address, PHONE)
        fresh.context.route("**/api/me", lambda route: route.abort())
        fresh.opens().in_state("lost").reads("instruction", "machine does not answer")
        fresh.shows_all()
        fresh.context.unroute("**/api/me")
        fresh.at("Weigh the fruit")
        assert (cook.faults, fresh.faults) == ([], [])


def test_a_phone_is_paired_by_a_code(chromium: Browser, tmp_path: Path) -> None:
    addresses = own_addresses()
    if not addresses:
        pytest.skip("this machine is in no network but its own")
    kitchen = Kitchen(tmp_path)
    with kitchen.served(addresses[0]) as address:
        phone = Cook(chromium, address, PHONE).opens()
        phone.page.fill("#code", "WRONGONE")
        phone.taps("Pair")
        phone.reads("pairing-trouble", "not the code")
        phone.check()
        phone.check_access()
        phone.page.fill("#code", kitchen.codes[-1].lower())
        phone.taps("Pair")
        phone.at("Weigh the fruit").types("2 kg of raspberries")
        phone.at("Crush")
        phone.taps("Talk")
        phone.reads("mic-heard", "panside screen --lan --tls")
        (cookie,) = phone.context.cookies()
        assert (cookie["httpOnly"], cookie["sameSite"]) == (True, "Strict")
        scanned = Cook(chromium, address, PHONE).opens(f"#pair={kitchen.codes[-1]}")
        scanned.at("Crush")
        assert "pair" not in scanned.page.url
        stranger = Cook(chromium, address).opens("larder")
        stranger.reads("line", "not paired")


def test_devices_are_removed_one_by_one_on_the_kitchens_own_screen(
    chromium: Browser, tmp_path: Path
) -> None:
    """The phone is a page that is held to be elsewhere: it is let in by its cookie alone."""
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        own = Cook(chromium, address, TABLET)
        phone = chromium.new_context(user_agent="Mozilla/5.0 (Linux; Android 14)").new_page()
        phone.goto(address)
        code = kitchen.codes[-1]
        script = """(code) => fetch("/api/pair", { method: "POST",
            body: JSON.stringify({ code }) }).then((got) => got.status)"""
        assert phone.evaluate(script, code) == 200
        phone.goto(address)
        expect(phone.locator("#place")).to_have_text("Weigh the fruit")
        own.opens("batches").reads("device-list", "Android")
        own.reads("device-list", "here now")
        own.check()
        own.check_access()
        own.taps("Remove Android")
        expect(own.page.locator("#device-list")).to_have_count(0)
        assert phone.context.cookies()
        assert own.faults == []


def test_another_sites_page_gets_nothing(chromium: Browser, tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        page = chromium.new_context().new_page()
        page.set_content("<h1>Somebody else's page</h1>")
        live = f"{address.replace('http', 'ws')}live?batch={kitchen.batch}"
        opened = page.evaluate(
            "(url) => new Promise((told) => { const s = new WebSocket(url);"
            " s.onopen = () => told(true); s.onerror = () => told(false); })",
            live,
        )
        assert opened is False
        read = page.evaluate(
            "(url) => fetch(url).then(() => true, () => false)", f"{address}api/me"
        )
        assert read is False


def test_the_further_pages_can_be_read_by_everybody(chromium: Browser, tmp_path: Path) -> None:
    kitchen = Kitchen(tmp_path)
    with kitchen.served() as address:
        cook = Cook(chromium, address, PHONE, color_scheme="dark", reduced_motion="reduce")
        for path, words in [
            ("larder", "There is nothing in store."),
            (f"batches?batch={kitchen.batch}", "Against the plan"),
            ("batches", "at Weigh"),
        ]:
            cook.opens(path).reads("content", words)
            cook.check()
        cook.check_access()
        cook.page.select_option("#recipe", "plain-syrup")
        cook.taps("Begin")
        cook.reads("word", "Measure")
        cook.check_access()
        cook.opens("larder").reads("content", "There is nothing in store.")
        cook.taps("Bright room")
        cook.check_access()
