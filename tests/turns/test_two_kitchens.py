"""Two kitchens at one batch, in any order of words: nothing is lost, doubled, or talked around."""

import tempfile
from collections import Counter
from pathlib import Path

from batch_maker import START, without_history
from desk_maker import begun, resumed, types
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from assistant.base.clock import SetClock
from assistant.cook import fold, step
from assistant.facts.events import AnyEvent
from assistant.keep import Journal
from tests.bench.safety import Oracle

WAY = ("2 kg of raspberries", "done", "done", "76 degrees", "77 degrees", "77 degrees")
SAID = st.sampled_from(
    ["yes", "yes", "no", "done", "done", "76 degrees", "60 degrees", "ph 3.2", "ph 4.9", "44",
     "0.6 g of sorbate", "2 g of sorbate", "500 ml of water", "2.2 litres", "scratch that", "figs",
     "no, 2.1 kilos", "8 bottles of half a litre", "it was seven bottles", "it's fizzing",
     "how long does it keep", "13 kg of sugar", "the juice is lovely and dark"]
)  # fmt: skip
WAITS = st.sampled_from([5, 20, 59, 61, 400, 4000])


class Kitchens(RuleBasedStateMachine):
    """Ana began it, Ben opened it; each is at a program of their own, before one store."""

    @initialize(steps=st.integers(0, len(WAY)))
    def begin(self, steps: int) -> None:
        self.folder = tempfile.TemporaryDirectory()
        store, self.clock = Path(self.folder.name) / "s.sqlite", SetClock(START)
        self.stores = [Journal(store), Journal(store)]
        for name, journal in zip(("Ana", "Ben"), self.stores, strict=True):
            journal.work_as(name, f"{name}'s kitchen")
        self.desks = [begun(self.stores[0], self.clock)]
        self.id = self.desks[0].in_hand().id
        self.counted: list[AnyEvent] = [*self.stores[0].events(self.id)]
        for said in WAY[:steps]:
            self._types(0, said, 45)
        self.desks.append(resumed(self.id, self.stores[1], self.clock))

    def _types(self, who: int, said: str, after_s: float) -> None:
        self.clock.forward(after_s)
        if self.desks[who].batches:
            self.desks[who].follow()
        turn = types(self.desks[who], said)
        assert turn.verdict in ("take", "ask", "refuse", "late", "twice")
        written = self.stores[who].events(self.id)
        assert list(written[: len(self.counted)]) == self.counted, "what was written has changed"
        new = Counter((e.kind, e.heard) for e in written[len(self.counted) :])
        assert all(count <= 1 for count in new.values()), "one word was written twice"
        missing = [e for e in turn.events if e.kind != "manner" and e not in written]
        assert turn.batch != self.id or not missing, "what was taken is not in the journal"
        self.counted = list(written)

    @rule(who=st.integers(0, 1), said=SAID, after_s=WAITS)
    def says(self, who: int, said: str, after_s: float) -> None:
        self._types(who, said, after_s)

    @rule(who=st.integers(0, 1), after_s=WAITS)
    def opens_it_again(self, who: int, after_s: float) -> None:
        """As after a power cut: nothing is left but the journal."""
        self.clock.forward(after_s)
        self.desks[who] = resumed(self.id, self.stores[who], self.clock)

    @invariant()
    def both_see_the_same_batch(self) -> None:
        if not getattr(self, "desks", None) or len(self.desks) < 2:
            return
        batch = without_history(fold(self.counted)[0])
        for desk in self.desks:
            desk.follow()
            assert without_history(desk.open(self.id)) == batch

    @invariant()
    def the_rules_of_safety_hold_over_both(self) -> None:
        if not getattr(self, "counted", None):
            return
        oracle, (batch, _) = Oracle(), fold(self.counted[:1])
        for event in self.counted[1:]:
            before, (batch, _) = batch, step(batch, event)
            assert oracle.sees(before, event, batch) == ""

    def teardown(self) -> None:
        for journal in getattr(self, "stores", ()):
            journal.close()
        if hasattr(self, "folder"):
            self.folder.cleanup()


Kitchens.TestCase.settings = settings(
    max_examples=10,
    stateful_step_count=15,
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
TestKitchens = Kitchens.TestCase
