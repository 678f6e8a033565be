"""What can be said: phrases for recognisers, examples for people."""

from random import Random

import pytest
from kitchen import STAGES, hear

from assistant.facts.events import What
from assistant.understand import examples, phrases
from assistant.understand.book import shipped
from assistant.understand.sayable import MOST_EXAMPLES, sentences

WHENS = {
    *What.__args__, "always", "batch", "nothing", "last", "options", "yes_no", "fruit_name",
    "timer", "mass", "stored",
}  # fmt: skip


def test_phrases_are_words_and_short_phrases() -> None:
    found = phrases()
    assert found[-1] == "[unk]"
    assert len(set(found)) == len(found)
    assert all(len(phrase.split()) <= 12 for phrase in found)
    assert all(c.islower() or c in " '" for phrase in found[:-1] for c in phrase), found


def test_phrases_hold_the_words_and_not_the_mishearings() -> None:
    found = set(phrases())
    assert {"seventy", "seventeen", "kilos", "p h", "brix", "blackcurrants", "point"} <= found
    assert not {"killos", "leaders", "bricks", "peach age"} & found


@pytest.mark.parametrize(
    ("stage", "first"),
    [
        ("nothing", "start a batch of raspberry syrup"),
        ("fruit", "two point four kilos of blackcurrants"),
        ("sugar", "the sugar is four eighty"),
        ("juice", "the juice is one point two litres"),
        ("temperature", "sixty nine degrees"),
        ("ph", "p h three point one"),
        ("brix", "sixty five brix"),
        ("sorbate", "point oh eight five grams a litre"),
    ],
)
def test_the_first_example_fits_what_is_asked(stage: str, first: str) -> None:
    assert examples(STAGES[stage])[0] == first


@pytest.mark.parametrize("stage", STAGES)
def test_an_example_can_be_said_now(stage: str) -> None:
    found = examples(STAGES[stage])
    assert 2 <= len(found) <= MOST_EXAMPLES
    assert all(hear(example, stage).verdict != "refuse" for example in found)


def test_every_reason_to_offer_a_rule_is_known() -> None:
    rules = shipped().rules.values()
    assert {when for rule in rules for when in rule.when} <= WHENS
    assert all(rule.when for rule in rules if rule.examples)


def test_sentences_depend_on_the_random_source_alone() -> None:
    assert sentences("saying", Random(3)) == sentences("saying", Random(3))
    assert len({sentences("saying", Random(seed)) for seed in range(20)}) > 10
