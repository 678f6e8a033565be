"""The code on the label."""

import pytest

from assistant.label.code import modules
from assistant.label.named import batch_of


def test_three_finder_marks_stand_in_the_corners() -> None:
    code = modules("panside:batch:2026-07-11-1")
    mark = [row[:7] for row in code[:7]]
    # ISO/IEC 18004: a dark ring of 7, a light one of 5, a dark block of 3; from memory
    assert [sum(row) for row in mark] == [7, 2, 5, 5, 5, 2, 7]
    assert [row[-7:] for row in code[:7]] == mark
    assert [row[:7] for row in code[-7:]] == mark
    assert sum(sum(row[-7:]) for row in code[-7:]) != sum(sum(row) for row in mark)


@pytest.mark.parametrize("content", ["panside:batch:b", "b"])
def test_a_code_or_an_id_names_the_batch(content: str) -> None:
    assert batch_of(content) == "b"
