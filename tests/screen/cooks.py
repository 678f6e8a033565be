"""A cook at the page: types, taps, reads what stands there."""

from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, expect

expect.set_options(timeout=15_000)
PHONE, TABLET, WALL = (360, 760), (1024, 768), (1920, 1080)
_WIDE = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
_SMALL = """() => [...document.querySelectorAll('button, a, input, select, summary')]
  .filter((e) => e.offsetParent && !e.closest('.skip'))
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

    def at(self, stage: str) -> "Cook":
        expect(self.page.locator("#stage")).to_have_text(stage)
        return self

    def types(self, words: str) -> None:
        self.page.fill("#words", words)
        self.page.press("#words", "Enter")

    def taps(self, name: str) -> None:
        self.page.get_by_role("button", name=name, exact=True).click()

    def reads(self, place: str, words: str) -> None:
        expect(self.page.locator(f"#{place}")).to_contain_text(words)

    def resized(self, size: tuple[int, int]) -> None:
        self.page.set_viewport_size({"width": size[0], "height": size[1]})

    def check(self) -> None:
        """Nothing to scroll to sideways, nothing too small for a wet knuckle, nothing thrown."""
        assert self.page.evaluate(_WIDE) <= 0
        assert self.page.evaluate(_SMALL) == []
        assert self.faults == []

    def check_access(self) -> None:
        found = Axe().run(self.page).response["violations"]
        assert [(v["id"], [n["target"] for n in v["nodes"]]) for v in found] == []
