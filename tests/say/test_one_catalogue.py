"""A whole batch in a language made up from the catalogue: no English comes through but data.

Each word of the catalogue is written in other letters. What is still in Latin letters afterwards
did not come from there. Allowed are a number with its unit, what recipes, limits, answer cards and
the tables of stuff and of reasons say, a name that the cook gave, and the tables named here that
are still code.
"""

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from types import MappingProxyType
from typing import Any

import pytest

from assistant.answers.card import all_cards
from assistant.base.clock import SetClock
from assistant.calc import keep_reasons, keeping
from assistant.cook import keep_answers
from assistant.cook.reply import Fact, Line, Quantity
from assistant.cook.timers import PLAIN
from assistant.facts import stuff, vessels
from assistant.keep import Journal
from assistant.limits import all_limits
from assistant.recipebook.files import load_recipe
from assistant.say import amounts, phrase, words
from assistant.turns import ahead
from assistant.turns.desk import Desk
from assistant.turns.utterance import Utterance
from assistant.understand.told.store import BREAKAGE
from assistant.understand.words import to_words

SCRIPTS = sorted((Path(__file__).parents[1] / "journeys").glob("*.txt"))
START = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)
LETTERS = {
    **{ord("a") + n: chr(0x430 + n) for n in range(26)},
    **{ord("A") + n: chr(0x410 + n) for n in range(26)},
}
LATIN = re.compile(r"[A-Za-z]+")

STILL_IN_CODE = {
    *keep_answers.PLACE_WORDS.values(),
    *keep_answers.SIGN_WORDS.values(),
    *(words for forms in vessels.VESSEL_WORDS.values() for words in forms),
    *(words for forms in vessels.PART_WORDS.values() for words in forms),
    *keeping._FROZEN,
    "; ".join(keeping.DISCARD_SIGNS),
    *ahead._MEASURED.values(),
    PLAIN,
    BREAKAGE,
}
"""Why a bottle is thrown away, vessels, places, signs, timers, what a stage waits for."""
DAY = re.compile(r"\d{1,2} [A-Z][a-z]+")


def made_up(template: str) -> str:
    """A template with its words in other letters, and the names of its facts as they were."""
    done, end = "", 0
    for place in words._PLACE.finditer(template):
        done += template[end : place.start()].translate(LETTERS)
        forms = [f"|{form.translate(LETTERS)}" for form in place.groups()[1:] if form is not None]
        done += f"{{{place[1]}{''.join(forms)}}}"
        end = place.end()
    return done + template[end:].translate(LETTERS)


@pytest.fixture
def made_up_language(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = words.catalogue()
    other = MappingProxyType({name: made_up(text) for name, text in plain.items()})
    monkeypatch.setattr(words, "catalogue", lambda: other)


def _texts(found: Any) -> Iterator[str]:
    """All strings in plain data."""
    if isinstance(found, str):
        yield found
    elif isinstance(found, dict):
        yield from (text for each in found.values() for text in _texts(each))
    elif isinstance(found, list | tuple):
        yield from (text for each in found for text in _texts(each))


def _data(recipe: Any) -> set[str]:
    cards = [card.model_dump() for card in all_cards().values()]
    limits = [(limit.words, limit.source, limit.source.split(":")[0]) for limit in all_limits()]
    names = {f"the {one}" for one in _texts(stuff._table())}
    data = {*_texts(recipe.model_dump()), *_texts(cards), *_texts(limits), *_texts(stuff._table())}
    reasons = set(_texts(keep_reasons._table()))
    inside = {f"{one[:1].lower()}{one[1:]}".rstrip(".") for one in reasons}
    data |= reasons | inside
    return data | names | STILL_IN_CODE


def _lines(script: Path, place: Path) -> Iterator[tuple[str, Line]]:
    rows = [row for row in script.read_text("utf-8").splitlines() if row[:1] not in ("#", "", ">")]
    clock = SetClock(START)
    with Journal(place) as journal:
        desk = Desk(journal, clock)
        desk.begin(load_recipe(rows[0].removeprefix("recipe ")))
        for row in rows[1:]:
            wait, said = re.fullmatch(r"(?:\+(\d+) )?(.*)", row).groups()  # type: ignore[union-attr]
            clock.forward(float(wait or 10))
            turn = desk.take(Utterance.typed(said))
            yield from ((said, line) for told in turn.told for line in told.reply.lines)


def _length(fact: Fact) -> int:
    return len(phrase._fact_by_eye(fact, ""))


def _foreign(line: Line, data: set[str]) -> set[str]:
    """What of a line, as shown, is English that nobody allowed."""
    left = phrase.by_eye(line)
    found = set[str]()
    for fact in sorted(line.facts.values(), key=_length, reverse=True):
        told = phrase._fact_by_eye(fact, "")
        bare = amounts.by_eye(fact, bare=True) if isinstance(fact, Quantity) else told
        for each in (told, bare, told[:1].upper() + told[1:]):
            left = left.replace(each, "")
        if isinstance(fact, str) and LATIN.search(fact) and fact not in data:
            found |= set() if DAY.fullmatch(fact) else {fact}
    if line.text not in data and LATIN.search(left):
        found.add(left)
    return found


def _quoted(told: list[tuple[str, Line]]) -> set[str]:
    """Facts that are the cook's own words: a name, "small", "a litre and a half"."""
    said = " . ".join(" ".join(to_words(each)) for each in dict.fromkeys(said for said, _ in told))
    facts = {fact for _, line in told for fact in line.facts.values() if isinstance(fact, str)}
    return {fact for fact in facts if f" {fact} " in f" {said} "}


@pytest.mark.usefixtures("made_up_language")
@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.stem)
def test_no_english_comes_through_but_data(script: Path, tmp_path: Path) -> None:
    recipe = load_recipe(script.read_text("utf-8").split("\nrecipe ")[1].split("\n")[0])
    told = list(_lines(script, tmp_path / "journal.sqlite"))
    data = _data(recipe) | {said for said, _ in told} | _quoted(told)
    assert len(told) > 40
    assert sum(line.text is None for _, line in told) > 20
    assert [(said, line.id, left) for said, line in told if (left := _foreign(line, data))] == []


@pytest.mark.usefixtures("made_up_language")
def test_english_in_a_fact_or_a_line_is_found() -> None:
    assert _foreign(Line(id="x", rank="do", text="Stir it."), set()) == {"Stir it."}
    asked = Line(id="not_asked_yet", rank="answer", facts={"what": "the sponge"})
    assert _foreign(asked, set()) == {"the sponge"}
    assert _foreign(asked, {"the sponge"}) == set()
