"""A glass, a jug, a crowd, asked for in talk: by this batch's own Brix, and by which one."""

import pytest
from test_wrong_place import Cook

from assistant.facts.events import Ask
from assistant.turns.rendering import shown, spoken

BOTTLES = ("61 brix", "nine bottles of half a litre", "yes")


def _cook(*before: str, stage: str = "bottle") -> Cook:
    cook = Cook(stage)
    for each in before:
        cook.types(each)
    return cook


def test_syrup_to_a_litre_of_water() -> None:
    # Arithmetic: at 61 Brix (1.2925 g/ml by ICUMSA SPS-4) 1 ml holds 0.788 g of sugar; a drink of
    # 10 Brix takes 6.6 parts of water by volume.
    told = spoken(_cook(*BOTTLES).types("how much to a litre of sparkling water"))
    assert "one part to 6.6" in told
    assert "by the sixty-one Brix you read" in told


def test_a_jug_for_so_many() -> None:
    told = spoken(_cook(*BOTTLES).types("a jug for eight"))
    assert "eight glasses of two hundred millilitres" in told


@pytest.mark.parametrize(
    ("said", "bottles", "against"),
    [
        ("forty people at the regatta, two glasses each", "five bottles", "nine in store: enough"),
        ("how many bottles for a hundred guests", "eleven bottles", "two short"),
    ],
)
def test_bottles_for_a_crowd_against_what_is_there(said: str, bottles: str, against: str) -> None:
    # Arithmetic: 26.4 ml of syrup a glass; 80 glasses take 2.11 l, 200 take 5.27 l.
    told = spoken(_cook(*BOTTLES).types(said))
    assert bottles in told
    assert against in told


def test_bottles_that_were_used_are_not_counted() -> None:
    cook = _cook(*BOTTLES, "done", "we used six bottles")
    assert "three in store: two short" in spoken(cook.types("forty people, two glasses each"))


def test_before_bottling_the_syrup_that_there_will_be_counts() -> None:
    told = spoken(_cook("61 brix").types("forty people, two glasses each"))
    assert "This batch makes about" in told


SOURCES = [
    ("crush", (), "by the plan"),
    ("bottle", (), "never read"),
    ("bottle", ("61 brix",), "you read"),
    ("bottle", ("61 brix", "200 g of sugar"), "since the last reading"),
]


@pytest.mark.parametrize(("stage", "before", "which"), SOURCES)
def test_it_says_by_which_brix(stage: str, before: tuple[str, ...], which: str) -> None:
    cook = _cook(*before, stage=stage)
    assert which in spoken(cook.types("a jug for eight"))
    assert which in spoken(cook.types("forty people, two glasses each")).replace("By", "by")


def test_energy_by_the_factors_of_labels() -> None:
    # Regulation (EU) No 1169/2011, Annex XIV: 17 kJ and 4 kcal a gram of sugar.
    turn = _cook(*BOTTLES).types("how many calories in a glass")
    assert "353 kilojoules, 83 kilocalories" in " ".join(shown(turn))
    assert "Annex XIV" in " ".join(shown(turn))
    assert "diabetes" in " ".join(shown(turn))


def test_sourness_as_diluted() -> None:
    told = " ".join(shown(_cook(*BOTTLES).types("how sour is a glass at one to six")))
    assert "10.8 °Bx" in told
    assert "pH 4.4" in told


def test_sourness_without_a_fresh_ph_is_not_guessed() -> None:
    told = spoken(_cook("61 brix", "300 ml of water").types("how sour is a glass"))
    assert "without a fresh p h" in told


def test_sugar_free_is_denied_with_a_caution() -> None:
    told = spoken(_cook(*BOTTLES).types("is it sugar free"))
    assert told.startswith("No:")
    assert "diabetes" in told


def test_alcohol_in_a_glass_with_its_unit() -> None:
    # Arithmetic: 25 ml at 40 % are 10 ml of alcohol, one unit (UK CMOs 2016), in 225 ml 4.4 %.
    turn = _cook(*BOTTLES).types("how strong is a glass with 25 ml of 40% gin")
    assert "4.4 per cent of alcohol, 1.0 units of ten millilitres" in spoken(turn)
    assert "Chief Medical Officers" in " ".join(shown(turn))
    assert "Not for children" in spoken(turn)


def test_no_alcohol_is_no_promise() -> None:
    told = spoken(_cook(*BOTTLES).types("how much alcohol is in a glass"))
    assert "None went in" in told
    assert "fizzes" in told


@pytest.mark.parametrize("said", ["a jug for eight", "forty people, two glasses each"])
def test_nothing_is_served_of_what_has_spoiled(said: str) -> None:
    cook = _cook(*BOTTLES, "done", "it's fizzing")
    turn = cook.types(said)
    assert "syrup" not in spoken(turn)
    assert any(line.rank == "limit" for told in turn.told for line in told.reply.lines)


def test_nothing_is_served_past_its_date() -> None:
    cook = _cook(*BOTTLES, "done")
    cook.clock.forward(400 * 86_400)
    turn = cook.types("a jug for eight")
    assert any(line.id == "past_keep_by" for told in turn.told for line in told.reply.lines)


def test_before_anything_is_weighed_the_weight_is_asked_for() -> None:
    assert "Weigh what you start with" in spoken(Cook().types("a jug for eight"))


@pytest.mark.parametrize(
    "said",
    ["zero people, two glasses each", "-5 people", "a jug for 0", "how much to 0 litres of water"],
)
def test_nothing_for_nobody(said: str) -> None:
    cook = _cook(*BOTTLES)
    turn = cook.types(said)
    assert [e.topic for e in turn.events if isinstance(e, Ask)] == ["reckon"]
    assert spoken(turn).startswith("How m")


def test_the_same_for_more() -> None:
    cook = _cook(*BOTTLES)
    cook.types("how many bottles for thirty guests")
    assert "two hundred and forty glasses" in spoken(cook.types("and for a hundred and twenty?"))
