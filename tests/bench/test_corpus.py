"""What the sets of recordings hold; that they can be made in pieces and by several processes."""

import re
from collections import Counter
from pathlib import Path

import pytest

from tests.bench.corpus import __main__ as command
from tests.bench.corpus import batch, talk
from tests.bench.corpus.numbers import full
from tests.bench.corpus.plan import MIX, SEED, Row, SetName, rows
from tests.bench.corpus.speakers import SPEAKERS, missing
from tests.bench.corpus.split import Split
from tests.bench.corpus.synthesisers import KOKORO_VOICES

NEW = {
    "dev": ("af_bella", "am_michael", "bf_emma", "bm_lewis"),
    "held": (
        "af_sarah", "af_nova", "am_fenrir", "am_puck", "am_eric",
        "bf_isabella", "bm_george", "bm_fable",
    ),
}  # fmt: skip
NUMBER = frozenset(word for n in range(1000) for word in full(n).split()) - {"and"} | {
    "half", "quarter", "oh", "nil", "dozen", "fours", "eights", "sevens"
}  # fmt: skip
Planned = dict[str, list[Row]]


@pytest.fixture(scope="module")
def planned() -> Planned:
    sizes: dict[SetName, int] = {"dev": 400, "held": 1200, "nonspeech": 400, "nonspeech-dev": 50}
    return {name: list(rows(name, size, SEED)) for name, size in sizes.items()}


def plain_voice(row: Row) -> str:
    return row.voice.split("-resampled")[0]


def test_the_splits_share_no_voice_and_no_phrase(planned: Planned) -> None:
    dev, held = planned["dev"], planned["held"]
    assert not {row.words for row in dev} & {row.words for row in held}
    dev, held = dev + planned["nonspeech-dev"], held + planned["nonspeech"]
    assert {plain_voice(r) for r in dev} & {plain_voice(r) for r in held} <= {""}


@pytest.mark.parametrize("split", ["dev", "held"])
def test_every_new_voice_speaks_in_its_split_alone(planned: Planned, split: Split) -> None:
    other: Split = "dev" if split == "held" else "held"
    names = {f"kokoro-{style}" for style in NEW[split]}
    assert names <= {row.voice for row in planned[split]}
    assert not names & {row.voice for row in planned[other]}


HELD = {"neural": 40, "accented": 6, "statistical": 22, "diphone": 17, "formant": 15}


def test_the_held_out_shares_are_as_told(planned: Planned) -> None:
    chances = Counter[str]()
    for each in SPEAKERS:
        if each.split == "held" and each.kind != "human":
            chances[each.kind] += each.share
    assert {k: round(100 * n / chances.total()) for k, n in chances.items()} == HELD
    kinds = Counter(row.voice_kind for row in planned["held"])
    assert kinds.pop("human") == len(planned["held"]) // 6
    for kind, percent in HELD.items():
        assert 100 * kinds[kind] / kinds.total() == pytest.approx(percent, abs=3)


def test_three_fifths_of_the_development_set_are_natural(planned: Planned) -> None:
    kinds = Counter(row.voice_kind for row in planned["dev"])
    del kinds["human"]
    assert kinds["neural"] / kinds.total() == pytest.approx(0.6, abs=0.04)


@pytest.mark.parametrize("split", ["dev", "held"])
def test_resampled_voices_are_few(planned: Planned, split: Split) -> None:
    few = sum("resampled" in row.voice for row in planned[split])
    assert 0 < few / len(planned[split]) < 0.08


@pytest.mark.parametrize("split", ["dev", "held"])
def test_nine_tenths_lie_at_10_db_or_better_and_seven_tenths_are_near(
    planned: Planned, split: Split
) -> None:
    found = planned[split]
    levels = Counter(row.snr_db for row in found)
    blocks = len(found) // len(MIX)
    assert levels == {level: count * blocks for level, count in
                      {None: 6, 20.0: 6, 10.0: 6, 5.0: 1, 0.0: 1}.items()}  # fmt: skip
    near = sum(row.distance == "near" for row in found) / len(found)
    assert near == pytest.approx(0.7, abs=0.04)


def test_talk_of_the_splits_is_of_other_words() -> None:
    lines: dict[Split, set[str]] = {"dev": set(), "held": set()}
    fills: dict[Split, set[str]] = {"dev": set(), "held": set()}
    for split in lines:
        lines[split].update(*(talk.words(split)[each]["lines"] for each in talk.subjects(split)))
        fills[split].update(*talk.words(split)["fill"].values())
    assert min(map(len, lines.values())) > 90
    assert not lines["dev"] & lines["held"]
    assert not fills["dev"] & fills["held"]


