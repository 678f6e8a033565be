"""Every table that must follow a union does: a forgotten entry fails here, not before the cook."""

import tomllib
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any, get_args

import pytest

from assistant.base import units
from assistant.calc import capacity, cost, heat, keep_reasons, measures, preserve_acid, scale
from assistant.calc.preserve_ceilings import Preservative
from assistant.cook import (
    keep_answers,
    machine,
    permission,
    questions,
    readings,
    reply,
    shipped,
    stops,
    storing,
)
from assistant.cook.awaiting import asked_for
from assistant.cook.kinds import AnyStage
from assistant.cook.parts import tags
from assistant.cook.reply import Rank
from assistant.facts import allergens, events
from assistant.hear.heard import Heard
from assistant.label import allergens as label_allergens
from assistant.label import layout
from assistant.larder import lines, shelf
from assistant.past import joining
from assistant.planning import wish
from assistant.planning.differences import Kind as DifferenceKind
from assistant.recipebook.files import load_recipe, recipe_names
from assistant.report import batch as batch_report
from assistant.report import course, planned
from assistant.say import amounts, earcons, phrase
from assistant.say.words import catalogue
from assistant.screen import control
from assistant.screen.facts import PadUnit
from assistant.understand import meaning, understand
from assistant.understand.book import shipped as grammars
from assistant.understand.jsgf import Tagged, walk
from assistant.understand.parsing import parse
from assistant.understand.told import signs
from assistant.understand.words import to_words

KINDS = set(tags(get_args(events.AnyEvent)[0], "kind"))
TOPICS = set(get_args(events.Topic))
_TOLD_OTHERWISE = {"reading"}
BY_CARD = {"card", "reckon"}
"""Asked in the cook's own words, which no grammar holds."""
ALL = {
    "handlers of events": (machine._HANDLERS, KINDS - {"begin"}),
    "handlers of readings": (readings._HANDLERS, set(get_args(events.What))),
    "answers to topics": ({**questions._ANSWERS, **questions._OF_AN_AMOUNT}, TOPICS),
    "words of places": (keep_answers.PLACE_WORDS, set(get_args(events.Place))),
    "words of signs": (keep_answers.SIGN_WORDS, set(get_args(events.SignOf))),
    "places of the core": (set(get_args(keep_reasons.Place)), set(get_args(events.Place))),
    "headings of the larder": (lines._HEADS, set(get_args(shelf.Advice))),
    "reasons of the larder": (lines._WHY, set(get_args(shelf.Why))),
    "dimensions of units": (units._DIMENSION, set(units.UNITS)),
    "base units": (units.BASE_UNIT, set(get_args(units.Dimension))),
    "units by ear": (amounts._EAR, set(units.UNITS) - {"pH", "count"}),
    "most of a wish": (wish._MOST, set(get_args(wish.Kind))),
    "earcons": (earcons._STROKES, set(get_args(earcons.EarconName))),
    "hobs": (cost.HOB_SHARE, set(get_args(cost.Hob))),
    "pans": (scale.FILL_SHARE, set(get_args(scale.Heat))),
    "measures": (capacity.CAPACITY_ML, set(get_args(capacity.Measure))),
    "spoons": (measures.TSP_PER, set(get_args(measures.SpoonOrCup))),
    "parts of food": (heat._CHOI_OKOS, set(get_args(heat.Component))),
    "preservative salts": (preserve_acid.SALT, set(get_args(Preservative))),
    "preservative acids": (preserve_acid.ACID, set(get_args(Preservative))),
    "preservative pKa": (preserve_acid.PKA, set(get_args(Preservative))),
    "manners": (set(meaning._MANNERS.values()), set(get_args(events.How))),
    "groups of allergens": (allergens.GROUPS, set(get_args(allergens.Allergen))),
    "allergens in notes": (label_allergens.NOTED, set(get_args(allergens.Allergen))),
    "pads of the page": (control._PADS, set(get_args(events.What))),
    "what a pad asks for": (control._ASKS, set(get_args(events.What))),
    "signs in any words": (signs._SAID, set(get_args(events.SignOf))),
    "signs by weight": (set(signs._SIGN_ORDER), set(get_args(events.SignOf))),
    "stops by pH": (stops._OF_PH, set(get_args(stops.Saying))),
    "stops by dose": (stops._OF_DOSE, set(get_args(stops.Saying))),
    "how urgent": (reply._URGENCY, set(get_args(Rank))),
    "recipes in a report": (batch_report._RECIPE_WORDS, set(get_args(shipped.Standing))),
    "columns of days": (keep_reasons._COLUMN, set(get_args(keep_reasons.Heated))),
    "pans in a plan": (planned._HOW, set(get_args(scale.Heat))),
    "label faces": (layout._KEEP_BY_LARGER, set(get_args(layout.Words)) - {"back"}),
}
SOME = {
    "events after the end": (machine._AFTER_THE_END, KINDS),
    "harmless events": (joining._HARMLESS, KINDS),
    "events of bottles": (joining._BOTTLES, KINDS),
    "signs of gas": (storing._GAS, set(get_args(events.SignOf))),
    "places that may be asked about": (
        permission._PLACES.values(),
        set(get_args(events.Place)),
    ),
    "topics of rules": (meaning._TOPICS.values(), TOPICS),
    "ranks that warn": (phrase._WARNINGS, set(get_args(Rank))),
    "differences with words": (course._CALLED, set(get_args(DifferenceKind))),
}


