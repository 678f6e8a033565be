"""The manual is true: every command is told, and every phrase in it is understood."""

import os
import re
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest
from typer.testing import CliRunner

from assistant.commands.app import COMMANDS, app
from assistant.cook.awaiting import asked_for
from assistant.facts.asked import Asked
from assistant.hear.heard import Heard
from assistant.understand import understand
from assistant.understand.addressed import addressed

README = (Path(__file__).parent.parent / "README.md").read_text("utf-8")
AT = datetime(2026, 7, 11, 14, 0, tzinfo=UTC)

AT_WORK = {"b-1": ("raspberry",), "b-2": ("rhubarb",)}
_AWAITING = {"give a weight": "fruit", "call the thermometer": "temperature", "answer": "yes_no"}


def _phrases() -> list[tuple[str, str]]:
    """(what it is for, phrase) of the table under "What you can say"."""
    section = README.split("## What you can say")[1].split("\n## ")[0]
    rows = [line.split("|") for line in section.splitlines() if line.startswith("| ")]
    return [(row[1].strip(), p) for row in rows[1:] for p in re.findall(r"`([^`]+)`", row[2])]


def _asked(purpose: str, phrase: str) -> Asked:
    if "litres" in phrase:
        return asked_for("juice")
    name = next((w for start, w in _AWAITING.items() if purpose.startswith(start)), "question")
    return asked_for(name)


@pytest.mark.parametrize(("purpose", "phrase"), _phrases())
def test_every_phrase_of_the_manual_is_understood(purpose: str, phrase: str) -> None:
    to = addressed(Heard.typed(phrase), AT_WORK)
    if to.to and not to.rest.text:
        return
    found = understand(to.rest, _asked(purpose, phrase), AT)
    asks_back = purpose.startswith("throw the batch away")
    assert found.verdict == ("ask" if asks_back else "take"), found
    assert asks_back or found.events


def test_the_manual_has_the_two_commands() -> None:
    assert "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/panside demo" in README
    assert ".venv/bin/pip install '.[tests]' && .venv/bin/python -m pytest" in README


def test_every_command_is_in_the_manual() -> None:
    assert [name for name in COMMANDS if f"`panside {name}" not in README] == []


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_command_is_found_and_helps(name: str) -> None:
    found = CliRunner().invoke(app, [name, "--help"])
    assert found.exit_code == 0, found.output
    assert "Usage:" in found.output


def _loaded(arguments: list[str], typed: str, store: Path) -> set[str]:
    """The packages that a fresh process has imported when a command has ended."""
    code = (
        f"import sys; sys.argv = ['panside', *{arguments}]\n"
        "from assistant.commands import main\n"
        "try: main()\nexcept SystemExit: pass\n"
        "print(*sorted({name.partition('.')[0] for name in sys.modules}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        input=typed,
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PANSIDE_STORE": str(store)},
    )
    return set(done.stdout.splitlines()[-1].split())


def test_the_version_waits_for_no_recogniser_and_no_database(tmp_path: Path) -> None:
    loaded = _loaded(["--version"], "", tmp_path / "none.db")
    assert loaded & {"numpy", "sqlalchemy", "pydantic", "lark"} == set()


def test_the_first_answer_waits_for_no_model_no_layout_and_no_page(tmp_path: Path) -> None:
    chat, store = ["chat", "--recipe", "berry-syrup"], tmp_path / "hut.db"
    _loaded(chat, "", store)  # the grammars are read once, and kept
    loaded = _loaded(chat, "2.3 kg of raspberries\n", store)
    heavy = {"numpy", "onnxruntime", "tokenizers", "pint", "lark", "alembic", "reportlab"}
    assert "sqlalchemy" in loaded
    assert loaded & {*heavy, "vosk", "ctranslate2", "starlette", "psycopg"} == set()


def test_nothing_is_promised() -> None:
    words = re.findall(r"[^.]*\bsafe\b[^.]*\.", README.lower())
    assert words == []


def test_the_table_of_checks_is_fresh() -> None:
    from assistant.commands.reckon import check_table

    developers = (Path(__file__).parent.parent / "DEVELOPERS.md").read_text("utf-8")
    told = [line for line in developers.splitlines() if line.startswith("| ")]
    assert [row for row in check_table() if row.startswith("| ") and row not in told] == []


def test_the_tests_that_the_threat_list_names_are_there() -> None:
    root = Path(__file__).parent.parent
    section = (root / "DEVELOPERS.md").read_text("utf-8").split("## What could go wrong")[1]
    named = re.findall(r"`([\w./]+\.py)`", section.split("\n## ")[0])
    assert len(named) > 20
    assert [name for name in named if not (root / name).is_file()] == []
