"""Bottles of several sizes, jars and part bottles, as a cook tells of them and takes them away."""

from dataclasses import replace

import pytest
from batch_maker import START
from desk_maker import hears
from test_wrong_place import Cook

from assistant.cook import asked, fold
from assistant.cook.sorts import sorts_filled, sorts_in_store
from assistant.facts.events import Correct, Used
from assistant.facts.vessels import Lot
from assistant.hear.heard import Guess, Heard
from assistant.turns.desk import Desk
from assistant.turns.free import FreeReader
from assistant.turns.rendering import shown
from assistant.understand.told.freely import parts_of

MIXED = ("five half litre bottles, two of 330 and three jars of 250", "done")


def brief(lots: tuple[Lot, ...]) -> str:
    """Lots in a few words: "5x500, 3x250 jar, 1x250 of 500"."""
    return ", ".join(_brief(lot) for lot in lots)


def _brief(lot: Lot) -> str:
    held = f"{lot.holds_ml:g} of " if lot.holds_ml else ""
    return f"{lot.count}x{held}{lot.size_ml:g}{' jar' if lot.of == 'jar' else ''}"


FILLED = [
    (("seven half litre bottles and one of 330",), "7x500, 1x330"),
    (("eight of half a litre, and half a bottle for the fridge", "yes"), "8x500, 1x250 of 500"),
    (("six of 500, two of 330 and half a bottle for us", "250"), "6x500, 2x330, 1x250 of 500"),
    (("four jars of 330 and five half litres",), "4x330 jar, 5x500"),
    (("three jars of 250 ml and six bottles of half a litre",), "3x250 jar, 6x500"),
    (("six jars of 330 ml and one of half a litre",), "6x330 jar, 1x500 jar"),
    (("eight small ones and four big ones", "250", "half a litre"), "8x250, 4x500"),
    (("filled four small ones and the rest in half litres", "250 ml", "six"), "4x250, 6x500"),
    (("eight of half a litre and a bit left over", "180 ml"), "8x500, 1x180 of 500"),
    (("six half litres and three 330s and a 250",), "6x500, 3x330, 1x250"),
    (("six of seven hundred and fifty, all filled with a two-finger gap", "yes"), "6x750"),
    (("4 of the 750s and 2 of the 500s",), "4x750, 2x500"),
    (("seven half litres, a 330 and half a bottle", "250"), "7x500, 1x330, 1x250 of 500"),
    (("seven of half a litre and two jam jars", "330"), "7x500, 2x330 jar"),
    (("eight bottles, half a litre each, plus two jars of 250 ml",), "8x500, 2x250 jar"),
]  # fmt: skip


@pytest.mark.parametrize(("said", "filled"), FILLED)
def test_what_was_filled(said: tuple[str, ...], filled: str) -> None:
    cook = Cook("bottle")
    cook.types(*said)
    batch = cook.desk.in_hand()
    assert brief(sorts_filled(batch)) == filled
    assert batch.stage is not None
    assert batch.stage.id == "store"
    assert brief(sorts_filled(fold(cook.journal.events(batch.id))[0])) == filled


def test_a_jar_without_its_size_is_not_passed_over() -> None:
    cook = Cook("bottle")
    assert cook.types("nine bottles and a jar").verdict == "ask"
    assert cook.desk.in_hand().bottled is None


def test_nothing_is_filled_until_the_small_ones_are_known() -> None:
    cook = Cook("bottle")
    turn = cook.types("eight small ones and four half litres")
    assert shown(turn) == ("How many millilitres does a small one hold?",)
    assert cook.desk.in_hand().bottled is None


def test_what_is_to_be_filled_is_reckoned_and_not_counted() -> None:
    cook = Cook("bottle")
    turn = cook.types("fill four small ones and the rest in half litres", "250")
    assert shown(turn) == ("That leaves about 3.2 l: 6 bottles of 500 ml, and 205 ml over.",)
    assert cook.desk.in_hand().bottled is None


def test_each_size_is_read_back() -> None:
    lines = shown(Cook("bottle").types("seven half litre bottles and one of 330"))
    assert lines[:2] == ("7 bottles of 500 ml.", "1 bottle of 330 ml.")


@pytest.fixture
def cook() -> Cook:
    """Five half litres, two of 330 and three jars of 250 in store."""
    found = Cook("bottle")
    found.types(*MIXED)
    assert left(found) == "5x500, 2x330, 3x250 jar"
    return found


