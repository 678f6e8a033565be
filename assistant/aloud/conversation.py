"""A talk by ear: blocks of sound in, speech out, one turn after another."""

from collections.abc import Callable, Iterator

from assistant.aloud.attention import Attention
from assistant.aloud.called import Called
from assistant.aloud.voicing import Voicing
from assistant.hear.heard import SAMPLE_RATE, Ears, Heard, Samples
from assistant.say.speaker import Speaker
from assistant.turns.desk import Desk
from assistant.turns.turn import Turn
from assistant.turns.utterance import Utterance
from assistant.understand import phrases


class Conversation:
    """Ears, desk and speaker together.

    on_turn : told of every turn, for showing it; on_partial : told of words still being spoken
    attention : what the ears get of the sound; silence while our own voice sounds, when left out
    voicing : how answers sound; words only, when left out
    called : the name that the cook calls the tool by; whatever is said is for it, when left out
    """

    def __init__(
        self,
        desk: Desk,
        ears: Ears,
        speaker: Speaker,
        on_turn: Callable[[Turn], None],
        on_partial: Callable[[str], None] = lambda _: None,
        attention: Attention | None = None,
        voicing: Voicing | None = None,
        called: Called | None = None,
    ) -> None:
        self._desk, self._ears, self._speaker = desk, ears, speaker
        self._on_turn, self._on_partial = on_turn, on_partial
        self._attention = attention or Attention(speaker)
        self._voicing = voicing or Voicing(speaker, earcons=False)
        self._called = called or Called("")

    def run(self, blocks: Iterator[Samples]) -> None:
        """Talk until the cook says stop or the sound ends."""
        self._answer(self._desk.greet())
        self._ears.expect((*phrases(), *self._called.words))
        for heard in self._ears.listen(self._attended(blocks)):
            if heard.partial:
                self._on_partial(heard.text)
            elif self._is_last(self._attention.believed(heard)):
                break
        else:
            self._desk.leave()
        self._speaker.wait()

    def _is_last(self, heard: Heard) -> bool:
        """One utterance; whether the cook said stop with it."""
        said = self._called.for_us(heard)
        if said is None:
            return False
        if not said.text and heard.text:
            self._voicing.called()
            self._called.spoke()
            return False
        weighed = self._desk.weighed(Utterance(heard=said), self._ears)
        turn = self._voicing.mannered(self._desk.take(weighed))
        self._answer(turn)
        return turn.ended

    def _answer(self, turn: Turn, unasked: bool = False) -> None:
        self._on_turn(turn)
        self._voicing.answer(turn, unasked)
        if turn.told:
            self._called.spoke()

    def _attended(self, blocks: Iterator[Samples]) -> Iterator[Samples]:
        """What the ears get of the blocks, with timers minded between them."""
        for block in blocks:
            yield from self._attention.attend(block)
            if not self._speaker.is_speaking():
                self._called.passed(len(block) / SAMPLE_RATE)
                self._mind_timers()

    def _mind_timers(self) -> None:
        turn = self._desk.remind()
        if turn is not None:
            self._answer(turn, unasked=True)
