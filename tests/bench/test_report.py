"""The report's tables: targets, kinds of voices, engines on common clips, what may be shown."""

from typing import Any

import pytest

from tests.bench.compared import common, idle_rows, kinds_across, targets
from tests.bench.measures import times
from tests.bench.report import whole
from tests.bench.result import Made, Result
from tests.bench.scoring import Clip
from tests.bench.shown import confusions, false_events
from tests.bench.targets import (
    ANYWHERE,
    NEAR,
    OF_NATURAL,
    TARGETS,
    Reached,
    asked_by_rule,
    reached,
)

SEVENTY = {"kind": "reading", "what": "temperature", "value": 70.0, "unit": "degC"}
SEVENTEEN = {**SEVENTY, "value": 17.0}
CLEAN, AT_20, PINK, KITCHEN, RADIO, TAKEN, UNRULED, WRONG = TARGETS


def made_of(*taken: dict[str, object], **more: Any) -> Made:
    return Made(taken=taken, first=taken, **more)


def result(made: Made, **more: Any) -> Result:
    about: dict[str, Any] = {
        "file": "a.flac", "set": "dev", "words": "seventy", "awaiting": "temperature",
        "events": (SEVENTY,), "voice": "v", "voice_kind": "neural", "noise": "", "snr_db": None,
    }  # fmt: skip
    return Result(clip=Clip(**(about | more)), engine="ours", made=made)


RIGHT, BAD = made_of(SEVENTY), made_of(SEVENTEEN)


def noise(kind: str, decibel: float, **more: Any) -> Result:
    return result(RIGHT, noise=kind, snr_db=decibel, **more)


@pytest.mark.parametrize(
    ("target", "one", "counts"),
    [
        (CLEAN, result(RIGHT), True),
        (CLEAN, result(RIGHT, distance="far"), True),
        (CLEAN, result(RIGHT, voice_kind="human"), True),
        (CLEAN, result(RIGHT, voice_kind="formant"), False),
        (CLEAN, result(RIGHT, voice_kind="accented"), False),
        (CLEAN, noise("pink", 20), False),
        (AT_20, noise("radio", 20), True),
        (PINK, noise("pink", 10), True),
        (PINK, noise("fan", 10), False),
        (KITCHEN, noise("clatter", 10), True),
        (KITCHEN, noise("clatter", 5), False),
        (RADIO, noise("radio", 10), True),
        (WRONG, noise("radio", 10), True),
        (WRONG, noise("pink", 5), False),
        (OF_NATURAL[-1], result(RIGHT, voice_kind="statistical"), False),
        (OF_NATURAL[-1], result(RIGHT, voice_kind="human"), True),
        (TAKEN, result(RIGHT), True),
        (UNRULED, result(RIGHT), False),
        (UNRULED, result(RIGHT, words="sixty eight"), True),
    ],
)
def test_each_target_is_of_its_own_clips(target: Any, one: Result, counts: bool) -> None:
    assert reached(target, [one], ANYWHERE).of == int(counts)


@pytest.mark.parametrize(
    ("words", "awaiting", "asked"),
    [
        ("sixty eight", "temperature", False),
        ("seventy", "temperature", True),
        ("eighty two", "temperature", True),
        ("three point one", "ph", True),
        ("six hundred and seventy two grams", "sugar", False),
        ("done", "step", False),
    ],
)
def test_what_rules_ask_about(words: str, awaiting: str, asked: bool) -> None:
    """Seventy sounds like seventeen, 82 ends the heating, any first pH decides."""
    assert asked_by_rule(result(RIGHT, words=words, awaiting=awaiting).clip) is asked


def test_near_alone_leaves_the_far_ones_out() -> None:
    both = [result(RIGHT), result(BAD, distance="far")]
    assert (reached(CLEAN, both, NEAR).share, reached(CLEAN, both, ANYWHERE).share) == (1.0, 0.5)


@pytest.mark.parametrize(
    ("target", "count", "of", "verdict"),
    [
        (CLEAN, 98, 100, "met"),
        (CLEAN, 97, 100, "missed"),
        (CLEAN, 0, 0, ""),
        (RADIO, 3, 10, ""),
        (WRONG, 0, 3700, "met"),
        (WRONG, 0, 3600, "met, but its bound lies above"),
        (WRONG, 2, 1000, "missed"),
    ],
)
def test_met_and_missed(target: Any, count: int, of: int, verdict: str) -> None:
    """The bound of none of n is 1 - 0.025^(1/n): below 0.001 from 3688 on."""
    assert Reached(target, count, of).verdict == verdict


