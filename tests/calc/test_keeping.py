import math
from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.keep_reasons import Bottle, Of, reason_named, reasons, strengths
from assistant.calc.keeping import COLD_LIMIT_DAYS, RULE, keep_by
from tests.calc.keep_table import rows

phs = st.none() | st.floats(2.0, 7.0)
brixes = st.none() | st.floats(0.0, 80.0)
aws = st.none() | st.floats(0.7, 1.0)
flags = st.booleans()
HEATED = ("none", "part", "all")
batches = st.fixed_dictionaries(
    {
        "ph": phs,
        "brix": brixes,
        "heated": st.sampled_from(HEATED),
        "opened": flags,
        "low_acid": flags,
        "aw": aws,
        "soured": flags,
        "plain": flags,
        "acetic": st.floats(0.0, 40.0),
        "alcohol": st.floats(0.0, 0.6),
        "preservative": st.floats(0.0, 1.0),
    }
)


def days(batch, place="fridge", **change):
    kept = keep_by(**{**batch, **change}, place=place).days
    return -1 if kept is None else kept


# The expected days are this project's own rule: the table pins it so that no change goes unseen.
@pytest.mark.parametrize(
    ("ph", "brix", "heated", "expected"),
    [
        (3.2, 60, "all", 28),
        (3.2, 66, "all", 30),
        (3.2, 30, "all", 21),
        (3.9, 30, "all", 14),
        (4.59, 30, "all", 7),
        (4.6, 70, "all", 3),  # 4.6 itself counts as low in acid
        (None, 66, "all", 3),
        (3.2, 60, "part", 18),
        (3.2, 66, "part", 21),
        (3.9, 30, "part", 10),
        (4.59, 30, "part", 5),
        (None, 66, "part", 2),
        (3.2, 60, "none", 7),
        (3.9, 30, "none", 4),
        (None, 66, "none", 2),
        (6.0, 60, "none", 2),
    ],
)
def test_days_in_the_fridge(ph, brix, heated, expected):
    kept = keep_by(ph, brix, heated, "fridge")
    assert kept.days == expected
    assert kept.rule == RULE
    assert kept.reason
    assert kept.discard_signs


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({}, None),
        ({"tested_canning": False}, "tested"),
        ({"opened": True}, "opened"),
        ({"ph": None}, "measured"),
        ({"ph": 4.7}, "botulism"),
        ({"low_acid": True}, "botulism"),
        ({"heated": "none"}, "heat hold"),
    ],
)
def test_cupboard_needs_everything(change, word):
    right = {"ph": 3.2, "brix": 60, "heated": "all", "tested_canning": True}
    kept = keep_by(**{**right, **change}, place="cupboard")
    if word is None:
        assert kept.days
        assert kept.refuse is None
    else:
        assert kept.days is None
        assert word in kept.refuse


@given(batches)
def test_cupboard_is_refused_without_a_tested_process(batch):
    assert keep_by(**batch, place="cupboard").days is None


@given(batches, st.sampled_from(["fridge", "cupboard", "freezer"]), flags)
def test_days_or_a_refusal_and_never_both(batch, place, canned):
    kept = keep_by(**batch, place=place, tested_canning=canned)
    assert (kept.days is None) == (kept.refuse is not None)
    assert kept.discard_signs


@given(batches, st.floats(0.0, 3.0))
def test_lower_ph_never_shortens(batch, less):
    lower = None if batch["ph"] is None else max(0.0, batch["ph"] - less)
    for place in ("fridge", "cupboard"):
        for canned in (True, False):
            given_ = {"place": place, "tested_canning": canned}
            assert days(batch, ph=lower, **given_) >= days(batch, **given_)


@given(batches, st.floats(0.0, 40.0))
def test_more_sugar_never_shortens(batch, more):
    sweeter = None if batch["brix"] is None else min(85.0, batch["brix"] + more)
    assert days(batch, brix=sweeter) >= days(batch)


@given(batches, st.floats(0.0, 0.3))
def test_lower_water_activity_never_shortens(batch, less):
    drier = None if batch["aw"] is None else batch["aw"] - less
    assert days(batch, aw=drier) >= days(batch)


@given(batches, st.sampled_from(["fridge", "cupboard", "freezer"]), flags)
def test_heating_and_staying_closed_never_shorten(batch, place, canned):
    given_ = {"place": place, "tested_canning": canned}
    by_heat = [days(batch, heated=heated, **given_) for heated in HEATED]
    assert by_heat == sorted(by_heat)
    assert days(batch, opened=False, **given_) >= days(batch, opened=True, **given_)
    assert days(batch, low_acid=False, **given_) >= days(batch, low_acid=True, **given_)


@given(batches)
def test_not_measuring_never_pays(batch):
    assert days(batch, ph=None) <= days(batch, ph=7.0)
    assert days(batch, ph=None, low_acid=False) <= days(batch, low_acid=True)


@given(batches)
def test_freezer_keeps_longest(batch):
    assert days(batch, "freezer") >= days(batch)


@given(batches)
def test_cold_alone_is_trusted_no_longer_than_was_shown(batch):
    # Jermini & Schmidt-Lorenz, J Food Prot (1987): 30 days at 4 C; alcohol is another matter
    assert days(batch, alcohol=0.19) <= COLD_LIMIT_DAYS


