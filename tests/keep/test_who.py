"""Names that a cook gives once: on what is written here, never on what others wrote."""

from pathlib import Path

import pytest
from event_makers import begin, reading, small_batch
from typer.testing import CliRunner

from assistant.base.errors import WrongUse
from assistant.commands.app import app
from assistant.facts.events import By, event_adapter
from assistant.keep import (
    Journal,
    export_batch,
    give_names,
    import_batch,
    merge,
    who_works_here,
)
from assistant.report.hands import hand_lines, hand_records

ANA = By(person="Ana", kitchen="the tea hut")
BEN = By(person="Ben", device="phone")


@pytest.fixture(autouse=True)
def nobody(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    for name in ("PERSON", "KITCHEN", "DEVICE"):
        monkeypatch.delenv(f"PANSIDE_{name}", raising=False)


def test_names_are_given_once_and_taken_back(monkeypatch: pytest.MonkeyPatch) -> None:
    assert who_works_here() is None
    give_names("Ana ", "the  tea hut", None)
    assert who_works_here() == ANA
    monkeypatch.setenv("PANSIDE_PERSON", "Ben")
    assert who_works_here() == By(person="Ben", kitchen="the tea hut")
    monkeypatch.delenv("PANSIDE_PERSON")
    give_names("", "", None)
    assert who_works_here() is None


@pytest.mark.parametrize("name", ["x" * 41, "a\x07b"])
def test_odd_names_are_refused(name: str) -> None:
    with pytest.raises(WrongUse, match="person's name"):
        give_names(name, None, None)


def test_an_option_is_not_taken_for_a_name() -> None:
    with pytest.raises(WrongUse, match="is an option"):
        give_names("--help", None, None)
    assert who_works_here() is None


def test_what_is_written_is_signed_and_an_unsigned_body_stays_as_it_was() -> None:
    plain = event_adapter.dump_json(reading(1))
    assert b"by" not in plain
    with Journal("sqlite://") as journal:
        journal.append("b", begin("b"), 0)
        journal.sign(ANA)
        journal.append("b", reading(1), 1)
        journal.append("b", reading(2).model_copy(update={"by": BEN}), 2)
        assert [event.by for event in journal.events("b")] == [None, ANA, BEN]


def test_what_others_wrote_is_not_signed_by_who_brings_it() -> None:
    with Journal("sqlite://") as one, Journal("sqlite://") as two, Journal("sqlite://") as three:
        one.append_all("b", small_batch("b"), 0)
        for journal in (two, three):
            journal.sign(BEN)
        list(merge(one, two, lambda *_: False))
        import_batch(three, export_batch(one, "b"))
        assert two.events("b") == three.events("b") == small_batch("b")


def test_a_report_tells_who_read_what() -> None:
    events = [
        begin("b"),
        reading(1).model_copy(update={"by": ANA}),
        reading(2).model_copy(update={"by": ANA}),
        reading(3).model_copy(update={"by": BEN}),
    ]
    assert [line.split() for line in hand_lines(events)] == [
        ["Ana,", "the", "tea", "hut", "2", "readings,", "0", "other", "entries"],
        ["Ben,", "phone", "1", "reading,", "0", "other", "entries"],
    ]
    assert hand_records(events)[1] == {
        "person": "Ben", "device": "phone", "readings": 1, "entries": 1
    }  # fmt: skip
    assert hand_lines(small_batch()) == []


def test_the_command_and_a_batch_that_was_made_under_a_name(tmp_path: Path) -> None:
    def run(*args: str, typed: str = "") -> str:
        return CliRunner().invoke(app, [*args], input=typed).output

    store = str(tmp_path / "s.sqlite")
    assert "Nobody has given a name" in run("who")
    assert "Ana, the tea hut" in run("who", "--person", "Ana", "--kitchen", "the tea hut")
    run("chat", "--recipe", "berry-syrup", "--store", store, typed="2.4 kg of raspberries\nstop\n")
    with Journal(store) as journal:
        (name,) = journal.names()
        assert {event.by for event in journal.events(name)} == {ANA}
    told = run("batch", name, "--store", store)
    assert "2.4 kg  by Ana, the tea hut" in told
    assert "Who was at work" in told
