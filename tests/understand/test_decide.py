"""When a number is believed, asked back, or refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from kitchen import NOW, STAGES, brief, hear, offered, pan, spoken
from num2words import num2words

from assistant.facts.asked import Asked
from assistant.facts.events import Discard, Reading
from assistant.hear.heard import Heard
from assistant.understand.alike import TWIN
from assistant.understand.bounds import coldest, hottest
from assistant.understand.decide import SURE_ENOUGH


@pytest.mark.parametrize(
    ("stage", "said", "events"),
    [
        ("temperature", "seventy two", "temperature 72 degC"),
        ("heating", "seventy", "temperature 70 degC"),
        ("heating", "seventy degrees", "temperature 70 degC"),
        ("fruit", "two point four kilos", "fruit 2.4 kg"),
        ("fruit", "seventeen kilos", "fruit 17 kg"),
        ("fruit", "two point one five kilos", "fruit 2.15 kg"),
        ("fruit", "2.5 kilos", "fruit 2.5 kg"),
        ("bottles", "seven", "bottles 7 count"),
        ("bottles", "seven half litre bottles", "bottle 7 500"),
        ("sugar", "four hundred and eighty four grams", "sugar 484 g"),
        ("sugar", "two killos of sugar", "sugar 2 kg"),
        ("brix", "bricks sixty five", "brix 65 Brix"),
        ("sugar", "okay done", "onward"),
        ("option", "yes please", "yes"),
    ],
)
def test_clear_speech_is_taken(stage: str, said: str, events: str) -> None:
    found = hear(spoken(said), stage)
    assert (found.verdict, brief(found.events)) == ("take", events)


@pytest.mark.parametrize(
    ("stage", "said", "reason", "candidates"),
    [
        ("temperature", "seventy", "sounds_alike",
         ["temperature 70 degC", "temperature 17 degC"]),
        ("temperature", "fifteen degrees", "sounds_alike",
         ["temperature 15 degC", "temperature 50 degC"]),
        ("heating", "seventeen", "sounds_alike",
         ["temperature 17 degC", "temperature 70 degC"]),
        ("sugar", "nine fifteen", "sounds_alike", ["sugar 915 g", "sugar 950 g"]),
        ("sugar", "nine hundred and fifty grams", "sounds_alike",
         ["sugar 950 g", "sugar 915 g"]),
        ("fruit", "one point eighteen kilos", "sounds_alike", ["fruit 1.18 kg", "fruit 1.8 kg"]),
        ("fruit", "seventy kilos", "sounds_alike", ["fruit 70 kg", "fruit 17 kg"]),
        ("nothing", "set a timer for fifteen minutes", "sounds_alike",
         ["timer_set 900", "timer_set 3000"]),
        ("nothing", "fourteen bottles", "sounds_alike", ["bottle 14", "bottle 40"]),
        ("nothing", "no, sixty", "sounds_alike", ["correct 60", "correct 16"]),
        ("ph", "p h thirty two", "order_of_magnitude", ["ph 3.2 pH"]),
        ("ph", "thirty two", "order_of_magnitude", ["ph 3.2 pH"]),
        ("ph", "three hundred and twenty five", "order_of_magnitude", ["ph 3.25 pH"]),
        ("temperature", "seven hundred and twenty", "order_of_magnitude",
         ["temperature 72 degC"]),
        ("fruit", "one hundred and twenty kilos", "order_of_magnitude", ["fruit 12 kg"]),
        ("brix", "six hundred and two brix", "order_of_magnitude", ["brix 60.2 Brix"]),
        ("fruit", "four hundred and eighty four", "unit", ["fruit 484 g"]),
        ("temperature", "one sixty two", "unit", ["temperature 162 degF"]),
        ("fruit", "two twenty two", "two_ways", ["fruit 222 g", "fruit 2.22 kg"]),
        ("fruit", "cherries", "two_ways",
         ["choose fruit sour-cherry", "choose fruit sweet-cherry"]),
        ("temperature", "one hundred and twenty one point five celsius", "impossible",
         ["temperature 121.5 degC"]),
        ("fruit", "nought point oh four kilos", "order_of_magnitude", ["fruit 0.4 kg"]),
        ("ph", "3.15", "sounds_alike", ["ph 3.15 pH", "ph 3.5 pH"]),
        ("fruit", "2.50 kilos", "sounds_alike", ["fruit 2.5 kg", "fruit 2.15 kg"]),
        ("bottles", "seven hundred and two bottles", "impossible", ["bottle 702"]),
        ("heating", "twenty two", "jump", ["temperature 22 degC"]),
        ("fruit", "sixty one grams", "impossible", ["fruit 61 g"]),
        ("heating", "seventy six", "decides", ["temperature 76 degC"]),
        ("ph", "three point two", "decides", ["ph 3.2 pH"]),
        ("fruit", "too kilos", "unsure", ["fruit 2 kg"]),
        ("temperature", "sevnty two", "unsure", ["temperature 72 degC"]),
        ("nothing", "throw it away", "serious", ["discard"]),
        ("nothing", "call the batch back", "serious", ["recalled"]),
    ],
)  # fmt: skip
def test_doubtful_speech_is_asked_back(
    stage: str, said: str, reason: str, candidates: list[str]
) -> None:
    found = hear(spoken(said), stage)
    assert (found.verdict, found.events, found.reason) == ("ask", (), reason)
    assert sorted(offered(found)) == sorted(candidates)
    assert found.question is not None
    assert found.question.kind == ("sure" if len(candidates) == 1 else "which")


@pytest.mark.parametrize(
    ("stage", "said", "reason", "candidates"),
    [
        ("heating", "17", "jump", ["temperature 17 degC"]),
        ("temperature", "720", "impossible", ["temperature 720 degC"]),
        ("ph", "ph 32", "order_of_magnitude", ["ph 3.2 pH"]),
        ("ph", "9", "impossible", ["ph 9 pH"]),
        ("fruit", "two fifty", "two_ways", ["fruit 250 g", "fruit 2.5 kg"]),
        ("fruit", "480", "unit", ["fruit 480 g"]),
        ("temperature", "162", "unit", ["temperature 162 degF"]),
        ("fruit", "51 kg", "impossible", ["fruit 51 kg"]),
        ("sugar", "fourty grams", "unsure", ["sugar 40 g"]),
        ("fruit", "2 litrs", "not_now", []),
        ("sugar", "2 kilgrams", "unsure", ["sugar 2 kg"]),
        ("nothing", "discard the batch", "serious", ["discard"]),
    ],
)
def test_typed_words_are_asked_back_when_they_can_t_be(
    stage: str, said: str, reason: str, candidates: list[str]
) -> None:
    found = hear(said, stage)
    assert (found.reason, sorted(offered(found))) == (reason, sorted(candidates))
    assert found.verdict == ("ask" if candidates else "refuse")


@pytest.mark.parametrize("said", ["17", "70", "seventy", "75", "80.5"])
def test_typed_numbers_need_no_second_word(said: str) -> None:
    asked = Asked(awaited=(pan(60, 3600, 75.0),))
    assert hear(said, asked).verdict == "take"


@pytest.mark.parametrize(
    ("stage", "said"),
    [
        ("temperature", "-300 C"),
        ("temperature", "minus five hundred fahrenheit"),
        ("ph", "pH 143"),
        ("sugar", "minus two"),
        ("brix", "minus five"),
        ("ph", "p h minus three"),
    ],
)
def test_what_no_kitchen_has_is_refused(stage: str, said: str) -> None:
    for heard in (said, spoken(said)):
        found = hear(heard, stage)
        assert (found.verdict, found.reason) == ("refuse", "absurd")


CHATTER = [
    "the radio says it will be seventy degrees on sunday",
    "i told him seventeen times",
    "can you pass me the big spoon please",
    "she is thirty five years old next week",
    "we sold forty cups of tea today",
    "and the score is four nil",
    "is that the phone",
    "put the kettle on would you",
    "there were two kilos of something in the boot of the car",
    "no i don't think so really",
    "yes but not today",
    "it's about half past four",
    "the bus leaves at nine fifteen from the bridge",
    "done with the washing up yet",
    "what do you want for dinner",
    "my number is oh one two three four five six",
    "[unk]",
    "[unk] seventy [unk]",
    "seventy [unk]",
    "mm",
    "thank you for watching",
    "...",
    "sixty seventy eighty",
    "one two three testing testing",
    "next tuesday",
    "stop it both of you",
    "again and again",
    "i have two sisters",
    "seventy two degrees outside",
    "roughly a hundred people came",
]


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("said", CHATTER)
def test_chatter_gives_nothing(said: str, stage: str) -> None:
    for heard in (said, spoken(said), spoken((said, 0.6), ("seventy", 0.4))):
        found = hear(heard, stage)
        assert (found.verdict, found.events, found.question) == ("refuse", (), None)


@pytest.mark.parametrize("said", CHATTER[:6])
def test_talk_of_other_things_is_told_from_a_request_missed(said: str) -> None:
    assert hear(spoken(said), "sugar").reason == "chatter"
    assert hear(said, "sugar").reason == "not_understood"
    assert hear(spoken("seventy two degrees or so"), "sugar").reason == "not_understood"


@pytest.mark.parametrize(
    ("said", "reason"),
    [
        ("next tuesday", "chatter"),
        ("tuesday", "chatter"),
        ("pass the sugar now", "not_understood"),
        ("seventy seventy seventy tuesday", "not_understood"),
    ],
)
def test_half_of_the_words_foreign_is_talk_to_somebody_else(said: str, reason: str) -> None:
    assert hear(spoken(said), "sugar").reason == reason


def test_silence_and_half_sentences_give_nothing() -> None:
    assert hear(spoken(("", 0.0)), "sugar").verdict == "refuse"
    half = spoken("seventy").model_copy(update={"partial": True})
    assert hear(half, "temperature").reason == "partial"
    none = spoken("seventy").model_copy(update={"guesses": ()})
    assert hear(none, "temperature").verdict == "refuse"


@pytest.mark.parametrize(
    ("guesses", "verdict", "candidates"),
    [
        ([("seventy two", 0.85), ("seventy", 0.15)], "take", []),
        ([("seventy two", 0.5), ("72 degrees", 0.35), ("i saw you", 0.15)], "take", []),
        ([("seventy two", 0.6), ("seventy three", 0.4)], "ask", ["72", "73"]),
        ([("seventy two", 0.6), ("the bus is late", 0.4)], "ask", ["72"]),
        ([("seventy two", 0.6), ("nine hundred", 0.4)], "ask", ["72"]),
        ([("seventy two", 0.4), ("seventy three", 0.3), ("ninety two", 0.3)], "ask",
         ["72", "73", "92"]),
        ([("i saw you", 0.55), ("seventy two", 0.45)], "refuse", []),
        ([("i saw you", 0.4), ("seventy two", 0.35), ("72", 0.25)], "ask", ["72"]),
        ([("seventy two", 0.7)], "ask", ["72"]),
    ],
)  # fmt: skip
def test_shares_add_up_by_meaning(
    guesses: list[tuple[str, float]], verdict: str, candidates: list[str]
) -> None:
    found = hear(spoken(*guesses), "temperature")
    assert found.verdict == verdict
    assert offered(found) == [f"temperature {n} degC" for n in candidates]


def test_what_it_could_have_been_is_shown() -> None:
    found = hear(spoken(("seventy two", 0.85), ("seventy three", 0.15)), "temperature")
    assert brief(found.also) == "temperature 73 degC"
    assert found.events[0].sure == pytest.approx(0.85)


def test_a_faint_hearing_is_asked_back() -> None:
    assert hear(spoken("seventy two", sure=0.2), "temperature").reason == "unsure"


@pytest.mark.parametrize(
    ("said", "share", "verdict"),
    [
        ("done", 0.65, "take"), ("done", 0.55, "ask"), ("done", 0.45, "refuse"),
        ("why", 0.55, "take"), ("why", 0.45, "refuse"), ("yes", 0.55, "refuse"),
        ("scratch that", 0.55, "ask"), ("without sorbate", 0.55, "ask"), ("dione", 1.0, "ask"),
    ],
)  # fmt: skip
def test_words_without_a_number_need_less(said: str, share: float, verdict: str) -> None:
    assert hear(spoken((said, share)), "option").verdict == verdict


def test_words_cut_off_are_asked_back() -> None:
    assert hear(spoken("undo", sure=0.0), "option").reason == "unsure"
    assert hear(spoken("why", sure=0.0), "option").verdict == "take"


def test_undoing_past_a_decision_is_asked_back() -> None:
    above, below = (Asked(awaited=(pan(t, 60, 75.0),)) for t in (76.0, 70.0))
    assert hear(spoken("undo"), above).reason == "decides"
    assert hear(spoken("undo"), below).verdict == "take"
    assert hear("undo", above).verdict == "take"


def test_a_correction_across_a_decision_is_asked_back() -> None:
    asked = Asked(awaited=(pan(76.0, 5, 75.0),))
    assert hear(spoken("no, seventy four"), asked).reason == "decides"
    assert hear("no, seventy four", asked).verdict == "take"


def test_insisting_on_a_number_off_by_a_place() -> None:
    first = hear(spoken("one hundred and twenty two kilos"), "fruit")
    assert offered(first) == ["fruit 12.2 kg"]
    again = hear(spoken("one hundred and twenty two kilos"), "fruit", first.question)
    assert (again.reason, offered(again)) == ("impossible", ["fruit 122 kg"])


family = st.sampled_from([*range(13, 20), *range(30, 100, 10)])
shares = st.floats(0.0, 1.0)


@given(family, shares, st.floats(-20, 120), st.floats(0, 900), st.sampled_from(["", " degrees"]))
def test_no_teen_or_ty_is_taken_while_the_other_can_be(
    value: int, share: float, last: float, seconds: float, unit: str
) -> None:
    found = hear(spoken((f"{num2words(value)}{unit}", share)), Asked(awaited=(pan(last, seconds),)))
    if found.verdict == "take":
        twin = {13: 30, 30: 13}.get(value, 10 * (value % 10) if value < 20 else 10 + value // 10)
        assert not coldest(last, seconds) <= twin <= hottest(last, seconds)
        assert share >= SURE_ENOUGH


@given(st.integers(1, 9), family, shares)
def test_nor_within_a_larger_number(hundreds: int, value: int, share: float) -> None:
    for text in (f"{num2words(hundreds)} {num2words(value)}", f"{100 * hundreds + value} grams"):
        assert hear(spoken((text, share)), "sugar").verdict != "take"


@given(st.integers(-50, 400), shares)
def test_what_is_taken_lies_within_the_bounds(value: int, share: float) -> None:
    found = hear(spoken((f"temperature {value}", share)), "temperature")
    if found.verdict == "take":
        assert -5 <= value <= 115
        assert share >= SURE_ENOUGH


@given(st.floats(20, 110), st.floats(1, 600), st.integers(0, 115))
def test_no_spoken_value_decides_unasked(last: float, seconds: float, value: int) -> None:
    found = hear(spoken(num2words(value)), Asked(awaited=(pan(last, seconds, 75.0),)))
    if found.verdict == "take":
        assert (value >= 75) == (last >= 75)


@given(st.decimals(0, 200, places=2), st.sampled_from(["{} kg", "{}", "{} kg of rhubarb", "{} l"]))
def test_typed_is_never_taken_as_another_number(value: object, way: str) -> None:
    for stage in STAGES:
        found = hear(way.format(value), stage)
        for event in found.events:
            if isinstance(event, Reading):
                assert event.value == float(str(value))


@given(st.text(max_size=400), st.sampled_from(sorted(STAGES)))
def test_any_text_gives_a_verdict(text: str, stage: str) -> None:
    for heard in (text, spoken(text)):
        found = hear(heard, stage)
        assert (found.verdict == "take") == bool(found.events)
        assert (found.verdict == "ask") == (found.question is not None)


WORDS = ("seventy", "two", "point", "kilos", "p", "h", "no", "done", "half", "a", "to", "[unk]")


@given(st.lists(st.sampled_from(WORDS)))
def test_any_words_give_a_verdict(words: list[str]) -> None:
    for stage in ("fruit", "heating"):
        hear(spoken(" ".join(words)), stage)


def test_the_pairs_are_mutual() -> None:
    assert len(TWIN) == 14
    assert all(TWIN[TWIN[word]] == word for word in TWIN)


def test_events_are_stamped_with_the_time() -> None:
    found = hear("throw it away", "nothing")
    assert found.question is not None
    assert found.question.candidates == ((Discard(at=NOW, heard="throw it away"),),)


def test_degrees_said_or_left_out_are_one_correction() -> None:
    """ "44 or 44 degrees?" helps nobody, and half the belief is no reason to doubt."""
    heard = spoken(("no, 46", 0.5), ("no, 46 degrees", 0.45))
    assert brief(hear(heard, "temperature").events) == "correct 46"


def test_a_correction_and_a_reading_of_one_number_are_asked_about_as_one() -> None:
    found = hear(spoken(("no, 46", 0.6), ("46 degrees", 0.4)), "temperature")
    assert found.question is not None
    assert (found.question.kind, len(found.question.candidates)) == ("sure", 1)
    assert found.question.candidates[0][0].kind == "correct"


@pytest.mark.parametrize(
    ("text", "candidates"),
    [
        ("It's a hundred grams.", ["sugar 100 g", "sugar 800 g"]),
        ("100 grams.", ["sugar 100 g", "sugar 800 g"]),
        ("a thousand grams", ["sugar 1000 g", "sugar 8000 g"]),
        ("Well, 20.", ["sugar 20 g", "sugar 1220 g"]),
    ],
)
def test_faint_first_sounds_are_asked(text: str, candidates: list[str]) -> None:
    """Every engine wrote "a hundred" for eight hundred, and "well, 20" for twelve twenty."""
    found = hear(spoken((text, 1.0)), "sugar")
    assert (found.reason, offered(found)) == ("sounds_alike", candidates)
    assert hear(Heard.typed(text), "sugar").verdict == "take"


@pytest.mark.parametrize("text", ["eight hundred grams", "two hundred grams", "well done"])
def test_clear_first_sounds_are_not(text: str) -> None:
    assert hear(spoken((text, 1.0)), "sugar").verdict == "take"
