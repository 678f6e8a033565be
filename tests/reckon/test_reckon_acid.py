"""Worked answers about acid and preservatives."""

import inspect
import re

import pytest

from assistant.base.errors import OutOfRange, WrongUse
from assistant.calc import acid as calc
from assistant.calc.answer import Answer
from assistant.reckon import acid, preserve

SUBJECTS = {**acid.SUBJECTS, **preserve.SUBJECTS}

ASKED: dict[str, dict[str, float | str]] = {
    "ph": {"citric_g_l": 5.0, "malic_g_l": 2.0, "potassium_mmol_l": 20.0},
    "ph-meaning": {"ph": 3.4},
    "acid-dose": {"volume_l": 2.0, "ph": 3.8, "target_ph": 3.3, "acidity_g_l": 8.0},
    "lemon-dose": {"volume_l": 2.0, "ph": 3.8, "target_ph": 3.3, "acidity_g_l": 8.0},
    "acidity-dose": {"volume_l": 2.0, "acidity_g_l": 8.0, "target_g_l": 12.0},
    "acid-trial": {"sample_ml": 500.0, "added_g": 2.0, "batch_l": 3.5},
    "titration": {"sample_ml": 10.0, "base_ml": 15.6},
    "sorbate": {"volume_l": 1.5, "ph": 3.2},
    "sorbate-check": {"g_per_l": 0.075},
    "benzoate": {"volume_l": 10.0, "ph": 3.2},
    "both-preservatives": {"sorbate_g_l": 0.3, "benzoate_g_l": 0.15},
    "spirit": {"volume_l": 1.5, "spirit_ml": 30.0},
}


def asked(name: str, **changed: float | str) -> Answer:
    return SUBJECTS[name](**{**ASKED[name], **changed})


def test_every_subject_is_asked_here() -> None:
    assert sorted(SUBJECTS) == sorted(ASKED)
    assert len(SUBJECTS) == len(acid.SUBJECTS) + len(preserve.SUBJECTS)


@pytest.mark.parametrize("name", SUBJECTS)
def test_a_subject_can_be_offered_as_a_command(name: str) -> None:
    subject = SUBJECTS[name]
    text = inspect.getdoc(subject)
    assert text is not None
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", name)
    assert text.splitlines()[0].endswith(".")
    for parameter in inspect.signature(subject).parameters.values():
        assert parameter.kind is parameter.KEYWORD_ONLY
        assert parameter.annotation in (float, str)
        assert parameter.name in text


@pytest.mark.parametrize("name", SUBJECTS)
def test_an_answer_shows_its_work(name: str) -> None:
    answer = asked(name)
    assert answer.answer[-1] in ".?"
    assert answer.working
    assert answer.source
    assert answer.valid
    assert answer.cautions
    assert all(value == value for value in answer.values.values())


@pytest.mark.parametrize(
    ("name", "changed", "value", "expected", "within"),
    [
        # 0.05 molal potassium dihydrogen citrate, pH 3.776: J. Res. NBS 73A (1969) 37
        ("ph", {"citric_g_l": 9.606, "malic_g_l": 0, "potassium_mmol_l": 50}, "ph", 3.776, 0.02),
        # 4 g/l lacking, over 0.9946 (the third proton is not quite gone at 8.2), in 2 l
        ("acidity-dose", {}, "acid_g", 8.04, 0.02),
        ("acid-trial", {}, "acid_g", 14.0, 1e-9),
        ("titration", {}, "acidity_g_l", 9.99, 0.01),
        # 300 mg/l / 0.7464 * 1.5 l = 0.6029 g
        ("sorbate", {}, "salt_g", 0.60, 1e-9),
        # Codex GSFA 14.1.4: 500 mg/kg as sorbic acid
        ("sorbate", {"volume_l": 10, "region": "codex"}, "acid_mg_l", 500, 1),
        ("benzoate", {}, "salt_g", 1.76, 1e-9),
        # 0.3 * 746.4 / 250 + 0.15 * 847.5 / 150
        ("both-preservatives", {}, "share", 1.743, 0.002),
        ("spirit", {}, "abv", 0.784, 0.001),
    ],
)
def test_values(
    name: str, changed: dict[str, float | str], value: str, expected: float, within: float
) -> None:
    assert asked(name, **changed).values[value] == pytest.approx(expected, abs=within)


