"""Every subject of `reckon`, asked what cannot be: it refuses, and never answers nonsense."""

import inspect
import math
import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import PansideError
from assistant.calc.answer import Answer
from assistant.commands.reckon import show, subjects

SUBJECTS = subjects()
GOOD: dict[str, dict[str, Any]] = {
    "acid-dose": {"volume_l": 2.0, "ph": 3.8, "target_ph": 3.3, "acidity_g_l": 8.0},
    "acid-trial": {"sample_ml": 500.0, "added_g": 2.0, "batch_l": 3.5},
    "acidity-blend": {
        "volume_l": 2.0,
        "acidity_g_l": 6.0,
        "target_g_l": 10.0,
        "citric_parts": 2.0,
        "malic_parts": 1.0,
    },
    "acidity-dose": {"volume_l": 2.0, "acidity_g_l": 8.0, "target_g_l": 12.0},
    "batch-cost": {"bottles": 6.0, "fruit": 4.5},
    "benzoate": {"volume_l": 2.0, "ph": 3.2},
    "blend": {"first_g": 1000.0, "first_brix": 40.0, "second_brix": 70.0, "target_brix": 60.0},
    "boil-off": {"syrup_g": 1000.0, "syrup_brix": 55.0, "target_brix": 60.0},
    "both-preservatives": {"sorbate_g_l": 0.2, "benzoate_g_l": 0.06},
    "boiling-point": {"brix": 66.0},
    "bottle-pressure": {
        "liquid_ml": 500.0,
        "headspace_ml": 25.0,
        "brix": 62.0,
        "fermented_g_l": 4.0,
    },
    "brix-by-boiling": {"temp_c": 104.0},
    "bottles": {"volume_ml": 2750.0},
    "crystals": {"brix": 70.0},
    "density": {"brix": 60.0},
    "dilute": {"syrup_brix": 60.0},
    "dilute-by-parts": {"syrup_brix": 60.0},
    "dilute-to-acid": {"syrup_brix": 60.0, "acid_g_l": 20.0, "target_acid_g_l": 3.0},
    "finished-ph": {"volume_l": 1.0, "citric_g": 1.5, "water_l": 0.6, "alkalinity_mg_l": 150.0},
    "fruit-for-bottles": {"bottles": 6.0, "yield_ml_per_kg": 1500.0},
    "hold": {"temp_c": 76.0},
    "hold-so-far": {"readings": "0 70, 30 75.2, 60 76"},
    "holds": {"measure": "cup"},
    "hot-fill": {"bottle_ml": 500.0, "glass_g": 320.0, "brix": 62.0, "fill_c": 90.0},
    "hydrometer": {"gravity": 1.1},
    "in-spoons": {"item": "sugar", "mass_g": 100.0},
    "inversion": {"brix": 66.0, "ph": 3.1},
    "juice-hold": {"temp_c": 72.0},
    "keep": {"brix": 62.0, "ph": 3.3},
    "lemon-dose": {"volume_l": 2.0, "ph": 3.8, "target_ph": 3.3, "acidity_g_l": 8.0},
    "making-up": {
        "fruit_g": 1000.0,
        "fruit_brix": 10.0,
        "fruit_water_percent": 85.0,
        "target_ml": 1500.0,
        "sugar_g": 300.0,
        "water_g": 500.0,
    },
    "mixing-temperature": {"fruit_g": 1000.0, "water_g": 500.0, "water_c": 95.0},
    "pan": {"fruit_g": 1000.0, "diameter_cm": 24.0, "depth_cm": 14.0},
    "pasteurisation-units": {"temp_c": 72.0, "minutes": 1.0},
    "ph": {"citric_g_l": 5.0},
    "ph-after": {"ph": 3.4, "acidity_g_l": 10.0, "before_l": 1.0, "after_l": 1.5, "water_l": 0.5},
    "ph-meaning": {"ph": 3.4},
    "pour-temperature": {"fruit_g": 1000.0, "water_g": 1000.0, "target_c": 40.0},
    "refractive-index": {"brix": 60.0},
    "refractometer": {"reading": 60.0},
    "sorbate": {"volume_l": 2.0, "ph": 3.2},
    "sorbate-check": {"g_per_l": 0.4},
    "spirit": {"volume_l": 1.5, "spirit_ml": 30.0},
    "spirit-mix": {"syrup_ml": 700.0, "brix": 60.0, "spirit_ml": 500.0},
    "spoon": {"item": "sugar"},
    "strained-juice": {"fruit_g": 1000.0, "fruit_brix": 10.0, "fruit_water_percent": 85.0},
    "sugar-cools": {"syrup_g": 1000.0, "syrup_brix": 10.0, "temp_c": 80.0, "sugar_g": 1000.0},
    "sugar-for-brix": {"juice_g": 1200.0, "juice_brix": 12.0, "target_brix": 61.0},
    "sweeten": {"juice_g": 1000.0, "juice_brix": 20.0, "sugar_g": 1000.0},
    "time-to": {"readings": "0 40, 60 46, 120 51", "target_c": 75.0},
    "titration": {"sample_ml": 10.0, "base_ml": 15.6},
    "volume": {"syrup_g": 1316.0, "brix": 65.0},
    "water-activity": {"brix": 65.0},
    "water-for-brix": {"syrup_g": 1000.0, "syrup_brix": 65.0, "target_brix": 60.0},
    "yeast-kill": {"brix": 60.0, "temp_c": 76.0},
    "weight": {"volume_ml": 500.0, "brix": 65.0},
}
"""One question of each subject that a cook could ask."""
THERE_OR_NO_QUESTION = re.compile(
    r"(volume|sample|glass|bottle|target)_(ml|l)|batch_l|(fruit|first|syrup|juice|mass)_g"
    r"|(diameter|depth)_cm|bottles|count|ph|(target|lemon|juice)_ph|yield_ml_per_kg|gravity|g_per_l|(spirit|liquid|headspace|syrup)_ml|base_mol_l"
    r"|(before|after)_l|(glass|fermented)_g(_l)?"
)
"""What a question is about, one and all: weights, volumes, and a pH, which is never 0 in food."""
WILD = [0.0, -0.0, -1.0, -0.001, math.nan, math.inf, -math.inf, 1e-12, 1e9, 1e300, -1e300, 5e-324]
NUMBERS = st.one_of(
    st.sampled_from(WILD), st.floats(allow_nan=True, allow_infinity=True), st.floats(-200, 2000)
)
TEXTS = st.one_of(
    st.sampled_from(["", "0 nan, 30 75", "30 75", "0 70, 0 70", "citric", "x", "0 1e300, 1 75"]),
    st.text(max_size=20),
)