@pytest.mark.parametrize("name", ALL)
def test_a_table_has_an_entry_for_everything(name: str) -> None:
    table, union = ALL[name]
    assert set(table) == union


@pytest.mark.parametrize("name", SOME)
def test_a_table_names_nothing_that_is_not_there(name: str) -> None:
    table, union = SOME[name]
    assert set(table) <= union


def test_no_topic_is_answered_twice() -> None:
    assert not set(questions._ANSWERS) & set(questions._OF_AN_AMOUNT)


@pytest.mark.parametrize("sign", get_args(events.SignOf))
def test_every_sign_is_answered(sign: str) -> None:
    assert f"sign.{sign}" in catalogue()


@pytest.mark.parametrize("what", get_args(events.What))
def test_every_number_is_read_back_in_words(what: str) -> None:
    assert f"event.{what}" in catalogue()


@pytest.mark.parametrize("kind", sorted(KINDS - _TOLD_OTHERWISE))
def test_every_event_has_words(kind: str) -> None:
    assert f"event.{kind}" in catalogue()


@pytest.mark.parametrize("unit", units.UNITS)
def test_every_unit_is_told_by_ear_and_by_eye(unit: Any) -> None:
    one = reply.Quantity(value=3, unit=unit)
    assert amounts.by_ear(one)
    assert amounts.by_eye(one)


@pytest.mark.parametrize("how", get_args(events.How))
def test_every_manner_is_answered(how: str) -> None:
    assert f"manner.{how}" in catalogue()


def test_a_plan_has_words_for_every_kind_whose_time_is_told() -> None:
    stages = [stage for name in recipe_names() for stage in load_recipe(name).stages]
    fixed = {stage.kind for stage in stages if stage.takes_s()}
    assert fixed <= set(tags(AnyStage, "kind"))
    assert set(planned._SPAN) == {"heating", "cooling", *fixed}


@cache
def _sayable() -> tuple[Any, ...]:
    """What the phrasebook's phrases mean, said whole."""
    files = sorted((Path(__file__).parent / "understand" / "phrasebook").glob("*.toml"))
    rules = [rule for file in files for rule in tomllib.loads(file.read_text("utf-8")).values()]
    phrases = {said for rule in rules for said, _ in rule["says"]}
    return tuple(found.meant for said in sorted(phrases) for found in parse(tuple(to_words(said))))


def _fields(kind: str, name: str) -> set[Any]:
    plain = [m for m in _sayable() if isinstance(m, meaning.Plain) and m.kind == kind]
    return {dict(m.fields).get(name) for m in plain}


def test_every_event_can_be_said() -> None:
    numbers = {meaning.Amount: "reading", meaning.Amended: "correct"}
    said = {
        m.kind if isinstance(m, meaning.Plain) else numbers.get(type(m), "") for m in _sayable()
    }
    assert said >= KINDS


def test_every_topic_can_be_asked() -> None:
    assert _fields("ask", "topic") == TOPICS - BY_CARD


def _tags(rule: str) -> set[str]:
    return {node.tag for node in walk(grammars().rules[rule].node) if isinstance(node, Tagged)}


def test_everything_that_may_be_read_can_be_said() -> None:
    by_its_unit = {m.what for m in _sayable() if isinstance(m, meaning.Amount)} - {None}
    counted = {"bottles"}
    assert by_its_unit | _tags("other_thing") | counted == set(get_args(events.What))


def test_every_sign_place_and_manner_can_be_said() -> None:
    assert _fields("sign", "what") == set(get_args(events.SignOf))
    assert _fields("moved", "place") == set(get_args(events.Place))
    assert _fields("manner", "how") == set(get_args(events.How))


def test_every_deed_that_has_an_answer_can_be_asked() -> None:
    assert set(permission._ANSWERS) <= _tags("deed")


@pytest.mark.parametrize(
    ("what", "unit"),
    [(what, unit) for what, pad in sorted(control._PADS.items()) for unit in pad],
    ids=lambda each: getattr(each, "sign", each),
)
def test_what_a_pad_says_is_read_as_what_it_asks_for(what: Any, unit: PadUnit) -> None:
    heard = Heard.typed(unit.says.format(n=4))
    at = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
    found = understand(heard, asked_for(what), at)
    told = found.events or (found.question.candidates[0] if found.question else ())
    assert [getattr(event, "what", event.kind) for event in told] == [what], found
