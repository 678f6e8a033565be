"""Every input that is kept goes through its target; the judges of numbers can say no."""

from pathlib import Path

import pytest
from desk_maker import begun, types

from assistant.base.clock import SetClock
from assistant.keep import Journal
from tests.guided.targets import AT, TARGETS, wrongly_taken

KEPT = sorted((Path(__file__).parent / "corpus").glob("*/*"))


@pytest.mark.parametrize("kept", KEPT, ids=lambda path: f"{path.parent.name}-{path.name}")
def test_what_was_kept_breaks_nothing(kept: Path) -> None:
    TARGETS[kept.parent.name](kept.read_bytes())


def test_each_target_has_something_to_begin_with() -> None:
    assert {path.parent.name for path in KEPT} == {*TARGETS}


def test_a_number_that_was_not_typed_is_told() -> None:
    turn = types(begun(Journal("sqlite://"), SetClock(AT)), "2 kg of strawberries")
    wrongly_taken("2 kg", turn)
    with pytest.raises(AssertionError):
        wrongly_taken("3 kg", turn)
    wrongly_taken("three and 3 kg", turn)
