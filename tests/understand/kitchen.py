"""What a stage may be asking for, and ways to have heard something."""

from datetime import UTC, datetime, timedelta

from assistant.facts.asked import Asked, Awaited
from assistant.facts.events import AnyEvent
from assistant.hear.heard import Guess, Heard
from assistant.understand import Question, Understood, understand

NOW = datetime(2025, 7, 5, 10, 0, tzinfo=UTC)

FRUIT = Awaited(what="fruit", units=("kg", "g", "lb", "oz"), low=100, high=50_000)
SUGAR = Awaited(what="sugar", units=("g", "kg", "lb", "oz", "mg"), low=0.001, high=100_000)
JUICE = Awaited(what="juice", units=("l", "ml", "cl", "pint", "kg", "g"), low=50, high=80_000)
PAN = Awaited(what="temperature", units=("degC", "degF"), low=-5, high=115)
PH = Awaited(what="ph", units=("pH",), low=1.5, high=8.0, decides=(4.0, 4.6), confirm=True)
BRIX = Awaited(what="brix", units=("Brix",), low=0, high=85)
SORBATE = Awaited(what="sorbate", units=("g/l", "g", "mg"), low=0.001, high=100_000)
ACID = Awaited(what="citric_acid", units=("g", "kg", "lb", "oz", "mg"), low=0.001, high=10_000)
BOTTLES = Awaited(what="bottles", units=("count",), low=1, high=500)
ALWAYS = (PAN, PH, BRIX)


def pan(last: float, seconds: float, *decides: float) -> Awaited:
    """A pan that was read so many seconds ago."""
    at = NOW - timedelta(seconds=seconds)
    return PAN.model_copy(update={"last": last, "last_at": at, "decides": decides})


STAGES = {
    "nothing": Asked(),
    "fruit": Asked(awaited=(FRUIT, *ALWAYS), options=("blackcurrant", "raspberry")),
    "sugar": Asked(awaited=(SUGAR, *ALWAYS)),
    "juice": Asked(awaited=(JUICE, *ALWAYS)),
    "temperature": Asked(awaited=ALWAYS),
    "heating": Asked(awaited=(pan(68.0, 10.0, 75.0), PH, BRIX)),
    "ph": Asked(awaited=(PH, PAN, BRIX)),
    "brix": Asked(awaited=(BRIX, PAN, PH)),
    "sorbate": Asked(awaited=(SORBATE, *ALWAYS)),
    "acid": Asked(awaited=(ACID, *ALWAYS)),
    "bottles": Asked(awaited=(BOTTLES, *ALWAYS)),
    "option": Asked(awaited=ALWAYS, yes_no=True),
}


def spoken(*guesses: tuple[str, float] | str, sure: float = 0.9) -> Heard:
    """Speech, with the share of each guess; a single text has all of it."""
    pairs = [(g, 1.0) if isinstance(g, str) else g for g in guesses]
    found = tuple(Guess(text=text, share=share) for text, share in pairs)
    return Heard(text=pairs[0][0], guesses=found, sure=sure, engine="whisper")


def hear(heard: Heard | str, stage: str | Asked, pending: Question | None = None) -> Understood:
    """The verdict on speech (or on text, when a plain string: typed)."""
    asked = STAGES[stage] if isinstance(stage, str) else stage
    said = Heard.typed(heard) if isinstance(heard, str) else heard
    return understand(said, asked, NOW, pending)


def brief(events: tuple[AnyEvent, ...]) -> str:
    """Events in a few words: "fruit 2.4 kg", "choose fruit blackcurrant", "onward"."""
    return ", ".join(_brief(event) for event in events)


def _brief(event: AnyEvent) -> str:
    fields = event.meaning()
    kind = fields.pop("kind")
    if kind == "reading":
        return f"{fields['what']} {fields['value']:g} {fields['unit']}"
    shown = [f"{v:g}" if isinstance(v, float) else str(v) for v in fields.values() if v != ""]
    return " ".join([kind, *shown])


def offered(found: Understood) -> list[str]:
    """The candidates of the question, in a few words each."""
    return [brief(events) for events in found.question.candidates] if found.question else []
