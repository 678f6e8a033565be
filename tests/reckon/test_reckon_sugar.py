"""Worked answers about sugar, mash, refractometer and free water."""

import inspect
import re

import pytest

from assistant.base.errors import OutOfRange
from assistant.calc.answer import Answer
from assistant.reckon import mash, refraction, sugar, water

MODULES = (sugar, mash, refraction, water)
SUBJECTS = [(name, subject) for module in MODULES for name, subject in module.SUBJECTS.items()]
NAMES = [name for name, _ in SUBJECTS]
MASH = {"fruit_g": 1000.0, "fruit_brix": 10.0, "fruit_water_percent": 85.0, "water_g": 500.0}

ASKED = {
    "sugar-for-brix": {"juice_g": 1200, "juice_brix": 12, "target_brix": 61},
    "water-for-brix": {"syrup_g": 1000, "syrup_brix": 65, "target_brix": 60},
    "boil-off": {"syrup_g": 1000, "syrup_brix": 55, "target_brix": 60},
    "blend": {"first_g": 1000, "first_brix": 40, "second_brix": 70, "target_brix": 60},
    "density": {"brix": 65},
    "hydrometer": {"gravity": 1.08293},
    "volume": {"syrup_g": 1000, "brix": 60, "temp_c": 80},
    "weight": {"volume_ml": 500, "brix": 65},
    "strained-juice": MASH,
    "making-up": {**MASH, "target_ml": 1200},
    "sweeten": {"juice_g": 1000, "juice_brix": 12, "sugar_g": 1000},
    "refractometer": {"reading": 60, "temp_c": 15, "citric_percent": 1.5},
    "refractive-index": {"brix": 50},
    "water-activity": {"brix": 65},
    "crystals": {"brix": 67, "temp_c": 4},
}


def asked(name: str, **changed: float) -> Answer:
    return dict(SUBJECTS)[name](**{**ASKED[name], **changed})


def test_no_subject_is_named_twice():
    assert sorted(NAMES) == sorted(set(NAMES)) == sorted(ASKED)


@pytest.mark.parametrize(("name", "subject"), SUBJECTS, ids=NAMES)
def test_a_subject_can_be_offered_as_a_command(name, subject):
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", name)
    assert inspect.getdoc(subject).splitlines()[0].endswith(".")
    signature = inspect.signature(subject)
    assert signature.return_annotation is Answer
    for parameter in signature.parameters.values():
        assert parameter.kind is parameter.KEYWORD_ONLY
        assert parameter.annotation is float
        assert parameter.name in inspect.getdoc(subject) or name == "making-up"


@pytest.mark.parametrize("name", NAMES)
def test_an_answer_shows_its_work(name):
    answer = asked(name)
    assert answer.answer.endswith(".")
    assert answer.working
    assert answer.source
    assert answer.valid
    assert answer.values
    assert all(isinstance(value, float) for value in answer.values.values())
    everything = " ".join((answer.answer, *answer.working, *answer.cautions))
    assert not re.search(r"\bsafe\b", everything)


# Mass balance by hand; densities from ICUMSA SPS-4 (1994): 61 Brix by its polynomial, 65 Brix
# 1.31656, 60 Brix at 80 degC 1.25199, 20 Brix 1.08098 and water 0.99820 g/ml.
@pytest.mark.parametrize(
    ("name", "value", "expected"),
    [
        ("sugar-for-brix", "sugar_g", 1200 * 49 / 39),
        ("water-for-brix", "water_g", 1000 * 5 / 60),
        ("boil-off", "water_g", 1000 * 5 / 60),
        ("blend", "second_g", 2000),
        ("density", "density_g_ml", 1.31656),
        ("density", "sugar_g_l", 855.76),
        ("hydrometer", "brix", 20.0),
        ("volume", "volume_ml", 1000 / 1.25199),
        ("weight", "syrup_g", 658.28),
        ("sweeten", "syrup_brix", 56.0),
    ],
)
def test_values(name, value, expected):
    assert asked(name).values[value] == pytest.approx(expected, rel=1e-4)


def test_the_sentence_holds_the_number():
    assert "1508 g of dry sugar" in asked("sugar-for-brix").answer
    assert "1317 g" in asked("density").answer


def test_juice_and_pulp_hold_the_whole_mash():
    values = asked("strained-juice").values
    assert values["juice_g"] + values["pulp_g"] == pytest.approx(1500)
    assert values["juice_low_g"] < values["juice_g"] < values["juice_high_g"]


def test_making_up_reaches_its_mark():
    values = asked("making-up", target_ml=1400).values
    assert values["juice_brix_low"] <= values["juice_brix"] <= values["juice_brix_high"]
    assert values["juice_g"] > asked("making-up").values["juice_g"]


def test_a_cold_reading_is_put_right_and_acid_added():
    """OIV-MA-AS2-02, table I: -0.38 at 60 % and 15 degC; 1.5 % citric acid hides 0.29 to 0.30."""
    answer = asked("refractometer")
    assert answer.values["brix_at_20"] == pytest.approx(59.62)
    assert answer.values["solids_percent"] == pytest.approx(59.92, abs=0.01)
    assert answer.values["sugars_percent"] == pytest.approx(58.42, abs=0.01)
    assert any("citric acid" in said for said in answer.cautions)
    assert not any("glycerin" in said for said in answer.cautions)


def test_water_activity_gives_the_stricter_side():
    mixed = asked("water-activity", inverted_percent=50)
    assert mixed.values["water_activity_high"] > mixed.values["water_activity"]
    assert "at most" in mixed.answer
    plain = asked("water-activity").values
    assert plain["water_activity_high"] == pytest.approx(plain["water_activity"] + 0.005)


@pytest.mark.parametrize(
    ("changed", "says", "cautions"),
    [
        ({}, "may crystallise", 1),
        ({"brix": 60}, "stay clear", 0),
        ({"brix": 75, "temp_c": 20, "inverted_percent": 80}, "stay clear", 1),
    ],
)
def test_crystals_are_foretold(changed, says, cautions):
    answer = asked("crystals", **changed)
    assert says in answer.answer
    assert len(answer.cautions) == cautions


def test_a_sweet_target_warns_of_the_fridge():
    assert not any("fridge" in said for said in asked("sugar-for-brix").cautions)
    assert any("fridge" in said for said in asked("sugar-for-brix", target_brix=68).cautions)


@pytest.mark.parametrize(
    ("name", "changed"),
    [
        ("sugar-for-brix", {"target_brix": 11}),
        ("sugar-for-brix", {"target_brix": 86}),
        ("density", {"temp_c": 106}),
        ("hydrometer", {"gravity": 0.99}),
        ("strained-juice", {"fruit_water_percent": 100}),
        ("making-up", {"target_ml": 100}),
        ("refractometer", {"temp_c": 45}),
        ("water-activity", {"brix": 80}),
        ("crystals", {"temp_c": -1}),
    ],
)
def test_out_of_range_is_an_error(name, changed):
    with pytest.raises(OutOfRange):
        asked(name, **changed)
