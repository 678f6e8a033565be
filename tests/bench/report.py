"""The report in Markdown: made from results, never written by hand."""

import re
from collections.abc import Callable

from tests.bench.compared import compared, idle_rows, kinds_across, targets
from tests.bench.measures import Score, grouped, percent, score, times
from tests.bench.result import Result
from tests.bench.shown import confusions, false_events
from tests.bench.targets import is_clear

_APART = ("accented", "formant", "human")
_HEADS = (
    "right", "taken right", "asked, right offered", "asked, other", "part", "refused",
    "wrong and taken", "at most (95 %)", "first guess right",
)  # fmt: skip


def table(title: str, scores: list[Score]) -> list[str]:
    """Scores as a table, a row each."""
    heads = (title, "utterances", *_HEADS)
    return [
        "| " + " | ".join(heads) + " |",
        "|" + "---|" * len(heads),
        *(_row(each) for each in scores),
        "",
    ]


def _row(each: Score) -> str:
    counts = (each.right, each.taken, each.asked, each.asked_other, each.part, each.refused)
    wrong = f"{each.wrong} ({percent(each.share(each.wrong))})"
    cells = [each.name, str(each.clips), *(percent(each.share(count)) for count in counts)]
    cells += [wrong, percent(each.wrong_bound), percent(each.share(each.first))]
    return "| " + " | ".join(cells) + " |"


def _apart(result: Result) -> str:
    kind = result.clip.voice_kind
    return kind if kind in _APART else "other voices"


def headline(results: list[Result]) -> list[Score]:
    """The rows that are quoted: clear or not, accented, formant and human voices apart."""
    clear = [r for r in results if is_clear(r)]
    rest = [r for r in results if not is_clear(r)]
    rows = [score("10 dB or better, all", clear)]
    rows += [_renamed(each, "10 dB or better") for each in grouped(clear, _apart)]
    rows += [_renamed(each, "under 10 dB") for each in grouped(rest, _apart)]
    return [*rows, score("all", results)]


def _renamed(each: Score, before: str) -> Score:
    return Score(**{**each.__dict__, "name": f"{before}, {each.name}"})


def _noise(result: Result) -> str:
    return f"{result.clip.noise}, {result.clip.condition}" if result.clip.noise else "none, clean"


CUTS: tuple[tuple[str, Callable[[Result], str]], ...] = (
    ("voice", lambda r: f"{r.clip.voice} ({r.clip.voice_kind})"),
    ("noise", _noise),
    ("noise level", lambda r: r.clip.condition),
    ("distance", lambda r: r.clip.distance),
    ("what was said", lambda r: r.clip.family or r.clip.awaiting),
)


def engine_part(name: str, why: str, results: list[Result], deep: bool) -> list[str]:
    """Everything about one engine."""
    spoken = [r for r in results if r.clip.events]
    others = [r for r in results if not r.clip.events]
    lines = [f"## {name}", "", why, ""]
    if not results:
        return lines
    if spoken:
        lines += [*kinds_across(spoken), *table("utterances", headline(spoken))]
        for title, by in CUTS if deep else CUTS[2:3]:
            lines += table(title, grouped(spoken, by))
    if others:
        lines += [*idle_rows([(name, others)]), *false_events(others), ""]
    return [*lines, *time_part(results), *(confusions(spoken) if spoken else [])]


def time_part(results: list[Result]) -> list[str]:
    """Times where they count, else aloud why there are none; memory always."""
    found = times(results)
    peak = f"Peak memory {max(r.made.peak_mb for r in results)} MB."
    if found is None:
        counting = sum(r.made.alone and r.made.decided is not None for r in results)
        return [
            f"Time to a decision and real-time factor: not given. Of {len(results)} clips only "
            f"{counting} ran alone on a quiet machine (--jobs 1) and have a known end of the last "
            f"word. {peak}",
            "",
        ]
    return [
        f"Time from the last word to the decision, {found.measured} clips: median "
        f"{found.median:.2f} s, 95th percentile {found.p95:.2f} s. Computing takes "
        f"{found.computed:.2f} s a clip, {found.real_time:.2f} of the sound's length. {peak}",
        "",
    ]


def whole(command: str, cores: int, corpus: str, parts: list[tuple[str, str, list[Result]]]) -> str:
    """The report. parts : name, description and results of each engine; ours first."""
    lines = [
        "# How well it hears",
        "",
        f"Made by `{command}` on {cores} cores; corpus: {corpus}. Every voice but the ones called "
        "human is synthetic; human ones are words of one person, recorded apart and joined.",
        "",
        "Right: taken exactly as said, or asked back with exactly that among the candidates. Wrong "
        "and taken: anything taken that was not said. First guess right: the best guess, whether "
        "taken, asked about or refused. Bounds are upper ends of two-sided 95 % intervals.",
        "",
    ]
    if parts:
        lines += targets(parts[0][0], parts[0][2])
    lines += compared([(name, results) for name, _, results in parts], table)
    for place, (name, why, results) in enumerate(parts):
        lines += engine_part(name, why, results, deep=place == 0)
    return without_folders("\n".join(lines))


def without_folders(text: str) -> str:
    """The text with folders left out of paths: they differ on every machine.

    >>> without_folders("--corpus /a/b/held, model in /x/y/model.")
    '--corpus held, model in model.'
    """
    return re.sub(r"(?<![\w/])/(?:[\w.-]+/)+", "", text)
