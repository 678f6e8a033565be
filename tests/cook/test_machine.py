"""The way through a batch, and what every sequence of events must keep to."""

import re
from datetime import timedelta

import pytest
from batch_maker import RECIPE, START, Maker, without_history
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.cook import begin, fold, step
from assistant.cook.keeping import keep_by_words
from assistant.facts.events import AnyEvent, Begin, event_adapter
from assistant.say import by_ear, shown, spoken
from tests.bench.safety import Oracle


def test_the_plain_way_ends_finished(maker: Maker) -> None:
    maker.up_to("finished")
    assert maker.batch.bottled is not None
    assert maker.batch.bottled.count == 9


def test_a_replay_gives_the_same_state_and_the_same_words(maker: Maker) -> None:
    maker.up_to("bottle")
    again, reply = fold(maker.journal)
    assert again == maker.batch
    assert (spoken(reply), shown(reply)) == (spoken(maker.reply), shown(maker.reply))


def test_a_journal_of_plain_data_folds_to_the_same_state(maker: Maker) -> None:
    maker.up_to("bottle")
    stored = [event_adapter.dump_json(event) for event in maker.journal]
    assert fold([event_adapter.validate_json(body) for body in stored])[0] == maker.batch


def test_a_journal_must_start_with_begin(maker: Maker) -> None:
    with pytest.raises(ValueError, match="starts with Begin"):
        fold([])
    maker.done()
    with pytest.raises(ValueError, match="starts with Begin"):
        fold(maker.journal[1:])


def test_a_second_begin_changes_nothing(maker: Maker) -> None:
    before = maker.batch
    after, reply = step(before, Begin(at=START, batch="c", recipe=RECIPE))
    assert after == before
    assert reply.lines[0].id == "already_begun"


def test_undo_goes_back_one_change_at_a_time(maker: Maker) -> None:
    maker.up_to("heat")
    maker.does("undo")
    assert maker.stage == "water"
    maker.does("undo")
    assert maker.stage == "crush"
    maker.does("undo")
    maker.does("undo")
    assert (maker.stage, maker.batch.fruit) == ("weigh", None)
    maker.does("undo")
    assert maker.ids() == ["nothing_to_undo"]


@pytest.mark.parametrize(("stages", "to"), [(1, "hold"), (2, "heat"), (3, "water"), (20, "weigh")])
def test_stages_back_go_to_where_the_stage_was_reached(maker: Maker, stages: int, to: str) -> None:
    maker.up_to("steep")
    maker.does("undo", stages=stages)
    assert maker.stage == to
    temps = [t.base for t in maker.batch.taken if t.what == "temperature"]
    assert temps == ([76.0] if to == "hold" else [])


def test_questions_change_nothing(maker: Maker) -> None:
    maker.up_to("heat")
    before = without_history(maker.batch)
    for topic in ("keep", "where", "next", "why", "how_much", "limit", "help", "more", "yield"):
        maker.does("ask", topic=topic)
        assert maker.reply.lines
        assert without_history(maker.batch) == before


def test_say_again_repeats_word_for_word(maker: Maker) -> None:
    maker.up_to("crush")
    said = spoken(maker.reply)
    maker.does("say_again")
    assert spoken(maker.reply) == said
    maker.does("say_again")
    assert spoken(maker.reply) == said


def test_a_discarded_batch_takes_nothing_more(maker: Maker) -> None:
    maker.up_to("heat")
    maker.does("discard", reason="mould")
    maker.degrees(76)
    assert maker.ids() == ["was_discarded"]
    assert maker.stage == "discarded"


WHATS = [
    ("fruit", "kg", 0.1, 30),
    ("juice", "l", 0.1, 40),
    ("temperature", "degC", -5, 115),
    ("ph", "pH", 1.5, 8),
    ("brix", "Brix", 0, 84),
    ("sugar", "g", 0, 9000),
    ("citric_acid", "g", 0, 90),
    ("sorbate", "g/l", 0, 9),
    ("sorbate", "g", 0.2, 3),
    ("benzoate", "g", 0.2, 2),
    ("ph", "pH", 3.0, 3.9),
    ("water", "ml", 50, 3000),
    ("glycerin", "ml", 0, 500),
    ("bottles", "count", 0, 40),
]