def left(cook: Cook) -> str:
    return brief(sorts_in_store(cook.desk.in_hand()))


TAKEN = [
    ("we used two of the small ones", "5x500, 2x330, 1x250 jar"),
    ("gave a 330 away", "5x500, 1x330, 3x250 jar"),
    ("gave two 330s to the kiosk", "5x500, 3x250 jar"),
    ("one of the half litres broke", "4x500, 2x330, 3x250 jar"),
    ("two of the jars went to my sister", "5x500, 2x330, 1x250 jar"),
    ("we drank one of the big ones", "4x500, 2x330, 3x250 jar"),
    ("i opened a half litre", "5x500, 2x330, 3x250 jar"),
    ("threw one of the jars away", "5x500, 2x330, 2x250 jar"),
    ("gave 330 ml to my aunt", "5x500, 1x330, 3x250 jar"),
    ("gave two half litres and a 330 to my aunt", "3x500, 1x330, 3x250 jar"),
    ("we used two bottles of half a litre", "3x500, 2x330, 3x250 jar"),
]


@pytest.mark.parametrize(("said", "rest"), TAKEN)
def test_it_is_taken_from_the_size_that_was_named(cook: Cook, said: str, rest: str) -> None:
    if cook.types(said).verdict == "ask":
        cook.types("yes")
    assert left(cook) == rest


def test_opened_ones_are_of_their_size(cook: Cook) -> None:
    cook.types("i opened two of the half litres", "we used one of the half litres")
    opened = cook.desk.in_hand().stored.opened
    assert [(lot.count, lot.vessel.size_ml) for lot in opened if lot.vessel] == [(1, 500)]
    assert left(cook) == "4x500, 2x330, 3x250 jar"


@pytest.mark.parametrize(
    ("answer", "rest"),
    [
        ("the half litres", "3x500, 2x330, 3x250 jar"),
        ("330", "5x500, 3x250 jar"),
        ("the jars", "5x500, 2x330, 1x250 jar"),
        ("the second", "5x500, 3x250 jar"),
        ("small ones", "5x500, 2x330, 1x250 jar"),
    ],
)
def test_it_asks_which_where_nobody_said(cook: Cook, answer: str, rest: str) -> None:
    turn = cook.types("we used two")
    assert (turn.verdict, left(cook)) == ("ask", "5x500, 2x330, 3x250 jar")
    assert "or" in shown(turn)[0]
    cook.types(answer)
    assert left(cook) == rest


def test_only_sizes_of_which_there_are_enough_are_offered(cook: Cook) -> None:
    turn = cook.types("we used four")
    assert turn.verdict == "take"
    assert left(cook) == "1x500, 2x330, 3x250 jar"


def test_bottles_are_no_jars(cook: Cook) -> None:
    assert shown(cook.types("we used two bottles")) == (
        "2 bottles of 500 ml used or 2 bottles of 330 ml used?",
    )


def test_a_size_that_was_not_filled_takes_nothing(cook: Cook) -> None:
    assert shown(cook.types("we used a 750"))[0] == "There are no bottles of 750 ml in this batch."
    assert left(cook) == "5x500, 2x330, 3x250 jar"


def test_more_of_a_size_than_there_are_take_nothing(cook: Cook) -> None:
    cook.types("gave three 330s away")
    assert left(cook) == "5x500, 2x330, 3x250 jar"


VOLUMES = [
    ("seven half litres and two of 330", "gave three litres of it away", "1x500, 2x330"),
    ("seven half litres and two of 330", "gave a litre and a half to the kiosk", "4x500, 2x330"),
    ("seven half litres and two of 330", "gave a litre to Anna", "5x500, 2x330"),
    ("eight half litres", "gave three litres of it away", "2x500"),
    ("eight half litres", "gave half a litre to Anna", "7x500"),
]


@pytest.mark.parametrize(("filled", "said", "rest"), VOLUMES)
def test_a_volume_is_worked_out_in_bottles(filled: str, said: str, rest: str) -> None:
    cook = Cook("bottle")
    cook.types(filled, "done")
    if cook.types(said).verdict == "ask":
        cook.types("yes")
    assert left(cook) == rest


