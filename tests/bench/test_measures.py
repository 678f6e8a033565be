"""Bounds, groups and the plain parser that our ears are measured against."""

from random import Random

import pytest

from tests.bench.corpus.phrases import Said, utterances
from tests.bench.corpus.plan import rows
from tests.bench.corpus.speakers import SPEAKERS
from tests.bench.measures import poisson_upper, score, upper_bound
from tests.bench.plain_numbers import read
from tests.bench.report import whole
from tests.bench.result import Made, Result
from tests.bench.scoring import Clip, first_right

SEVENTY = {"kind": "reading", "what": "temperature", "value": 70.0, "unit": "degC"}
SEVENTEEN = {**SEVENTY, "value": 17.0}


@pytest.mark.parametrize(("count", "of"), [(0, 3000), (1, 50), (7, 20), (20, 20)])
def test_the_bound_lies_above_the_share(count: int, of: int) -> None:
    assert count / of <= upper_bound(count, of) <= 1.0


def test_none_of_n_has_the_bound_in_closed_form() -> None:
    """(1 - p)^n = alpha / 2: Clopper & Pearson, Biometrika 26 (1934); from memory."""
    assert upper_bound(0, 3000) == pytest.approx(1 - 0.025 ** (1 / 3000), rel=1e-6)
    assert poisson_upper(0, 1.0) == pytest.approx(3.689, abs=0.001)


def result(*taken: dict[str, object], first: tuple[dict[str, object], ...] = ()) -> Result:
    clip = Clip(
        file="a.flac", set="dev", words="seventy", awaiting="temperature", events=(SEVENTY,),
        voice="v", voice_kind="neural", noise="", snr_db=None,
    )  # fmt: skip
    return Result(clip=clip, engine="ours", made=Made(taken=taken, first=first))


def test_a_wrong_event_counts_as_wrong_and_a_right_guess_that_was_refused_as_first() -> None:
    found = score("all", [result(SEVENTEEN, first=(SEVENTEEN,)), result(first=(SEVENTY,))])
    assert (found.wrong, found.harmful, found.refused, found.right, found.first) == (1, 1, 1, 0, 1)


@pytest.mark.parametrize(
    ("text", "awaiting", "value", "unit"),
    [
        ("480 grams.", "fruit", 480.0, "g"),
        ("The pH is 3.15.", "ph", 3.15, "pH"),
        ("3 pounds 4 ounces", "fruit", 3.25, "lb"),
        ("one thousand two hundred grams", "sugar", 1200.0, "g"),
        ("four eighty", "sugar", 480.0, "g"),
        ("3.25", "fruit", 3.25, "kg"),
        (".6 kilos", "sugar", 0.6, "kg"),
        ("point two five grams", "sorbate", 0.25, "g"),
        ("I have 1,400 and 80 grams.", "fruit", 1480.0, "g"),
        ("It's 100 and 1.7.", "temperature", 101.7, "degC"),
        ("50 4", "temperature", 54.0, "degC"),
        ("I have eight 50 grams.", "fruit", 850.0, "g"),
        ("Four, six, four.", "ph", 4.64, "pH"),
        ("The pH is 35.", "ph", 3.5, "pH"),
        ("Two and a half teaspoons.", "citric_acid", 2.5, "tsp"),
        ("A quarter of a teaspoon.", "citric_acid", 0.25, "tsp"),
        ("2 1/2 teaspoons", "citric_acid", 2.5, "tsp"),
        ("a teaspoon and a half", "citric_acid", 1.5, "tsp"),
        ("500ml", "water", 500.0, "ml"),
        ("72 °F", "temperature", 72.0, "degF"),
        ("55 degrees.", "brix", 55.0, "Brix"),
    ],
)
def test_the_plain_parser_reads_numbers(text: str, awaiting: str, value: float, unit: str) -> None:
    event = read(text, awaiting)[-1]
    assert (event["value"], event["unit"]) == (value, unit)


@pytest.mark.parametrize(
    ("text", "event"),
    [
        ("So what's the best before date?", {"kind": "ask", "topic": "keep"}),
        ("Next step please.", {"kind": "onward"}),
        ("Time for 39 minutes.", {"kind": "timer_set", "seconds": 2340.0}),
        ("I have 19 bottles of a quarter of a liter.",
         {"kind": "bottle", "count": 19, "size_ml": 250.0}),
    ],
)  # fmt: skip
def test_the_plain_parser_reads_sayings(text: str, event: dict[str, object]) -> None:
    assert read(text, "step") == (event,)


def test_the_plain_parser_leaves_alone_what_only_holds_a_saying() -> None:
    assert read("He said yes to the second one", "question") != ({"kind": "yes"},)
    assert read("the next train leaves", "step") == ()
    assert read("four miles in five minutes", "sugar") == ()


def test_the_plain_parser_reads_what_is_heard_word_for_word() -> None:
    maker = utterances("dev", Random(4))
    said = [next(maker) for _ in range(400)]
    missed = [each.words for each in said if not reads(each)]
    assert len(missed) <= 4, missed


def reads(said: Said) -> bool:
    clip = Clip(
        file="", set="dev", words=said.words, awaiting=said.awaiting, events=said.events,
        voice="", voice_kind="", noise="", snr_db=None,
    )  # fmt: skip
    return first_right(clip, list(read(said.words, said.awaiting)))


def test_the_splits_share_no_phrase_and_no_voice() -> None:
    makers = {name: utterances(name, Random(4)) for name in ("dev", "held")}
    said = {name: {next(maker).words for _ in range(400)} for name, maker in makers.items()}
    assert not said["dev"] & said["held"]
    people = {
        name: {s.name.split("-resampled")[0] for s in SPEAKERS if s.split == name} for name in said
    }
    assert not people["dev"] & people["held"]


def test_the_same_seed_plans_the_same_rows_and_a_larger_set_begins_with_them() -> None:
    few, more = list(rows("held", 40, 7)), list(rows("held", 60, 7))
    assert few == more[:40]
    assert list(rows("held", 40, 8)) != few


def test_an_engine_that_is_missing_is_told_and_given_no_row() -> None:
    parts = [("ours", "Ears.", [result(SEVENTY)]), ("vosk", "Left out: no model", [])]
    text = whole("bench", 2, "dev", parts)
    assert "Left out: no model" in text
    assert "| ours | 1 |" in text
    assert "| vosk |" not in text