@st.composite
def moves(draw: st.DrawFn) -> tuple[float, dict[str, object]]:
    """One thing a cook may do at any time, sensible or not."""
    after = draw(st.sampled_from([0, 2, 20, 45, 59, 61, 90, 1500, 86_400]))
    kinds = [
        "reading",
        "reading",
        "onward",
        "onward",
        "yes",
        "no",
        "undo",
        "correct",
        "ask",
        "bottle",
    ]
    kind = draw(st.sampled_from([*kinds, "choose", "timer_set", "say_again", "note", "discard"]))
    fields: dict[str, object] = {"kind": kind}
    if kind == "reading":
        what, unit, low, high = draw(st.sampled_from(WHATS))
        value = draw(st.floats(low, high, allow_nan=False))
        fields |= {"what": what, "unit": unit, "value": value}
    elif kind == "correct":
        fields["value"] = draw(st.floats(0, 100, allow_nan=False))
    elif kind == "ask":
        fields["topic"] = draw(
            st.sampled_from(["keep", "how_much", "more", "why", "limit", "where"])
        )
    elif kind == "bottle":
        fields |= {"count": draw(st.integers(1, 50)), "size_ml": 500.0}
    elif kind == "choose":
        fields |= {"option": "fruit", "value": draw(st.sampled_from(["raspberry", "fig", "plum"]))}
    elif kind == "timer_set":
        fields["seconds"] = 60.0
    elif kind == "note":
        fields["text"] = "smells good"
    return after, fields


def _play(
    script: list[tuple[float, dict[str, object]]], start: str
) -> tuple[Maker, list[AnyEvent]]:
    maker, oracle = _up_to(start)
    for after, fields in script:
        before = maker.batch
        maker.does(str(fields["kind"]), after, **{k: v for k, v in fields.items() if k != "kind"})
        _holds(maker)
        assert oracle.sees(before, maker.journal[-1], maker.batch) == ""
    return maker, maker.journal


def _up_to(start: str) -> tuple[Maker, Oracle]:
    """A batch at a stage, and the oracle that has seen all of it."""
    maker, oracle = Maker().up_to(start), Oracle()
    batch, _ = fold(maker.journal[:1])
    for event in maker.journal[1:]:
        before = batch
        batch, _ = step(batch, event)
        assert oracle.sees(before, event, batch) == ""
    return maker, oracle


def _holds(maker: Maker) -> None:
    """What must be true after every event, whatever went before."""
    batch, reply = maker.batch, maker.reply
    ph = batch.last("ph")
    if ph is not None and ph.base > 4.6:  # 21 CFR 114.3: above pH 4.6 no acid food
        assert batch.stopped_by == "ph-acid-food"
        assert keep_by_words(batch, maker.now) == "do not keep"
    if batch.stopped_by:
        assert "keep" not in [line.id for line in reply.lines]
    assert reply.lines, "something is always answered"
    assert sum(line.rank != "read_back" for line in reply.aloud()) <= 2
    assert all(by_ear(line) for line in reply.lines)
    assert "nan" not in spoken(reply).lower().split()
    assert " safe" not in spoken(reply).lower()
    if not any(line.id.startswith("bound_") for line in reply.lines):  # sources have full stops
        assert len(re.findall(r"[.!?](?:\s|$)", spoken(reply))) <= 2


STARTS = ["weigh", "crush", "heat", "hold", "juice", "dissolve", "ph", "ask_sorbate", "bottle"]


@settings(max_examples=80, deadline=None)
@given(st.lists(moves(), max_size=14), st.sampled_from(STARTS))
def test_no_sequence_breaks_the_rules(
    script: list[tuple[float, dict[str, object]]], start: str
) -> None:
    maker, journal = _play(script, start)
    assert fold(journal)[0] == maker.batch


@settings(max_examples=40, deadline=None)
@given(st.lists(moves(), max_size=8), st.sampled_from(STARTS))
def test_undo_after_a_change_restores_the_state(
    script: list[tuple[float, dict[str, object]]], start: str
) -> None:
    maker, _ = _play(script, start)
    before = maker.batch
    maker.done(5)
    if maker.batch.before is before:
        maker.does("undo")
        assert without_history(maker.batch) == without_history(before)


@settings(max_examples=30, deadline=None)
@given(st.lists(moves(), max_size=20))
def test_no_bottle_is_filled_while_a_limit_holds(
    script: list[tuple[float, dict[str, object]]],
) -> None:
    maker = Maker().up_to("bottle")
    maker.reads("ph", 4.9, "pH")
    for after, fields in script:
        if fields["kind"] in ("undo", "correct") or fields.get("what") == "ph":
            continue
        maker.does(str(fields["kind"]), after, **{k: v for k, v in fields.items() if k != "kind"})
        assert maker.batch.bottled is None


@pytest.mark.parametrize("stage", ["ask_sorbate", "ph", "bottle"])
@pytest.mark.parametrize("grams", [1.0, 2.0])
def test_benzoate_says_no_more_than_two_sentences(stage: str, grams: float) -> None:
    maker = Maker().up_to(stage)
    for _ in range(3):
        maker.reads("benzoate", grams, "g")
        _holds(maker)


def test_a_clock_set_back_does_no_harm(maker: Maker) -> None:
    maker.up_to("hold")
    maker.now -= timedelta(hours=3)
    for _ in range(3):
        maker.degrees(77, 50)
    assert maker.stage == "steep"


def test_begin_asks_for_the_first_stage() -> None:
    batch, reply = begin(Begin(at=START, batch="b", recipe=RECIPE))
    assert batch.stage is not None
    assert batch.stage.id == "weigh"
    assert reply.lines[0].rank == "do"
