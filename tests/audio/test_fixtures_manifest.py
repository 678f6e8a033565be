"""The recordings and their manifest: complete, readable, well formed, not too big."""

import json
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import miniaudio
import pytest

from assistant.facts.events import event_adapter

FOLDER = Path(__file__).parents[2] / "audio_fixtures"
LINES: list[dict[str, Any]] = [
    json.loads(line) for line in (FOLDER / "manifest.jsonl").read_text("utf-8").splitlines()
]
FIELDS = {
    "file", "set", "words", "awaiting", "events", "voice", "voice_kind", "noise", "snr_db",
    "licence", "seconds",
}  # fmt: skip
AWAITING = {
    "fruit", "juice", "temperature", "ph", "brix", "citric_acid", "sorbate", "bottles", "step",
    "question", "",
}  # fmt: skip
BUDGET_BYTES = 12_000_000
QUIET = {"nonspeech/silence-120.flac", "nonspeech/silence-70.flac"}


def of_set(name: str) -> list[dict[str, Any]]:
    return [line for line in LINES if line["set"] == name]


def test_every_file_is_listed_once_and_every_listed_file_is_there() -> None:
    there = {p.relative_to(FOLDER).as_posix() for p in FOLDER.glob("*/*") if p.suffix != ".pyc"}
    listed = Counter(line["file"] for line in LINES)
    assert set(listed) == there
    assert max(listed.values()) == 1


def test_the_folder_stays_within_its_budget() -> None:
    assert sum(p.stat().st_size for p in FOLDER.rglob("*") if p.is_file()) < BUDGET_BYTES


@pytest.mark.parametrize("line", LINES, ids=lambda line: str(line["file"]))
def test_fields(line: dict[str, Any]) -> None:
    extra = {"after_s"} if line["set"] == "demo" else set()
    assert set(line) == FIELDS | extra
    assert line["file"].startswith(line["set"] + "/")
    assert line["awaiting"] in AWAITING
    assert line["licence"].startswith("CC0-1.0")
    assert (line["voice"] == "") == (line["set"] == "nonspeech") == (line["words"] == "")
    assert (line["snr_db"] is None) == (line["noise"] == "" or line["set"] == "nonspeech")


@pytest.mark.parametrize("line", LINES, ids=lambda line: str(line["file"]))
def test_the_sound_decodes_and_is_as_long_as_it_says(line: dict[str, Any]) -> None:
    path = str(FOLDER / line["file"])
    decoded = miniaudio.decode_file(path, nchannels=1, sample_rate=16_000)
    assert decoded.num_frames / 16_000 == pytest.approx(line["seconds"], abs=0.01)
    loudest = max(map(abs, decoded.samples))
    assert (loudest > 300) == (line["file"] not in QUIET)


@pytest.mark.parametrize(
    "line", [line for line in LINES if line["events"]], ids=lambda line: str(line["file"])
)
def test_events_are_meanings(line: dict[str, Any]) -> None:
    for meaning in line["events"]:
        event = event_adapter.validate_python({**meaning, "at": "2024-07-06T10:00:00Z"})
        assert event.meaning() == meaning


def test_speech_for_the_tool_means_something_and_nothing_else_does() -> None:
    for line in LINES:
        assert bool(line["events"]) == (line["set"] in {"demo", "test"}), line["file"]


def test_the_demo_stands_in_order_in_one_voice() -> None:
    demo = of_set("demo")
    numbers = [int(line["file"].removeprefix("demo/")[:2]) for line in demo]
    assert LINES[: len(demo)] == demo
    assert numbers == list(range(1, len(demo) + 1))
    assert {line["voice_kind"] for line in demo} == {"neural"}
    assert demo[0]["after_s"] == 0
    assert all(line["after_s"] > 0 for line in demo[1:])
    assert [line["snr_db"] for line in demo if line["noise"]] == [20, 20, 20]


def test_the_test_set_is_wide_enough() -> None:
    lines = of_set("test")
    noisy = [line for line in lines if line["noise"]]
    assert len(lines) >= 140
    assert len({line["voice"].split("-")[0] for line in lines}) >= 6
    assert len({line["voice_kind"] for line in lines}) >= 3
    assert 0.4 <= len(noisy) / len(lines) <= 0.5
    assert {line["snr_db"] for line in noisy} == {20, 10, 5}
    assert len(of_set("chatter")) >= 12
    assert {line["noise"] for line in of_set("nonspeech")} == {
        "silence", "fan", "boiling", "tap", "clatter", "pink",
    }  # fmt: skip


def test_the_manifest_says_what_the_list_of_utterances_says() -> None:
    listed = tomllib.loads((FOLDER / "utterances.toml").read_text("utf-8"))
    for name in ("test", "chatter"):
        wanted = [(row["words"], row["awaiting"]) for row in listed[name] for _ in row["takes"]]
        assert [(line["words"], line["awaiting"]) for line in of_set(name)] == wanted
    told = [(row["words"], row["events"], row["after_s"]) for row in listed["demo"]]
    assert [(d["words"], d["events"], d["after_s"]) for d in of_set("demo")] == told
