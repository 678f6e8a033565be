"""Fruit that is weighed as several kinds, frozen, with stones, counted, or put to what is there."""

from datetime import UTC, datetime

import pytest
from pydantic import ValidationError

from assistant.cook import Batch, Line, begin, step
from assistant.cook.basket import figures, kinds, net_g, pulp, shares
from assistant.cook.figures import figure_of
from assistant.cook.finished_ph import low_in_acid
from assistant.cook.parts import Mash
from assistant.cook.ph_forecast import forecast_ph
from assistant.cook.stock import juice, main_sugar
from assistant.facts.events import (
    RULES,
    AnyEvent,
    Begin,
    Choose,
    Correct,
    No,
    Onward,
    Reading,
    Undo,
    Weighed,
    Yes,
    event_adapter,
)
from assistant.label.ingredients import fruit_word, ingredient_words
from assistant.recipebook.files import load_recipe

AT = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
RASPBERRY = Weighed(fruit="raspberry", value=500, unit="g")
BLACKBERRY = Weighed(fruit="blackberry", value=0.3, unit="kg")


def weigh(*parts: Weighed, more: bool = False) -> Reading:
    unit = "count" if any(one.each for one in parts) else "g"
    value = sum(one.value for one in parts)
    return Reading(at=AT, what="fruit", value=value, unit=unit, parts=parts, more=more)


def made(*events: AnyEvent, recipe: str = "berry-syrup") -> tuple[Batch, tuple[Line, ...]]:
    card = load_recipe(recipe).model_dump(mode="json")
    batch, reply = begin(Begin(at=AT, batch="b", recipe=card, rules=RULES))
    for event in events:
        batch, reply = step(batch, event)
    return batch, reply.lines


def ids(lines: tuple[Line, ...]) -> list[str]:
    return [line.id for line in lines]


def test_both_are_written_down_in_order_of_weight() -> None:
    batch, lines = made(weigh(BLACKBERRY, RASPBERRY))
    assert batch.start is not None
    assert (batch.fruit, batch.start.base) == ("raspberry and blackberry", pytest.approx(800))
    assert [(s.fruit, s.grams) for s in shares(batch)] == [("raspberry", 500), ("blackberry", 300)]
    assert ids(lines)[:4] == ["read_back_of", "read_back_of", "fruit_together", "stage"]
    assert fruit_word(batch) == "raspberry and blackberry"
    names = ingredient_words(batch)
    assert names.index("raspberry") < names.index("blackberry")


def test_the_mixture_lies_between_its_fruits_alone() -> None:
    mix, _ = made(weigh(RASPBERRY, Weighed(fruit="strawberry", value=500, unit="g")))
    alone = [
        made(weigh(Weighed(fruit=f, value=1, unit="kg")))[0] for f in ("raspberry", "strawberry")
    ]
    brix = [stock.brix.likely for b in alone if (stock := juice(b))]
    stock = juice(mix)
    assert stock is not None
    assert min(brix) < stock.brix.likely < max(brix)
    forecasts = [f.likely for b in alone if (f := forecast_ph(b))]
    found = forecast_ph(mix)
    assert found is not None
    assert min(forecasts) <= found.likely <= max(forecasts)


@pytest.mark.parametrize("low", ["fig", "elderberry-american-black", "banana", "melon-honeydew"])
def test_a_low_acid_fruit_in_it_is_refused_as_alone(low: str) -> None:
    # FDA/CFSAN, Approximate pH of Foods; University of Minnesota Extension (elderberry)
    part = Weighed(fruit=low, value=50, unit="g")
    batch, lines = made(weigh(RASPBERRY, part))
    assert ids(lines) == ["fruit_low_acid"]
    assert (batch.start, batch.lasting.refused) == (None, low)
    batch, lines = made(weigh(RASPBERRY), weigh(part, more=True))
    assert ids(lines) == ["fruit_low_acid"]
    assert kinds(batch) == ("raspberry",)


def test_a_low_acid_fruit_named_late_makes_all_of_it_low_in_acid() -> None:
    batch, _ = made(
        weigh(RASPBERRY, BLACKBERRY), Choose(at=AT, option="fruit", value="fig"), Yes(at=AT)
    )
    assert low_in_acid(batch)