@pytest.mark.parametrize("name", ["nonspeech", "nonspeech-dev"])
def test_a_third_of_the_talk_and_more_has_numbers_in_it(planned: Planned, name: str) -> None:
    said = [s for row in planned[name] for s in re.split(r"(?<=[.?!]) ", row.words) if s]
    numbered = sum(bool(NUMBER & set(re.findall(r"[a-z]+", s.lower()))) for s in said)
    assert 1 / 3 < numbered / len(said) < 0.9


def test_every_gap_is_filled(planned: Planned) -> None:
    said = " ".join(row.words for row in planned["nonspeech"] + planned["nonspeech-dev"])
    assert not re.search(r"[{}]|\d|twoth|threeth|fiveth", said)


def tones(wanted: int = 6) -> list[Row]:
    """Rows that need no voice: fans and silence."""
    noisy = (row for row in rows("nonspeech", 60, SEED) if row.noise in ("fan", "silence", "pink"))
    quiet = [row for row in noisy if not row.voice]
    return quiet[:wanted]


@pytest.fixture(autouse=True)
def short(monkeypatch: pytest.MonkeyPatch) -> None:
    """Noise of a tenth of a second is enough here."""
    monkeypatch.setattr("tests.bench.corpus.making.NOISE_SECONDS", 0.1)


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_one_process_or_two_make_the_same_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.undo()
    one, two = tmp_path / "one", tmp_path / "two"
    batch.made(one, tones(2), 1)
    batch.made(two, tones(2), 2)
    assert len(contents(one)) == 3
    assert contents(one) == contents(two)


def test_a_set_that_was_broken_off_goes_on(tmp_path: Path) -> None:
    whole, broken = tmp_path / "whole", tmp_path / "broken"
    batch.made(whole, tones(), 1)
    batch.made(broken, tones(3), 1)
    with (broken / batch.MANIFEST).open("a", encoding="utf-8") as manifest:
        manifest.write('{"file": "00')
    assert batch.made(broken, tones(), 1).made == 3
    assert contents(broken) == contents(whole)
    assert batch.made(broken, tones(), 1).made == 0


def test_what_no_longer_fits_is_made_again_or_removed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    batch.made(tmp_path, tones(), 1)
    (tmp_path / tones()[1].file).unlink()
    assert batch.made(tmp_path, tones(4), 1).made == 1
    assert len(list(tmp_path.glob("*.flac"))) == 4
    monkeypatch.setattr(batch, "code", lambda: "other")
    assert batch.made(tmp_path, tones(4), 1).made == 4


def absent_styles(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(KOKORO_VOICES, raising=False)


def test_without_the_styles_the_new_voices_are_told_with_what_they_need(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    absent_styles(monkeypatch)
    with pytest.raises(SystemExit) as left:
        command.main(["--split", "held", "--size", "100", "--out", str(tmp_path / "none")])
    assert left.value.code == 4
    told = capsys.readouterr().err
    assert "kokoro-af_sarah" in told
    assert f"npm pack kokoro-js@1.2.1 && tar -xzf kokoro-js-1.2.1.tgz, then {KOKORO_VOICES}" in told
    assert not (tmp_path / "none").exists()


def test_missing_voices_are_left_out_only_where_that_is_asked_for(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    absent_styles(monkeypatch)
    here = [each for each in SPEAKERS if each.name == "espeak-gb"]
    monkeypatch.setattr(command, "missing", lambda _: tuple(e for e in SPEAKERS if e not in here))
    given = command.options().parse_args(
        ["--split", "dev", "--size", "40", "--without-missing"]
    )  # fmt: skip
    assert {row.voice for row in command.planned(given)} == {"espeak-gb"}
    assert "left out" in capsys.readouterr().err


def test_a_folder_with_the_style_makes_the_voice_findable(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    absent_styles(monkeypatch)
    new = tuple(each for each in SPEAKERS if each.name == "kokoro-bf_emma")
    monkeypatch.setattr("tests.bench.corpus.speakers._kokoro_model_there", lambda: True)
    assert missing(new) == new
    (tmp_path / "bf_emma.bin").touch()
    monkeypatch.setenv(KOKORO_VOICES, str(tmp_path))
    assert missing(new) == ()
