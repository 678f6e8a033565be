"""Done, yes and no, choices, notes and the end."""

import pytest
from batch_maker import Maker


def test_done_while_a_limit_holds_it_goes_nowhere(maker: Maker) -> None:
    maker.up_to("ph").reads("ph", 5.1, "pH")
    maker.done()
    assert (maker.stage, maker.ids()) == ("ph", ["stopped_wait"])


def test_the_word_to_go_on_counts_for_its_own_stage(maker: Maker) -> None:
    maker.up_to("hold").done()
    assert maker.batch.insisted == "hold"
    maker.done()
    assert (maker.stage, maker.batch.insisted) == ("steep", None)


@pytest.mark.parametrize("kind", ["yes", "no"])
def test_yes_and_no_to_no_question_change_nothing(maker: Maker, kind: str) -> None:
    maker.up_to("heat").does(kind)
    assert (maker.stage, maker.ids()[0]) == ("heat", "no_question")


def test_an_option_may_be_named(maker: Maker) -> None:
    maker.up_to("ask_glycerin").does("choose", option="glycerin", value="with")
    assert maker.stage == "glycerin"


@pytest.mark.parametrize(
    ("option", "line"), [("glycerin", "ask_later"), ("gold_leaf", "not_in_recipe")]
)
def test_an_option_before_its_time_or_of_another_recipe(
    maker: Maker, option: str, line: str
) -> None:
    maker.up_to("heat").does("choose", option=option, value="yes")
    assert (maker.stage, maker.ids()[0]) == ("heat", line)


def test_a_fruit_that_the_recipe_is_not_for_is_noted_with_a_caution(maker: Maker) -> None:
    maker.does("choose", option="fruit", value="plum")
    assert maker.ids()[:2] == ["fruit_noted", "fruit_not_in_recipe"]
    assert maker.batch.fruit == "plum"


def test_a_note_is_kept_and_can_be_taken_back(maker: Maker) -> None:
    maker.does("note", text="windy")
    assert maker.batch.notes == ("windy",)
    maker.does("undo")
    assert maker.batch.notes == ()
