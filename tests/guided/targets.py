"""What is done with bytes: each target refuses them in a sentence, or makes sense of them.

Only our own errors may come out of the product. Of what is typed, a number that was taken must
stand in the line that it was taken from.
"""

import json
import re
import tempfile
from collections.abc import Callable, Iterable
from contextlib import suppress
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from assistant.base.clock import SetClock
from assistant.base.errors import PansideError
from assistant.cook import Recipe, begin, fold, step
from assistant.facts.events import AnyEvent, Ask, Begin, Onward, Reading
from assistant.keep import Journal, from_lines
from assistant.keep.lines import export_batch, import_batch
from assistant.label.content import LabelText
from assistant.label.layout import lay_out
from assistant.label.named import batch_of
from assistant.larder import larder, larder_lines
from assistant.recipebook.files import load_recipe, read_recipe, recipe_for
from assistant.report import batch_lines
from assistant.report.recipe_ld import recipe_ld
from assistant.say import shown, spoken
from assistant.screen.live import In, SayIn
from assistant.screen.room import Room
from assistant.turns.desk import Desk
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance

AT = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
LINES = 6
"""So many lines of an input are typed."""
WAY = (
    "", "2 kg of strawberries", "done", "done", "76 degrees", "77 degrees", "77 degrees",
    "done", "done", "done", "done", "2.4 litres", "44 degrees", "done", "done", "no", "no", "no",
    "ph 3.3", "8 bottles of half a litre",
)  # fmt: skip
QUESTIONS = ("where", "how_much", "keep", "bottles", "yield", "limit", "may_i", "strong", "larder")
_MESSAGE: TypeAdapter[In] = TypeAdapter(In)
_DIGITS = re.compile(r"\d+(?:[.,]\d+)?")
_PLAIN = re.compile(
    r"[^\d]*?(-?\b\d{1,4}(?:\.\d{1,3})?) ?(?:kg|g|ml|l|litres?|grams?|degrees|C)?\.?$"
)
_WORDED = re.compile(
    r"\b(?:an?|half|quarters?|thirds?|dozen|couple|zero|oh|nil|point|one|two|three|four|five|six|"
    r"seven|eight|nine|ten|eleven|twelve|\w+teen|twent\w+|thirt\w+|fort\w+|fift\w+|sixt\w+|sevent\w+|"
    r"eight\w+|ninet\w+|hundreds?|thousands?)\b",
    re.IGNORECASE,
)


def chat(data: bytes) -> None:
    """The first byte chooses where the batch stands, the rest is typed line by line."""
    if not data:
        return
    store, clock, id_ = _kitchen_at(data[0] % len(WAY))
    desk = Desk(store, clock)
    desk.open(id_)
    for line in data[1:].decode("utf-8", "replace").splitlines()[:LINES]:
        clock.forward(20)
        wrongly_taken(line, desk.take(Utterance.typed(line)))


def recipe(data: bytes) -> None:
    """A recipe file, and the plain way through it."""
    with tempfile.NamedTemporaryFile(suffix=".toml") as file:
        Path(file.name).write_bytes(data)
        with suppress(PansideError):
            _make(read_recipe(Path(file.name)))


def journal(data: bytes) -> None:
    """Lines of events from elsewhere, and all that is told of them."""
    with suppress(PansideError):
        events = from_lines(data.decode("utf-8", "replace").splitlines(), "there")
        if events and isinstance(events[0], Begin):
            _tell(events)


def label(data: bytes) -> None:
    """Texts of a label, a line each, laid out on the smallest and a middling label."""
    lines = [*data.decode("utf-8", "replace").split("\n"), *[""] * 8]
    lot, name, volume, allergens, storage, serving, caution, *rest = lines
    text = LabelText(
        name, volume, date(2026, 7, 11), date(2026, 7, 25), lot, tuple(rest[:9]), allergens,
        storage, storage[:40], serving, caution, caution[:40], f"panside:batch:{lot}",
    )  # fmt: skip
    for width, height in ((38.1, 21.2), (99.1, 67.7)):
        with suppress(PansideError):
            lay_out(text, width, height, 25)
    with suppress(PansideError):
        batch_of(lines[0])


def page(data: bytes) -> None:
    """Messages of a page, one a line; what they say is said in its room."""
    store, clock, id_ = _kitchen_at(2)
    room = Room(store, clock, recipe_for)
    room.open(id_)
    for n, line in enumerate(data.decode("utf-8", "replace").splitlines()[:LINES]):
        clock.forward(20)
        try:
            message = _MESSAGE.validate_json(line)
        except ValidationError:
            continue
        if not isinstance(message, SayIn):
            continue
        said = Utterance.typed(
            message.text, id=f"{message.id}{n}", device="a", batch=message.batch or id_,
            stage=message.stage,
        )  # fmt: skip
        with suppress(PansideError):
            wrongly_taken(message.text, room.take(said).turn)
            json.dumps(room.view(id_).model_dump(mode="json"))


TARGETS: dict[str, Callable[[bytes], None]] = {
    "chat": chat, "recipe": recipe, "journal": journal, "label": label, "page": page,
}  # fmt: skip


def wrongly_taken(line: str, turn: Turn) -> None:
    """AssertionError where a number was taken that is not the only one in the line."""
    found = _PLAIN.match(line)
    if turn.verdict != "take" or found is None or not line.isascii() or _WORDED.search(line):
        return
    if len(_DIGITS.findall(line)) > 1:
        return
    taken = [event.value for event in turn.events if isinstance(event, Reading)]
    assert all(abs(value) == abs(float(found[1])) for value in taken), (line, taken)


@cache
def _written(steps: int) -> tuple[str, tuple[str, ...]]:
    """The journal of a batch after so many lines of the plain way."""
    clock, store = SetClock(AT), Journal("sqlite://")
    desk = Desk(store, clock)
    desk.begin(load_recipe("berry-syrup"))
    for line in WAY[1 : steps + 1]:
        clock.forward(1300 if line == "done" else 45)
        desk.take(Utterance.typed(line))
    id_ = desk.in_hand().id
    return id_, tuple(export_batch(store, id_))


def _kitchen_at(steps: int) -> tuple[Journal, SetClock, str]:
    id_, lines = _written(steps)
    store, clock = Journal("sqlite://"), SetClock(AT)
    import_batch(store, lines)
    clock.forward(30_000)
    return store, clock, id_


def _make(made: Recipe) -> None:
    """From its first number to its end, with every question on the way."""
    body = made.model_dump(mode="json")
    batch, reply = begin(Begin(at=AT, batch="b", recipe=body, rules=1))
    unit = "g" if made.base == "fruit" else "ml"
    first = Reading(at=AT, what=made.base, value=2000.0, unit=unit)
    events: Iterable[AnyEvent] = (first, *[Onward(at=AT)] * 2 * len(made.stages))
    for event in events:
        batch, reply = step(batch, event)
        for topic in QUESTIONS:
            spoken(step(batch, Ask(at=AT, topic=topic))[1])
        spoken(reply)
    json.dumps(recipe_ld(made))


def _tell(events: tuple[AnyEvent, ...]) -> None:
    batch, reply = fold(events)
    for topic in QUESTIONS:
        told = step(batch, Ask(at=events[-1].at, topic=topic))[1]
        spoken(told)
        shown(told)
    spoken(reply)
    batch_lines(events)
    larder_lines(larder([events], date(2026, 7, 20)))
