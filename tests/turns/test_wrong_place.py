"""Numbers typed where they do not belong: asked, never booked as what the stage happens to want."""

import pytest
from batch_maker import START
from desk_maker import begun, resumed, types

from assistant.base.clock import SetClock
from assistant.keep import Journal
from assistant.turns.rendering import spoken
from assistant.turns.turn import Turn

WAY = {
    "weigh": "",
    "crush": "2 kg of strawberries",
    "water": "done",
    "heat": "done",
    "hold": "76 degrees",
    "steep": "77 degrees|77 degrees|77 degrees",
    "strain": "done|done",
    "make_up": "done",
    "juice": "done",
    "cool": "2.4 litres",
    "dissolve": "44 degrees",
    "sharpen": "done",
    "ask_ascorbic": "done",
    "ph": "no|no|no",
    "bottle": "ph 3.3|yes",
}


class Cook:
    """Types her way to a stage, and on from there."""

    def __init__(self, stage: str = "weigh") -> None:
        self.journal, self.clock = Journal("sqlite://"), SetClock(START)
        self.desk = begun(self.journal, self.clock)
        for name, said in WAY.items():
            for each in said.split("|") if said else ():
                if self.stage != name:
                    self.types(each)
            assert self.stage == name
            if name == stage:
                break

    @property
    def stage(self) -> str | None:
        stage = self.desk.in_hand().stage
        return stage.id if stage else None

    def types(self, *said: str) -> Turn:
        for each in said:
            self.clock.forward(45)
            turn = types(self.desk, each)
        return turn

    def went_in(self, name: str) -> float:
        return self.desk.in_hand().total(name)


CALLED = [("dissolve", "44"), ("water", "92"), ("water", "76"), ("water", "60"), ("juice", "44")]


@pytest.mark.parametrize(("stage", "said"), CALLED)
def test_a_bare_number_that_can_be_the_thermometers_is_asked(stage: str, said: str) -> None:
    cook = Cook(stage)
    turn = cook.types(said)
    assert (turn.verdict, cook.stage) == ("ask", stage)
    assert "degrees" in spoken(turn)
    if cook.types(f"{said} degrees").reason == "ahead":
        cook.types("no")
    last = cook.desk.in_hand().last("temperature")
    assert last is not None
    assert (last.base, cook.stage) == (float(said), stage)


@pytest.mark.parametrize(
    ("stage", "said", "unit", "what"),
    [
        ("dissolve", "44", "degrees", "temperature"),
        ("dissolve", "44", "the thermometer", "temperature"),
        ("juice", "twenty four", "litres", None),
        ("water", "60", "ml", None),
    ],
)
def test_the_unit_alone_answers(stage: str, said: str, unit: str, what: str | None) -> None:
    cook = Cook(stage)
    cook.types(said)
    turn = cook.types(unit)
    if what:
        assert cook.desk.in_hand().last(what) is not None
        return
    assert spoken(turn).endswith("?")


def test_the_same_number_once_more_says_no_more_than_before() -> None:
    cook = Cook("dissolve")
    assert cook.types("44", "44").verdict == "ask"
    assert cook.stage == "dissolve"


@pytest.mark.parametrize("said", ["26", "44"])
def test_a_bare_number_of_many_kilos_is_asked(said: str) -> None:
    cook = Cook()
    turn = cook.types(said)
    assert (turn.verdict, cook.stage) == ("ask", "weigh")
    cook.types("2.6 kilos")
    assert cook.stage == "crush"


def test_water_told_again_at_the_sugar_is_no_sugar() -> None:
    cook = Cook("crush")
    turn = cook.types("900 ml")
    assert (turn.verdict, cook.stage) == ("ask", "crush")
    assert cook.went_in("crushing_sugar") == 0


def test_twenty_four_at_the_juice_is_not_twenty_four_litres() -> None:
    cook = Cook("juice")
    turn = cook.types("twenty four")
    assert (turn.verdict, cook.stage) == ("ask", "juice")
    assert spoken(turn).startswith("Two point four litres")


@pytest.mark.parametrize(("said", "grams"), [("2.86", 2860), ("2860", 2860), ("2.86 kg", 2860)])
def test_the_unit_of_a_bare_number_follows_the_plan(said: str, grams: float) -> None:
    cook = Cook("dissolve")
    cook.types(said)
    assert (cook.stage, cook.went_in("main_sugar")) == ("sharpen", grams)


FAR_OFF = [
    ("dissolve", "44 grams of sugar"),
    ("dissolve", "4.5 kilos"),
    ("sharpen", "500 g of citric acid"),
    ("water", "90 ml of water"),
    ("juice", "24 litres"),
    ("juice", "600 ml"),
    ("bottle", "sixty bottles"),
    ("bottle", "100 bottles of half a litre"),
    ("bottle", "one bottle of half a litre"),
]


