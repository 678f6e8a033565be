"""Options: yes, no, and of sorbate a dose."""

import pytest
from batch_maker import Maker


def test_done_is_no_answer(maker: Maker) -> None:
    maker.up_to("ask_glycerin").done()
    assert (maker.stage, maker.ids()[0]) == ("ask_glycerin", "stage")


def test_yes_brings_the_stage_and_no_leaves_it_out(maker: Maker) -> None:
    maker.up_to("ask_glycerin").does("yes")
    assert maker.stage == "glycerin"
    maker.does("undo")
    maker.does("no")
    assert maker.stage == "ask_sorbate"


@pytest.mark.parametrize(("name", "awaited"), [("ask_glycerin", []), ("ask_sorbate", ["sorbate"])])
def test_only_sorbate_awaits_a_number(maker: Maker, name: str, awaited: list[str]) -> None:
    stage = maker.up_to(name).batch.stage
    assert stage is not None
    assert [a.what for a in stage.awaits(maker.batch, maker.now)] == awaited
