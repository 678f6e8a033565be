"""What this kitchen calls its bottles: kept once, believed only where it can be."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from assistant.base.errors import WrongUse
from assistant.commands.app import app
from assistant.commands.options import kitchen_reader
from assistant.keep import kitchen_bottles, name_bottles
from assistant.keep.kitchen_bottles import bottles_file


@pytest.fixture(autouse=True)
def a_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))


def test_a_word_is_kept_changed_and_taken_away() -> None:
    assert kitchen_bottles() == {}
    name_bottles({"small": 250, "large": 750})
    name_bottles({"small": 200})
    assert kitchen_bottles() == {"small": 200, "large": 750}
    assert dict(kitchen_reader().sizes) == {"small": 200, "large": 750}
    assert name_bottles({"large": 0}) == {"small": 200}


@pytest.mark.parametrize(
    ("word", "size"),
    [("tall", 250.0), ("small", 19.0), ("small", 10_001.0), ("small", float("nan"))],
)
def test_what_no_kitchen_has_is_refused(word: str, size: float) -> None:
    with pytest.raises(WrongUse):
        name_bottles({word: size})
    assert kitchen_bottles() == {}


@pytest.mark.parametrize("spoilt", ["", "{", "[1]", '{"small": "much"}'])
def test_a_spoilt_file_is_as_if_nothing_were_said(spoilt: str) -> None:
    bottles_file().parent.mkdir(parents=True, exist_ok=True)
    bottles_file().write_text(spoilt, "utf-8")
    assert kitchen_bottles() == {}


def test_it_is_said_on_the_command_line() -> None:
    told = CliRunner().invoke(app, ["who", "--bottle", "small=250", "--bottle", "Large=750"])
    assert "Bottles here: small 250 ml, large 750 ml." in told.stdout
    assert CliRunner().invoke(app, ["who", "--bottle", "small"]).exit_code != 0