def test_a_volume_that_may_be_one_or_another_is_asked(cook: Cook) -> None:
    turn = cook.types("gave a litre of it to Anna")
    assert shown(turn) == ("How many bottles was a litre, and of which size?",)
    cook.types("two half litres")
    assert left(cook) == "3x500, 2x330, 3x250 jar"
    used = [e for e in cook.journal.events(cook.desk.in_hand().id) if isinstance(e, Used)]
    assert used[-1].to == "anna"


def test_a_volume_that_no_bottles_make_is_asked() -> None:
    cook = Cook("bottle")
    cook.types("eight half litres", "done")
    assert cook.types("gave 700 ml of it away").verdict == "ask"
    assert left(cook) == "8x500"


def test_where_no_size_is_known_a_volume_is_asked() -> None:
    cook = Cook("bottle")
    cook.types("eight bottles", "done")
    before = cook.desk.in_hand().in_store
    assert cook.types("gave three litres of it away").verdict == "ask"
    assert cook.desk.in_hand().in_store == before


def test_the_larder_counts_by_size(cook: Cook) -> None:
    cook.types("we used two of the half litres")
    assert shown(cook.types("what's in the larder"))[:3] == (
        "3 bottles of 500 ml.",
        "2 bottles of 330 ml.",
        "3 jars of 250 ml.",
    )
    assert shown(cook.types("how many of the half litres are left"))[0] == "3 bottles of 500 ml."
    assert shown(cook.types("are there any jars left"))[0] == "3 jars of 250 ml."


def test_what_is_left_is_held_against_the_count(cook: Cook) -> None:
    assert shown(cook.types("three of the half litres are left")) == (
        "2 bottles of 500 ml used, is that right?",
    )
    cook.types("yes")
    assert left(cook) == "3x500, 2x330, 3x250 jar"
    assert cook.types("three of the half litres are left").verdict == "take"
    assert cook.types("four of the half litres are left").verdict == "ask"
    assert left(cook) == "3x500, 2x330, 3x250 jar"


def test_one_size_goes_to_the_freezer(cook: Cook) -> None:
    cook.types("put the jars in the freezer", "put two of the half litres in the freezer")
    apart = cook.desk.in_hand().stored.apart
    assert [(lot.count, lot.vessel.size_ml) for lot in apart if lot.vessel] == [(3, 250), (2, 500)]


def test_one_size_is_counted_again(cook: Cook) -> None:
    cook.types("it was four half litres, not five", "yes")
    assert brief(sorts_filled(cook.desk.in_hand())) == "4x500, 2x330, 3x250 jar"
    corrected = [e for e in cook.journal.events(cook.desk.in_hand().id) if isinstance(e, Correct)]
    assert corrected[-1].vessel is not None


def test_a_count_put_right_that_the_syrup_cannot_fill_is_asked(cook: Cook) -> None:
    cook.types("it was twelve half litres, not five")
    turn = cook.types("yes")
    assert shown(turn)[0].startswith("That makes 7.41 l in all, more than the 4.2 l of syrup")
    cook.types("no")
    assert left(cook) == "5x500, 2x330, 3x250 jar"


def test_which_size_is_counted_again_is_asked(cook: Cook) -> None:
    turn = cook.types("it was four bottles, not five")
    assert turn.verdict == "ask"
    cook.types("the half litres")
    assert brief(sorts_filled(cook.desk.in_hand())) == "4x500, 2x330, 3x250 jar"


FORECASTS = [
    ("how many half litres will that make", "8 of 500 ml, and 205 ml over."),
    ("how many 330s will it make", "12 bottles of 330 ml, and 245 ml over."),
    ("how many jars of 250 ml is that", "16 of 250 ml, and 205 ml over."),
]


@pytest.mark.parametrize(("said", "told"), FORECASTS)
def test_a_forecast_is_for_the_size_that_is_at_hand(said: str, told: str) -> None:
    assert shown(Cook("dissolve").types(said))[0] == told


def test_more_than_there_is_leaves_nothing_for_the_rest() -> None:
    turn = Cook("bottle").types("fill ten of half a litre and the rest in 330s")
    assert "nothing is left" in shown(turn)[0]


def test_a_recipe_may_say_what_small_means() -> None:
    cook = Cook("bottle")
    named = cook.desk.in_hand().recipe.model_copy(update={"bottles": {"small": 250.0}})
    here = asked(replace(cook.desk.in_hand(), recipe=named), START)
    parts = parts_of("eight small ones and four half litres", here, START)
    assert [" ".join(part.words) for part in parts] == [
        "eight bottles of two hundred and fifty millilitres",
        "four bottles of half litres",
    ]


