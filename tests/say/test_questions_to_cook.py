"""Questions back to the cook."""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import get_args

import pytest

from assistant.facts import events as ev
from assistant.facts.events import AnyEvent, Correct, Reading, What
from assistant.facts.vessels import Lot, Vessel
from assistant.say.phrase import by_ear, by_eye
from assistant.say.questions import question_line
from assistant.say.words import catalogue

AT = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


@dataclass(frozen=True)
class Question:
    kind: str
    candidates: tuple[tuple[AnyEvent, ...], ...]
    reason: str = ""


def reading(what: What, value: float, unit: ev.Unit) -> Reading:
    return Reading(at=AT, what=what, value=value, unit=unit)


def asked(kind: str, *candidates: AnyEvent) -> Question:
    return Question(kind, tuple((event,) for event in candidates))


HOT_76 = reading("temperature", 76, "degC")
SUGAR_600 = reading("sugar", 600, "g")
WATER_600 = reading("water", 600, "ml")
ASKED = [
    (
        asked("which", reading("temperature", 17, "degC"), reading("temperature", 70, "degC")),
        "Seventeen or seventy?",
        "17 or 70?",
    ),
    (
        asked("which", reading("ph", 3.1, "pH"), reading("ph", 3.2, "pH")),
        "Three point one or three point two?",
        "3.1 or 3.2?",
    ),
    (
        asked("which", *(reading("fruit", v, "g") for v in (915, 950, 960, 970))),
        "Nine hundred and fifteen, nine hundred and fifty or nine hundred and sixty?",
        "915, 950 or 960?",
    ),
    (
        asked("sure", HOT_76),
        "Seventy-six degrees, is that right?",
        "76 °C, is that right?",
    ),
    (
        asked("which", SUGAR_600, WATER_600),
        "Six hundred grams of sugar or six hundred millilitres of water?",
        "600 g of sugar or 600 ml of water?",
    ),
    (
        asked("which", reading("sugar", 1.2, "kg"), reading("sugar", 1.2, "lb")),
        "One point two kilos of sugar or one point two pounds of sugar?",
        "1.2 kg of sugar or 1.2 lb of sugar?",
    ),
    (
        asked("which", Correct(at=AT, value=60), Correct(at=AT, value=16)),
        "Sixty or sixteen?",
        "60 or 16?",
    ),
    (
        asked("which", ev.Onward(at=AT), ev.Stop(at=AT)),
        "Done or stop?",
        "Done or stop?",
    ),
    (
        Question("sure", ((SUGAR_600, ev.Onward(at=AT)),)),
        "Six hundred grams of sugar and done, is that right?",
        "600 g of sugar and done, is that right?",
    ),
    (
        asked("which", HOT_76),
        "Seventy-six degrees, is that right?",
        "76 °C, is that right?",
    ),
    (
        Question("which", ()),
        "I'm not sure what I heard. Please say it again.",
        "I'm not sure what I heard. Please say it again.",
    ),
    (
        asked("sure", ev.Bottle(at=AT, count=4, size_ml=500)),
        "Four bottles of half a litre, is that right?",
        "4 bottles of 500 ml, is that right?",
    ),
    (
        asked("which", ev.TimerSet(at=AT, seconds=900), ev.TimerSet(at=AT, seconds=3000)),
        "A timer for fifteen minutes or a timer for fifty minutes?",
        "A timer for 15 min or a timer for 50 min?",
    ),
    (
        asked("sure", ev.TimerSet(at=AT, seconds=605, name="jars")),
        "A timer for ten minutes five seconds, jars, is that right?",
        "A timer for 10 min 5 s, jars, is that right?",
    ),
    (
        asked("which", ev.Used(at=AT, count=13), ev.Used(at=AT, count=30)),
        "Thirteen bottles used or thirty bottles used?",
        "13 bottles used or 30 bottles used?",
    ),
    (
        asked("sure", ev.Discard(at=AT, count=1)),
        "Throw one bottle away, is that right?",
        "Throw 1 bottle away, is that right?",
    ),
    (
        asked("sure", ev.Choose(at=AT, option="fruit", value="blackcurrant")),
        "Blackcurrant, is that right?",
        "Blackcurrant, is that right?",
    ),
]


