"""What is in the pan, and how big a pan that takes."""

import pytest

from assistant.planning.pan import contents, pan_need
from assistant.planning.trial import trial_batch
from assistant.recipebook.files import load_recipe

BERRY = load_recipe("berry-syrup")


def test_the_berry_mash_by_the_recipe() -> None:
    found = contents(trial_batch(BERRY, 2000, "raspberry"))
    assert found is not None
    # A quarter of sugar and two fifths of water to the fruit; 75 degC.
    assert (found.fruit_g, found.sugar_g, found.water_g) == (2000, 500, 800)
    assert (found.target_c, found.boils) == (75.0, False)


def test_juice_is_what_is_heated_after_straining() -> None:
    found = contents(trial_batch(load_recipe("nut-syrup"), 1000))
    assert found is not None
    # 1 l of water weighs 998 g, 28 g dissolve of 400 g of nuts, which hold back 0.15 of it all
    assert (found.strained, found.sugar_g) == (True, 0.0)
    assert found.fruit_g == pytest.approx(0.85 * 1026.2, rel=0.002)


@pytest.mark.parametrize(
    ("name", "base", "how"),
    [("berry-syrup", 2000, "cold"), ("pomegranate-reduction", 2000, "boiling")],
)
def test_the_fullest_moment_decides_the_pan(name: str, base: float, how: str) -> None:
    found = pan_need(trial_batch(load_recipe(name), base))
    assert found.how == how
    # 0.9 full when cold, half full at the boil.
    assert found.pan_ml == pytest.approx(found.fullest_ml / {"cold": 0.9, "boiling": 0.5}[how])
