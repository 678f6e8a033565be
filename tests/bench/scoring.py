"""What counts as heard right: the manifest's clips, what is asked in each, and the verdict."""

import json
import zlib
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict

from assistant.base.units import Unit, dimension, to_base
from assistant.facts.asked import Asked, Awaited
from assistant.facts.events import What

FOLDER = Path(__file__).parents[2] / "audio_fixtures"
NOW = datetime(2024, 7, 6, 10, 0, tzinfo=UTC)
FRUITS = ("blackcurrant", "raspberry", "rhubarb", "strawberry", "redcurrant", "gooseberry")
Meaning = dict[str, Any]
Outcome = Literal["taken", "asked", "asked other", "part", "refused", "wrong", "quiet"]

_VOLUME: tuple[Unit, ...] = ("l", "ml", "cl", "cup", "pint", "fl_oz", "tbsp", "tsp")
_AWAITED: dict[str, tuple[What, tuple[Unit, ...], float, float]] = {
    "fruit": ("fruit", ("kg", "g", "lb", "oz"), 20, 60_000),
    "juice": ("juice", _VOLUME, 50, 80_000),
    "temperature": ("temperature", ("degC", "degF"), -5, 120),
    "ph": ("ph", ("pH",), 1.5, 8),
    "brix": ("brix", ("Brix",), 0, 90),
    "citric_acid": ("citric_acid", ("g", "tsp", "tbsp", "mg", "oz"), 0.1, 500),
    "sorbate": ("sorbate", ("g", "mg", "tsp", "g/l"), 0.05, 50),
    "bottles": ("bottles", ("count",), 1, 500),
    "sugar": ("sugar", ("g", "kg", "lb", "oz", "mg"), 1, 100_000),
    "water": ("water", (*_VOLUME, "g", "kg"), 1, 100_000),
}
"""What, units (the first is meant by a bare number), lowest and highest in the base unit."""
_ALWAYS = ("temperature", "ph", "brix")
_DECIDES = {"temperature": (75.0,), "ph": (4.0, 4.6)}
_MISTAKEN = {"fruit": 4.1, "temperature": 70.0, "ph": 3.0}
"""What stands in the batch, in the first unit, before the cook says "no, ..."."""


class Clip(BaseModel):
    """A line of the manifest."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    file: str
    set: str
    words: str
    awaiting: str
    events: tuple[Meaning, ...]
    voice: str
    voice_kind: str
    noise: str
    snr_db: float | None
    distance: str = "near"
    family: str = ""

    @property
    def condition(self) -> str:
        """Clean, or how far the noise lies below the speech."""
        return "clean" if self.snr_db is None else f"{self.snr_db:g} dB"

    @property
    def half(self) -> str:
        """Whether its mishearings may be looked at when words are mended, by a checksum."""
        return "unseen" if zlib.crc32(self.file.encode()) % 2 else "seen"


def clips(sets: Iterable[str], folder: Path = FOLDER) -> list[Clip]:
    """The clips of these sets in a folder's manifest, in its order."""
    return [clip for clip in all_clips(folder) if clip.set in sets]


def all_clips(folder: Path) -> list[Clip]:
    """Every clip in a folder's manifest."""
    lines = (folder / "manifest.jsonl").read_text("utf-8").splitlines()
    return [Clip.model_validate(json.loads(line)) for line in lines]


def asked_for(clip: Clip) -> Asked:
    """What the batch wants when the clip is spoken, with a kitchen's real ranges.

    Temperature, pH and Brix are welcome at any time, as in a real batch. Where the clip takes
    something back, the batch has a last reading that can be taken back.
    """
    if not clip.awaiting:
        return Asked()
    takes_back = any(event["kind"] in {"correct", "undo"} for event in clip.events)
    names = dict.fromkeys((clip.awaiting, *_ALWAYS))
    return Asked(
        awaited=tuple(_awaited(name, takes_back) for name in names if name in _AWAITED),
        yes_no=clip.awaiting == "question",
        options=FRUITS if clip.awaiting == "fruit" else (),
    )


def _awaited(name: str, takes_back: bool) -> Awaited:
    what, units, low, high = _AWAITED[name]
    last = to_base(_MISTAKEN[name], units[0]) if takes_back and name in _MISTAKEN else None
    return Awaited(
        what=what,
        units=units,
        low=low,
        high=high,
        decides=_DECIDES.get(name, ()),
        last=last,
        last_at=NOW - timedelta(seconds=10) if last is not None else None,
    )


def same(wanted: Meaning, got: Meaning) -> bool:
    """Whether two meanings come to the same thing.

    1300 g is 1.3 kg; a correction may leave out what and unit, since the batch knows them; a
    reading of bottles is a count of bottles without a size.
    """
    wanted, got = _plain(wanted), _plain(got)
    if wanted["kind"] == got["kind"] == "reading":
        return bool(wanted["what"] == got["what"] and _same_amount(wanted, got))
    if wanted["kind"] == got["kind"] == "correct":
        return _same_what(wanted, got) and _same_amount(wanted, got)
    return bool(wanted == got)


def _plain(meaning: Meaning) -> Meaning:
    if meaning["kind"] == "reading" and meaning["what"] == "bottles":
        return {"kind": "bottle", "count": round(meaning["value"])}
    return meaning


def _same_what(one: Meaning, other: Meaning) -> bool:
    return len({one.get("what"), other.get("what")} - {None}) < 2


def _same_amount(one: Meaning, other: Meaning) -> bool:
    first, second = one.get("unit"), other.get("unit")
    if first is None or second is None:
        return bool(abs(one["value"] - other["value"]) < 1e-6)
    if dimension(first) != dimension(second):
        return False
    return abs(to_base(one["value"], first) - to_base(other["value"], second)) < 1e-3


def judged(clip: Clip, taken: list[Meaning], offered: list[list[Meaning]]) -> Outcome:
    """What came of a clip, from the events taken and the candidates asked about.

    taken : exactly what was said; asked : one of the candidates is exactly that; part : some of
    it, nothing else; wrong : something was taken that was not said; quiet : nothing was said for
    the tool and nothing came of it; asked other : a question back without the right answer.
    """
    if not all(_one_of(got, clip.events) for got in taken):
        return "wrong"
    if clip.events and _matches(clip, taken):
        return "taken"
    if any(clip.events and _matches(clip, taken + candidate) for candidate in offered):
        return "asked"
    if offered:
        return "asked other"
    if taken:
        return "part"
    return "refused" if clip.events else "quiet"


def first_right(clip: Clip, first: list[Meaning]) -> bool:
    """Whether the best guess is exactly what was said, no less and no more."""
    return bool(clip.events) and _matches(clip, first)


def _one_of(got: Meaning, wanted: Iterable[Meaning]) -> bool:
    return any(same(meaning, got) for meaning in wanted)


def _matches(clip: Clip, got: list[Meaning]) -> bool:
    covered = all(any(same(wanted, one) for one in got) for wanted in clip.events)
    return covered and all(_one_of(one, clip.events) for one in got)
