"""Whole sessions of random talk against a small reference: the journal with what was taken back
struck out, folded forwards only."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from batch_maker import without_history
from desk_maker import begun, hears, resumed, types
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from assistant.base.clock import SetClock
from assistant.cook import Batch, begin, fold, step
from assistant.cook.amounts import amount
from assistant.cook.corrections import remembering
from assistant.cook.holding import best_run, held
from assistant.cook.lasting import Lasting
from assistant.facts.events import (
    AnyEvent,
    Begin,
    Bottle,
    Correct,
    Discard,
    No,
    Reading,
    Sign,
    Undo,
    Used,
    Yes,
)
from assistant.hear.heard import Guess, Heard
from assistant.keep import Journal
from assistant.turns.rendering import spoken
from assistant.turns.turn import Turn

START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
ACID_FOOD_PH = 4.6  # 21 CFR 114.3: acid foods have a pH of 4.6 or below

PLAIN_TALK = st.sampled_from(
    ["done", "done", "done", "yes", "no", "later", "strain it again", "hold on", "carry on",
     "where are we", "how much sugar", "why", "say that again", "how long does it keep",
     "may i skip this", "what if i have only 300 grams of sugar", "raspberry", "with glycerin",
     "note the colour is dark", "set a timer for ten minutes", "stop the timer", "the radio is on",
     "i opened one", "we used two bottles", "i put two bottles in the freezer", "it's fizzing",
     "throw one bottle away", "nine bottles of half a litre", "4 bottles", "stop", "the second",
     "six half litres and three jars of 330", "we used a jar", "gave a half litre to the kiosk",
     "put the jars in the freezer", "it was five half litres, not six", "the jars",
     "gave a litre of it away",
     "blueberry", "44", "92", "2.86", "no, 7", "how much sugar went in", "stop all timers"]
)  # fmt: skip
READINGS = st.one_of(
    st.integers(300, 9000).map(lambda g: f"{g} grams of raspberries"),
    st.integers(20, 104).map(lambda c: f"{c} degrees"),
    st.sampled_from([2.4, 3.1, 3.6, 3.9, 4.0, 4.1, 4.6, 4.7, 4.9, 7.0]).map(lambda ph: f"pH {ph}"),
    st.integers(10, 75).map(lambda b: f"{b} brix"),
    st.integers(3, 60).map(lambda d: f"the juice is {d / 10} litres"),
    st.integers(1, 900).map(lambda g: f"{g} grams of sugar"),
)
SIGNS = st.sampled_from(["there's mould on it", "it's fizzing", "it smells off"])
AFTER_A_SIGN = st.sampled_from(["no", "false alarm", "yes", "done", "76 degrees", "where are we"])
OFF_PLAN = st.sampled_from(
    ["100 kg of sugar", "44 grams of sugar", "500 g of citric acid", "24 litres", "90 ml of water",
     "the juice is 600 ml", "60 bottles", "one bottle of half a litre", "4.5 kg of sugar"]
)  # fmt: skip
AFTER_ASKING = st.sampled_from(
    ["yes", "no", "done", "why", "scratch that", "no, 2.8", "76 degrees"]
)
WAY = (
    "2.4 kg of blackcurrants", "done", "done", "76 degrees", "77 degrees", "76 degrees", "done",
    "done", "done", "done", "2.9 litres", "44 degrees", "done", "pH 3.4", "done", "no", "no", "no",
    "nine bottles of half a litre", "done",
)  # fmt: skip
"""The plain way through the recipe; the rest at "done" after the hold is begun twice."""
LEAVES_OPEN = ("ask", "say_again", "pause", "stop", "manner", "undo", "correct", "onward")
"""What is said while something waits for a yes, and does not pass it over."""
CORRECTIONS = st.integers(1, 900).map(lambda n: f"no, {n / 10:g}")
BACK = st.sampled_from(["scratch that", "undo", "one stage back", "three stages back"])


@dataclass(frozen=True)
class Outlasts:
    """Where something was struck out: the batch then, whose lasting memory stays."""

    batch: Batch


@dataclass(frozen=True)
class Recalls:
    """A memory that changed without a change of the batch."""

    lasting: Lasting


Kept = AnyEvent | Outlasts | Recalls


def told(kept: Sequence[Kept]) -> Batch:
    """The batch by the events that were not struck out, and by what outlasts those that were."""
    first, *rest = kept
    assert isinstance(first, Begin)
    batch = begin(first)[0]
    for each in rest:
        if isinstance(each, Outlasts):
            batch = remembering(each.batch, batch)
        elif isinstance(each, Recalls):
            batch = replace(batch, lasting=each.lasting)
        else:
            batch = step(batch, each)[0]
    return batch


def state(batch: Batch) -> Batch:
    """What a change changes: the state without what was said last or warned of."""
    plain = without_history(batch)
    return replace(plain, insisted=None, paused=False, last_reading=None)


class Sessions(RuleBasedStateMachine):
    """A session that is talked to, restarted, and compared with its reference after each word."""

    @initialize(steps=st.integers(0, len(WAY)))
    def begin(self, steps: int) -> None:
        self.journal, self.clock = Journal("sqlite://"), SetClock(START)
        self.desk = begun(self.journal, self.clock)
        self.kept: list[Kept] = list(self.journal.events(self.desk.in_hand().id))
        self.turn: Turn | None = None
        self.processes = 0
        for said in WAY[:steps]:
            self.clock.forward(60)
            self.turn = types(self.desk, said)
            self.kept += self.turn.events

    @rule(said=PLAIN_TALK)
    def talks(self, said: str) -> None:
        self.hears(Heard.typed(said))

    @rule(said=READINGS)
    def reads(self, said: str) -> None:
        self.hears(Heard.typed(said))

    @rule(said=READINGS, other=READINGS, share=st.floats(0.5, 1.0))
    def speaks(self, said: str, other: str, share: float) -> None:
        guesses = (Guess(text=said, share=share), Guess(text=other, share=1.0 - share))
        self.hears(Heard(text=said, guesses=guesses, sure=0.9, engine="scripted"))

    @rule(said=CORRECTIONS)
    def corrects(self, said: str) -> None:
        self.hears(Heard.typed(said))

    @rule(said=READINGS, right=CORRECTIONS, back=st.booleans())
    def slips(self, said: str, right: str, back: bool) -> None:
        """A reading, put right at once, and sometimes taken back all the same."""
        for each in (said, right, *(["scratch that"] if back else [])):
            self.hears(Heard.typed(each))

    @rule(said=SIGNS, then=AFTER_A_SIGN)
    def sees_a_sign(self, said: str, then: str) -> None:
        self.hears(Heard.typed(said))
        self.hears(Heard.typed(then))

    @rule(said=OFF_PLAN, then=AFTER_ASKING)
    def is_far_off(self, said: str, then: str) -> None:
        self.hears(Heard.typed(said))
        self.hears(Heard.typed(then))

    @rule(seconds=st.sampled_from([-3600.0, -40.0, 40.0, 300.0, 90_000.0]))
    def the_clock_is_set(self, seconds: float) -> None:
        """The wall clock alone: no time passes."""
        self.clock.jump(seconds)

    @rule(said=BACK)
    def takes_back(self, said: str) -> None:
        self.hears(Heard.typed(said))

    @rule(seconds=st.sampled_from([1.0, 30.0, 90.0, 1200.0, 86_400.0, -600.0]))
    def time_goes_by(self, seconds: float) -> None:
        self.clock.forward(seconds)

    @precondition(lambda self: self.turn is not None)
    @rule()
    def is_restarted(self) -> None:
        """Another process finds the batch as it was, and says the same words."""
        self.processes += 1
        self.clock.restart(f"process {self.processes}")
        before, words = self.desk.in_hand(), self.desk.greet()
        self.desk = resumed(before.id, self.journal, self.clock)
        assert self.desk.in_hand() == before
        assert self.desk.greet() == words

    def hears(self, heard: Heard) -> None:
        before = self.desk.in_hand()
        self.turn = hears(self.desk, heard)
        for event in self.turn.events:
            before = self.follows(before, event)
        assert state(before) == state(self.desk.in_hand())

    def follows(self, before: Batch, event: AnyEvent) -> Batch:
        """Strike out what an event takes back, else keep it; the batch by the reference."""
        if before.held and self.drops(before, event):
            self.strike_out(Undo(at=event.at))
            if isinstance(event, No | Yes):
                return told(self.kept)
        if isinstance(event, Undo):
            self.strike_out(event)
        elif isinstance(event, Correct):
            self.put_right(before, event)
        else:
            self.kept.append(event)
        return told(self.kept)

    def drops(self, before: Batch, event: AnyEvent) -> bool:
        """Whether what waits for a yes is passed over, said no to, or confirmed and can't be."""
        if isinstance(event, Yes):
            return _depth(told([*self.kept, event])) < _depth(before)
        return event.kind not in LEAVES_OPEN

    def strike_out(self, event: Undo) -> None:
        """The last change goes; with stages, changes go until so many stages are left behind."""
        was = told(self.kept)
        self.cut(event)
        if was.before is not None:
            self.kept.append(Outlasts(was))

    def cut(self, event: Undo) -> None:
        left = event.stages or 0
        while (last := self.last_change()) is not None:
            here, there = told(self.kept), told(self.kept[:last])
            same_stage = (here.stage_index, here.order) == (there.stage_index, there.order)
            if event.stages is not None and left == 0 and not same_stage:
                return
            left -= not same_stage
            del self.kept[last:]
            if event.stages is None:
                return

    def last_change(self) -> int | None:
        """Where the last event stands that changed the batch; None when none did."""
        folded = [told(self.kept[:n]) for n in range(1, len(self.kept) + 1)]
        places = (n for n in range(len(folded) - 1, 0, -1))
        return next((n for n in places if _changes(folded[n - 1], folded[n])), None)

    def put_right(self, before: Batch, event: Correct) -> None:
        """The last reading is made again with the right number, where there is one to put right."""
        wrong = before.last_reading
        last = self.last_change()
        if wrong is None or last is None:
            self.kept.append(event)
            return
        unit = event.unit or wrong.unit
        right = wrong.model_copy(update={"value": event.value, "unit": unit, "heard": event.heard})
        was = told(self.kept)
        trial = [*self.kept[:last], Outlasts(was), right]
        if not _may_be(event, wrong):
            return
        if _changes(told(self.kept[:last]), told(trial)):
            self.kept = trial
        else:
            self.kept.append(Recalls(told(trial).lasting))

    @invariant()
    def a_replay_is_the_same_batch(self) -> None:
        if self.turn is not None:
            assert fold(self.journal.events(self.desk.in_hand().id))[0] == self.desk.in_hand()

    @invariant()
    def no_limit_is_talked_around(self) -> None:
        if self.turn is None:
            return
        batch = self.desk.in_hand()
        ph = batch.last("ph")
        if ph is not None and ph.base > ACID_FOOD_PH:
            assert batch.stopped_by is not None or batch.bottled is not None
            assert self.desk.stopped
        if batch.stopped_by is not None and any(isinstance(e, Bottle) for e in self.turn.events):
            assert batch.bottled == told(self.kept[:-1]).bottled
        assert " safe" not in spoken(self.turn)

    @invariant()
    def what_waits_for_a_yes_has_not_counted(self) -> None:
        if self.turn is None or self.desk.in_hand().held is None:
            return
        batch = self.desk.in_hand()
        assert batch.before is not None
        assert (batch.taken, batch.added, batch.bottled, batch.fruit, batch.stage_index) == (
            batch.before.taken, batch.before.added, batch.before.bottled, batch.before.fruit,
            batch.before.stage_index,
        )  # fmt: skip

    @invariant()
    def nothing_that_spoils_goes_on(self) -> None:
        """The stage at which a sign stands is the stage at which it was seen."""
        if self.turn is None or not self.desk.in_hand().spoiling:
            return
        batch = self.desk.in_hand()
        assert batch.bottled is None
        assert self.desk.stopped
        seen = next(e for e in reversed(self.kept) if isinstance(e, Sign))
        then = told(self.kept[: self.kept.index(seen) + 1])
        assert then.stage_index == batch.stage_index

    @invariant()
    def no_hold_is_longer_than_the_time_that_passed(self) -> None:
        """By what one process counted, whatever the clock on the wall was set to."""
        if self.turn is None:
            return
        run = [t.reading for t in best_run(self.desk.in_hand())]
        if not run:
            return
        assert len({r.process for r in run}) == 1
        first, last = run[0].elapsed_s, run[-1].elapsed_s
        assert first is not None
        assert last is not None
        assert held(self.desk.in_hand()).seconds <= last - first + 1e-6

    @invariant()
    def amounts_follow_from_the_fruit(self) -> None:
        """A quarter of the fruit is the first sugar, two fifths the water, by the recipe."""
        if self.turn is None or self.desk.in_hand().start is None:
            return
        batch = self.desk.in_hand()
        fruit = next(e for e in self.kept if isinstance(e, Reading) and e.what == "fruit")
        assert batch.start is not None
        for name, share in (("crushing_sugar", 0.25), ("hot_water", 0.4)):
            planned = amount(batch, name)
            assert planned is not None
            assert planned.value == share * batch.start.base
        assert fruit.what == batch.start.what

    @invariant()
    def no_bottle_is_lost_nor_owed(self) -> None:
        if self.turn is None or self.desk.in_hand().bottled is None:
            return
        batch = self.desk.in_hand()
        assert batch.bottled is not None
        assert batch.in_store + batch.stored.used + batch.stored.thrown == batch.bottled.count
        gone = [e for e in self.kept if isinstance(e, Used | Discard)]
        assert bool(batch.stored.gone) <= bool(gone)


def _changes(before: Batch, after: Batch) -> bool:
    """Whether there is one change more to take back, also where it came to the same again."""
    return _depth(after) > _depth(before)


def _depth(batch: Batch) -> int:
    """How many changes can be taken back."""
    depth = 0
    while batch.before is not None:
        batch, depth = batch.before, depth + 1
    return depth


def _may_be(event: Correct, wrong: Reading) -> bool:
    return event.what is None or event.what == wrong.what


Sessions.TestCase.settings = settings(
    max_examples=25,
    stateful_step_count=30,
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
TestSessions = Sessions.TestCase
