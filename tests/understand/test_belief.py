"""What two engines leave open, and what they settle."""

import math
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitchen import NOW, STAGES, brief, offered, spoken
from kitchen import hear as judged

from assistant.hear.heard import Guess, Heard, Leads, Rivals
from assistant.understand import Question, Understood, rivals
from assistant.understand import belief as module
from assistant.understand.belief import (
    CLEAR_OF_TWIN,
    LEAST,
    MOST,
    TWIN_FIRST,
    Evidence,
    belief,
    contradicted,
    evidence,
    settled,
)
from assistant.understand.resolve import Moment
from assistant.understand.slips import slips, written
from assistant.understand.weigh import weigh

STRONG = Evidence(sure=-0.1, first=1.0, second=1.0, lead=6.0, twin=0.0)


class Second:
    """A second engine that weighs each sound as it was told to."""

    def __init__(self) -> None:
        self.leads: dict[int, Callable[[str], float]] = {}

    def weigh(self, heard: Heard, against: Rivals) -> Heard:
        lead = self.leads[heard.sound or 0]
        by = tuple(map(lead, against.others))
        leads = Leads(text=against.text, others=against.others, by=by)
        return heard.model_copy(update={"leads": leads})


SECOND = Second()


def weighed(heard: Heard, stage: str = "temperature", pending: Question | None = None) -> Heard:
    against = rivals(heard, STAGES[stage], NOW, pending)
    return heard if against is None else SECOND.weigh(heard, against)


def hear(heard: Heard, stage: str, pending: Question | None = None) -> Understood:
    return judged(weighed(heard, stage, pending), stage, pending)


def both(
    first: str | tuple[tuple[str, float], ...],
    second: str | tuple[tuple[str, float], ...],
    lead: Callable[[str], float] = lambda _: 8.0,
    sure: float = 0.9,
) -> Heard:
    """Speech that two engines have heard; `lead` says how far the words lead over another text."""
    heard = spoken(*([first] if isinstance(first, str) else first), sure=sure)
    pairs = ((second, 1.0),) if isinstance(second, str) else second
    SECOND.leads[len(SECOND.leads)] = lead
    guesses = tuple(Guess(text=text, share=share) for text, share in pairs)
    return heard.model_copy(update={"second": guesses, "sound": len(SECOND.leads) - 1})


@pytest.mark.parametrize(
    ("stage", "first", "second", "events"),
    [
        ("temperature", "17 degrees.", "Seventeen degrees.", "temperature 17 degC"),
        ("temperature", "70.", "Seventy.", "temperature 70 degC"),
        ("sugar", "950 grams.", "Nine hundred and fifty grams.", "sugar 950 g"),
        ("temperature", "72.", "Seventy two.", "temperature 72 degC"),
    ],
)
def test_what_both_hear_clearly_is_taken(stage: str, first: str, second: str, events: str) -> None:
    found = hear(both(first, second), stage)
    assert (found.verdict, brief(found.events)) == ("take", events)


@pytest.mark.parametrize(
    ("first", "second", "reason"),
    [
        ("17 degrees.", "Seventy degrees.", "sounds_alike"),
        ("17 degrees.", "Sound agrees.", "sounds_alike"),
        ((("17 degrees.", 0.7), ("70 degrees.", 0.3)), "Seventeen degrees.", "sounds_alike"),
        ("17 degrees.", (("Seventeen degrees.", 0.6), ("Seventy degrees.", 0.4)), "sounds_alike"),
        ("72 degrees.", "Seventy five degrees.", "unsure"),
        ((("72.", 0.6), ("75.", 0.4)), "Seventy two.", "unsure"),
    ],
)  # fmt: skip
def test_where_they_part_it_is_asked(
    first: str | tuple[tuple[str, float], ...],
    second: str | tuple[tuple[str, float], ...],
    reason: str,
) -> None:
    found = hear(both(first, second), "temperature")
    assert (found.verdict, found.reason, found.events) == ("ask", reason, ())


def test_both_candidates_are_offered_where_they_part() -> None:
    found = hear(both("72 degrees.", "Seventy five degrees."), "temperature")
    assert sorted(offered(found)) == ["temperature 72 degC", "temperature 75 degC"]


