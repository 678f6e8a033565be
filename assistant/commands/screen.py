"""`panside screen`: the kitchen page, on this machine or on the local network."""

import asyncio
import socket
from collections.abc import Awaitable, Callable
from contextlib import suppress
from pathlib import Path
from time import time
from typing import TYPE_CHECKING, Annotated, Any

import typer

from assistant.base.clock import WallClock
from assistant.base.errors import SomethingMissing, VoiceMissing, WrongUse
from assistant.commands.options import (
    BatchId,
    EarsName,
    RecipeName,
    Store,
    VoskModel,
    kitchen_reader,
    open_batch,
    open_journal,
)
from assistant.hear.choose import open_ears
from assistant.hear.heard import Ears
from assistant.keep import Journal, default_path
from assistant.turns.desk import Desk

if TYPE_CHECKING:
    from assistant.screen.certificate import Certificate
    from assistant.screen.site import Host
    from assistant.screen.speech import Speech

PORT = 8747


def screen(
    recipe: RecipeName = None,
    batch: BatchId = None,
    port: Annotated[
        int, typer.Option("--port", min=0, max=65535, help="Port; 0 takes any free one.")
    ] = PORT,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let paired devices on the local network in too.")
    ] = False,
    tls: Annotated[
        bool,
        typer.Option("--tls", help="Encrypt with a local certificate; phones need it to talk."),
    ] = False,
    forget: Annotated[
        bool, typer.Option("--forget", help="Unpair every device that was paired before.")
    ] = False,
    mute: Annotated[bool, typer.Option("--mute", help="No spoken answers on the page.")] = False,
    ears: EarsName = "auto",
    vosk_model: VoskModel = None,
    store: Store = None,
) -> None:
    """The kitchen page: big words across the room, curve, timers, talk through the browser."""
    from assistant.screen.site import site

    journal = open_journal(store)
    bound = _bound("0.0.0.0" if lan else "127.0.0.1", port)
    port = bound.getsockname()[1]
    folder = _folder(journal)
    made = _certificate(folder) if tls else None
    host = _host(journal, None if mute else _speech(), ears, vosk_model)
    host.secure = made is not None
    host.certificate = made.authority.read_bytes() if made else b""
    host.batch = _first_batch(journal, recipe, batch)
    here = f"{'https' if made else 'http'}://127.0.0.1:{port}/"
    if lan:
        _share(host, folder, port, forget)
    typer.echo(f"The kitchen page is at {here} Ctrl-C ends.")
    _serve(site(host), bound, made)
    journal.close()


def _bound(address: str, port: int) -> socket.socket:
    """A listening socket, so that a port in use is told in one sentence."""
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((address, port))
        made.listen()
    except OSError as error:
        made.close()
        raise WrongUse(
            f"Port {port} can't be used ({error.strerror}). Name another one: --port {port + 1}."
        ) from error
    return made


def _folder(journal: Journal) -> Path:
    """Beside the journal's file, or where this user's data are when it is on a server."""
    beside = Path(journal.store)
    return beside.parent if beside.is_file() else Path(default_path()).parent


def _first_batch(journal: Journal, recipe: str | None, batch: str | None) -> str | None:
    """The batch to open with; without a name the page finds the latest unfinished one itself."""
    if recipe is None and batch is None:
        return None
    clock = WallClock()
    desk = Desk(journal, clock)
    typer.echo(open_batch(desk, journal, clock, recipe, batch))
    return desk.in_hand().id


def _host(journal: Journal, speech: "Speech | None", choice: str, model: Path | None) -> "Host":
    from assistant.screen.house import House
    from assistant.screen.network import HERE
    from assistant.screen.site import Host

    house = House(journal, WallClock(), speech, kitchen_reader())
    return Host(house, _opened_once(lambda: open_ears(choice, vosk_model=model)), set(HERE))


def _opened_once(open_: Callable[[], Ears]) -> Callable[[], Awaitable[Ears]]:
    """The recogniser, opened when the first microphone is switched on, for all of them."""
    opening: list[asyncio.Task[Ears]] = []

    async def ears() -> Ears:
        if not opening or (opening[0].done() and opening[0].exception()):
            opening[:] = [asyncio.create_task(asyncio.to_thread(open_))]
        return await asyncio.shield(opening[0])

    return ears


def _speech() -> "Speech | None":
    """The voice; a kitchen without one still has the page."""
    from assistant.say.manner import Manners
    from assistant.say.voice import EspeakVoice
    from assistant.screen.speech import Speech

    try:
        voice = EspeakVoice()
        return Speech(voice, Manners(voice))
    except VoiceMissing as missing:
        typer.echo(f"panside: {missing} The page shows the answers.", err=True)
        return None


def _certificate(folder: Path) -> "Certificate":
    from assistant.screen.network import own_addresses, own_names

    try:
        from assistant.screen.certificate import certificate
    except ImportError as error:
        raise SomethingMissing(
            "--tls needs a package that makes certificates: pip install 'panside[tls]'"
        ) from error
    names = {"localhost", "127.0.0.1", *own_names(), *own_addresses()}
    return certificate(folder, names, WallClock().now())


def _share(host: "Host", folder: Path, port: int, forget: bool) -> None:
    """Other devices may come in, once they have been paired."""
    from assistant.screen.devices import Devices
    from assistant.screen.network import own_addresses, own_names
    from assistant.screen.pairing import Pairing, read_key

    addresses = own_addresses()
    if not addresses:
        raise SomethingMissing("This machine is in no local network; leave --lan out.")
    host.names = {*host.names, *own_names()}
    host.address = f"{'https' if host.secure else 'http'}://{addresses[0]}:{port}/"
    key = read_key(folder / "screen.key", fresh=forget)
    list_ = folder / "screen-devices.json"
    if forget:
        list_.unlink(missing_ok=True)
    host.pairing = Pairing(
        key, time, lambda code: _show_code(host.address, code), devices=Devices(time, list_)
    )


def _show_code(address: str, code: str) -> None:
    from assistant.screen.pairing import spaced
    from assistant.screen.site import qr_text

    typer.echo(qr_text(address, code))
    typer.echo(f"Other devices: {address} with the code {spaced(code)} (good for ten minutes).")


def _serve(app: Any, bound: socket.socket, made: "Certificate | None") -> None:
    """Until Ctrl-C or a polite kill."""
    from assistant.screen.entrance import server

    keys: dict[str, Any] = {"ssl_certfile": made.chain, "ssl_keyfile": made.key} if made else {}
    with suppress(KeyboardInterrupt):
        server(app, **keys).run(sockets=[bound])
