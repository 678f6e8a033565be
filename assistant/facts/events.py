"""What the cook did or said, as typed facts: the only thing the journal holds.

The union is closed. Each event carries what was heard, how sure the hearing was (0 to 1) and the
time that the passed-in clock gave. Values stay in the unit that was said; `Reading.base` gives
the one the reckoning uses.
"""

from typing import Annotated, Any, Literal, Self

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, TypeAdapter, model_validator

from assistant.base.units import Unit, dimension, to_base
from assistant.facts.vessels import Count, Held, Lot, OfBottles, Size, Vessel

What = Literal[
    "fruit", "sugar", "water", "juice", "temperature", "ph", "brix",
    "citric_acid", "ascorbic_acid", "glycerin", "sorbate", "benzoate", "sulphite",
    "yield", "bottles", "ingredient",
]  # fmt: skip
Topic = Literal[
    "keep", "where", "next", "why", "how_much", "limit", "say_what", "help", "more", "how_long",
    "bottles", "yield", "may_i", "larder", "what_if", "convert", "strong", "card", "reckon",
]  # fmt: skip
Place = Literal["fridge", "freezer", "cupboard"]
SignOf = Literal["fizzing", "bulging", "mould", "off_smell", "leaking", "cloudy"]
How = Literal["quiet", "speak", "slower", "faster", "louder", "softer"]
Amount = Annotated[float, Field(allow_inf_nan=False)]
OfSort = Annotated[Vessel | None, Field(exclude_if=lambda vessel: vessel is None)]
"""Which sort of bottle or jar, where there are several; None for the only one."""
RULES = 3
"""What a batch that is begun now is folded by, see `Begin.rules`."""
STRENGTHS_COUNT = 2
"""The rules from which on what else keeps a bottle counts, besides pH, sugar and heat."""
SORTS_COUNT = 3
"""The rules from which on a bottle of several sorts is of one of them."""


class By(BaseModel):
    """Who wrote an event: names that a cook gave once. They are no proof of anything."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    person: str = ""
    kitchen: str = ""
    device: str = ""

    def named(self) -> dict[str, str]:
        """The names that were given."""
        return {name: said for name, said in self.model_dump().items() if said}

    @property
    def words(self) -> str:
        """As they may be shown.

        >>> By(person="Ana", kitchen="the tea hut", device="till").words
        'Ana, the tea hut, till'
        """
        return ", ".join(self.named().values())


class Event(BaseModel):
    """What every event carries.

    process, elapsed_s : who counted, and the steady seconds counted from a start of its own, for
        comparing within one process; not there in what was written before anything was counted [s]
    by : who wrote it, where somebody gave a name
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: AwareDatetime
    heard: str = ""
    sure: float = Field(default=1.0, ge=0.0, le=1.0)
    process: Annotated[str, Field(max_length=64, exclude_if=lambda name: not name)] = ""
    elapsed_s: Annotated[
        float | None, Field(allow_inf_nan=False, exclude_if=lambda counted: counted is None)
    ] = None
    by: By | None = Field(default=None, exclude_if=lambda by: by is None)

    def meaning(self) -> dict[str, Any]:
        """The event without who, when, how and how surely: equal for equal meanings."""
        return self.model_dump(exclude=_HOW_IT_CAME, exclude_none=True)


_HOW_IT_CAME = {"at", "heard", "sure", "process", "elapsed_s", "by"}


