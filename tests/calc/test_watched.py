import pytest

from assistant.calc.watched import LONGEST_GAP_S, goes_on, longest_gap, runs


# This project's own rule: pinned so that no change goes unseen.
@pytest.mark.parametrize(("hold_s", "gap_s"), [(15, 10), (90, 60), (180, 120), (7200, 120)])
def test_a_silence_is_no_longer_than_a_share_of_the_hold(hold_s: float, gap_s: float) -> None:
    assert longest_gap(hold_s) == pytest.approx(gap_s)
    assert longest_gap(hold_s) <= LONGEST_GAP_S


def test_a_silence_too_long_restarts_the_run() -> None:
    readings = [(0, 76.0), (50, 76.0), (50 + 86_400, 76.0), (86_500, 76.0)]
    assert runs(readings, 75.0, 60.0) == (
        ((0, 76.0), (50, 76.0)),
        ((86_450, 76.0), (86_500, 76.0)),
    )


@pytest.mark.parametrize(
    ("after", "goes"),
    [
        ((60, 75.0), True),
        ((60.1, 75.0), False),
        ((30, 72.0), True),
        ((30, 71.9), False),
        ((-1, 76.0), False),
    ],
)
def test_what_ends_a_run(after: tuple[float, float], goes: bool) -> None:
    assert goes_on((0, 76.0), after, 75.0, 60.0) is goes


def test_a_cold_reading_leaves_an_empty_run() -> None:
    assert runs([(0, 76.0), (30, 70.0)], 75.0, 60.0)[-1] == ()
