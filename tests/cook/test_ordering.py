"""Stages out of their order, done again, and the cook turning away."""

import pytest
from batch_maker import RECIPE, START, Maker, without_history
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.cook import fold
from assistant.cook.keeping import keeping
from assistant.cook.recipe import Recipe
from assistant.cook.reminders import reminders


def _ph_first() -> Maker:
    """A batch whose recipe asks for the pH before the acid, as older ones did."""
    stages = [{**stage} for stage in RECIPE["stages"]]
    (ph,) = [s for s in stages if s["id"] == "ph"]
    stages.remove(ph)
    at = [s["id"] for s in stages].index("sharpen")
    stages[at]["may_wait"] = ph["may_wait"] = True
    return Maker.of({**RECIPE, "stages": [*stages[:at], ph, *stages[at:]]})


def _to_the_ph(maker: Maker) -> Maker:
    maker.does("choose", option="fruit", value="blackcurrant")
    maker.reads("fruit", 2.4, "kg")
    maker.done()
    maker.done()
    for seconds in (30, 45, 50):
        maker.degrees(77, seconds)
    maker.done(1260)
    maker.done()
    maker.done()
    maker.reads("juice", 2.9, "l")
    maker.degrees(44)
    maker.done()
    assert maker.stage == "ph"
    return maker


def test_a_stage_may_wait_for_the_next_where_both_may() -> None:
    maker = _to_the_ph(_ph_first())
    maker.does("later")
    assert maker.stage == "sharpen"
    maker.done()
    assert maker.stage == "ph"
    maker.reads("ph", 3.3, "pH")
    assert maker.stage == "ask_ascorbic"


def test_a_ph_before_the_acid_does_not_count_and_a_fresh_one_is_wanted() -> None:
    # 21 CFR 114.80(a)(1): the pH of the finished food decides
    maker = _to_the_ph(_ph_first())
    maker.reads("ph", 3.3, "pH")
    maker.done()
    assert maker.ids()[-1] == "ph_stale_by"
    for _ in range(3):
        maker.does("no")
    assert (maker.stage, maker.ids()[-1]) == ("bottle", "ph_stale_by")
    assert (keeping(maker.batch).days or 0) <= 3
    maker.reads("ph", 3.2, "pH")
    assert (keeping(maker.batch).days or 0) > 3


@pytest.mark.parametrize("stage", ["crush", "heat", "juice", "ask_sorbate", "bottle"])
def test_other_stages_keep_their_place(maker: Maker, stage: str) -> None:
    maker.up_to(stage)
    maker.does("later")
    assert maker.stage == stage
    assert maker.ids()[0] == "keeps_its_place"


def test_what_waited_can_be_taken_back() -> None:
    maker = _to_the_ph(_ph_first())
    before = maker.batch
    maker.does("later")
    maker.does("undo")
    assert without_history(maker.batch) == without_history(before)


def test_straining_again_comes_before_what_was_due(maker: Maker) -> None:
    maker.up_to("juice")
    maker.does("repeat", stage="strain")
    assert maker.stage == "strain"
    maker.done()
    assert maker.stage == "juice"
    maker.reads("juice", 2.9, "l")
    assert maker.stage == "cool"


def test_without_a_name_the_last_stage_that_may_be_repeated(maker: Maker) -> None:
    maker.up_to("dissolve")
    maker.does("repeat")
    assert maker.stage == "cool"


def test_heated_again_is_held_again(maker: Maker) -> None:
    maker.up_to("strain")
    maker.does("repeat", stage="heat")
    assert maker.stage == "heat"
    maker.degrees(60)
    maker.degrees(76)
    assert maker.stage == "hold"
    maker.degrees(77, 45)
    maker.degrees(76, 50)
    assert maker.stage == "strain"


