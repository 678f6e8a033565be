"""Numbers that are wished for or asked about: worked out with the batch's own, never booked."""

import pytest
from desk_maker import hears
from test_several_batches import Stove
from test_wrong_place import Cook

from assistant.facts.events import Ask, Correct, Reading
from assistant.hear.heard import Heard
from assistant.turns.rendering import shown, spoken

READ = "58 brix"


def _numbers(cook: Cook) -> tuple[int, int]:
    """Readings and additions that count: a question must add none."""
    batch = cook.desk.in_hand()
    return len(batch.taken), len(batch.added)


@pytest.mark.parametrize(
    "said",
    [
        "how do I get it to 62 Brix",
        "how much sugar to get it to 62",
        "how much more sugar does it need for 62 brix?",
        "bring it up to 62 brix please",
        "so what do I need to reach 62 Brix",
        "I want it at 62 brix",
    ],
)
def test_sugar_to_a_brix_by_what_was_read(said: str) -> None:
    # Arithmetic: 5.46 kg at 58 Brix lack 5.46 x (62 - 58) / (100 - 62) = 0.575 kg.
    cook = Cook("bottle")
    cook.types(READ)
    before = _numbers(cook)
    turn = cook.types(said)
    assert "five hundred and seventy-five grams of sugar" in spoken(turn)
    assert [e.about for e in turn.events if isinstance(e, Ask)] == ["to_brix"]
    assert _numbers(cook) == before


def test_water_to_a_brix_names_what_thinner_costs() -> None:
    cook = Cook("bottle")
    cook.types(READ)
    turn = cook.types("how much water to bring it to 50")
    # Arithmetic: 5.46 kg x (58 - 50) / 50 = 0.874 kg.
    assert "eight hundred and seventy-five millilitres of boiled water" in spoken(turn)
    assert "keeps less long" in spoken(turn)


def test_the_meter_is_asked_for_and_its_answer_answers_the_wish() -> None:
    cook = Cook("bottle")
    turn = cook.types("how do I get it to 65 Brix")
    assert "What does the meter say?" in spoken(turn)
    assert "By reckoning" in spoken(turn)
    turn = cook.types("58")
    assert [e.value for e in turn.events if isinstance(e, Reading)] == [58]
    assert "To sixty-five Brix" in spoken(turn)


def test_a_reading_and_a_wish_in_one_breath() -> None:
    turn = Cook("bottle").types("it reads 58. How do I get it to 65 brix?")
    assert [e.value for e in turn.events if isinstance(e, Reading)] == [58]
    assert "To sixty-five Brix" in spoken(turn)


def test_a_brix_read_before_more_went_in_is_named_as_stale() -> None:
    cook = Cook("bottle")
    cook.types(READ, "200 g of sugar")
    assert cook.desk.in_hand().total("main_sugar") > 0
    turn = cook.types("how much sugar to get it to 65")
    assert "read before the last went in" in spoken(turn)


EITHER = ["make it 62", "make it 62 brix"]


@pytest.mark.parametrize("said", EITHER)
def test_a_number_that_may_put_the_reading_right_is_asked(said: str) -> None:
    cook = Cook("bottle")
    cook.types(READ)
    turn = cook.types(said)
    assert turn.verdict == "ask"
    assert cook.desk.in_hand().last("brix").base == 58  # type: ignore[union-attr]
    turn = cook.types("the reading")
    assert [e.value for e in turn.events if isinstance(e, Correct)] == [62]
    assert cook.desk.in_hand().last("brix").base == 62  # type: ignore[union-attr]


@pytest.mark.parametrize("picks", ["work it out", "the second", "how to get there"])
def test_or_is_wished_for(picks: str) -> None:
    cook = Cook("bottle")
    cook.types(READ, "make it 62")
    turn = cook.types(picks)
    assert [e.about for e in turn.events if isinstance(e, Ask)] == ["to_brix"]
    assert cook.desk.in_hand().last("brix").base == 58  # type: ignore[union-attr]