def test_the_table_of_targets_tells_near_apart() -> None:
    text = "\n".join(targets("ours", [result(RIGHT), result(BAD, distance="far")]))
    first = "| first guess right, clean | 98 % | 50.0 % of 2 | missed | 100.0 % of 1 | met |"
    assert first in text
    assert "| 1 of 2 (50.0 %), at most 98.7 % | missed | 0 of 1" in text


def test_the_kinds_stand_by_distance_and_from_clean_to_loud() -> None:
    given = [noise("fan", 5), noise("fan", 20), result(RIGHT), result(BAD, distance="far")]
    told = [line.split(" | ")[1:5] for line in kinds_across(given)[2:-1]]
    assert told == [
        ["near", "clean", "1", "100.0 %"], ["near", "20 dB", "1", "100.0 %"],
        ["near", "5 dB", "1", "100.0 %"], ["far", "clean", "1", "0.0 %"],
    ]  # fmt: skip


def test_engines_are_compared_on_clips_that_all_of_them_heard() -> None:
    ours = [result(RIGHT, file=name) for name in ("a", "b", "c")]
    other = [result(BAD, file=name) for name in ("b", "c", "d")]
    same = dict(common([("ours", ours), ("other", other), ("none", [])]))
    assert {name: [r.clip.file for r in found] for name, found in same.items()} == {
        "ours": ["b", "c"], "other": ["b", "c"],
    }  # fmt: skip
    text = whole("bench", 2, "dev", [("ours", "", ours), ("other", "", other), ("none", "", [])])
    assert "Clips run: ours 3, other 3; compared on the 2 that all of them were run on." in text
    assert "| first guess right, clean | 100.0 % of 2 | 0.0 % of 2 |" in text


def test_the_same_file_of_another_set_is_another_clip() -> None:
    given = [("ours", [result(RIGHT)]), ("other", [result(RIGHT, set="held")])]
    assert [found for _, found in common(given)] == [[], []]


def test_what_was_held_out_is_counted_and_never_shown() -> None:
    for name, shown in (("dev", True), ("held", False), ("unheard-of", False)):
        heard = made_of(SEVENTEEN, heard=("seventeen",))
        text = "\n".join(confusions([result(heard, set=name)]))
        assert "Taken wrongly: 1" in text
        assert ("| 1 | seventy | seventeen | temperature 17.0 degC |" in text) is shown
        assert ("a.flac" in text) is shown


def test_false_events_of_the_held_out_are_not_listed() -> None:
    talk = {"events": (), "words": "the train leaves at seventeen"}
    given = [result(BAD, set=name, **talk) for name in ("nonspeech", "nonspeech-dev")]
    assert len(false_events(given)) == 1


def test_an_hour_of_talk_noise_and_silence() -> None:
    half_hour = {"seconds": 1800.0}
    nobody = {"events": (), "voice_kind": "none"}
    given = [
        result(made_of(SEVENTEEN, questions=2, **half_hour), words="talk", events=()),
        result(made_of(**half_hour), words="", noise="fan", **nobody),
        result(made_of(questions=1, **half_hour), words="", noise="silence", **nobody),
    ]
    told = {line.split(" | ")[0]: line.split(" | ")[2:] for line in idle_rows([("ours", given)])}
    assert told["| talk"][:3] == ["0.50", "1", "2.00"]
    assert told["| talk"][-2:] == ["2", "4.00 |"]
    assert told["| noise"][-1] == "0.00 |"
    assert told["| silence"][-1] == "2.00 |"
    assert told["| all"][0] == "1.50"


def test_times_count_only_where_nothing_else_ran() -> None:
    quiet = [
        result(Made(alone=True, decided=place / 10, computed=0.5, seconds=2.0))
        for place in range(1, 21)
    ]
    busy = [result(Made(decided=9.0, computed=9.0, seconds=1.0))] * 5
    found = times(quiet + busy)
    assert found is not None
    assert (found.measured, found.p95) == (20, 1.9)
    assert found.median == pytest.approx(1.05)
    assert (found.computed, found.real_time) == (0.5, 0.25)
    assert times(quiet[:9] + busy) is None
