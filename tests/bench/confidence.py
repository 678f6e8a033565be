"""Finds the weights of `assistant/understand/belief.toml` on recordings, and says what they cost.

    python -m tests.bench.confidence --corpus DIR --rows FILE [--limit N]   # listen, once
    python -m tests.bench.confidence --rows FILE [--voices NAME ...] [--write]    # fit, at will

DIR holds a manifest as `tests.bench.corpus` makes it: use a development set, never the held one.
Rows hold the evidence on each number that was understood and whether it was right, so that the
fit needs no listening. Each voice is judged by weights that were found without it. Of voices that
the ears were trained on they are too sure: --voices names those that they were not.
"""

import argparse
import json
from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel, ConfigDict

from assistant.hear.audio import read_recording
from assistant.hear.choose import open_ears
from assistant.hear.heard import Ears, Heard
from assistant.understand import weighed
from assistant.understand.belief import Evidence, contradicted, evidence
from assistant.understand.bounds import number_in, plausible
from assistant.understand.decide import FAINTEST
from assistant.understand.lattice import repaired_numbers
from assistant.understand.resolve import Moment, focused
from assistant.understand.weigh import weigh
from tests.bench.scoring import NOW, Clip, asked_for, judged

TABLE = Path(__file__).parents[2] / "assistant" / "understand" / "belief.toml"
PULL = 0.3
"""How strongly weights are drawn to nothing; few errors, so not weakly."""
ENOUGH = 0.985
Vector = NDArray[np.float64]


class Row(BaseModel):
    """The evidence on one number, and whether it was what was said."""

    model_config = ConfigDict(frozen=True)

    file: str
    voice: str
    kind: str
    condition: str
    words: str
    heard: str
    evidence: tuple[float, ...]
    right: bool


def observed(clip: Clip, heard: Heard, ears: Ears) -> Row | None:
    """A row for an utterance whose likeliest meaning has a number; None for others."""
    asked = asked_for(clip)
    heard = weighed(heard, ears, asked, NOW)
    moment = Moment(focused(asked, None), NOW, heard.text, None)
    options = weigh(heard, moment).options
    if not options or number_in(options[0].events) is None:
        return None
    if not plausible(options[0].events, moment.asked, NOW):
        return None
    found = evidence(heard, options[0], options[1:])
    if found is None or repaired_numbers(options[0].sense.repair) or heard.sure < FAINTEST:
        return None
    meanings = [event.meaning() for event in options[0].events]
    return Row(
        file=clip.file,
        voice=clip.voice.split("-")[0],
        kind=clip.voice_kind,
        condition=clip.condition,
        words=clip.words,
        heard=heard.text,
        evidence=tuple(found),
        right=judged(clip, meanings, []) == "taken",
    )


def listen(corpus: Path, known: set[str], limit: int) -> list[Row]:
    """Rows for the clips of a corpus that have none yet."""
    ears = open_ears("whisper")
    lines = (corpus / "manifest.jsonl").read_text("utf-8").splitlines()
    found = []
    for clip in [Clip.model_validate(json.loads(line)) for line in lines][:limit]:
        if clip.file not in known and clip.events:
            heards = ears.hear(read_recording(corpus / clip.file))
            found += [row for heard in heards if (row := observed(clip, heard, ears))]
    return found


def fitted(rows: list[Row]) -> Vector:
    """Logistic regression by Newton's method: the constant, then a weight for each evidence."""
    inputs, right = _inputs(rows), np.array([row.right for row in rows], dtype=np.float64)
    pull = PULL * np.eye(inputs.shape[1])
    pull[0, 0] = 1e-3
    weights = np.zeros(inputs.shape[1])
    for _ in range(50):
        chance = _chance(inputs, weights)
        bend = inputs.T @ (inputs * (chance * (1 - chance))[:, None]) + pull
        weights -= np.linalg.solve(bend, inputs.T @ (chance - right) + pull @ weights)
    return weights


def _inputs(rows: list[Row]) -> Vector:
    return np.array([[1.0, *row.evidence] for row in rows])


def _chance(inputs: Vector, weights: Vector) -> Vector:
    return np.asarray(1 / (1 + np.exp(-np.clip(inputs @ weights, -50, 50))))


def unseen(rows: list[Row]) -> Vector:
    """Each row's probability by weights found on the other voices."""
    chances = np.zeros(len(rows))
    for voice in {row.voice for row in rows}:
        mine = np.array([row.voice == voice for row in rows])
        others = [row for row in rows if row.voice != voice]
        chances[mine] = _chance(
            _inputs([row for row in rows if row.voice == voice]), fitted(others)
        )
    return chances


def _allowed(row: Row) -> bool:
    return not contradicted(Evidence(*row.evidence))


def report(rows: list[Row], chances: Vector) -> str:
    """How many numbers each bound takes, by noise, and how many of them are wrong."""
    groups: dict[str, Callable[[Row], bool]] = {
        c: lambda row, c=c: row.condition == c  # type: ignore[misc]
        for c in sorted({row.condition for row in rows})
    }
    lines = [f"{len(rows)} numbers, {sum(not row.right for row in rows)} of them wrong"]
    for bound in (0.8, 0.9, 0.95, 0.96, 0.97, 0.98, 0.985, 0.99):
        taken = [_allowed(r) and c >= bound for r, c in zip(rows, chances, strict=True)]
        for name, fits in groups.items():
            group = [(r, t) for r, t in zip(rows, taken, strict=True) if fits(r)]
            wrong = sum(t and not r.right for r, t in group)
            lines.append(
                f"{bound:.2f} {name:8} takes {sum(t for _, t in group):4} of {len(group):4},"
                f" wrong {wrong}"
            )
    doubted = sorted(
        ((c, r) for r, c in zip(rows, chances, strict=True) if not r.right), key=lambda p: -p[0]
    )
    lines += [f"  {c:.3f} {r.condition}: {r.words!r} heard {r.heard!r}" for c, r in doubted[:10]]
    return "\n".join(lines)


def written(weights: Vector, rows: list[Row]) -> str:
    """The table for the understanding."""
    names = ("constant", *Evidence._fields)
    voices = len({row.voice for row in rows})
    head = (
        "# Found by `python -m tests.bench.confidence --rows FILE --voices ... --write` on\n"
        f"# {len(rows)} numbers in {voices} voices, {sum(not r.right for r in rows)} misheard.\n"
        "[belief]\n"
    )
    body = "".join(f"{n} = {w:.2f}\n" for n, w in zip(names, weights, strict=True))
    return f"{head}{body}enough = {ENOUGH}\n"


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Find how far a number may be believed.")
    parser.add_argument("--corpus", type=Path)
    parser.add_argument("--rows", type=Path, required=True)
    parser.add_argument("--limit", type=int, default=10**6)
    parser.add_argument("--voices", nargs="*", help="only these, as they begin; all if left out")
    parser.add_argument("--write", action="store_true", help=f"write {TABLE.name}")
    given = parser.parse_args()
    lines = given.rows.read_text("utf-8").splitlines() if given.rows.exists() else []
    rows = [Row.model_validate_json(line) for line in lines]
    if given.corpus:
        rows += listen(given.corpus, {row.file for row in rows}, given.limit)
        given.rows.write_text("".join(row.model_dump_json() + "\n" for row in rows), "utf-8")
    if given.voices:
        rows = [row for row in rows if row.voice in given.voices]
    weights = fitted(rows)
    print(report(rows, unseen(rows)))
    print(written(weights, rows))
    if given.write:
        TABLE.write_text(written(weights, rows), "utf-8")


if __name__ == "__main__":
    main()
