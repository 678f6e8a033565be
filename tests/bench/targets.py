"""What is wanted of the hearing, and whether it is met: the figures that are quoted."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from assistant.hear.heard import Guess, Heard
from assistant.understand import understand
from tests.bench.measures import upper_bound
from tests.bench.result import Result
from tests.bench.scoring import NOW, Clip, asked_for

COUNTED = frozenset(("neural", "statistical", "diphone", "human"))
"""Kinds of voices that count; formant and accented ones are reported apart."""
NATURAL = frozenset(("neural", "human"))
KITCHEN = frozenset(("boiling", "fan", "tap", "clatter"))
NEAR = frozenset(("near",))
ANYWHERE = frozenset(("near", "far"))

Test = Callable[[Result], bool]


@dataclass(frozen=True)
class Target:
    """One figure: which results it is of, what is counted in them, and what is wanted.

    at_least, at_most : the share wanted [-]; both None where nothing is promised
    """

    name: str
    among: Test
    counted: Test
    at_least: float | None = None
    at_most: float | None = None
    kinds: frozenset[str] = COUNTED


def is_clean(result: Result) -> bool:
    """Nothing mixed under the voice."""
    return result.clip.snr_db is None


def is_clear(result: Result) -> bool:
    """Clean, or noise at least 10 dB below the voice."""
    return result.clip.snr_db is None or result.clip.snr_db >= 10


def level(decibel: float, noises: frozenset[str] | None = None) -> Test:
    """Whether noise lies so far below the voice. noises : only these; None for all."""
    return lambda r: r.clip.snr_db == decibel and (noises is None or r.clip.noise in noises)


def asked_by_rule(clip: Clip) -> bool:
    """Whether its words are asked about though they were heard perfectly.

    So are -teen and -ty, and numbers that turn a safety decision.
    """
    sure = (Guess(text=clip.words, share=1.0),)
    heard = Heard(text=clip.words, guesses=sure, sure=1.0, engine="whisper")
    return understand(heard, asked_for(clip), NOW).verdict == "ask"


def may_be_taken(result: Result) -> bool:
    """Clean, and no rule demands a question."""
    return is_clean(result) and not asked_by_rule(result.clip)


def _first(result: Result) -> bool:
    return result.first_right


def _outcome(*names: str) -> Test:
    return lambda result: result.outcome in names


WRONG = _outcome("wrong")
TARGETS = (
    Target("first guess right, clean", is_clean, _first, at_least=0.98),
    Target("first guess right, 20 dB of any noise", level(20), _first, at_least=0.95),
    Target(
        "first guess right, 10 dB of pink noise", level(10, frozenset(("pink",))), _first,
        at_least=0.85,
    ),
    Target(
        "first guess right, 10 dB of kitchen noise", level(10, KITCHEN), _first, at_least=0.85
    ),
    Target("first guess right, 10 dB of radio speech", level(10, frozenset(("radio",))), _first),
    Target("taken without a question, clean", is_clean, _outcome("taken"), at_least=0.85),
    Target(
        "the same, where no rule demands a question", may_be_taken, _outcome("taken"),
        at_least=0.85,
    ),
    Target("wrong and taken, 10 dB or better", is_clear, WRONG, at_most=0.001),
)  # fmt: skip
OF_NATURAL = tuple(replace(target, kinds=NATURAL) for target in TARGETS)
COMPARED = (
    *TARGETS,
    Target("asked back, 10 dB or better", is_clear, _outcome("asked", "asked other")),
    Target("refused, 10 dB or better", is_clear, _outcome("refused")),
    *(
        Target(
            f"first guess right, clean, {kind} voices", is_clean, _first, kinds=frozenset((kind,))
        )
        for kind in ("accented", "formant")
    ),
)
"""What engines are held against each other by."""


@dataclass(frozen=True)
class Reached:
    """So many out of so many."""

    target: Target
    count: int
    of: int

    @property
    def share(self) -> float:
        """The count as a share [-]."""
        return self.count / self.of if self.of else 0.0

    @property
    def bound(self) -> float:
        """Upper end of the share's two-sided 95 % interval [-]."""
        return upper_bound(self.count, self.of)

    @property
    def verdict(self) -> str:
        """Met or missed; a most whose bound lies above it is not shown by so few clips."""
        wanted = self.target
        if not self.of or (wanted.at_least is None and wanted.at_most is None):
            return ""
        if wanted.at_least is not None:
            return "met" if self.share >= wanted.at_least else "missed"
        assert wanted.at_most is not None
        if self.share > wanted.at_most:
            return "missed"
        return "met" if self.bound <= wanted.at_most else "met, but its bound lies above"


def reached(target: Target, results: Iterable[Result], distances: frozenset[str]) -> Reached:
    """Count what a target asks for in the voices and distances that belong to it."""
    of = [
        result
        for result in results
        if result.clip.voice_kind in target.kinds
        and result.clip.distance in distances
        and result.clip.events
        and target.among(result)
    ]
    return Reached(target, sum(map(target.counted, of)), len(of))
