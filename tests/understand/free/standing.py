"""Where the cook stands while talking freely: what the stages of a berry syrup ask for."""

from datetime import UTC, datetime, timedelta

from assistant.facts.asked import Asked, Awaited
from assistant.facts.events import AnyEvent
from assistant.facts.stuff import RANGES, UNITS
from assistant.hear.heard import Guess, Heard
from assistant.understand import Understood, understand
from assistant.understand.told import freely

NOW = datetime(2026, 7, 11, 10, 0, tzinfo=UTC)
FRUITS = ("blackcurrant", "raspberry", "strawberry")
BASE = {"fruit": "blackcurrant", "fruits": FRUITS, "had": ("fruit",)}


def awaited(what: str, last: float | None = None) -> Awaited:
    low, high = RANGES[what]
    at = NOW - timedelta(minutes=5) if last is not None else None
    return Awaited(what=what, units=UNITS[what], low=low, high=high, last=last, last_at=at)


def _asked(kind: str, about: str, first: str = "", says: str = "", **more: object) -> Asked:
    always = [awaited(w) for w in ("temperature", "ph", "brix") if w != first]
    own = [awaited(first)] if first else []
    fields = {**BASE, "stage": about or kind, "says": says, **more}
    return Asked(awaited=(*own, *always), kind=kind, about=about, **fields)


STANDING = {
    "weigh": Asked(
        awaited=(awaited("fruit"), awaited("temperature")),
        options=FRUITS,
        kind="measure",
        about="fruit",
        stage="weigh",
        fruits=FRUITS,
    ),
    "cordial": Asked(
        awaited=(awaited("juice"), awaited("temperature")),
        kind="measure",
        about="juice",
        stage="cordial",
        fruits=("lemon", "lime", "grapefruit"),
    ),
    "jars": _asked("do", "", says="Boil the jars under water.", process="berry-syrup"),
    "crush": _asked("add", "crushing_sugar", "sugar", "Crush the fruit with 600 g of sugar."),
    "water": _asked("add", "hot_water", "water", "Pour in 1 l of hot water, stir, and say done."),
    "heat": _asked("heat", "", "temperature", "Warm it gently, stirring, to 75 degrees."),
    "steep": _asked("rest", "", says="Take it off the heat and let it steep for 20 minutes."),
    "strain": _asked("do", "", says="Strain it through a cloth; say done when it only drips."),
    "juice": _asked("measure", "juice", "juice", "Measure or weigh the juice and tell me."),
    "dissolve": _asked(
        "add", "main_sugar", "sugar", "Stir in sugar until it is clear.", had=("fruit", "juice")
    ),
    "ph": _asked("measure", "ph", "ph", "Measure the pH and tell me."),
    "option": _asked("option", "sorbate", says="Do you want sorbate?", yes_no=True),
    "bottle": _asked("bottle", "", "bottles", "Fill scalded bottles."),
    "shelf": Asked(**BASE, in_store=9),
}


def hear(text: str, where: str, spoken: bool = False) -> Understood:
    """The free reader's verdict on a line that the grammars need not understand."""
    heard = Heard.typed(text)
    if spoken:
        guesses = (Guess(text=text, share=1.0),)
        heard = Heard(text=text, guesses=guesses, sure=0.9, engine="whisper")
    return freely(heard, STANDING[where], NOW, None, understand)


def brief(events: tuple[AnyEvent, ...]) -> str:
    """Events in a few words: "fruit 2.4 kg", "onward"."""
    return ", ".join(_brief(event) for event in events)


def _brief(event: AnyEvent) -> str:
    fields = event.meaning()
    kind = fields.pop("kind")
    if kind == "reading":
        return f"{fields['what']} {fields['value']:g} {fields['unit']}"
    shown = [f"{v:g}" if isinstance(v, float) else str(v) for v in fields.values() if v != ""]
    return " ".join([kind, *shown])


def meant(found: Understood) -> str:
    """What was taken, or what was asked about: the first candidate."""
    if found.question is not None:
        return brief(found.question.candidates[0])
    return found.doubt or brief(found.events)