@given(batches)
def test_low_acid_is_days_only(batch):
    assert days(batch, ph=4.6, alcohol=0.19) <= 3
    assert days(batch, ph=None, alcohol=0.19) <= 3
    assert days(batch, ph=None) <= 14


STRONGER = ("plain", "acetic", "alcohol", "preservative")


@given(batches, st.sampled_from(STRONGER), st.sampled_from(["fridge", "cupboard", "freezer"]))
def test_what_keeps_it_never_shortens_and_acid_put_in_never_lengthens(batch, strength, place):
    without = {**batch, strength: 0.0 if strength != "plain" else False}
    assert days(batch, place) >= days(without, place)
    assert days(batch, place, soured=True) <= days(batch, place, soured=False)


@given(batches, st.floats(0.0, 1.0))
def test_a_preservative_earns_no_days(batch, dose):
    assert days(batch, preservative=dose) == days(batch, preservative=0.0)


# The days are this project's own rule; each bound is tried just inside and just outside.
@pytest.mark.parametrize(
    ("has", "expected", "decided"),
    [
        ({"ph": 2.3, "plain": True}, 30, "cold"),
        ({"ph": 2.31, "plain": True}, 5, "thin"),
        ({"ph": 2.3, "plain": False}, 5, "thin"),
        ({"ph": None, "plain": True}, 2, "unmeasured"),
        ({"ph": 3.5, "acetic": 10.0}, 14, "unheated-vinegar"),
        ({"ph": 3.51, "acetic": 10.0}, 4, "mild-acid-thin"),
        ({"ph": 3.5, "acetic": 9.99}, 5, "thin"),
        ({"ph": 3.5, "acetic": 10.0, "heated": "all"}, 21, "thin-vinegar"),
        ({"ph": 3.9, "alcohol": 0.2}, 90, "filled"),
        ({"ph": 3.9, "alcohol": 0.199}, 4, "mild-acid-thin"),
        ({"ph": None, "alcohol": 0.2}, 14, "unmeasured-spirit"),
        ({"ph": 5.0, "alcohol": 0.2}, 14, "low-acid-spirit"),
        ({"ph": 3.0, "alcohol": 0.3, "opened": True}, 21, "opened-strong"),
        ({"ph": 2.0, "plain": True, "opened": True}, 21, "opened-strong"),
        ({"ph": 3.0, "brix": 66, "heated": "all", "soured": True}, 14, "soured"),
        ({"ph": 3.0, "brix": 66, "heated": "all", "low_acid": True}, 3, "low-acid"),
        ({"ph": 3.0, "brix": 20, "heated": "none", "soured": True}, 5, "soured"),
    ],
)
def test_each_is_judged_by_its_own_numbers(has, expected, decided):
    bottle = {"brix": 20, "heated": "none", "place": "fridge", **has}
    kept = keep_by(**bottle)
    assert (kept.days, kept.decided) == (expected, decided)
    assert kept.source
    assert kept.reason[0] == reason_named(decided).words


@given(batches, st.sampled_from(["fridge", "cupboard", "freezer"]))
def test_what_decided_is_one_of_what_applies(batch, place):
    kept = keep_by(**batch, place=place)
    applying = {r.id for r in reasons() if r.applies(Bottle(**batch, place=place))}
    assert kept.decided in applying
    assert kept.days is None or kept.days == min(
        r.most(batch["heated"]) for r in reasons() if r.id in applying
    )


def test_every_row_of_the_table_holds_together():
    ids = [row.id for row in (*reasons(), *strengths())]
    assert len(ids) == len(set(ids))
    known = {strength.id for strength in strengths()}
    for reason in reasons():
        assert set(reason.unless) <= known, reason.id
        assert reason.source, reason.id
        assert reason.days is None or sorted(reason.days, reverse=True) == list(reason.days)
    assert {row.of for row in (*reasons(), *strengths())} == set(get_args(Of))


def test_a_bottle_that_may_harm_unseen_is_dated_use_by():
    # Regulation (EU) No 1169/2011, Article 24, from memory
    dated = {ph: keep_by(ph, 66, "all", "fridge").dated for ph in (None, 3.2, 4.3, 5.0)}
    assert dated == {None: "use by", 3.2: "best before", 4.3: "use by", 5.0: "use by"}
    assert keep_by(3.2, 66, "none", "fridge").dated == "use by"


@pytest.mark.parametrize(
    "bad",
    [
        {"ph": -0.1},
        {"ph": 14.1},
        {"ph": math.nan},
        {"brix": -1},
        {"brix": 86},
        {"aw": 1.1},
    ],
)
def test_impossible_numbers_are_refused(bad):
    batch = {"ph": 3.2, "brix": 60, "heated": "all", "place": "fridge"}
    with pytest.raises(OutOfRange):
        keep_by(**{**batch, **bad})


def test_the_table_for_contributors_is_the_one_of_the_data():
    manual = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text("utf-8")
    section = manual.split("## Why a bottle is dated as it is")[1].split("\n## ")[0]
    told = [line for line in section.splitlines() if line.startswith("| ")][1:]
    assert told == rows()
