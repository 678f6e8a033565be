"""Shorthand and misspellings as people type them at the stove, stage by stage."""

import pytest
from kitchen import brief, hear

TYPED = [
    ("fruit", "845g", "fruit 845 g"),
    ("fruit", "1.2kg", "fruit 1.2 kg"),
    ("fruit", "1,2 kg", "fruit 1.2 kg"),
    ("fruit", "2,400 g", "fruit 2400 g"),
    ("fruit", "2lb 3oz", "fruit 2.1875 lb"),
    ("fruit", "3 lbs 4", "fruit 3.25 lb"),
    ("fruit", "1.2kg rasberry", "choose fruit raspberry, fruit 1.2 kg"),
    ("fruit", "2 kg rasberries", "choose fruit raspberry, fruit 2 kg"),
    ("fruit", "2kg blackcurants", "choose fruit blackcurrant, fruit 2 kg"),
    ("fruit", "2 kg of blackcurrents", "choose fruit blackcurrant, fruit 2 kg"),
    ("fruit", "1kg rhubard", "choose fruit rhubarb, fruit 1 kg"),
    ("temperature", "63C", "temperature 63 degC"),
    ("temperature", "68°", "temperature 68 degC"),
    ("temperature", "84.5 °c", "temperature 84.5 degC"),
    ("temperature", "162F", "temperature 162 degF"),
    ("temperature", "58 degs", "temperature 58 degC"),
    ("temperature", "temprature 66", "temperature 66 degC"),
    ("temperature", "temperture: 91", "temperature 91 degC"),
    ("temperature", "78 celcius", "temperature 78 degC"),
    ("ph", "ph 3.18", "ph 3.18 pH"),
    ("ph", "PH=3,18", "ph 3.18 pH"),
    ("ph", "3,18", "ph 3.18 pH"),
    ("brix", "62bx", "brix 62 Brix"),
    ("brix", "62°Bx", "brix 62 Brix"),
    ("sugar", "1 1/2 cups", "sugar 1.5 cup"),
    ("sugar", "1½ cups of suger", "sugar 1.5 cup"),
    ("sugar", "½ tsp", "sugar 0.5 tsp"),
    ("sugar", "suger 700g", "sugar 700 g"),
    ("sugar", ".7kg", "sugar 0.7 kg"),
    ("acid", "12g citirc acid", "citric_acid 12 g"),
    ("juice", "2.9L", "juice 2.9 l"),
    ("juice", "2.9 ltrs", "juice 2.9 l"),
    ("juice", "2l 300ml", "juice 2.3 l"),
    ("bottles", "9x500ml", "bottle 9 500"),
    ("bottles", "9 × 0.5 l", "bottle 9 500"),
    ("bottles", "9 bottels", "bottle 9"),
    ("sorbate", "0,4g/l", "sorbate 0.4 g/l"),
    ("sorbate", "400mg/l", "sorbate 0.4 g/l"),
    ("temperature", "how much suger", "ask how_much sugar"),
    ("temperature", "whats next?", "ask next"),
    ("temperature", "timer 10min", "timer_set 600"),
    ("temperature", "scrach that", "undo"),
    ("temperature", "no, 60", "correct 60"),
    ("temperature", "DONE!!", "onward"),
    ("option", "y", "yes"),
]
ASKED_BACK = [("fruit", "1200"), ("temperature", "-18C"), ("temperature", "seventeem")]
REFUSED = [
    ("fruit", "1 200 g"), ("temperature", "47 bananas"), ("fruit", "2.1.3 kg"), ("ph", "3,25,1"),
    ("temperature", "72x"), ("fruit", "1//2 kg"), ("sugar", "700 gallons"),
]  # fmt: skip


@pytest.mark.parametrize(("stage", "text", "meaning"), TYPED)
def test_it_is_taken_as_meant(stage: str, text: str, meaning: str) -> None:
    found = hear(text, stage)
    assert (found.verdict, brief(found.events)) == ("take", meaning)


@pytest.mark.parametrize(("stage", "text"), ASKED_BACK)
def test_a_doubtful_one_is_asked_back(stage: str, text: str) -> None:
    assert hear(text, stage).verdict == "ask"


@pytest.mark.parametrize(("stage", "text"), REFUSED)
def test_what_could_be_anything_is_refused(stage: str, text: str) -> None:
    assert hear(text, stage).verdict == "refuse"
