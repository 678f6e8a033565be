"""A drill of faults on the kitchen page, in a real browser: what goes wrong, and what then stands.

    python -m tests.bench.page_drill [--only 1,4]

Each fault is made on purpose; what must hold is asserted. Printed: one line a fault, and the exit
code is 1 where one failed.
"""

import argparse
import http.client
import json
import re
import signal
import socket
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import Browser, expect
from websockets.exceptions import ConnectionClosed
from websockets.sync.client import connect

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests" / "screen"), str(ROOT / "tests" / "panel")]

from cooks import PHONE, Cook  # noqa: E402
from kitchens import Command, Kitchen, browser  # noqa: E402

from assistant.keep import Journal  # noqa: E402
from assistant.screen.live import MOST_MESSAGES  # noqa: E402
from assistant.screen.pairing import TRIES  # noqa: E402

_LATE_CLOCK = "const real = Date.now.bind(Date); Date.now = () => real() + 3 * 3_600_000;"
_DAMAGED = "(name) => localStorage.setItem(name, '{')"


def server_killed(chromium: Browser, folder: Path) -> None:
    """Killed under a word that was typed: the word counts once, after a restart."""
    command = Command(folder, "--recipe", "berry-syrup", "--mute")
    cook = Cook(chromium, command.address).opens().at("Weigh the fruit")
    command.kill()
    cook.in_state("lost").types("2 kg of raspberries")
    command.start()
    cook.at("Crush")
    command.end()
    with Journal(folder / "journal.sqlite") as journal:
        (batch,) = journal.names()
        kinds = [event.kind for event in journal.events(batch)]
    assert kinds.count("reading") == 1, kinds


def network_hangs(chromium: Browser, folder: Path) -> None:
    """Nothing is refused, nothing comes: the page says so, and goes on afterwards."""
    command = Command(folder, "--recipe", "berry-syrup", "--mute")
    cook = Cook(chromium, command.address).opens().at("Weigh the fruit")
    command.process.send_signal(signal.SIGSTOP)
    expect(cook.page.locator("body")).to_have_attribute("data-state", "lost", timeout=40_000)
    command.process.send_signal(signal.SIGCONT)
    expect(cook.page.locator("body")).to_have_attribute("data-state", "measure", timeout=40_000)
    command.end()


def restart_under_a_timer(chromium: Browser, folder: Path) -> None:
    """A timer that was set before a kill rings afterwards, on a page that shows no batch."""
    command = Command(folder, "--recipe", "berry-syrup", "--mute")
    cook = Cook(chromium, command.address).opens().at("Weigh the fruit")
    cook.types("set a timer called jars for eight seconds")
    cook.reads("strip", "jars")
    cook.context.close()
    command.kill()
    command.start()
    Cook(chromium, command.address, PHONE).opens("larder").reads("rings", "jars is up")
    command.end()


def reload_while_away(chromium: Browser, folder: Path) -> None:
    """The page opens from what the browser keeps, with what stood last."""
    kitchen = Kitchen(folder)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        cook.page.evaluate("navigator.serviceWorker.ready")
        cook.page.reload()
        cook.at("Weigh the fruit")
    cook.page.reload()
    cook.at("Weigh the fruit").in_state("lost").reads("line", "No connection")


def clock_is_wrong(chromium: Browser, folder: Path) -> None:
    """A device whose clock is three hours ahead counts by the kitchen's."""
    kitchen = Kitchen(folder)
    with kitchen.served() as address:
        cook = Cook(chromium, address)
        cook.context.add_init_script(_LATE_CLOCK)
        cook.opens().at("Weigh the fruit").types("set a timer for ten minutes")
        expect(cook.page.locator("#strip .run")).to_have_text(re.compile(r"^(10:00|9:5\d) "))
        expect(cook.page.locator("#rings")).to_be_hidden()


def other_device_answers(chromium: Browser, folder: Path) -> None:
    """A question stands on both; answered on one it is gone on both."""
    kitchen = Kitchen(folder)
    with kitchen.served() as address:
        one, other = (Cook(chromium, address).opens().at("Weigh the fruit") for _ in "12")
        one.types("40 kg of raspberries")
        one.in_state("question")
        other.in_state("question").controls("No")
        one.in_state("measure")
        other.in_state("measure")


