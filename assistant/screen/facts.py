"""What the page is told, as typed facts: Python decides, the page only draws."""

from typing import Literal

from pydantic import AwareDatetime, BaseModel, ConfigDict

How = Literal["number", "words"]
Standing = Literal["in", "now", "later"]
State = Literal["go", "wait", "measure", "question", "hot", "acid", "stopped", "finished", "none"]
"""go: do something. wait: time passes. measure: read a number. question: answer. hot: over a
ceiling. acid: the pH is not what it must be. stopped: do not go on. finished, none: no stage."""


class Fact(BaseModel):
    """Base of everything that goes to the page."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Big(Fact):
    """The one number that matters now: what it is, the number, its unit, and what to make of it."""

    label: str
    value: str
    unit: str = ""
    note: str = ""


class Running(Fact):
    """Something that runs: it began, and it ends or wants a look then."""

    name: str
    kind: Literal["timer", "rest", "thermometer"]
    began: AwareDatetime
    ends: AwareDatetime


class HoldSoFar(Fact):
    """The pasteurising hold as its readings show it.

    counted_s, needed_s : time at or above the target in one run, and what the recipe wants [s]
    share : of the hold by lethality, 1 is all of it [-]
    """

    counted_s: float
    needed_s: float
    share: float
    complete: bool
    words: str


class Point(Fact):
    """A thermometer reading. `blind` says that nobody knows what the pan did before it."""

    seconds: float
    degrees: float
    at: AwareDatetime
    blind: bool


class Curve(Fact):
    """The thermometer's course with what it is held against. [s since the first reading], [unit]"""

    points: tuple[Point, ...]
    first_at: AwareDatetime
    target: float | None = None
    ceiling: float | None = None
    below: float | None = None
    counted: tuple[float, float] | None = None
    live: bool = False
    unit: str = "°C"
    words: str


class AmountRow(Fact):
    """One thing that goes in: planned, and put in."""

    name: str
    planned: str
    put_in: str = ""
    standing: Standing


class StageFacts(Fact):
    """The stage the batch is at."""

    id: str
    kind: str
    title: str
    number: int
    of: int
    say: str
    why: str
    caution: str = ""


class Slip(Fact):
    """The last reading, for putting it right: what it was, and the unit it was said in."""

    words: str
    value: float
    unit: str
    unit_words: str


class Said(Fact):
    """One utterance with what was understood and what was answered.

    yes_no : it was asked back, and yes or no will do
    """

    at: AwareDatetime
    heard: str
    understood: str
    answer: tuple[str, ...]
    verdict: Literal["take", "ask", "refuse", "reminder"]
    yes_no: bool = False


class Tap(Fact):
    """What may be done with a tap: its words on the button, and one of three.

    says : words for the desk; goes : a page to open; again : a batch to be made once more
    """

    words: str
    says: str = ""
    goes: str = ""
    again: str = ""


class PadUnit(Fact):
    """A unit of the number pad: its sign on the button, and how the number is said in it.

    says : the words to send, "{n}" for the number; size : for counts, what one of them holds
    """

    sign: str
    says: str


class Control(Fact):
    """The one control of a state.

    kind : done (one tap), choose (several), pad (numbers), list (a page of choices), none
    words : what stands on it; note : a line over the number pad
    """

    kind: Literal["done", "choose", "pad", "list", "none"]
    words: str = ""
    note: str = ""
    taps: tuple[Tap, ...] = ()
    units: tuple[PadUnit, ...] = ()


class Count(Fact):
    """A time that counts down, by the kitchen's clock.

    big : whether it is the number of the state, and not a smaller one beside it
    """

    label: str
    began: AwareDatetime
    ends: AwareDatetime
    big: bool = False


class Panel(Fact):
    """One state that fills the screen: a word, one number, one short instruction, one control.

    place : the stage, for people; sense : what the number is, "in the pan"
    old_at : when the number was read, where it grows old
    """

    state: State
    word: str
    place: str
    number: str = ""
    unit: str = ""
    sense: str = ""
    old_at: AwareDatetime | None = None
    count: Count | None = None
    instruction: str
    control: Control


class Pan(Fact):
    """One batch of the kitchen in the strip along the top."""

    id: str
    name: str
    state: State
    place: str
    running: tuple[Running, ...] = ()


class View(Fact):
    """Everything the kitchen page shows of one batch.

    revision : how many events the journal has; a later view has no smaller one
    stop : what a limit says, while it holds the batch
    """

    batch: str
    title: str
    fruit: str
    revision: int
    now: AwareDatetime
    begun: AwareDatetime
    stage: StageFacts | None
    ended: Literal["finished", "discarded"] | None
    closing: tuple[str, ...]
    panel: Panel
    kitchen: tuple[Pan, ...] = ()
    big: Big | None
    stop: str
    running: tuple[Running, ...]
    hold: HoldSoFar | None
    curve: Curve | None
    amounts: tuple[AmountRow, ...]
    choices: tuple[str, ...]
    examples: tuple[str, ...]
    slip: Slip | None
    can_undo: bool
    said: tuple[Said, ...]