NO_FORECAST = [
    "how many grams of citric acid in half a litre of juice",
    "how many spoons is that in half a litre",
    "can i let it rest in half litre jars",
]


@pytest.mark.parametrize("said", NO_FORECAST)
def test_what_is_in_half_a_litre_is_no_forecast(said: str) -> None:
    assert "over" not in " ".join(shown(Cook("dissolve").types(said)))


def test_a_forecast_asks_what_small_means() -> None:
    cook = Cook("dissolve")
    cook.types("how many small ones will that be")
    assert shown(cook.types("200")) == ("21 bottles of 200 ml, and 3.4 ml over.",)


def test_each_gets_what_was_given_to_them(cook: Cook) -> None:
    turn = cook.types("gave a jar to Ben and two half litres to the kiosk")
    if turn.verdict == "ask":
        cook.types("yes")
    gone = cook.desk.in_hand().stored.gone
    assert [(each.count, each.to) for each in gone] == [(1, "ben"), (2, "the kiosk")]


def test_of_two_deeds_of_which_one_cannot_be_none_counts(cook: Cook) -> None:
    if cook.types("gave two half litres and four jars to the kiosk").verdict == "ask":
        cook.types("yes")
    assert left(cook) == "5x500, 2x330, 3x250 jar"


def test_the_bottles_are_moved_without_the_jars(cook: Cook) -> None:
    cook.types("put the bottles in the freezer")
    apart = cook.desk.in_hand().stored.apart
    assert [(lot.count, lot.vessel.size_ml) for lot in apart if lot.vessel] == [(5, 500), (2, 330)]
    cook.types("put them in the freezer")
    assert cook.desk.in_hand().stored.place == "freezer"


def test_the_kitchen_may_say_what_small_means() -> None:
    cook = Cook("bottle")
    batch, journal = cook.desk.in_hand(), cook.journal
    cook.desk.leave()
    cook.desk = Desk(journal, cook.clock, reader=FreeReader(sizes=(("small", 250.0),)))
    cook.desk.open(batch.id)
    cook.types("eight small ones and four big ones", "half a litre")
    assert brief(sorts_filled(cook.desk.in_hand())) == "8x250, 4x500"


def test_the_medium_ones_are_between() -> None:
    cook = Cook("bottle")
    cook.types("three of a litre, two half litres and two of 250", "yes", "done")
    cook.types("we used a medium one")
    assert left(cook) == "3x1000, 1x500, 2x250"


def _spoken(text: str) -> Heard:
    guesses = (Guess(text=text, share=1.0),)
    return Heard(text=text, guesses=guesses, sure=0.95, engine="whisper")


@pytest.mark.parametrize(
    ("said", "rest"),
    [
        ("the jars", "5x500, 2x330, 1x250 jar"),
        ("put those jars by the window ben", "5x500, 2x330, 3x250 jar"),
    ],
)
def test_talk_that_names_a_jar_answers_nothing(cook: Cook, said: str, rest: str) -> None:
    cook.types("we used two")
    hears(cook.desk, _spoken(said))
    assert left(cook) == rest


def test_the_open_one_is_of_the_size_that_was_opened(cook: Cook) -> None:
    cook.types("i opened a 330", "threw the open one away")
    cook.types("yes")
    assert left(cook) == "5x500, 1x330, 3x250 jar"
    assert cook.desk.in_hand().stored.open_count == 0


def test_none_left_of_a_size_is_said_so(cook: Cook) -> None:
    cook.types("gave two 330s to the kiosk")
    assert shown(cook.types("how many 330s are left"))[0] == "There are no bottles of 330 ml left."


def test_what_a_small_one_holds_is_asked_once() -> None:
    cook = Cook("bottle")
    cook.types("fill four small ones and the rest in half litres", "they're 250")
    turn = cook.types("filled four small ones and six half litres")
    assert shown(turn)[:2] == ("4 bottles of 250 ml.", "6 bottles of 500 ml.")


def test_a_question_of_a_size_that_was_not_answered_teaches_nothing() -> None:
    cook = Cook("bottle")
    cook.types("eight small ones and four half litres", "ph 3.4")
    assert cook.types("eight small ones and four half litres").verdict == "ask"