class Weighed(BaseModel):
    """One fruit of what was weighed, as it was said.

    fruit : its key; value, unit : what was said, "count" for pieces and punnets
    each : what was counted, "" where it was weighed
    frozen : it came from the freezer; stones : it was weighed with its stones
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    fruit: Annotated[str, Field(min_length=1, max_length=60)]
    value: Annotated[float, Field(gt=0, allow_inf_nan=False)]
    unit: Unit
    each: Annotated[Literal["", "piece", "punnet"], Field(exclude_if=lambda each: not each)] = ""
    frozen: Annotated[bool, Field(exclude_if=lambda frozen: not frozen)] = False
    stones: Annotated[bool, Field(exclude_if=lambda stones: not stones)] = False

    @model_validator(mode="after")
    def _is_an_amount(self) -> Self:
        if self.each != "" and self.unit != "count":
            raise ValueError("what was counted has no unit")
        if self.each == "" and dimension(self.unit) not in ("mass", "volume"):
            raise ValueError("fruit is weighed, juice weighed or measured")
        return self


class Reading(Event):
    """A number that the cook gives: a weight, a temperature, a pH, an amount put in.

    of : which of the recipe's own ingredients it is, "" for the one that the stage asks for
    parts : of fruit, what it is made up of; the value is then their sum, or how many were counted
    more : of fruit, on top of what was weighed before
    """

    kind: Literal["reading"] = "reading"
    what: What
    value: Amount
    unit: Unit
    of: Annotated[str, Field(max_length=60, exclude_if=lambda of: not of)] = ""
    parts: Annotated[
        tuple[Weighed, ...], Field(max_length=12, exclude_if=lambda parts: not parts)
    ] = ()
    more: Annotated[bool, Field(exclude_if=lambda more: not more)] = False

    @property
    def base(self) -> float:
        """The value in g, ml, degC, g/l, or plain for pH, Brix and counts."""
        return to_base(self.value, self.unit)

    @property
    def dimension(self) -> str:
        """The kind of quantity: mass, volume, temperature ..."""
        return dimension(self.unit)


class Correct(Event):
    """ "No, sixty": the last reading was wrong and this is right.

    `what` and `unit` are None when only a number was said; the batch takes the last reading's.
    of : as of a reading; of fruit, which one of a mixture
    vessel : of which bottles it is the count
    """

    kind: Literal["correct"] = "correct"
    value: Amount
    unit: Unit | None = None
    what: What | None = None
    of: Annotated[str, Field(max_length=60, exclude_if=lambda of: not of)] = ""
    vessel: OfSort = None


class Onward(Event):
    """ "Done", "next": what the stage asks for has been done."""

    kind: Literal["onward"] = "onward"


class Later(Event):
    """ "Leave that for later": the next stage first, where the recipe lets the two swap."""

    kind: Literal["later"] = "later"


class Repeat(Event):
    """ "Strain it again": a stage done before, once more; the last one where none is named."""

    kind: Literal["repeat"] = "repeat"
    stage: str | None = None


class Pause(Event):
    """ "Hold on": the cook turns away for a while."""

    kind: Literal["pause"] = "pause"


class SayAgain(Event):
    """ "Say that again"."""

    kind: Literal["say_again"] = "say_again"


class Undo(Event):
    """ "Scratch that": take the last thing back; "two stages back": everything since then."""

    kind: Literal["undo"] = "undo"
    stages: Annotated[int, Field(ge=1, le=20)] | None = None


class Given(BaseModel):
    """One number that a question names: what for, how much, in which unit.

    >>> Given(name="target", value=62, unit="Brix").base
    62.0
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: Annotated[str, Field(max_length=30)]
    value: Amount
    unit: Unit

    @property
    def base(self) -> float:
        """The value in the base unit of its kind."""
        return to_base(self.value, self.unit)


class Ask(Event):
    """A question; `about` narrows it ("how much sugar" is how_much about sugar).

    topic "card" : asked in the cook's own words; `about` is the id of the answer card
    topic "reckon" : a calculation with this batch's numbers; `about` is its subject

    value, unit : the amount that the question names ("what if I have only 300 grams of sugar")
    to : the unit to convert to
    given : the numbers that a calculation is asked with
    vessel : which bottles are asked about; lots : what is filled before them
    """

    kind: Literal["ask"] = "ask"
    topic: Topic
    about: str | None = None
    value: Amount | None = None
    unit: Unit | None = None
    to: Unit | None = None
    vessel: OfSort = None
    lots: Annotated[tuple[Lot, ...], Field(exclude_if=lambda lots: not lots)] = ()
    given: Annotated[
        tuple[Given, ...], Field(max_length=8, exclude_if=lambda given: not given)
    ] = ()

    def number(self, name: str) -> float | None:
        """A number that it names, in its base unit; None where it names none of that name."""
        return next((one.base for one in self.given if one.name == name), None)


class Yes(Event):
    """ "Yes"."""

    kind: Literal["yes"] = "yes"


