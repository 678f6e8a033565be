"""Tables over targets, kinds of voices and engines; engines are held together on common clips."""

from collections.abc import Callable, Iterable

from tests.bench.measures import Score, idle, percent, poisson_upper, score, times
from tests.bench.result import Result
from tests.bench.targets import (
    ANYWHERE,
    COMPARED,
    NEAR,
    OF_NATURAL,
    TARGETS,
    Reached,
    Target,
    is_clear,
    reached,
)

Parts = list[tuple[str, list[Result]]]


def rows(heads: tuple[str, ...], cells: Iterable[Iterable[str]]) -> list[str]:
    """A table."""
    body = ["| " + " | ".join(row) + " |" for row in cells]
    return ["| " + " | ".join(heads) + " |", "|" + "---|" * len(heads), *body, ""]


def targets(name: str, results: list[Result]) -> list[str]:
    """What is wanted and what one engine reaches; nothing where nothing was said to the tool."""
    if not any(r.clip.events for r in results):
        return []
    heads = ("wanted", "near and far", "", "near alone", "")
    return [
        "## Targets",
        "",
        f"Of {name}. Voices counted: neural, statistical, diphone, human; formant and accented "
        "ones stand apart below. A share of wrong ones counts as met without doubt only where the "
        "upper end of its 95 % interval is below what is wanted. A rule demands a question about "
        "-teen and -ty and about what turns a safety decision, however well it was heard.",
        "",
        *rows(("voices counted", *heads), (_target_row(t, results) for t in TARGETS)),
        *rows(("neural and human voices", *heads), (_target_row(t, results) for t in OF_NATURAL)),
    ]


def _target_row(target: Target, results: list[Result]) -> list[str]:
    made = [reached(target, results, distances) for distances in (ANYWHERE, NEAR)]
    return [target.name, _wanted(target), *(text for m in made for text in (cell(m), m.verdict))]


def _wanted(target: Target) -> str:
    if target.at_least is not None:
        return f"{100 * target.at_least:g} %"
    return f"at most {100 * target.at_most:g} %" if target.at_most is not None else "none"


def cell(made: Reached) -> str:
    """A share with its number of clips, one to be kept small with count and bound."""
    if not made.of:
        return "no clips"
    if made.target.at_most is None:
        return f"{percent(made.share)} of {made.of}"
    return f"{made.count} of {made.of} ({percent(made.share)}), at most {percent(made.bound)}"


def kinds_across(results: list[Result]) -> list[str]:
    """Kind of voice by distance by level."""
    groups: dict[tuple[str, str, float], list[Result]] = {}
    for result in results:
        clip = result.clip
        loud = float("inf") if clip.snr_db is None else clip.snr_db
        groups.setdefault((clip.voice_kind, clip.distance, -loud), []).append(result)
    heads = (
        "kind of voice", "distance", "noise", "utterances", "first guess right", "asked",
        "refused", "wrong and taken",
    )  # fmt: skip
    ordered = sorted(groups.items(), key=lambda item: (item[0][0], item[0][1] != "near", item[0]))
    return rows(heads, [_across(group) for _, group in ordered])


def _across(group: list[Result]) -> list[str]:
    clip, made = group[0].clip, score("", group)
    shares = (made.first, made.asked + made.asked_other, made.refused)
    return [
        clip.voice_kind, clip.distance, clip.condition, str(made.clips),
        *(percent(made.share(count)) for count in shares), str(made.wrong),
    ]  # fmt: skip


def common(parts: Parts) -> Parts:
    """The results of clips that every engine was run on; engines without any are left out."""
    there = [(name, results) for name, results in parts if results]
    if not there:
        return []
    keys = set.intersection(*({_key(r) for r in results} for _, results in there))
    return [(name, [r for r in results if _key(r) in keys]) for name, results in there]


def _key(result: Result) -> tuple[str, str]:
    return result.clip.set, result.clip.file


def compared(parts: Parts, table: Callable[[str, list[Score]], list[str]]) -> list[str]:
    """Engines on the same clips: targets, outcomes, and what is not for the tool."""
    same = common(parts)
    if not same:
        return []
    spoken = [(name, [r for r in results if r.clip.events]) for name, results in same]
    others = [(name, [r for r in results if not r.clip.events]) for name, results in same]
    lines = ["## Engines on the same clips", "", *_how_many(parts, same)]
    if spoken[0][1]:
        for title, distances in (("near and far", ANYWHERE), ("near alone", NEAR)):
            lines += rows((title, *(name for name, _ in spoken)), _beside(spoken, distances))
        clear = [(name, [r for r in results if is_clear(r)]) for name, results in spoken]
        lines += table("engine, 10 dB or better, all voices", [score(*part) for part in clear])
        lines += table("engine, all", [score(*part) for part in spoken])
    lines += idle_rows(others) if others[0][1] else []
    return [*lines, *time_rows(same)]


def time_rows(parts: Parts) -> list[str]:
    """Times and memory of each engine that ran alone; nothing where none did."""
    heads = ("engine", "clips timed", "median to a decision", "95th percentile",
             "computing a clip", "real-time factor", "peak memory")  # fmt: skip
    cells = []
    for name, results in parts:
        found, peak = times(results), max(r.made.peak_mb for r in results)
        if found is not None:
            seconds = (found.median, found.p95, found.computed)
            cells.append([
                name, str(found.measured), *(f"{each:.2f} s" for each in seconds),
                f"{found.real_time:.2f}", f"{peak} MB",
            ])  # fmt: skip
    return rows(heads, cells) if cells else []


def _how_many(parts: Parts, same: Parts) -> list[str]:
    run = {name: len(results) for name, results in parts if results}
    shared = len(same[0][1])
    if set(run.values()) == {shared}:
        return [f"All on the same {shared} clips.", ""]
    told = ", ".join(f"{name} {count}" for name, count in run.items())
    return [f"Clips run: {told}; compared on the {shared} that all of them were run on.", ""]


def _beside(spoken: Parts, distances: frozenset[str]) -> list[list[str]]:
    found = [[reached(t, results, distances) for _, results in spoken] for t in COMPARED]
    return [[made[0].target.name, *map(cell, made)] for made in found if any(m.of for m in made)]


def _what(result: Result) -> str:
    if result.clip.words:
        return "talk"
    return "silence" if result.clip.noise in ("silence", "") else "noise"


def idle_rows(parts: Parts) -> list[str]:
    """False events and false questions an hour of talk, noise and silence, a row an engine."""
    heads = (
        "not for the tool", "engine", "hours", "events taken", "an hour", "at most an hour (95 %)",
        "clips with any", "of these changing the batch", "questions", "questions an hour",
    )  # fmt: skip
    cells = []
    for what in ("talk", "noise", "silence", "all"):
        for name, results in parts:
            group = [r for r in results if what in ("all", _what(r)) and r.made.seconds]
            cells += [[what, name, *_idle(group)]] if group else []
    return rows(heads, cells)


def _idle(group: list[Result]) -> list[str]:
    found = idle(group)
    return [
        f"{found.hours:.2f}", str(found.events), f"{found.events / found.hours:.2f}",
        f"{poisson_upper(found.events, found.hours):.2f}", str(found.clips_with_events),
        str(found.harmful), str(found.questions), f"{found.questions / found.hours:.2f}",
    ]  # fmt: skip