def test_more_fruit_goes_to_what_is_there_and_can_be_taken_back() -> None:
    one, _ = made(weigh(RASPBERRY))
    batch, lines = made(weigh(RASPBERRY), weigh(BLACKBERRY, more=True))
    assert batch.start is not None
    assert batch.start.base == pytest.approx(800)
    before, after = main_sugar(one), main_sugar(batch)
    assert before is not None
    assert after is not None
    assert after.likely > before.likely
    assert "sugar_to_come" in ids(lines)
    back, _ = step(batch, Undo(at=AT))
    assert back.start is not None
    assert (back.fruit, back.start.base) == ("raspberry", pytest.approx(500))


def test_more_of_a_plain_weight_counts_from_what_was_said() -> None:
    plain = Reading(at=AT, what="fruit", value=1.2, unit="kg")
    batch, _ = made(
        Choose(at=AT, option="fruit", value="raspberry"), plain, weigh(BLACKBERRY, more=True)
    )
    assert [(s.fruit, s.grams) for s in shares(batch)] == [("raspberry", 1200), ("blackberry", 300)]


def test_what_goes_in_after_the_hold_has_begun_is_not_taken() -> None:
    hot = Reading(at=AT, what="temperature", value=76, unit="degC")
    batch, lines = made(
        weigh(RASPBERRY), Onward(at=AT), Onward(at=AT), hot, weigh(BLACKBERRY, more=True)
    )
    assert ids(lines)[0] == "fruit_too_late"
    assert kinds(batch) == ("raspberry",)


def test_one_of_a_mixture_is_put_right_at_once_and_later() -> None:
    right = Correct(at=AT, what="fruit", value=600, unit="g", of="blackberry")
    batch, _ = made(weigh(RASPBERRY, BLACKBERRY), right)
    assert [(s.fruit, s.grams) for s in shares(batch)] == [("blackberry", 600), ("raspberry", 500)]
    batch, _ = made(weigh(RASPBERRY, BLACKBERRY), Onward(at=AT), right)
    assert (batch.fruit, batch.start and batch.start.base) == ("blackberry and raspberry", 1100)


def test_which_of_a_mixture_is_meant_is_asked() -> None:
    unsure = Correct(at=AT, what="fruit", value=600, unit="g")
    batch, lines = made(weigh(RASPBERRY, BLACKBERRY), unsure)
    assert ids(lines) == ["correction_of_which"]
    assert batch.start is not None
    assert batch.start.base == pytest.approx(800)


def test_stones_are_taken_off_by_their_share() -> None:
    # USDA SR28, refuse of raw plums: pits 6 %
    plums = Weighed(fruit="plum", value=3, unit="kg", stones=True)
    batch, lines = made(weigh(plums), recipe="stone-fruit-syrup")
    assert batch.start is not None
    assert batch.start.base == pytest.approx(3000 * 0.94)
    said = next(line for line in lines if line.id == "fruit_without_stones")
    net = said.facts["net"]
    assert not isinstance(net, str | int)
    assert net.low is not None
    assert net.high is not None
    assert net.low < 2820 < net.high


@pytest.mark.parametrize(
    ("part", "line"),
    [
        (Weighed(fruit="damson", value=3, unit="kg", stones=True), "stones_unknown"),
        (Weighed(fruit="raspberry", value=1, unit="kg", stones=True), "stones_unknown"),
        (Weighed(fruit="raspberry", value=40, unit="count", each="piece"), "piece_unknown"),
    ],
)
def test_a_share_that_nobody_knows_is_asked(part: Weighed, line: str) -> None:
    batch, lines = made(weigh(part), recipe="stone-fruit-syrup")
    assert ids(lines) == [line]
    assert batch.start is None


def test_what_was_counted_counts_only_with_a_yes() -> None:
    punnets = Weighed(fruit="strawberry", value=4, unit="count", each="punnet")
    batch, lines = made(weigh(punnets))
    assert ids(lines) == ["ask_fruit_counted"]
    assert batch.start is None
    yes, _ = step(batch, Yes(at=AT))
    assert yes.start is not None
    assert yes.start.base == pytest.approx(900)  # of 225 g each: common practice, no source
    no, _ = step(batch, No(at=AT))
    assert no.start is None


def test_lemons_for_a_recipe_that_starts_from_juice_are_told_as_juice() -> None:
    # USDA SR28: a lemon yields 48 g of juice
    lemons = Weighed(fruit="lemon", value=12, unit="count", each="piece")
    batch, lines = made(weigh(lemons), recipe="lime-cordial")
    juice_ = lines[0].facts["juice"]
    assert not isinstance(juice_, str | int)
    assert juice_.low is not None
    assert juice_.high is not None
    assert juice_.low < 12 * 48 < juice_.high
    assert batch.start is None