class No(Event):
    """ "No"."""

    kind: Literal["no"] = "no"


class TimerSet(Event):
    """ "Set a timer for ten minutes"."""

    kind: Literal["timer_set"] = "timer_set"
    seconds: Annotated[float, Field(gt=0, allow_inf_nan=False)]
    name: str | None = None


class TimerStop(Event):
    """ "Stop the timer"."""

    kind: Literal["timer_stop"] = "timer_stop"
    name: str | None = None


class Choose(Event):
    """A choice: which fruit, with or without an option."""

    kind: Literal["choose"] = "choose"
    option: str
    value: str


class Begin(Event):
    """A batch begins. The whole recipe travels along, so that a replay needs nothing else.

    lots : what it was called before, in another kitchen; its labels may still say so
    rules : what it is folded by, so that what was written before stays what it was. 0: amounts far
        off the plan count at once, a sign of spoilage before bottling stops nothing, a dip starts a
        hold anew and a silence does not, a stop for its pH can be taken back; 1: numbers and signs
        wait for the cook's answer, a dip pauses the hold, a silence ends it, a stop stays;
        2: alcohol, vinegar and a very sour solution count for its days; 3: of bottles of several
        sizes it must be told which are taken
    """

    kind: Literal["begin"] = "begin"
    batch: str
    recipe: dict[str, Any]
    lots: Annotated[tuple[str, ...], Field(exclude_if=lambda lots: not lots)] = ()
    rules: Annotated[int, Field(ge=0, exclude_if=lambda rules: not rules)] = 0


class Bottle(Event):
    """ "Four bottles of half a litre"; with those of other sorts filled with them in `more`.

    of, holds_ml : as of a vessel
    """

    kind: Literal["bottle"] = "bottle"
    count: Count
    size_ml: Size | None = None
    of: OfBottles = "bottle"
    holds_ml: Held = None
    more: Annotated[tuple[Lot, ...], Field(exclude_if=lambda more: not more)] = ()

    @property
    def lots(self) -> tuple[Lot, ...]:
        """All of them, sort by sort."""
        first = Lot(count=self.count, size_ml=self.size_ml, of=self.of, holds_ml=self.holds_ml)
        return (first, *self.more)


class Discard(Event):
    """The batch, or what is left of it, is thrown away; with a count, so many bottles of it."""

    kind: Literal["discard"] = "discard"
    reason: str = ""
    count: Count | None = None
    vessel: OfSort = None


class Used(Event):
    """ "We used three bottles"; `to` is who got them, where they were given away."""

    kind: Literal["used"] = "used"
    count: Count
    to: str = ""
    vessel: OfSort = None


class Opened(Event):
    """ "I opened one"."""

    kind: Literal["opened"] = "opened"
    count: Count = 1
    vessel: OfSort = None


class Moved(Event):
    """ "I put them in the freezer": all that is in store, with a count so many closed bottles.

    vessel : without a count all the closed ones of that sort
    """

    kind: Literal["moved"] = "moved"
    place: Place
    count: Count | None = None
    vessel: OfSort = None


class Sign(Event):
    """ "It's fizzing": a bottle of the batch, wherever it is, shows that it has spoiled."""

    kind: Literal["sign"] = "sign"
    what: SignOf


class Recalled(Event):
    """The batch is called back from everybody who has some of it."""

    kind: Literal["recalled"] = "recalled"
    reason: str = ""


class Note(Event):
    """A remark to keep with the batch."""

    kind: Literal["note"] = "note"
    text: str


class Manner(Event):
    """ "Be quiet", "slower": how the tool is to speak. It is no part of a batch or its journal."""

    kind: Literal["manner"] = "manner"
    how: How


class Stop(Event):
    """ "Stop": end the session."""

    kind: Literal["stop"] = "stop"


AnyEvent = Annotated[
    Reading | Correct | Onward | Later | Repeat | Pause | SayAgain | Undo | Ask | Yes | No
    | TimerSet | TimerStop | Choose | Begin | Bottle | Discard | Used | Opened | Moved | Sign
    | Recalled | Note | Manner | Stop,
    Field(discriminator="kind"),
]  # fmt: skip
event_adapter: TypeAdapter[AnyEvent] = TypeAdapter(AnyEvent)
