"""The report in Markdown: made from results, never written by hand."""

import json
import re
from collections import Counter
from collections.abc import Callable

from tests.bench.measures import Score, grouped, idle, poisson_upper, score, times
from tests.bench.result import Result

_APART = ("accented", "formant", "human")
_HEADS = (
    "right", "taken right", "asked, right offered", "asked, other", "part", "refused",
    "wrong and taken", "at most (95 %)", "first guess right",
)  # fmt: skip


def percent(share: float) -> str:
    """A share as it is shown.

    >>> percent(0.9876), percent(0.00123)
    ('98.8 %', '0.12 %')
    """
    return f"{100 * share:.1f} %" if share == 0 or share >= 0.01 else f"{100 * share:.2f} %"


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


def _clear(result: Result) -> bool:
    return result.clip.snr_db is None or result.clip.snr_db >= 10


def _apart(result: Result) -> str:
    kind = result.clip.voice_kind
    return kind if kind in _APART else "other voices"


def headline(results: list[Result]) -> list[Score]:
    """The rows that are quoted: clear or not, accented, formant and human voices apart."""
    clear = [r for r in results if _clear(r)]
    rest = [r for r in results if not _clear(r)]
    rows = [score("10 dB or better, all", clear)]
    rows += [_renamed(each, "10 dB or better") for each in grouped(clear, _apart)]
    rows += [_renamed(each, "under 10 dB") for each in grouped(rest, _apart)]
    return [*rows, score("all", results)]


def _renamed(each: Score, before: str) -> Score:
    return Score(**{**each.__dict__, "name": f"{before}, {each.name}"})


def _noise(result: Result) -> str:
    return f"{result.clip.noise}, {result.clip.condition}" if result.clip.noise else "none, clean"


CUTS: tuple[tuple[str, Callable[[Result], str]], ...] = (
    ("kind of voice and noise level", lambda r: f"{r.clip.voice_kind}, {r.clip.condition}"),
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
        lines += table("utterances", headline(spoken))
        for title, by in CUTS if deep else CUTS[3:4]:
            lines += table(title, grouped(spoken, by))
    lines += idle_part(others) if others else []
    return [*lines, *time_part(results), *(confusions(spoken) if spoken else [])]


def idle_part(results: list[Result]) -> list[str]:
    """False events, for speech and for noise apart."""
    lines = [
        "| not for the tool | hours | events taken | an hour | at most an hour (95 %) "
        "| clips with any | of these changing the batch | clips with a question |",
        "|---|---|---|---|---|---|---|---|",
    ]
    groups = {
        "talk": [r for r in results if r.clip.words],
        "noise and silence": [r for r in results if not r.clip.words],
        "all": results,
    }
    for name, group in groups.items():
        if group:
            found = idle(group)
            bound = poisson_upper(found.events, found.hours)
            lines.append(
                f"| {name} | {found.hours:.2f} | {found.events} | "
                f"{found.events / found.hours:.2f} | {bound:.2f} | {found.clips_with_events} | "
                f"{found.harmful} | {found.questions} |"
            )
    taken = [f"- {r.clip.file}: {json.dumps(list(r.heard))} -> {json.dumps(list(r.taken))}"
             for r in results if r.taken][:60]  # fmt: skip
    return [*lines, "", *taken, ""]


def time_part(results: list[Result]) -> list[str]:
    """Times where they count, else aloud that there are none; memory always."""
    found = times(results)
    peak = f"Peak memory {max(r.made.peak_mb for r in results)} MB."
    if found is None:
        return [
            "Time to a decision and real-time factor: not given, since the run was not alone on "
            f"its machine (use --jobs 1 on a quiet one). {peak}",
            "",
        ]
    return [
        f"Time from the last word to the decision, {found.measured} clips: median "
        f"{found.median:.2f} s, 95th percentile {found.p95:.2f} s. Computing takes "
        f"{found.real_time:.2f} of the sound's length. {peak}",
        "",
    ]


def confusions(results: list[Result], most: int = 40) -> list[str]:
    """What was taken for what: wrongly taken ones each, then the commonest wrong first guesses."""
    wrong = [r for r in results if r.outcome == "wrong"]
    lines = [f"Taken wrongly: {len(wrong)}", ""]
    lines += [_told(r) for r in wrong[: 2 * most]]
    pairs = Counter(
        f"{_short(r.clip.events)} -> {_short(r.made.first)}"
        for r in results
        if not r.first_right and r.made.first
    )
    lines += ["", "Commonest wrong first guesses, whether taken, asked or refused:", ""]
    lines += [f"- {count} x {pair}" for pair, count in pairs.most_common(most)]
    return [*lines, ""]


def _told(result: Result) -> str:
    clip = result.clip
    where = f"{clip.voice}, {clip.noise or 'clean'} {clip.condition}, {clip.distance}"
    return (
        f"- {clip.file} ({where}, asked {clip.awaiting or 'nothing'}): {clip.words!r} heard as "
        f"{json.dumps(list(result.heard))}, taken {_short(result.taken)}"
    )


def _short(meanings: tuple[dict[str, object], ...]) -> str:
    keys = ("value", "unit", "count", "size_ml", "seconds", "topic", "about")
    told = []
    for meaning in meanings:
        name = str(meaning.get("what") or meaning["kind"])
        told.append(" ".join([name, *(str(meaning[k]) for k in keys if k in meaning)]))
    return ", ".join(told) or "nothing"


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
    spoken = [(n, [r for r in rs if r.clip.events]) for n, _, rs in parts]
    clear = [(n, [r for r in rs if _clear(r)]) for n, rs in spoken if rs]
    if any(rs for _, rs in clear):
        lines += table("engine, 10 dB or better", [score(n, rs) for n, rs in clear])
        lines += table("engine, all", [score(n, rs) for n, rs in spoken if rs])
    for place, (name, why, results) in enumerate(parts):
        lines += engine_part(name, why, results, deep=place == 0)
    return without_folders("\n".join(lines))


def without_folders(text: str) -> str:
    """The text with folders left out of paths: they differ on every machine.

    >>> without_folders("--corpus /a/b/held, model in /x/y/model.")
    '--corpus held, model in model.'
    """
    return re.sub(r"(?<![\w/])/(?:[\w.-]+/)+", "", text)