@pytest.mark.parametrize(
    ("at", "named", "line"),
    [
        ("strain", "crush", "done_once"),
        ("strain", "weigh", "done_once"),
        ("heat", "strain", "not_done_yet"),
        ("heat", "sing", "not_done_yet"),
    ],
)
def test_what_is_not_repeated(maker: Maker, at: str, named: str, line: str) -> None:
    maker.up_to(at)
    maker.does("repeat", stage=named)
    assert (maker.stage, maker.ids()[0]) == (at, line)


def test_stages_back_count_a_repeated_one(maker: Maker) -> None:
    maker.up_to("juice")
    maker.does("repeat", stage="strain")
    maker.done()
    maker.does("undo", stages=1)
    assert maker.stage == "strain"


def test_a_pause_asks_nothing_and_going_on_skips_nothing(maker: Maker) -> None:
    maker.up_to("hold")
    maker.does("pause")
    assert maker.ids() == ["paused", "pause_heat"]
    later = maker.now.replace(minute=maker.now.minute + 5)
    assert list(reminders(maker.batch, later)) == []
    maker.done()
    assert (maker.stage, maker.ids()[0]) == ("hold", "stage")
    assert [line.id for line, _ in reminders(maker.batch, later)] == ["read_again"]


def test_a_timer_rings_in_a_pause(maker: Maker) -> None:
    maker.up_to("strain")
    maker.does("timer_set", seconds=60)
    maker.does("pause")
    assert maker.ids() == ["paused"]
    later = maker.now.replace(minute=maker.now.minute + 5)
    assert [line.id for line, _ in reminders(maker.batch, later)] == ["timer_due"]


def test_the_last_reading_can_be_put_right_after_a_pause(maker: Maker) -> None:
    maker.up_to("heat")
    maker.degrees(67)
    maker.does("pause")
    maker.does("correct", value=60)
    last = maker.batch.last("temperature")
    assert last is not None
    assert last.base == 60


@pytest.mark.parametrize(
    ("stage", "flag"),
    [(0, "may_wait"), (0, "repeatable"), (3, "may_wait"), (1, "repeatable"), (19, "may_wait")],
)
def test_a_recipe_can_not_free_what_others_follow_from(stage: int, flag: str) -> None:
    stages = [dict(s) for s in RECIPE["stages"]]
    stages[stage][flag] = True
    with pytest.raises(ValueError, match=r"comes first|keeps its place|done once"):
        Recipe.model_validate(RECIPE | {"stages": stages})


MOVES = st.sampled_from(
    [{"kind": "later"}, {"kind": "repeat"}, {"kind": "repeat", "stage": "heat"}, {"kind": "pause"},
     {"kind": "repeat", "stage": "strain"}, {"kind": "onward"}, {"kind": "undo"}, {"kind": "yes"},
     {"kind": "reading", "what": "fruit", "value": 2, "unit": "kg"},
     {"kind": "reading", "what": "juice", "value": 2, "unit": "l"},
     {"kind": "reading", "what": "ph", "value": 5.2, "unit": "pH"},
     {"kind": "reading", "what": "ph", "value": 3.2, "unit": "pH"},
     {"kind": "reading", "what": "temperature", "value": 77, "unit": "degC"},
     {"kind": "bottle", "count": 4, "size_ml": 500}]
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.lists(MOVES, max_size=40))
def test_however_the_stages_are_shuffled_no_sour_proof_no_bottle(moves: list[dict]) -> None:  # type: ignore[type-arg]
    maker = Maker()
    maker.does("choose", option="fruit", value="blackcurrant")
    for move in moves:
        maker.does(**{"kind": move["kind"], **{k: v for k, v in move.items() if k != "kind"}})
        ph = maker.batch.last("ph")
        if maker.batch.bottled is not None:
            assert maker.batch.stopped_by is None
            assert (
                ph is None or ph.base <= 4.6
            )  # 21 CFR 114.3: an acid food has a pH of 4.6 or below
            assert ph is not None or "ph" in maker.batch.skipped
    assert without_history(fold(maker.journal)[0]) == without_history(maker.batch)
    assert maker.journal[0].at == START
