"""A cook at the page: types, taps, reads what stands there."""

from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, expect

expect.set_options(timeout=15_000)
PHONE, TABLET, WALL = (360, 760), (1024, 768), (1920, 1080)
_WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
_OUTSIDE = """() => ['number', 'instruction', 'control', 'mic']
  .map((id) => [id, document.getElementById(id)])
  .filter(([, e]) => e.checkVisibility({ visibilityProperty: true }) && e.textContent.trim())
  .map(([id, e]) => [id, e.getBoundingClientRect(), e.scrollWidth - e.clientWidth])
  .filter(([, b, over]) => b.left < -1 || b.top < -1 || b.right > innerWidth + 1
    || b.bottom > innerHeight + 1 || over > 1)
  .map(([id, b]) => `${id} ${Math.round(b.left)},${Math.round(b.top)} to ${Math.round(b.right)},`
    + `${Math.round(b.bottom)} in ${innerWidth} x ${innerHeight}`)"""
_CUT = """() => ['sense', 'count'].map((id) => document.getElementById(id))
  .filter((e) => e.checkVisibility({ visibilityProperty: true }) && e.textContent.trim())
  .map((e) => [e, e.getBoundingClientRect(), e.parentElement.getBoundingClientRect()])
  .filter(([e, box, place]) => e.scrollHeight > e.clientHeight + 3 || box.bottom > place.bottom + 2)
  .map(([e, box, place]) => `${e.id} is cut: ${e.scrollHeight} in ${e.clientHeight}, ends at `
    + `${Math.round(box.bottom)} of ${Math.round(place.bottom)}, ${innerWidth} x ${innerHeight}`)"""
_SIZES = """() => ['number', 'instruction'].map((id) => document.getElementById(id))
  .map((e) => e.checkVisibility({ visibilityProperty: true }) && e.textContent.trim()
    ? parseFloat(getComputedStyle(e).fontSize) : Infinity)"""
PHONE_MM = 0.168 * 0.68
"""A capital's height for a CSS pixel of size, on a phone 65 mm wide. [mm]"""
_SCROLLS = """() => [document.documentElement.scrollWidth - innerWidth,
  document.documentElement.scrollHeight - innerHeight]"""
_SMALL = """() => [...document.querySelectorAll('button, a, input, select, summary')]
  .filter((e) => e.checkVisibility() && !e.closest('.skip') && !e.closest('#pad-keys'))
  .map((e) => [e.textContent.trim() || e.id, e.getBoundingClientRect()])
  .filter(([, box]) => box.height < 64 || box.width < 64)
  .map(([name, box]) => `${name} ${Math.round(box.width)} x ${Math.round(box.height)}`)"""

_HOLD = """(() => {
  const add = WebSocket.prototype.addEventListener;
  WebSocket.prototype.addEventListener = function (kind, take) {
    const held = (event) => (window.held ? window.held.push(() => take(event)) : take(event));
    add.call(this, kind, kind === "message" ? held : take);
  };
})()"""
"""Lets a test keep back what comes in, as a slow network does."""


class Cook:
    """One device."""

    def __init__(
        self, browser: Browser, address: str, size: tuple[int, int] = TABLET, **options: Any
    ) -> None:
        viewport: Any = {"width": size[0], "height": size[1]}
        self.context: BrowserContext = browser.new_context(viewport=viewport, **options)
        self.context.add_init_script(_HOLD)
        self.page: Page = self.context.new_page()
        self.faults: list[str] = []
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on("console", self._console)
        self.address = address

    def _console(self, message: ConsoleMessage) -> None:
        """What the page's own policy has blocked is a fault of the page."""
        if "Security Policy" in message.text or "Trusted" in message.text:
            self.faults.append(message.text)

    def opens(self, path: str = "") -> "Cook":
        self.page.goto(self.address + path)
        return self

    def at(self, place: str) -> "Cook":
        expect(self.page.locator("#place")).to_have_text(place)
        return self

    def in_state(self, state: str) -> "Cook":
        expect(self.page.locator("body")).to_have_attribute("data-state", state)
        return self

    def types(self, words: str) -> None:
        """On a keyboard: the first letter opens the sheet for typing."""
        self.page.keyboard.type(words)
        expect(self.page.locator("#words")).to_have_value(words)
        self.page.keyboard.press("Enter")
        expect(self.page.locator("#type")).to_be_hidden()

    def pads(self, figures: str, unit: str = "", after_s: float = 0.7) -> None:
        """A number by tapping: the control, the unit, the figures. What changed is deaf first."""
        self.page.wait_for_timeout(after_s * 1000)
        self.page.locator("#control button").click()
        if unit:
            self.page.locator("#pad-units").get_by_role("button", name=unit, exact=True).click()
        for figure in figures:
            self.page.locator("#pad-keys").get_by_role("button", name=figure, exact=True).click()
        self.taps("Take it")

    def controls(self, words: str, after_s: float = 0.7) -> None:
        """The control itself, once it is no longer deaf."""
        self.page.wait_for_timeout(after_s * 1000)
        self.page.locator("#control").get_by_role("button", name=words, exact=True).click()

    def chooses(self, name: str, choice: str) -> None:
        """One of a page of choices."""
        self.controls(name)
        self.page.locator("#list-choices").get_by_role("button", name=choice, exact=True).click()

    def opens_more(self) -> None:
        self.taps("More")
        expect(self.page.locator("#more")).to_be_visible()

    def taps(self, name: str) -> None:
        self.page.get_by_role("button", name=name, exact=True).click()

    def reads(self, place: str, words: str) -> None:
        expect(self.page.locator(f"#{place}")).to_contain_text(words)

    def shows_all(self) -> None:
        """Number, instruction, control and Talk are inside the window, and nothing scrolls."""
        for _ in range(40):  # a busy machine lays out late
            found = [*self.page.evaluate(_OUTSIDE), *self.page.evaluate(_CUT)]
            if not found:
                break
            self.page.wait_for_timeout(100)
        assert not found, found
        assert self.page.evaluate(_SCROLLS) == [0, 0]

    def stands_on_a_phone(self, number_mm: float, words_mm: float) -> None:
        """Number and instruction are at least so high."""
        number, words = (size * PHONE_MM for size in self.page.evaluate(_SIZES))
        assert (number >= number_mm, words >= words_mm) == (True, True), (number, words)

    def resized(self, size: tuple[int, int]) -> None:
        self.page.set_viewport_size({"width": size[0], "height": size[1]})

    def check(self) -> None:
        """Nothing to scroll to sideways, nothing too small for a wet knuckle, nothing thrown."""
        assert self.page.evaluate(_WIDE) <= 0
        assert self.page.evaluate(_SMALL) == []
        assert self.faults == []

    def check_access(self) -> None:
        found = Axe().run(self.page).response["violations"]
        faults = [(v["id"], [n["target"] for n in v["nodes"]]) for v in found]
        assert not faults, faults