def test_a_correction_of_degrees_stays_one_and_a_doubtful_one_is_asked() -> None:
    cook = Cook("heat")
    cook.types("61 degrees", "make that 63")
    assert cook.desk.in_hand().last("temperature").base == 63  # type: ignore[union-attr]
    assert cook.types("make it 70").verdict == "ask"
    assert cook.desk.in_hand().last("temperature").base == 63  # type: ignore[union-attr]
    cook.types("the reading")
    assert cook.desk.in_hand().last("temperature").base == 70  # type: ignore[union-attr]


def test_degrees_to_come_to_are_no_reading() -> None:
    cook = Cook("heat")
    cook.types("40 degrees", "46 degrees")
    turn = cook.types("take it to 70")
    assert "to seventy degrees" in spoken(turn)
    assert cook.desk.in_hand().last("temperature").base == 46  # type: ignore[union-attr]


def test_a_number_that_may_be_brix_or_degrees_is_asked() -> None:
    cook = Cook("cool")
    cook.types("58 degrees", "55 degrees")
    turn = cook.types("get it down to 40")
    assert turn.verdict == "ask"
    assert (
        spoken(turn)
        == "Do you want to know how to get to forty Brix, or how to get to forty degrees?"
    )
    turn = cook.types("degrees")
    assert [e.about for e in turn.events if isinstance(e, Ask)] == ["time_to"]


def test_how_long_to_cool_takes_two_readings() -> None:
    cook = Cook("cool")
    assert spoken(cook.types("how long to cool to 40")) == "What does the thermometer say?"
    assert "once more in a minute" in spoken(cook.types("58"))
    assert "to forty degrees, by your last readings" in spoken(cook.types("54 degrees"))


SOUR = [
    ("sour it to 3.1", "citric acid"),
    ("how much citric to get to 3.1", "citric acid"),
    ("how much lemon juice to bring the pH down to 3.1", "lemon juice"),
]


@pytest.mark.parametrize(("said", "stuff"), SOUR)
def test_acid_to_a_ph_goes_in_by_steps(said: str, stuff: str) -> None:
    cook = Cook("bottle")
    before = _numbers(cook)
    told = spoken(cook.types(said))
    assert stuff in told
    assert "measure, then go on in small steps" in told
    assert _numbers(cook) == before


def test_a_ph_that_was_never_read_is_asked_for() -> None:
    cook = Cook("ph")
    assert spoken(
        cook.types("how much citric to get to 3.1")
    ) == "What does the pH meter say?".replace("pH", "p h")
    assert "takes about" in spoken(cook.types("3.3"))


def test_a_stale_ph_is_named_and_read_anew() -> None:
    cook = Cook("bottle")
    cook.types("300 ml of water")
    told = spoken(cook.types("sour it to 3.1"))
    assert "What does the p h meter say?" in told
    assert "three point three" in told


def test_a_brix_far_from_the_weights_is_told_to_be_read_again() -> None:
    cook = Cook("bottle")
    cook.types("8 brix")
    told = spoken(cook.types("how do I get it to 64 brix"))
    assert "By the weights I reckon sixty-two Brix, not eight Brix" in told


IMPOSSIBLE = [
    ("make it 200 Brix", "can't be"),
    ("make it 0 brix", "can't be"),
    ("make it -5 brix", "can't be"),
    ("how do I get it to 80 brix", "I don't go"),
    ("thin it to 10 brix", "is a drink"),
    ("sour it to 1", "I don't go below"),
    ("sour it to 4.4", "I don't aim above"),
    ("bring the ph down to -3", "can't be"),
    ("what if I add 0 g of sugar", "How much?"),
    ("what if I boil off 9 litres", "too little left"),
    ("scale it 0 times", "How much?"),
    ("how long to cool to -20", "To how many degrees?"),
    ("what if I add 50 g of sorbate", "over the Codex ceiling"),
    ("what if I add 0 g of sorbate", "How much?"),
    ("how strong is it with 200 ml of 140% vodka", "I can't reckon"),
    ("how strong is it with 200 ml of 0% vodka", "I can't reckon"),
    ("stretch it with the 120 brix one", "of the other one?"),
    ("what brix is a gravity of 5", "A gravity lies"),
    ("what is 62 brix at 90 degrees really", "Let the drop come"),
]


