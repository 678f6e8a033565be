"""`panside hear`: recordings to events, and what is no recording."""

import json
from pathlib import Path

import numpy as np
import pytest
from panside_process import objects, panside
from sounds import write_wav

from assistant.base.data import folder

pytestmark = pytest.mark.audio
SAID = Path(str(folder("audio_fixtures"))) / "demo" / "06_seventy_one_degrees.flac"


def test_a_recording_becomes_an_event(tmp_path: Path) -> None:
    done = panside(tmp_path / "s", "hear", str(SAID), "--awaiting", "temperature", "--json")
    (record,) = objects(done)
    assert set(record) >= {"file", "text", "verdict", "events", "also", "engine", "seconds"}
    assert record["verdict"] == "take"
    assert record["events"] == [
        {"kind": "reading", "what": "temperature", "value": 71.0, "unit": "degC"}
    ]


def test_bad_recordings_are_a_sentence_each_and_the_good_one_is_still_heard(tmp_path: Path) -> None:
    text, gone = tmp_path / "notes.txt", tmp_path / "gone.wav"
    text.write_text("not a recording")
    silence, clipped = tmp_path / "silence.wav", tmp_path / "clipped.wav"
    write_wav(silence, np.zeros(32_000, np.float32))
    square = np.sign(np.sin(np.arange(32_000, dtype=np.float32)))
    write_wav(clipped, square.astype(np.float32))
    files = [str(f) for f in (text, gone, silence, clipped, SAID)]
    done = panside(tmp_path / "s", "hear", *files, "--json", "--awaiting", "temperature")
    assert done.returncode == 2
    assert [json.loads(line)["verdict"] for line in done.stdout.splitlines()] == [
        "refuse",
        "refuse",
        "take",
    ]
    told = done.stderr.strip().splitlines()
    assert len(told) == 3
    assert "clipped" in told[-1]


def test_ears_and_waits_that_do_not_exist_are_wrong_use(tmp_path: Path) -> None:
    assert panside(tmp_path / "s", "hear", str(SAID), "--ears", "horn").returncode == 2
    assert panside(tmp_path / "s", "hear", str(SAID), "--awaiting", "moon").returncode == 2
