"""What the page shows is what the batch is."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from room_maker import START, TO_THE_HEAT, Tent

from assistant.cook import begin
from assistant.facts.events import Begin
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.say.chosen import Chosen, shown_in
from assistant.screen.facts import Big, View
from assistant.screen.view import view


@pytest.fixture
def tent(tmp_path: Path) -> Tent:
    return Tent(tmp_path)


def _number(tent: Tent) -> tuple[str, str, str]:
    found = tent.view().big
    assert isinstance(found, Big)
    return found.label, found.value, found.unit


def test_the_number_that_matters_follows_the_batch(tent: Tent) -> None:
    """Crushing sugar is a quarter of the fruit, water two fifths: recipes/berry-syrup.toml."""
    assert tent.view().big is None, "nothing is known before the fruit is weighed"
    tent.types("2 kg of raspberries")
    assert _number(tent) == ("the first sugar", "500", "g")
    tent.types("done")
    assert _number(tent) == ("water", "800", "ml")
    tent.types("done")
    assert _number(tent) == ("warm it to", "75", "°C")
    tent.types("58 C")
    assert _number(tent) == ("in the pan", "58", "°C")
    tent.types("76 C", after_s=300)
    assert _number(tent) == ("held", "0", "s")
    tent.types("77 C", after_s=40)
    assert _number(tent) == ("held", "40", "s")
    tent.types("70 C", after_s=20)
    assert _number(tent) == ("too cold", "70", "°C")
    tent.all(["76 C", "76 C", "76 C", "76 C", "76 C", "76 C"])
    assert _number(tent) == ("rest", "20", "min")


def test_the_hold_counts_the_cooler_of_each_two_readings(tent: Tent) -> None:
    tent.all([*TO_THE_HEAT, "76 C", "74 C", "76 C", "77 C"])
    hold = tent.view().hold
    assert hold is not None
    assert (hold.counted_s, hold.needed_s, hold.complete) == (20.0, 90.0, False)


def test_the_curve_has_every_reading_and_says_where_nobody_looked(tent: Tent) -> None:
    tent.all([*TO_THE_HEAT, "48 C"])
    tent.types("60 C", after_s=60)
    tent.types("70 C", after_s=61)
    curve = tent.view().curve
    assert curve is not None
    assert [(p.seconds, p.degrees, p.blind) for p in curve.points] == [
        (0.0, 48.0, False),
        (60.0, 60.0, False),
        (121.0, 70.0, True),
    ]
    assert (curve.target, curve.ceiling, curve.counted, curve.live) == (75.0, 82.0, None, True)


def test_the_run_that_counts_is_marked(tent: Tent) -> None:
    tent.all([*TO_THE_HEAT, "60 C", "76 C", "77 C"])
    curve = tent.view().curve
    assert curve is not None
    assert curve.counted == (20.0, 40.0)


def test_a_limit_says_stop_and_the_number_that_tripped_it(tent: Tent) -> None:
    """21 CFR 114.3: an acid food has a pH of 4.6 or below."""
    tent.types("2 kg of raspberries")
    tent.types("ph 4.7")
    shown = tent.view()
    assert "4.7" in shown.stop
    assert "4.6" in shown.stop
    assert "do not bottle" in shown.stop
    assert shown.big is not None
    assert (shown.big.label, shown.big.value) == ("pH", "4.7")
    tent.types("ph 3.4")
    assert tent.view().stop, "nothing sour went in, so it is asked"
    tent.types("ph 3.4")
    assert tent.view().stop == ""


def test_amounts_are_planned_then_put_in(tent: Tent) -> None:
    tent.types("2 kg of raspberries")
    first = tent.view().amounts[0]
    assert (first.name, first.planned, first.put_in, first.standing) == (
        "the first sugar",
        "500 g",
        "",
        "now",
    )
    tent.types("450 g of sugar")
    first = tent.view().amounts[0]
    assert (first.planned, first.put_in, first.standing) == ("500 g", "450 g", "in")


def test_an_option_is_listed_only_once_it_was_chosen(tent: Tent) -> None:
    tent.types("2 kg of raspberries")
    assert "potassium sorbate" not in {row.name for row in tent.view().amounts}


def test_what_runs_is_told_with_its_end(tent: Tent) -> None:
    tent.all([*TO_THE_HEAT, "set a timer for ten minutes", "76 C"])
    told = {r.kind: (r.ends - tent.clock.now()).total_seconds() for r in tent.view().running}
    assert told == {"timer": 580.0, "thermometer": 45.0}


def test_a_rest_runs_from_when_it_was_reached(tent: Tent) -> None:
    tent.all([*TO_THE_HEAT, "76 C", "76 C", "76 C", "76 C", "76 C", "76 C"])
    (rest,) = tent.view().running
    assert rest.kind == "rest"
    assert rest.ends - rest.began == timedelta(minutes=20)


def test_the_last_reading_can_be_put_right(tent: Tent) -> None:
    tent.types("2 kg of raspberries")
    slip = tent.view().slip
    assert slip is not None
    assert (slip.words, slip.value, slip.unit) == ("2 kg", 2.0, "kg")
    assert tent.types("no, 2.1").verdict == "take"
    slip = tent.view().slip
    assert slip is not None
    assert slip.value == 2.1
    tent.types("done")
    assert tent.view().slip is None, "done is no number"


def test_only_words_without_a_number_are_offered_as_taps(tent: Tent) -> None:
    tent.types("2 kg of raspberries")
    assert tent.view().choices == ("done",)
    tent.all(["done", "done"])
    assert tent.view().choices == ()


@pytest.mark.parametrize("name", recipe_names())
def test_every_stage_of_every_recipe_has_a_view(name: str) -> None:
    recipe = load_recipe(name)
    event = Begin(at=START, batch="b-1", recipe=recipe.model_dump(mode="json"))
    batch, _ = begin(event)
    for place, stage in enumerate(recipe.stages):
        there = view(replace(batch, stage_index=place), START)
        assert View.model_validate_json(there.model_dump_json()) == there
        assert there.stage is not None
        assert (there.stage.id, there.stage.number) == (stage.id, place + 1)
        assert there.stage.caution == (stage.caution or "")


def test_two_pages_show_one_batch_in_their_own_units(tmp_path: Path) -> None:
    tent = Tent(tmp_path)
    tent.all([*TO_THE_HEAT, "150 F"])
    plain = tent.view()
    assert (plain.panel.number, plain.panel.unit) == ("65.6", "°C")
    with shown_in(Chosen(heat="degF", measure="us")):
        other = tent.view()
    assert (other.panel.number, other.panel.unit) == ("150", "°F")
    assert other.panel.instruction == "Warm it gently, stirring, to 167 °F."
    assert "17 degrees" in other.panel.sense
    assert other.panel.control.units[0].sign == "°F"
    assert other.curve is not None
    assert (other.curve.unit, other.curve.target) == ("°F", 167.0)
    assert tent.view() == plain