@pytest.mark.parametrize(("said", "answer"), IMPOSSIBLE)
def test_what_cannot_be_is_refused_in_words(said: str, answer: str) -> None:
    cook = Cook("bottle")
    cook.types("61 brix")
    before = _numbers(cook)
    assert answer in " ".join(shown(cook.types(said)))
    assert _numbers(cook) == before


def test_another_number_after_a_refused_one() -> None:
    cook = Cook("bottle")
    cook.types(READ, "make it 200 brix")
    assert "To sixty-four Brix" in spoken(cook.types("64"))


def test_a_spirit_s_strength_is_asked() -> None:
    cook = Cook("bottle")
    assert "How strong is the spirit" in spoken(cook.types("how strong is it with 200 ml of vodka"))
    assert "1.8 per cent" in spoken(cook.types("40"))


def test_preservative_by_all_that_went_in() -> None:
    cook = Cook("bottle")
    assert "None has gone in" in spoken(cook.types("how much preservative is in it now"))
    cook.types("1 g of sorbate", "yes")
    told = spoken(cook.types("how much preservative is in it now"))
    assert "One gram of potassium sorbate went in" in told
    assert "may still go in" in told


@pytest.mark.parametrize("said", ["scale it five times", "make five times as much"])
def test_so_many_times(said: str) -> None:
    assert spoken(Cook("crush").types(said)).startswith("Ten kilos of strawberry takes")


def test_nothing_goes_into_what_is_bottled() -> None:
    cook = Cook("bottle")
    cook.types(READ, "nine bottles of half a litre", "yes")
    assert "It is in bottles" in spoken(cook.types("how do I get it to 62 Brix"))


FACTS = [
    ("bottle", "I boiled off half a litre"),
    ("heat", "it got to 70"),
    ("dissolve", "I added 300 g of sugar"),
]


@pytest.mark.parametrize(("stage", "said"), FACTS)
def test_what_was_done_is_no_wish(stage: str, said: str) -> None:
    turn = Cook(stage).types(said)
    assert not [e for e in turn.events if isinstance(e, Ask) and e.topic == "reckon"]


def _two_pans() -> Stove:
    stove = Stove("sqlite://", "raspberry", "blackcurrant")
    for fruit, brix in (("raspberry", 65), ("blackcurrant", 54)):
        stove.types(f"the {fruit}", f"2 kg of {fruit}")
        for _ in range(40):
            batch = stove.desk.in_hand()
            if batch.addition("main_sugar") is not None or batch.stage is None:
                break
            stove.types(_next(stove))
        stove.types(f"{brix} brix")
    return stove


def _next(stove: Stove) -> str:
    stage = stove.desk.in_hand().stage
    assert stage is not None
    match stage.kind:
        case "measure":
            return {"juice": "2.4 litres", "ph": "ph 3.3"}.get(stage.reading, "done")
        case "heat" | "hold":
            return "77 degrees"
        case "cool":
            return "40 degrees"
        case "option":
            return "no"
    return "done"


def test_two_batches_are_blended_by_what_was_read_of_both() -> None:
    stove = _two_pans()
    turn = stove.types("what if I mix the two")
    asks = [e for e in turn.events if isinstance(e, Ask)]
    assert asks[0].number("other") == 65
    assert "no better than the worse of the two" in spoken(turn)
    turn = stove.types("stretch it with the raspberry one to 60")
    assert "of the sixty-five Brix one" in spoken(turn)


