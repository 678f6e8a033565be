import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import OutOfRange
from assistant.calc.keeping import COLD_LIMIT_DAYS, RULE, keep_by

phs = st.none() | st.floats(2.0, 7.0)
brixes = st.none() | st.floats(0.0, 80.0)
aws = st.none() | st.floats(0.7, 1.0)
sorbates = st.floats(0.0, 2.0)
flags = st.booleans()
batches = st.fixed_dictionaries(
    {
        "ph": phs,
        "brix": brixes,
        "heated": flags,
        "sorbate_g_l": sorbates,
        "opened": flags,
        "low_acid": flags,
        "aw": aws,
    }
)


def days(batch, place="fridge", **change):
    kept = keep_by(**{**batch, **change}, place=place).days
    return -1 if kept is None else kept


# The expected days are this project's own rule: the table pins it so that no change goes unseen.
@pytest.mark.parametrize(
    ("ph", "brix", "heated", "sorbate", "expected"),
    [
        (3.2, 60, True, 0.0, 28),
        (3.2, 60, True, 1.0, 42),
        (3.2, 66, True, 0.0, 30),
        (3.2, 66, True, 1.0, 44),
        (3.2, 30, True, 0.0, 21),
        (3.9, 30, True, 0.0, 14),
        (4.6, 30, True, 0.0, 7),
        (4.0, 30, True, 0.6, 28),
        (4.0, 30, True, 0.59, 14),
        (4.1, 30, True, 1.0, 7),  # sorbate counts at pH 4.0 and below
        (4.61, 70, True, 1.0, 3),
        (None, 66, True, 1.0, 7),
        (None, 66, False, 1.0, 3),
        (3.2, 60, False, 0.0, 7),
        (3.2, 60, False, 1.0, 12),
        (6.0, 60, False, 1.0, 2),
    ],
)
def test_days_in_the_fridge(ph, brix, heated, sorbate, expected):
    kept = keep_by(ph, brix, heated, sorbate, "fridge")
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
        ({"heated": False}, "heat hold"),
    ],
)
def test_cupboard_needs_everything(change, word):
    right = {"ph": 3.2, "brix": 60, "heated": True, "sorbate_g_l": 1.0, "tested_canning": True}
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


@given(batches, st.floats(0.0, 3.0))
def test_more_sorbate_never_shortens(batch, more):
    assert days(batch, sorbate_g_l=batch["sorbate_g_l"] + more) >= days(batch)


@given(batches, st.sampled_from(["fridge", "cupboard", "freezer"]), flags)
def test_heating_and_staying_closed_never_shorten(batch, place, canned):
    given_ = {"place": place, "tested_canning": canned}
    assert days(batch, heated=True, **given_) >= days(batch, heated=False, **given_)
    assert days(batch, opened=False, **given_) >= days(batch, opened=True, **given_)
    assert days(batch, low_acid=False, **given_) >= days(batch, low_acid=True, **given_)


@given(batches)
def test_not_knowing_the_ph_never_beats_knowing_it_acid(batch):
    assert days(batch, ph=None) <= days(batch, ph=4.6)


@given(batches)
def test_freezer_keeps_longest(batch):
    assert days(batch, "freezer") >= days(batch)


@given(batches)
def test_cold_alone_is_trusted_no_longer_than_was_shown(batch):
    # Jermini & Schmidt-Lorenz, J Food Prot (1987): 30 days at 4 C
    assert days(batch, sorbate_g_l=0.0) <= COLD_LIMIT_DAYS


@given(batches)
def test_low_acid_is_days_only(batch):
    assert days(batch, ph=4.7) <= 3


@pytest.mark.parametrize(
    "bad",
    [
        {"ph": -0.1},
        {"ph": 14.1},
        {"ph": math.nan},
        {"brix": -1},
        {"brix": 86},
        {"sorbate_g_l": -0.1},
        {"sorbate_g_l": 10.1},
        {"aw": 1.1},
    ],
)
def test_impossible_numbers_are_refused(bad):
    batch = {"ph": 3.2, "brix": 60, "heated": True, "sorbate_g_l": 0.0, "place": "fridge"}
    with pytest.raises(OutOfRange):
        keep_by(**{**batch, **bad})