@pytest.mark.parametrize(("stage", "said"), FAR_OFF)
def test_what_is_far_off_the_plan_counts_only_with_a_yes(stage: str, said: str) -> None:
    cook = Cook(stage)
    before = cook.desk.in_hand()
    turn = cook.types(said)
    assert cook.stage == stage
    assert spoken(turn).endswith("?")
    assert (cook.desk.in_hand().added, cook.desk.in_hand().taken) == (before.added, before.taken)
    assert cook.desk.in_hand().bottled is None
    cook.types("done")
    assert cook.stage == stage
    cook.types("yes")
    assert cook.stage != stage


@pytest.mark.parametrize(("stage", "said"), FAR_OFF)
def test_without_a_yes_it_never_counted(stage: str, said: str) -> None:
    cook = Cook(stage)
    cook.types(said, "no")
    assert cook.stage == stage
    assert not cook.desk.asked().yes_no
    assert cook.types("done", "done").verdict in ("take", "ask")


def test_the_right_number_takes_the_place_of_the_asked_one() -> None:
    cook = Cook("dissolve")
    cook.types("44 grams of sugar", "2.8 kilos of sugar")
    assert (cook.stage, cook.went_in("main_sugar")) == ("sharpen", 2800)
    cook = Cook("dissolve")
    cook.types("28 kilos of sugar", "no, 2.8 kilos")
    assert (cook.stage, cook.went_in("main_sugar")) == ("sharpen", 2800)


def test_a_question_in_between_leaves_it_open() -> None:
    cook = Cook("dissolve")
    cook.types("44 grams of sugar", "how much sugar", "yes")
    assert cook.went_in("main_sugar") == 44


def test_a_lone_fruit_in_mid_batch_is_asked() -> None:
    cook = Cook("hold")
    turn = cook.types("blueberry")
    assert cook.desk.in_hand().fruit == "strawberry"
    assert "instead of strawberry" in spoken(turn)
    assert "sugar" in spoken(turn)
    cook.types("no")
    assert cook.desk.in_hand().fruit == "strawberry"
    cook.types("blueberry", "yes")
    assert cook.desk.in_hand().fruit == "blueberry"


def test_what_waits_survives_a_restart() -> None:
    cook = Cook("dissolve")
    cook.types("4.5 kg of sugar")
    cook.desk = resumed(cook.desk.in_hand().id, cook.journal, cook.clock)
    assert spoken(cook.desk.greet()).endswith("?")
    assert cook.types("yes").stage == "sharpen"


def test_a_hundred_kilos_of_sugar_are_asked_and_never_taken() -> None:
    cook = Cook("dissolve")
    assert spoken(cook.types("100 kg of sugar")).endswith("?")
    assert cook.types("yes").stage == "dissolve"
    assert cook.went_in("main_sugar") == 0


@pytest.mark.parametrize("said", ["44 kg of strawberries", "60 pounds of raspberries"])
def test_more_than_small_pans_hold_is_asked_at_the_start(said: str) -> None:
    cook = Cook()
    cook.types(said)
    assert (cook.stage, cook.desk.in_hand().start) == ("weigh", None)
    cook.types("yes")
    assert cook.stage == "crush"


@pytest.mark.parametrize(
    "said", ["it was eight bottles", "there were eight bottles", "no, it was eight"]
)
def test_a_count_that_was_is_put_right(said: str) -> None:
    cook = Cook("bottle")
    cook.types("9 bottles of half a litre", said)
    if cook.desk.in_hand().bottled.count == 9:  # type: ignore[union-attr]
        cook.types("yes")
    assert cook.desk.in_hand().bottled.count == 8  # type: ignore[union-attr]


def test_a_count_that_was_is_the_count_at_the_bottles() -> None:
    cook = Cook("bottle")
    cook.types("it was eight bottles of half a litre")
    assert cook.desk.in_hand().bottled.count == 8  # type: ignore[union-attr]


def test_bottles_are_put_right_in_words() -> None:
    cook = Cook("bottle")
    cook.types("nine bottles of half a litre", "no, 7")
    assert cook.desk.in_hand().bottled is not None
    assert cook.desk.in_hand().bottled.count == 7
    cook.types("no, eight bottles", "yes")
    assert cook.desk.in_hand().bottled.count == 8


def test_bottles_of_two_sizes_in_one_breath() -> None:
    cook = Cook("bottle")
    cook.types("six bottles of half a litre and six of a quarter litre")
    assert cook.desk.in_hand().bottled is not None
    assert cook.desk.in_hand().bottled.count == 12


def test_the_fruit_is_put_right_in_words() -> None:
    cook = Cook("steep")
    turn = cook.types("i meant 2.6 kilos of fruit")
    assert cook.desk.in_hand().start is not None
    assert cook.desk.in_hand().start.base == 2600
    assert "sugar" in spoken(turn)
