"""Where the panel's cooks stand: batches brought to a stage by events, not by words.

Words would make the measure depend on what it measures. A stage is reached by giving each stage
before it what it waits for, so that a recipe may change its order.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from assistant.cook import Batch, begin, step
from assistant.facts import events as ev
from assistant.recipebook.files import load_recipe

BEGUN = datetime(2026, 7, 11, 10, 0, tzinfo=UTC)
_MOST = 80


@dataclass
class Making:
    """One batch on its way: the events so far, the state, and the time of the last event."""

    id: str
    recipe: str
    fruit: str | None = None
    weight: tuple[float, str] = (2.4, "kg")
    at: datetime = BEGUN
    events: list[ev.AnyEvent] = field(default_factory=list)

    def __post_init__(self) -> None:
        body = load_recipe(self.recipe).model_dump(mode="json")
        first = ev.Begin(at=self.at, batch=self.id, recipe=body, rules=ev.RULES)
        self.events.append(first)
        self.batch: Batch = begin(first)[0]

    def after(self, seconds: float) -> "Making":
        self.at += timedelta(seconds=seconds)
        return self

    def take(self, kind: type[ev.Event], **fields: object) -> "Making":
        event = kind(at=self.at, **fields)  # type: ignore[arg-type]
        self.events.append(event)  # type: ignore[arg-type]
        self.batch = step(self.batch, event)[0]  # type: ignore[arg-type]
        return self

    def reads(self, what: str, value: float, unit: str) -> "Making":
        return self.take(ev.Reading, what=what, value=value, unit=unit)

    def to(self, stage: str) -> "Making":
        """On until that stage is asked for; AssertionError where the recipe has none."""
        for _ in range(_MOST):
            if self.batch.stage is None or self.batch.stage.id == stage:
                break
            self._pass()
        found = self.batch.stage.id if self.batch.stage else "end"
        assert found == stage, f"{self.recipe} stands at {found}, not at {stage}"
        return self

    def _pass(self) -> None:
        """What the stage waits for, or as good as that."""
        stage = self.batch.stage
        assert stage is not None
        self.after(30)
        match stage.kind:
            case "measure":
                self._measure(stage.reading)
            case "heat":
                self.reads("temperature", stage.target_c + 1, "degC")
            case "hold":
                self.after(-10).reads("temperature", stage.target_c + 1, "degC")
            case "cool":
                self.reads("temperature", stage.below_c - 4, "degC")
            case "rest":
                self.after(stage.minutes * 60).take(ev.Onward)
            case "option":
                self.take(ev.No)
            case "bottle":
                self.take(ev.Bottle, count=9, size_ml=500.0)
            case "reduce":
                self.reads("yield", 1.0, "kg")
            case _:
                self.take(ev.Onward)

    def _measure(self, reading: str) -> None:
        if reading == "fruit":
            if self.fruit and self.batch.fruit is None:
                self.take(ev.Choose, option="fruit", value=self.fruit)
            self.reads("fruit", *self.weight)
        elif reading == "ph":
            self.reads("ph", 3.3, "pH")
        elif reading == "brix":
            self.reads("brix", 62.0, "Brix")
        elif reading == "water":
            self.reads("water", 1.0, "l")
        else:
            self.reads(reading, 2.9, "l")


@dataclass(frozen=True)
class Situation:
    """The batches at work, the last in hand, and how long after the last event the cook speaks."""

    makings: tuple[Making, ...]
    later_s: float = 20.0

    @property
    def now(self) -> datetime:
        """When the cook speaks."""
        latest = max((m.at for m in self.makings), default=BEGUN)
        return latest + timedelta(seconds=self.later_s)


def _black(stage: str | None = None) -> Making:
    making = Making("2026-07-11", "berry-syrup", "blackcurrant")
    return making.to(stage) if stage else making


def _sour(stage: str) -> Making:
    """At a stage with the pH already read."""
    making = _black()
    for _ in range(_MOST):
        if making.batch.stage is None or making.batch.stage.id == stage:
            break
        if making.batch.last("ph") is None and making.batch.addition("main_sugar"):
            making.after(30).reads("ph", 3.3, "pH")
        else:
            making._pass()
    assert making.batch.stage is not None
    assert making.batch.stage.id == stage
    return making


def _finished() -> Making:
    making = _black("store")
    if making.batch.last("brix") is None:
        making.after(20).reads("brix", 62.0, "Brix")
    return making.after(30).take(ev.Onward)


def _two() -> tuple[Making, ...]:
    raspberry = Making("2026-07-11-b", "berry-syrup", "raspberry", (1.8, "kg")).to("crush")
    black = _black("heat").after(600).reads("temperature", 62.0, "degC")
    return raspberry, black


def _stopped() -> Making:
    return _black("ph").after(30).reads("ph", 4.8, "pH")


def _citrus() -> Making:
    return Making("2026-07-11", "citrus-cordial").take(ev.Choose, option="fruit", value="lime")


SITUATIONS: dict[str, Callable[[], Situation]] = {
    "S00": lambda: Situation(()),
    "S01": lambda: Situation((_black(),)),
    "S02": lambda: Situation((_black("crush"),)),
    "S03": lambda: Situation((_black("water"),)),
    "S04": lambda: Situation((_black("heat"),)),
    "S05": lambda: Situation((_black("heat").after(600).reads("temperature", 62.0, "degC"),), 60.0),
    "S06": lambda: Situation((_black("hold"),)),
    "S07": lambda: Situation((_black("steep"),), 180.0),
    "S08": lambda: Situation((_black("strain"),)),
    "S09": lambda: Situation((_black("make_up"),)),
    "S10": lambda: Situation((_black("juice"),)),
    "S11": lambda: Situation((_black("cool").after(300).reads("temperature", 58.0, "degC"),), 60.0),
    "S12": lambda: Situation((_black("dissolve"),)),
    "S13": lambda: Situation((_black("ph"),)),
    "S14": lambda: Situation((_sour("sharpen"),)),
    "S15": lambda: Situation((_black("ask_ascorbic"),)),
    "S16": lambda: Situation((_black("ask_sorbate"),)),
    "S17": lambda: Situation((_black("bottle"),)),
    "S18": lambda: Situation((_black("store"),)),
    "S19": lambda: Situation((_finished(),), 86_400.0),
    "S20": lambda: Situation((_stopped(),)),
    "S21": lambda: Situation((_black("hold").after(20).reads("temperature", 88.0, "degC"),)),
    "S22": lambda: Situation((Making("2026-07-11", "rhubarb-syrup", "rhubarb").to("wait"),), 7200),
    "S23": lambda: Situation((_citrus(),)),
    "S24": lambda: Situation((Making("2026-07-11", "nut-syrup"),)),
    "S25": lambda: Situation(_two()),
    "S26": lambda: Situation(
        (_finished().after(8 * 86_400).take(ev.Opened, count=1),), 2 * 86_400.0
    ),
}