def test_frozen_fruit_holds_less_in_the_cloth_and_is_told_so() -> None:
    frozen, lines = made(weigh(Weighed(fruit="raspberry", value=1, unit="kg", frozen=True)))
    half = made(weigh(RASPBERRY, RASPBERRY.model_copy(update={"frozen": True, "fruit": "plum"})))[0]
    fresh, _ = made(weigh(Weighed(fruit="raspberry", value=1, unit="kg")))
    assert {"read_back_frozen", "fruit_frozen"} <= set(ids(lines))
    mash = fresh.recipe.juice
    assert isinstance(mash, Mash)
    assert pulp(fresh, mash) == (0.35, 0.65)
    assert pulp(half, mash) == pytest.approx((0.325, 0.6))
    assert pulp(frozen, mash) == (0.30, 0.55)


def test_another_fruit_named_afterwards_takes_the_place_of_the_mixture() -> None:
    batch, _ = made(
        weigh(RASPBERRY, BLACKBERRY), Choose(at=AT, option="fruit", value="redcurrant"), Yes(at=AT)
    )
    assert kinds(batch) == ("redcurrant",)
    own = figures(batch)
    assert own is not None
    assert own.name == "redcurrant"


def test_a_journal_brings_it_back_as_it_was() -> None:
    event = weigh(RASPBERRY, BLACKBERRY, more=True)
    assert event_adapter.validate_json(event.model_dump_json()) == event
    plain = Reading(at=AT, what="fruit", value=1, unit="kg")
    assert {"parts", "more"} & set(plain.model_dump()) == set()


def squeezed(*parts: Weighed) -> Reading:
    value = sum(one.value for one in parts)
    return Reading(at=AT, what="juice", value=value, unit=parts[0].unit, parts=parts)


def test_juices_are_reckoned_as_their_mixture() -> None:
    # 19 CFR 151.91: lemon juice 8.9 Brix, lime 10.0
    lemon = Weighed(fruit="lemon", value=300, unit="ml")
    lime = Weighed(fruit="lime", value=200, unit="ml")
    batch, lines = made(squeezed(lemon, lime), recipe="citrus-cordial")
    assert batch.start is not None
    assert (batch.start.base, batch.start.reading.unit) == (500, "ml")
    assert ids(lines)[:3] == ["read_back_juice", "read_back_juice", "fruit_together"]
    assert fruit_word(batch) == "lemon and lime"
    assert ingredient_words(batch)[:2] == ("lemon juice", "lime juice")
    right = Correct(at=AT, what="juice", value=400, unit="ml", of="lime")
    after, _ = step(batch, right)
    assert after.start is not None
    assert (after.fruit, after.start.base) == ("lime and lemon", 700)


def test_juice_of_a_low_acid_fruit_is_refused() -> None:
    # FDA/CFSAN, Approximate pH of Foods: melon 6.13 to 6.58
    lime = Weighed(fruit="lime", value=200, unit="ml")
    melon = Weighed(fruit="melon-cantaloupe", value=200, unit="ml")
    batch, lines = made(squeezed(lime, melon), recipe="lime-cordial")
    assert ids(lines) == ["fruit_low_acid"]
    assert batch.start is None


@pytest.mark.parametrize(
    "fields", [{"unit": "degC"}, {"unit": "pH"}, {"unit": "g", "each": "piece"}]
)
def test_what_is_no_amount_is_no_part(fields: dict[str, str]) -> None:
    with pytest.raises(ValidationError):
        Weighed.model_validate({"fruit": "raspberry", "value": 3, **fields})


def test_the_ph_to_expect_is_the_mixtures() -> None:
    # FDA/CFSAN, Approximate pH of Foods: blackberry 3.85 to 4.50
    sour = figure_of("ph_high", made(weigh(RASPBERRY))[0], AT)
    mild = figure_of("ph_high", made(weigh(RASPBERRY, BLACKBERRY))[0], AT)
    assert not isinstance(sour, str | int | None)
    assert not isinstance(mild, str | int | None)
    assert mild.value > sour.value


def test_what_is_counted_is_whole_and_loses_its_stones() -> None:
    # USDA SR28: a plum of 66 g without its pit, which is 6 %
    plums = Weighed(fruit="plum", value=10, unit="count", each="piece")
    net = net_g(plums)
    assert net is not None
    assert net.likely == pytest.approx(10 * 66, rel=0.01)