def wrong_codes(_chromium: Browser, folder: Path) -> None:
    """Five wrong codes shut out the address that sent them, and no other."""
    kitchen = Kitchen(folder)
    with kitchen.served() as address:
        guesser = [_pairs(address, "127.0.0.2", "WRONGONE") for _ in range(TRIES)]
        assert guesser == [403] * TRIES, guesser
        code = kitchen.codes[-1]
        assert _pairs(address, "127.0.0.2", code) == 429
        assert _pairs(address, "127.0.0.3", code) == 200
        assert _pairs(address, "127.0.0.4", code) == 403, "a code is good for one device"


def _pairs(address: str, source: str, code: str) -> int:
    host = address.removeprefix("http://").strip("/")
    asked = http.client.HTTPConnection(host, timeout=10, source_address=(source, 0))
    asked.request("POST", "/api/pair", json.dumps({"code": code}), {"origin": f"http://{host}"})
    return asked.getresponse().status


def flood_of_connections(chromium: Browser, folder: Path) -> None:
    """Three hundred half-open connections: a page still opens."""
    kitchen = Kitchen(folder)
    with kitchen.served() as address:
        port = int(address.rpartition(":")[2].strip("/"))
        where, source = ("127.0.0.1", port), ("127.0.0.2", 0)
        idle = [socket.create_connection(where, source_address=source) for _ in range(300)]
        Cook(chromium, address).opens().at("Weigh the fruit")
        for each in idle:
            each.close()


def flood_of_messages(chromium: Browser, folder: Path) -> None:
    """A page that sends too much is cut off; the others go on."""
    kitchen = Kitchen(folder)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        live = f"{address.replace('http', 'ws')}live?batch={kitchen.batch}"
        with connect(live, origin=address.rstrip("/"), max_queue=None) as line:  # type: ignore[arg-type]
            for _ in range(MOST_MESSAGES + 1):
                line.send('{"kind": "sounding", "on": false}')
            assert _closed(line.recv) == 1008
        cook.types("2 kg of raspberries")
        cook.at("Crush")


def _closed(receive: Callable[..., object]) -> int | None:
    try:
        while True:
            receive(timeout=10)
    except ConnectionClosed as closed:
        return closed.rcvd.code if closed.rcvd else None


def no_ears(chromium: Browser, folder: Path) -> None:
    """No recogniser can be opened: Talk says why, and typing works."""
    kitchen = Kitchen(folder)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        cook.taps("Talk")
        cook.reads("mic-heard", "There are no ears in this kitchen.")
        cook.types("2 kg of raspberries")
        cook.at("Crush")


def damaged_memory(chromium: Browser, folder: Path) -> None:
    """What the device kept can't be read any more: the page opens all the same."""
    kitchen = Kitchen(folder)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        for name in (f"panside-view {kitchen.batch}", "panside-kitchen", "panside-outbox"):
            cook.page.evaluate(_DAMAGED, name)
        cook.page.evaluate("sessionStorage.setItem('panside-heeded', '{')")
        cook.opens().at("Weigh the fruit")
        cook.opens("larder").reads("content", "nothing in store")
        assert cook.faults == [], cook.faults


def tapped_twice(chromium: Browser, folder: Path) -> None:
    """A wet knuckle taps twice: one step is done."""
    kitchen = Kitchen(folder)
    with kitchen.served() as address:
        cook = Cook(chromium, address).opens().at("Weigh the fruit")
        cook.types("2 kg of raspberries")
        cook.at("Crush").page.wait_for_timeout(700)
        cook.page.locator("#control button").dblclick()
        cook.at("Water").page.wait_for_timeout(800)
        cook.at("Water")


FAULTS = (
    server_killed, network_hangs, restart_under_a_timer, reload_while_away, clock_is_wrong,
    other_device_answers, wrong_codes, flood_of_connections, flood_of_messages, no_ears,
    damaged_memory, tapped_twice,
)  # fmt: skip


def main() -> int:
    """All of them, or those named by number."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--only", default=",".join(str(n + 1) for n in range(len(FAULTS))))
    chosen = [int(each) for each in parser.parse_args().only.split(",")]
    failed = 0
    with browser() as chromium:
        for number in chosen:
            fault, begun = FAULTS[number - 1], time.monotonic()
            with TemporaryDirectory() as scratch:
                try:
                    fault(chromium, Path(scratch))
                    came = "held"
                except Exception as error:  # a drill goes on and tells
                    failed += 1
                    came = f"FAILED {type(error).__name__}: {str(error)[:300]}"
            name = fault.__name__.replace("_", " ")
            print(f"{number:2} {name:24} {time.monotonic() - begun:5.1f} s  {came}", flush=True)
    print(f"{len(chosen) - failed} of {len(chosen)} held")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