def test_the_acid_dose_does_what_it_says() -> None:
    from assistant.calc.acid_fit import fitted

    answer = asked("acid-dose", ph_unsure=0.0)
    per_l = answer.values["acid_g"] / 2.0
    after = fitted(3.8, 8.0).plus("citric", per_l / 192.123)
    assert calc.ph_of(after) == pytest.approx(3.3, abs=1e-4)
    low, high = answer.values["acid_low_g"], answer.values["acid_high_g"]
    assert 0.7 < low / answer.values["acid_g"] < 0.95
    assert 1.05 < high / answer.values["acid_g"] < 1.3


@pytest.mark.parametrize("name", ["acid-dose", "acidity-dose"])
@pytest.mark.parametrize("acid", ["carbonic", "sorbic", "sulphuric", ""])
def test_what_makes_nothing_sour_is_refused(name: str, acid: str) -> None:
    with pytest.raises(WrongUse, match="phosphoric"):
        asked(name, acid=acid)


@pytest.mark.parametrize("name", ["acid-dose", "lemon-dose"])
def test_low_acid_juice_is_sent_to_a_trial(name: str) -> None:
    with pytest.raises(WrongUse, match="acid-trial"):
        asked(name, ph=5.9, target_ph=3.8, acidity_g_l=0, fruit="mango-ripe")


@pytest.mark.parametrize("name", ["acid-dose", "lemon-dose"])
def test_nothing_to_add_is_said_so(name: str) -> None:
    assert asked(name, ph=3.1).answer.startswith("Add none")


def test_a_fruit_widens_the_dose() -> None:
    measured = asked("acid-dose", acidity_g_l=10.5)
    typical = asked("acid-dose", acidity_g_l=0, fruit="raspberry", juice_share=0.5)
    assert typical.values["acid_g"] == pytest.approx(measured.values["acid_g"], rel=0.01)
    assert typical.values["acid_high_g"] > measured.values["acid_high_g"]
    assert typical.values["acid_low_g"] < measured.values["acid_low_g"]


@pytest.mark.parametrize("name", ["acid-dose", "lemon-dose"])
def test_an_unknown_acidity_is_not_guessed(name: str) -> None:
    with pytest.raises(WrongUse, match="acid-trial"):
        asked(name, acidity_g_l=0)


@pytest.mark.parametrize(
    ("name", "changed", "said"),
    [
        ("acid-dose", {"ph": 4.6, "target_ph": 4.5}, "Aim lower"),
        ("acid-dose", {}, "monohydrate"),
        ("ph-meaning", {"ph": 4.7}, "measure|buffers"),
        ("sorbate", {}, "rescue|does not stop"),
        ("sorbate", {}, "Only then add acid"),
        ("sorbate", {"ph": 4.55}, "Weak here"),
        ("sorbate", {}, "by syringe"),
        ("benzoate", {}, "benzene"),
        ("spirit", {}, "never pour it into hot"),
        ("titration", {}, "burns skin"),
    ],
)
def test_cautions(name: str, changed: dict[str, float | str], said: str) -> None:
    assert re.search(said, " ".join(asked(name, **changed).cautions))


def test_low_acid_is_said_first() -> None:
    assert "low-acid" in asked("ph-meaning", ph=4.7).answer
    assert "treat it as low-acid" in asked("ph-meaning", ph=4.5, ph_unsure=0.3).answer


def test_slipped_decimal_and_working_dose() -> None:
    assert "tenth of a working dose" in asked("sorbate-check").answer
    assert "is under its ceiling" in asked("sorbate-check", g_per_l=0.4).answer
    assert "over the 300 mg" in asked("sorbate-check", g_per_l=0.75).answer


@pytest.mark.parametrize(
    ("name", "changed"),
    [
        ("sorbate", {"ph": 4.7}),
        ("sorbate", {"volume_l": 0}),
        ("acid-dose", {"target_ph": 1.0}),
        ("lemon-dose", {"target_ph": 2.2}),
        ("titration", {"base_ml": -1}),
        ("spirit", {"abv": 97}),
        ("ph-meaning", {"ph": 15}),
    ],
)
def test_out_of_range(name: str, changed: dict[str, float | str]) -> None:
    with pytest.raises(OutOfRange):
        asked(name, **changed)
