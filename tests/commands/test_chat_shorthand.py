"""Shorthand and misspellings through the whole of `panside chat`."""

from pathlib import Path

from panside_process import objects, panside

LINES = {
    "2.4kg blackcurants": [("fruit", 2.4, "kg")],
    "temprature 18C": [("temperature", 18.0, "degC")],
    "PH=3,18": [("ph", 3.18, "pH")],
    "how much suger": [],
    "11bx": [("brix", 11.0, "Brix")],
    "64.4°F": [("temperature", 64.4, "degF")],
}


def test_what_is_typed_short_or_wrong_is_taken_as_meant(tmp_path: Path) -> None:
    typed = "\n".join(LINES) + "\n"
    done = panside(
        tmp_path / "journal.sqlite", "chat", "--recipe", "berry-syrup", "--json", stdin=typed
    )
    turns = objects(done)
    assert [turn["heard"] for turn in turns] == list(LINES)
    assert [turn["verdict"] for turn in turns] == ["take"] * len(LINES)
    got = [
        [(e["what"], e["value"], e["unit"]) for e in turn["events"] if e["kind"] == "reading"]
        for turn in turns
    ]
    assert got == list(LINES.values())
    assert turns[0]["events"][0] == {"kind": "choose", "option": "fruit", "value": "blackcurrant"}
