"""What was taken for what, in clips that may be looked at: never in those that are held out."""

import json
from collections import Counter

from tests.bench.result import Result

Meanings = tuple[dict[str, object], ...]


DEVELOPMENT = frozenset(("dev", "nonspeech-dev"))
REPOSITORY = frozenset(("demo", "test", "chatter"))


def may_be_seen(result: Result) -> bool:
    """Whether its mishearing may be shown: development sets, half of the repository's."""
    clip = result.clip
    return clip.set in DEVELOPMENT or (clip.set in REPOSITORY and clip.half == "seen")


def confusions(results: list[Result], most: int = 40) -> list[str]:
    """How much was taken wrongly; of clips that may be seen each one, and what was misheard."""
    wrong = [r for r in results if r.outcome == "wrong"]
    seen = [r for r in results if may_be_seen(r)]
    lines = [f"Taken wrongly: {len(wrong)}", ""]
    if not seen:
        return lines
    lines += [_told(r) for r in wrong if may_be_seen(r)][: 2 * most]
    lines += [
        "", f"Commonest wrong first guesses in {len(seen)} clips that may be looked at, whether "
        "taken, asked or refused:", "", "| times | said | heard | taken as |", "|---|---|---|---|",
    ]  # fmt: skip
    return [*lines, *_misheard(seen, most), ""]


def _misheard(results: list[Result], most: int) -> list[str]:
    """A row for each thing said and what was heard for it, the commonest first."""
    pairs = Counter(
        (r.clip.words, " / ".join(r.heard) or "nothing", short(r.made.first))
        for r in results
        if not r.first_right
    )
    return [
        "| " + " | ".join(part.replace("|", " ") for part in (str(count), *pair)) + " |"
        for pair, count in pairs.most_common(most)
    ]


def false_events(results: list[Result], most: int = 60) -> list[str]:
    """What was taken in sound that was not for the tool, where it may be looked at."""
    return [
        f"- {r.clip.file}: {json.dumps(list(r.heard))} -> {json.dumps(list(r.taken))}"
        for r in results
        if r.taken and may_be_seen(r)
    ][:most]


def _told(result: Result) -> str:
    clip = result.clip
    where = f"{clip.voice}, {clip.noise or 'clean'} {clip.condition}, {clip.distance}"
    return (
        f"- {clip.file} ({where}, asked {clip.awaiting or 'nothing'}): {clip.words!r} heard as "
        f"{json.dumps(list(result.heard))}, taken {short(result.taken)}"
    )


def short(meanings: Meanings) -> str:
    """Meanings in a few words.

    >>> short(({"kind": "reading", "what": "ph", "value": 3.2, "unit": "pH"},))
    'ph 3.2 pH'
    """
    keys = ("value", "unit", "count", "size_ml", "seconds", "topic", "about")
    told = []
    for meaning in meanings:
        name = str(meaning.get("what") or meaning["kind"])
        told.append(" ".join([name, *(str(meaning[k]) for k in keys if k in meaning)]))
    return ", ".join(told) or "nothing"
