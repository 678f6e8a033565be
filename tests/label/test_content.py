"""What a label says, and which batches get none."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from batch_maker import Maker
from label_maker import AT, TODAY, a_text, bottled

from assistant.base.errors import LimitStopped, WrongUse
from assistant.calc.keeping import DISCARD_SIGNS
from assistant.cook import Batch
from assistant.cook.batch import Added
from assistant.cook.stored import Seen
from assistant.label.content import CAUTION, CAUTION_BRIEF, label_text
from assistant.label.layout import Words, _body
from assistant.recipebook.files import load_recipe


def test_the_tea_huts_label() -> None:
    text = label_text(bottled(), TODAY)
    assert (text.name, text.volume, text.lot) == ("Blackcurrant syrup", "500 ml", "b")
    assert text.code == "panside:b"
    # its juice heated, pH 3.4, 61 Brix at the low end: 18 days by the rule of calc.keeping
    assert (text.made, text.keep_by) == (date(2026, 7, 11), date(2026, 7, 29))
    assert "within 7 days" in text.storage
    assert text.allergens == "Ask the maker."


def test_sorbate_lengthens_neither_time() -> None:
    batch = bottled()
    sorbate = Added("sorbate", 1.2, "g", AT)
    text = label_text(replace(batch, added=(*batch.added, sorbate)), TODAY)
    assert text.keep_by == label_text(batch, TODAY).keep_by
    assert "within 7 days" in text.storage


@pytest.mark.parametrize(
    ("brix", "told"),
    [
        # By mass balance with ICUMSA SPS-4 densities, a drink of 10 Brix:
        # 62 Brix is 1.298 g/ml, so 1.298 * (62 / 10 - 1) / 0.998 = 6.8 parts; 20: 1.08; 12: 0.21
        (62.0, "1 part syrup to about 7 parts water."),
        (20.0, "1 part syrup to about 1 part water."),
        (24.0, "1 part syrup to about 1½ parts water."),
        (12.0, "1 part syrup to about ½ part water."),
        (10.0, ""),
        (3.0, ""),
    ],
)
def test_the_dilution_follows_the_brix(brix: float, told: str) -> None:
    maker = Maker().up_to("ask_sorbate")
    maker.reads("brix", brix, "Brix")
    maker.does("no")
    maker.reads("ph", 3.4, "pH")
    maker.does("bottle", count=9, size_ml=500)
    assert label_text(maker.batch, TODAY).serving == told


def test_a_bottle_of_unknown_size_leaves_room_to_write() -> None:
    assert label_text(bottled(size_ml=None), TODAY).volume == "____ ml"


@pytest.mark.parametrize(
    ("recipe", "fruit", "name"),
    [
        ("berry-syrup", "raspberry", "Raspberry syrup"),
        ("stone-fruit-syrup", "peach-yellow-flesh", "Peach syrup"),
        ("citrus-cordial", "lime", "Lime cordial"),
        ("citrus-peel-syrup", "lemon", "Citrus peel in sugar with juice (lemon)"),
        ("rhubarb-syrup", None, "Rhubarb syrup"),
        ("plain-syrup", None, "Plain syrup"),
        ("hot-shrub", "plum", "Plum syrup"),
    ],
)
def test_the_name_is_the_fruit_with_what_became_of_it(
    recipe: str, fruit: str | None, name: str
) -> None:
    batch = replace(bottled(), recipe=load_recipe(recipe), fruit=fruit, added=())
    assert label_text(batch, TODAY).name == name


def test_vinegar_is_in_the_name() -> None:
    batch = bottled()
    vinegar = replace(batch.added[0], name="vinegar", unit="ml")
    batch = replace(batch, recipe=load_recipe("hot-shrub"), added=(*batch.added, vinegar))
    assert label_text(batch, TODAY).name == "Blackcurrant vinegar syrup"


def _held() -> Batch:
    maker = Maker().up_to("ask_sorbate")
    maker.reads("ph", 5.0, "pH")  # above 4.6, 21 CFR 114.3
    return maker.batch


def _held_after_bottling() -> Batch:
    maker = Maker().up_to("store")
    maker.reads("ph", 5.0, "pH")
    assert maker.batch.bottled
    return maker.batch


def _stored(**facts: object) -> Batch:
    batch = bottled()
    return replace(batch, stored=replace(batch.stored, **facts))  # type: ignore[arg-type]


def _discarded() -> Batch:
    maker = Maker().up_to("store")
    maker.does("discard", reason="fizz")
    return maker.batch


def _blend() -> Batch:
    batch = bottled()
    return replace(batch, added=(replace(batch.added[0], name="darker_syrup"),))


@pytest.mark.parametrize(
    ("batch", "error", "words"),
    [
        (_held(), LimitStopped, "held by a limit"),
        (_held_after_bottling(), LimitStopped, "held by a limit"),
        (_stored(recalled_for="glass"), LimitStopped, "called back"),
        (_stored(signs=(Seen("off_smell", AT),)), LimitStopped, "spoils .off smell."),
        (_discarded(), WrongUse, "thrown away"),
        (Maker().up_to("bottle").batch, WrongUse, "not bottled yet"),
        (Maker().batch, WrongUse, "not bottled yet"),
        (replace(bottled(), fruit=None), WrongUse, "which fruit"),
        (_blend(), WrongUse, "by hand"),
    ],
)
def test_no_label(batch: Batch, error: type[Exception], words: str) -> None:
    with pytest.raises(error, match=words) as caught:
        label_text(batch, TODAY)
    assert "\n" not in str(caught.value)


def test_the_last_day_still_gets_one_and_the_next_does_not() -> None:
    last = label_text(bottled(), TODAY).keep_by
    assert label_text(bottled(), last).keep_by == last
    with pytest.raises(LimitStopped, match="throw away"):
        label_text(bottled(), last + timedelta(days=1))


def test_a_clock_that_runs_wrong_is_not_believed() -> None:
    assert label_text(bottled(), date(2026, 7, 10)).made == date(2026, 7, 11)
    with pytest.raises(WrongUse, match="clock"):
        label_text(bottled(), date(2026, 7, 9))


def test_the_cautions_name_every_sign_and_promise_nothing() -> None:
    signs = ("mould", "bulg", "smell", "cloud")
    assert len(signs) == len(DISCARD_SIGNS)
    for sign, told in zip(signs, DISCARD_SIGNS, strict=True):
        assert sign in told
        assert sign in CAUTION
        assert sign in CAUTION_BRIEF
    for words in (CAUTION, CAUTION_BRIEF):
        assert words.startswith("No promise.")
        assert "untasted" in words
        assert "safe" not in words


def test_an_edited_recipe_is_named_so_and_a_shipped_or_own_one_is_not() -> None:
    batch = bottled()
    shipped = load_recipe("berry-syrup")
    targets = shipped.targets.model_copy(update={"ph_high": 4.4})
    edited = shipped.model_copy(update={"targets": targets})
    own = edited.model_copy(update={"name": "tea-hut-berries"})
    told = [label_text(replace(batch, recipe=r), TODAY).recipe for r in (shipped, edited, own)]
    assert told == ["", "Recipe edited.", ""]


@pytest.mark.parametrize("face", ["all", "brief", "back"])
def test_a_label_of_an_edited_recipe_says_so_in_print(face: Words) -> None:
    printed = [word.text for line in _body(a_text(recipe="Recipe edited."), face) for word in line]
    assert printed[printed.index("edited.") - 1] == "Recipe"