def _numbers(subject: str) -> list[str]:
    given_to = inspect.signature(SUBJECTS[subject]).parameters.values()
    return [p.name for p in given_to if "float" in str(p.annotation)]


def _words(subject: str) -> list[str]:
    given_to = inspect.signature(SUBJECTS[subject]).parameters.values()
    return [p.name for p in given_to if p.annotation in (str, "str")]


def _wild(subject: str, name: str) -> st.SearchStrategy[Any]:
    """Anything at all for a word; for a number also what is near a good one."""
    if name not in _numbers(subject):
        return TEXTS
    good = GOOD[subject].get(name, 1.0)
    return st.one_of(NUMBERS, st.floats(0.3, 3.0).map(lambda times: times * good))


def _asked(subject: str, **wild: Any) -> Answer | None:
    """The answer, or None where it was refused in the way a cook can read."""
    try:
        return SUBJECTS[subject](**{**GOOD[subject], **wild})
    except PansideError as refused:
        if not str(refused):
            pytest.fail("an error without a word")
        return None


EACH_NUMBER = [(s, name) for s in SUBJECTS for name in _numbers(s)]


def test_every_subject_has_a_good_question() -> None:
    assert sorted(GOOD) == sorted(SUBJECTS)


@pytest.mark.parametrize("subject", sorted(SUBJECTS))
def test_the_good_question_is_answered(subject: str) -> None:
    answer = _asked(subject)
    assert answer is not None
    assert answer.source
    assert answer.valid


@pytest.mark.parametrize(("subject", "name"), EACH_NUMBER)
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 1e300])
def test_what_is_no_number_is_refused(subject: str, name: str, value: float) -> None:
    assert _asked(subject, **{name: value}) is None


@pytest.mark.parametrize(("subject", "name"), [e for e in EACH_NUMBER if not e[1].endswith("_c")])
def test_less_than_nothing_is_refused(subject: str, name: str) -> None:
    assert _asked(subject, **{name: -1.0}) is None
    assert _asked(subject, **{name: -1e-6}) is None


@pytest.mark.parametrize(
    ("subject", "name"), [e for e in EACH_NUMBER if THERE_OR_NO_QUESTION.fullmatch(e[1])]
)
def test_nothing_at_all_is_no_question(subject: str, name: str) -> None:
    assert _asked(subject, **{name: 0.0}) is None


@pytest.mark.parametrize("subject", sorted(SUBJECTS))
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_wild_questions_get_a_refusal_or_a_sound_answer(subject: str, data: st.DataObject) -> None:
    names = data.draw(st.sets(st.sampled_from(_numbers(subject) + _words(subject)), min_size=1))
    wild = {name: data.draw(_wild(subject, name), label=name) for name in sorted(names)}
    answer = _asked(subject, **wild)
    if answer is None:
        return
    assert all(math.isfinite(value) for value in answer.values.values())
    told = "\n".join(show(answer))
    assert not re.search(r"\b(nan|inf)\b", told)
    for name, value in answer.values.items():
        if name.endswith(("_g", "_ml", "_l", "_s", "_days", "_percent")):
            assert value >= 0, name
