"""A recipe is asked for, written, checked and made dry; a file that is wrong is told so plainly."""

import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from assistant.base.errors import BadRecipe, WrongUse
from assistant.commands.app import app
from assistant.recipebook.files import format_page, read_recipe
from assistant.recipebook.wishes import Steeped, Wishes, written

LILAC = "Lilac syrup\nwater\n60 g lilac flowers\ny\nnone\n\n60\n20\ny\n"


def _asked(said: str) -> str:
    done = CliRunner().invoke(app, ["recipes", "--new"], input=said)
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.output


def test_an_elderflower_like_syrup_from_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    told = _asked(LILAC)
    recipe = read_recipe(tmp_path / "lilac-syrup.toml")
    assert (recipe.acidity, recipe.base, recipe.targets.brix) == ("soured", "water", 60.0)
    assert "60 g" in told
    assert "keeps 14 days" in told
    assert "Ingredients: sugar, water, lilac flowers, acid: citric acid." in told
    with pytest.raises(WrongUse, match="already"):
        _asked(LILAC)


def test_odd_answers_are_asked_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    said = (
        "Hedge syrup\nbucket\nfruit\nmoonberry\nblackberry\nsome mint\n5 g mint\ny\nmint\nnone\n\n"
    )
    told = _asked(said + "99\n60\n5\ny\n")
    assert "One of the three" in told
    assert "No figures for moonberry" in told
    assert "Grams first" in told
    assert "From 0 to 75." in told
    assert read_recipe(tmp_path / "hedge-syrup.toml").acidity == "acid"


def test_answers_that_make_no_recipe_leave_no_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(BadRecipe, match="preservative"):
        _asked(LILAC.replace("lilac flowers", "potassium sorbate"))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("base", ["fruit", "juice", "water"])
@pytest.mark.parametrize("citric", [0.0, 8.0])
@pytest.mark.parametrize("steeped", [(), (Steeped("mint", 5, False), Steeped("salt", 2, True))])
@pytest.mark.parametrize("low_acid", [True, False])
def test_whatever_is_answered_makes_a_recipe(
    tmp_path: Path, base: str, citric: float, steeped: tuple[Steeped, ...], low_acid: bool
) -> None:
    wishes = Wishes('A "try"', base, ("fig",) * (base != "water"), steeped, 55.0, citric)  # type: ignore[arg-type]
    file = tmp_path / "a-try.toml"
    file.write_text(written(wishes, low_acid), "utf-8")
    recipe = read_recipe(file)
    nature = low_acid or base == "water"
    assert recipe.acidity == ("acid" if not nature else "soured" if citric else "low-acid")


def test_what_is_rich_counts_as_low_in_acid_however_sour(tmp_path: Path) -> None:
    wishes = Wishes("Almond", "water", (), (Steeped("almonds", 300, False, "nuts"),), 55.0, 20.0)
    file = tmp_path / "almond.toml"
    file.write_text(written(wishes), "utf-8")
    assert read_recipe(file).acidity == "low-acid"
    file.write_text(written(wishes).replace('"low-acid"', '"soured"').replace("6.5", "4.0"))
    with pytest.raises(BadRecipe, match="too rich to count as soured"):
        read_recipe(file)


def test_the_page_of_the_format_holds_a_recipe_that_is_good(tmp_path: Path) -> None:
    done = CliRunner().invoke(app, ["recipes", "--format"])
    assert done.output.rstrip() == format_page()
    found = re.search(r"```toml\n(.*?)```", format_page(), re.DOTALL)
    assert found is not None
    file = tmp_path / "lilac.toml"
    file.write_text(found[1], "utf-8")
    told = CliRunner().invoke(app, ["recipes", "--verify", str(file), "--json"]).output
    record = json.loads(told)
    assert record["good"]
    assert record["dry"]["keep_decided_by"] == "soured"
    assert record["label"][0] == "Lilac syrup, 500 ml"


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("brix = 60.0", 'brix = "sweet"', "line 11: targets.brix must be a number, without quotes"),
        ('role = "extracted"', 'role = "steeped"', "role must be one of 'extracted'"),
        ('storage = "fridge"', "", "storage is missing. Add this key."),
        ("minutes = 720.0", "hours = 12.0", "hours is no key that belongs here"),
        ("repeatable = true", "repeatable = 3", "repeatable must be true or false"),
        ('kind = "do"', 'kind = "dance"', "is none that there is"),
    ],
)
def test_a_fault_is_told_in_a_cooks_words(tmp_path: Path, old: str, new: str, says: str) -> None:
    found = re.search(r"```toml\n(.*?)```", format_page(), re.DOTALL)
    assert found is not None
    assert old in found[1]
    file = tmp_path / "lilac.toml"
    file.write_text(found[1].replace(old, new, 1), "utf-8")
    with pytest.raises(BadRecipe) as caught:
        read_recipe(file)
    assert says in str(caught.value)