@pytest.mark.parametrize(("question", "ear", "eye"), ASKED)
def test_asked_as_a_person_would(question: Question, ear: str, eye: str) -> None:
    line = question_line(question)
    assert line.rank == "question"
    assert (by_ear(line), by_eye(line)) == (ear, eye)


KINDS = [
    ev.Onward(at=AT), ev.SayAgain(at=AT), ev.Undo(at=AT), ev.Ask(at=AT, topic="keep"),
    ev.Yes(at=AT), ev.No(at=AT), ev.TimerSet(at=AT, seconds=60), ev.TimerStop(at=AT),
    ev.Choose(at=AT, option="fruit", value="rhubarb"), ev.Begin(at=AT, batch="b", recipe={}),
    ev.Bottle(at=AT, count=1), ev.Discard(at=AT), ev.Note(at=AT, text="windy {day}"),
    ev.Stop(at=AT), ev.Manner(at=AT, how="slower"),
    ev.Used(at=AT, count=2), ev.Used(at=AT, count=2, to="the kiosk"),
    ev.Later(at=AT), ev.Repeat(at=AT), ev.Pause(at=AT),
    ev.Opened(at=AT), ev.Moved(at=AT, place="freezer"),
    ev.Moved(at=AT, place="freezer", count=2), ev.Sign(at=AT, what="off_smell"),
    ev.Recalled(at=AT), ev.Discard(at=AT, count=2), Correct(at=AT, value=3),
    *(reading(w, 3, "count") for w in get_args(What)),
]  # fmt: skip
JAR = Vessel(size_ml=330, of="jar")
THIRD = "three hundred and thirty millilitres"
OF_A_SORT = [
    (ev.Used(at=AT, count=2, vessel=JAR), f"two jars of {THIRD} used"),
    (ev.Used(at=AT, count=1, to="Ana", vessel=JAR), f"one jar of {THIRD} to Ana"),
    (ev.Opened(at=AT, vessel=JAR), f"one jar of {THIRD} opened"),
    (ev.Moved(at=AT, place="freezer", count=2, vessel=JAR), f"two jars of {THIRD} to the freezer"),
    (ev.Moved(at=AT, place="freezer", vessel=JAR), f"all jars of {THIRD} to the freezer"),
    (ev.Discard(at=AT, count=1, vessel=JAR), f"throw one jar of {THIRD} away"),
    (ev.Discard(at=AT, vessel=JAR), f"throw all jars of {THIRD} away"),
    (Correct(at=AT, value=6, what="bottles", vessel=Vessel(size_ml=500)),
     "six bottles of half a litre"),
    (ev.Bottle(at=AT, count=7, size_ml=500, more=(Lot(count=1, size_ml=500, holds_ml=250),)),
     "seven bottles of half a litre and one part bottle of two hundred and fifty millilitres"),
]  # fmt: skip


@pytest.mark.parametrize(("event", "words"), OF_A_SORT)
def test_the_sort_is_named(event: AnyEvent, words: str) -> None:
    told = by_ear(question_line(asked("sure", event)))
    assert told == f"{words[:1].upper()}{words[1:]}, is that right?"


@pytest.mark.parametrize("event", KINDS, ids=lambda e: f"{e.kind}-{getattr(e, 'what', '')}")
def test_every_event_can_be_asked_about(event: AnyEvent) -> None:
    words = by_ear(question_line(asked("sure", event)))
    assert words.endswith(", is that right?")
    assert len(words) > len(", is that right?") + 1


def test_every_event_kind_is_among_the_tried() -> None:
    kinds = {type(event) for event in KINDS}
    assert kinds == set(get_args(get_args(AnyEvent)[0]))


STORE = {"given", "discard_some", "moved_some"}
FRUIT = {"fruit_part", "fruit_piece", "fruit_punnet", "fruit_more"}
SORTS = {"used", "given", "opened", "moved_some", "moved_all", "discard_some", "discard_all"}


def test_no_event_words_are_left_over() -> None:
    named = {key.removeprefix("event.") for key in catalogue() if key.startswith("event.")}
    kinds = {event.kind for event in KINDS} - {"reading"}
    assert named == kinds | set(get_args(What)) | {
        "bottle_sized",
        "timer_named",
        "and",
        "ask_to",
        *STORE,
        *FRUIT,
        *(f"{name}_of" for name in SORTS),
    }
