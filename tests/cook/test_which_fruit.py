"""A fruit's name alone renames no batch."""

import pytest
from batch_maker import Maker

from assistant.cook.which_fruit import takes_fruit


def test_once_weighed_another_fruit_waits_for_a_yes_and_says_what_it_changes(maker: Maker) -> None:
    maker.up_to("heat")
    maker.does("choose", option="fruit", value="blueberry")
    assert (maker.batch.fruit, maker.ids()) == ("blackcurrant", ["ask_other_fruit_sugar"])
    facts = maker.reply.lines[0].facts
    assert facts["before"] != facts["after"]
    maker.does("yes")
    assert maker.batch.fruit == "blueberry"


def test_with_the_sugar_in_it_changes_keeping_and_label(maker: Maker) -> None:
    maker.up_to("ph")
    maker.does("choose", option="fruit", value="raspberry")
    assert maker.ids() == ["ask_other_fruit"]
    maker.does("no")
    assert maker.batch.fruit == "blackcurrant"


def test_before_the_weighing_a_fruit_of_the_recipe_takes_the_place_of_another(maker: Maker) -> None:
    maker.does("choose", option="fruit", value="raspberry")
    maker.does("choose", option="fruit", value="strawberry")
    assert maker.batch.fruit == "strawberry"


@pytest.mark.parametrize(
    ("recipe", "named", "said"),
    [
        ("rhubarb-syrup", None, "raspberry"),
        ("rhubarb-syrup", "rhubarb", "raspberry"),
        ("stone-fruit-syrup", "plum", "rhubarb"),
    ],
)
def test_a_fruit_of_another_recipe_never_renames(recipe: str, named: str | None, said: str) -> None:
    maker = Maker(recipe)
    if named:
        maker.does("choose", option="fruit", value=named)
    maker.does("choose", option="fruit", value=said)
    assert maker.batch.fruit == named
    assert maker.ids() == ["ask_other_fruit"]


def test_only_a_batch_that_waits_for_such_fruit_is_offered_it(maker: Maker) -> None:
    rhubarb, plum = Maker("rhubarb-syrup"), Maker("stone-fruit-syrup")
    plum.does("choose", option="fruit", value="plum")
    fruit = "rhubarb"
    assert takes_fruit(rhubarb.batch, fruit)
    assert not takes_fruit(plum.batch, fruit)
    assert takes_fruit(maker.batch, "raspberry")
    assert not takes_fruit(maker.batch, fruit)
    assert not takes_fruit(Maker().up_to("crush").batch, "blackcurrant")
    assert not takes_fruit(Maker("plain-syrup").batch, fruit)