def test_a_spoken_reading_before_a_wish_is_asked_back() -> None:
    cook = Cook("bottle")
    said = Heard.typed("it reads 58. How do I get it to 65 brix?")
    turn = hears(cook.desk, said.model_copy(update={"engine": "scripted"}))
    assert turn.verdict == "ask"
    assert cook.desk.in_hand().last("brix") is None
    turn = cook.types("yes")
    assert cook.desk.in_hand().last("brix").base == 58  # type: ignore[union-attr]
    assert "To sixty-five Brix" in spoken(turn)


@pytest.mark.parametrize(
    "said", ["mix it with the other one", "what if I mix it with the other one"]
)
def test_the_other_syrup_s_brix_is_no_reading_of_this_one(said: str) -> None:
    cook = Cook("bottle")
    cook.types("61 brix")
    assert "of the other one" in spoken(cook.types(said))
    cook.types("50 brix")
    assert cook.desk.in_hand().last("brix").base == 61  # type: ignore[union-attr]
    assert "makes six point six nine kilos at about fifty-nine Brix" in spoken(
        cook.types("a litre of it")
    )


NEXT_WISH = [
    ("bring it to 65", "bring it to 40", 40),
    ("bring it to 65", "bring it to 50 brix", 50),
]


@pytest.mark.parametrize(("first", "then", "wanted"), NEXT_WISH)
def test_a_new_wish_picks_none_of_the_last_two(first: str, then: str, wanted: float) -> None:
    cook = Cook("cool")
    cook.types("14 brix")
    assert cook.types(first).verdict == "ask"
    turn = cook.types(then)
    pending = cook.desk.question(cook.desk.in_hand().id)
    asks = [c[0] for c in pending.candidates] if pending else list(turn.events)
    assert {e.number("target") for e in asks if isinstance(e, Ask)} == {wanted}


@pytest.mark.parametrize("said", ["64 brix please", "make it 64 brix"])
def test_a_polite_number_may_be_a_reading_or_a_wish(said: str) -> None:
    cook = Cook("bottle")
    cook.types("61 brix")
    assert cook.types(said).verdict == "ask"
    assert cook.desk.in_hand().last("brix").base == 61  # type: ignore[union-attr]


def test_relative_wishes_start_from_what_was_read() -> None:
    cook = Cook("bottle")
    cook.types("60 brix")
    assert "To sixty-two Brix" in spoken(cook.types("raise it by 2 brix"))
    assert "From p h three point three to three point one" in spoken(
        cook.types("drop the pH by 0.2")
    )


def test_a_question_with_an_amount_books_nothing() -> None:
    cook = Cook("bottle")
    cook.types("61 brix")
    before = _numbers(cook)
    cook.types("one litre of water, how much syrup", "a cup of sugar, what if I add that")
    assert _numbers(cook) == before
    assert cook.desk.in_hand().held is None


SAME_BREATH = [
    ("meter says 59, how do i get to 62", "brix", 59),
    ("it's at 60 so how much sugar for 64", "brix", 60),
    ("it's 3.4, how much citric for 3.2", "ph", 3.4),
]


@pytest.mark.parametrize(("said", "what", "value"), SAME_BREATH)
def test_a_bare_number_before_a_wish_is_of_what_is_wished_for(
    said: str, what: str, value: float
) -> None:
    turn = Cook("bottle").types(said)
    read = [(e.what, e.value) for e in turn.events if isinstance(e, Reading)]
    assert read == [(what, value)]


@pytest.mark.parametrize(
    "said", ["if it reads 58, how do I get it to 62?", "how do I get it to 62, if it reads 58"]
)
def test_a_condition_is_no_reading(said: str) -> None:
    cook = Cook("bottle")
    cook.types(said)
    assert cook.desk.in_hand().last("brix") is None