def test_the_likelier_by_both_engines_is_offered_first() -> None:
    """The second engine, when it is sure, outweighs a first that leaves a fifth open."""
    first = (("72 degrees.", 0.8), ("75 degrees.", 0.2))
    found = hear(both(first, "Seventy five degrees."), "temperature")
    assert offered(found) == ["temperature 75 degC", "temperature 72 degC"]
    surer = (("72 degrees.", 0.95), ("75 degrees.", 0.05))
    found = hear(both(surer, "Seventy five degrees."), "temperature")
    assert offered(found) == ["temperature 72 degC", "temperature 75 degC"]


def test_a_near_twin_is_asked_though_both_heard_the_same() -> None:
    near = both("17.", "Seventeen.", lambda text: 1.0 if text == "Seventy." else 8.0)
    assert hear(near, "temperature").reason == "sounds_alike"


def test_a_faint_hearing_is_asked_whatever_the_second_says() -> None:
    assert hear(both("72.", "Seventy two.", sure=0.2), "temperature").reason == "unsure"


def test_a_number_that_only_the_second_heard_is_asked() -> None:
    found = hear(both("I saw you.", "Seventy two."), "temperature")
    assert (found.verdict, offered(found)) == ("ask", ["temperature 72 degC"])


def test_talk_that_neither_understands_gives_nothing() -> None:
    found = hear(both("We went to town.", "We were in town."), "temperature")
    assert (found.verdict, found.question) == ("refuse", None)


@pytest.mark.parametrize(
    ("stage", "text", "reason"),
    [("heating", "76.", "decides"), ("ph", "3.2", "decides"), ("heating", "22.", "jump")],
)
def test_what_turns_a_decision_is_asked_however_sure_both_are(
    stage: str, text: str, reason: str
) -> None:
    words = {"76.": "Seventy six.", "3.2": "Three point two.", "22.": "Twenty two."}
    assert hear(both(text, words[text]), stage).reason == reason


@pytest.mark.parametrize(
    ("first", "second", "verdict"),
    [
        ("Done.", "Done.", "take"),
        ("Done.", "Dawn.", "take"),
        ((("Done.", 0.55), ("Dawn.", 0.45)), "Dawn.", "ask"),
        ("Dun a run.", "Done.", "refuse"),
    ],
)  # fmt: skip
def test_words_without_a_number_need_one_clear_engine(
    first: str | tuple[tuple[str, float], ...], second: str, verdict: str
) -> None:
    assert hear(both(first, second), "temperature").verdict == verdict


def test_an_answer_is_settled_too() -> None:
    pending = hear(both("72 degrees.", "Seventy five degrees."), "temperature").question
    found = hear(both("75.", "Seventy five."), "temperature", pending)
    assert brief(found.events) == "temperature 75 degC"
    weak = hear(both("75.", "Sir, if I."), "temperature", pending)
    assert weak.verdict == "take" or weak.question is not None


def test_a_number_that_the_second_engine_could_not_weigh_is_asked() -> None:
    """Its model failed, or nobody asked it: it is no better than against the number."""
    clear = both("72.", "Seventy two.")
    assert hear(clear, "temperature").verdict == "take"
    found = judged(clear, "temperature")
    assert (found.verdict, found.reason, offered(found)) == (
        "ask", "unsure", ["temperature 72 degC"],
    )  # fmt: skip


def test_what_was_weighed_for_other_words_does_not_count() -> None:
    clear = both("72.", "Seventy two.")
    leads = weighed(both("75.", "Seventy five.")).leads
    assert leads is not None
    assert judged(clear.model_copy(update={"leads": leads}), "temperature").verdict == "ask"


@given(st.floats(-5, 5), st.floats(0, 1))
def test_what_was_heard_survives_being_written_down(lead: float, sure: float) -> None:
    heard = weighed(both("72.", "Seventy two.", lambda _: lead, sure))
    again = Heard.model_validate_json(heard.model_dump_json())
    assert again == heard
    assert judged(again, "temperature") == judged(heard, "temperature")


