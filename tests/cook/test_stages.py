"""What a stage asks for, and the sentence that asks."""

from datetime import timedelta

import pytest
from batch_maker import Maker

from assistant.cook.stages import announce, asked, facts, figure
from assistant.recipebook.files import load_recipe, recipe_names


def test_temperature_ph_and_brix_are_welcome_at_any_stage(maker: Maker) -> None:
    for stage in ("weigh", "crush", "steep", "ask_glycerin", "bottle"):
        maker = Maker().up_to(stage)
        names = [a.what for a in asked(maker.batch, maker.now).awaited]
        assert {"temperature", "ph", "brix"} <= set(names)
        assert len(names) == len(set(names))


def test_nothing_is_awaited_when_all_is_done(maker: Maker) -> None:
    assert asked(maker.up_to("finished").batch, maker.now).awaited == ()


def test_a_caution_is_said_on_arriving_only(maker: Maker) -> None:
    maker.up_to("heat")
    arriving, staying = (announce(maker.batch, maker.now, each) for each in (True, False))
    assert [line.id for line in arriving] == ["stage", "stage_caution"]
    assert [line.id for line in staying] == ["stage"]


def test_an_amount_that_goes_in_is_said_twice(maker: Maker) -> None:
    maker.up_to("crush")
    assert announce(maker.batch, maker.now)[0].repeat == "crushing_sugar"


@pytest.mark.parametrize("name", recipe_names())
def test_every_sentence_of_every_recipe_finds_its_figures(name: str) -> None:
    maker = Maker(name)
    later = maker.now + timedelta(minutes=1)
    for stage in load_recipe(name).stages:
        for words in (stage.say, stage.why):
            assert None not in facts(maker.batch, words, stage, later).values()


def test_a_figure_that_the_stage_has_not_is_an_error(maker: Maker) -> None:
    with pytest.raises(KeyError, match="seconds"):
        figure("seconds", maker.batch.stages[0])
    with pytest.raises(KeyError, match="target"):
        figure("target", None)