@pytest.mark.parametrize("text", ["Done.", "How much sugar?"])
def test_words_without_a_number_are_not_weighed(text: str) -> None:
    assert rivals(both(text, text), STAGES["temperature"], NOW) is None
    assert rivals(spoken("seventy two"), STAGES["temperature"], NOW) is None


def test_one_engine_alone_has_no_evidence() -> None:
    heard = spoken("seventy two")
    (option, *others) = weigh(heard, _moment()).options
    assert evidence(heard, option, others) is None


def _moment() -> Moment:
    return Moment(STAGES["temperature"], NOW)


def test_evidence_is_what_was_heard() -> None:
    heard = both((("72.", 0.8), ("75.", 0.2)), "Seventy two.", lambda _: 2.0, sure=0.5)
    heard = weighed(heard)
    (option, *others) = weigh(heard, _moment()).options
    found = evidence(heard, option, others)
    assert found is not None
    assert found.sure == pytest.approx(math.log(0.5))
    assert (found.first, found.second) == pytest.approx((0.6, 1.0))
    count = len(slips(("seventy", "two")))
    assert found.lead == pytest.approx(max(LEAST, 2.0 - math.log(count)))
    assert found.twin == 0.0


def test_leads_are_kept_within_bounds() -> None:
    for lead, bound in ((99.0, MOST), (-99.0, LEAST)):
        heard = weighed(both("17.", "Seventeen.", lambda _, lead=lead: lead))  # type: ignore[misc]
        (option, *others) = weigh(heard, _moment()).options
        found = evidence(heard, option, others)
        assert found is not None
        assert found.lead == bound
        assert found.twin == (0.0 if lead > 0 else lead - CLEAR_OF_TWIN)


@given(
    st.floats(-5, 0), st.floats(-1, 1), st.floats(-1, 1), st.floats(LEAST, MOST), st.floats(-9, 0)
)
def test_more_evidence_never_lowers_the_belief(
    sure: float, first: float, second: float, lead: float, twin: float
) -> None:
    found = Evidence(sure, first, second, lead, twin)
    assert 0 < belief(found) < 1
    for name, value in found._asdict().items():
        assert belief(found._replace(**{name: value + 0.1})) >= belief(found)


def test_the_strongest_evidence_settles_and_each_gap_unsettles() -> None:
    assert settled(STRONG)
    assert settled(STRONG, alike=True)
    assert not settled(STRONG._replace(first=TWIN_FIRST - 0.01), alike=True)
    for gap in ({"first": 0.3}, {"second": -0.4}, {"twin": -0.6}):
        assert contradicted(STRONG._replace(**gap))
        assert not settled(STRONG._replace(**gap))
    assert not settled(Evidence(-1.0, 0.5, 0.0, -2.0, 0.0))


def test_the_table_names_every_evidence_and_how_it_was_found() -> None:
    path = Path(module.__file__).with_name("belief.toml")
    text = path.read_text("utf-8")
    table = tomllib.loads(text)["belief"]
    assert set(table) == {"constant", "enough", *Evidence._fields}
    assert 0.9 <= table["enough"] < 1
    assert "tests.bench.confidence" in text


@pytest.mark.parametrize(
    ("words", "among"),
    [
        ("seventy two degrees", "seventy degrees"),
        ("seventy two degrees", "sixty two degrees"),
        ("seventeen", "seventy"),
        ("nine hundred and fifteen", "nine hundred and fifty"),
        ("nine hundred and fifteen", "five hundred and fifteen"),
        ("one point five kilos", "one point nine kilos"),
        ("seventy", "seventy two"),
        ("six hundred and seventy", "six hundred and seventeen"),
    ],
)
def test_slips_of_a_number(words: str, among: str) -> None:
    found = slips(tuple(words.split()))
    assert tuple(among.split()) in found
    assert tuple(words.split()) not in found
    assert len(set(found)) == len(found)


def test_words_without_a_number_have_no_slips() -> None:
    assert slips(("stop", "the", "timer")) == ()
    assert ("seventeen", "two") not in slips(("seventy", "two"))
    assert written(("p", "h", "three")) == "P h three."
