"""Sheets: every label on its page, none on another."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.base.errors import WrongUse
from assistant.label.sheet import A4, LETTER, SHEETS, UNPRINTED, Sheet, sheet_named


def _check(sheet: Sheet, copies: int) -> None:
    places = list(sheet.places(copies))
    assert len(places) == len(set(places)) == copies
    for place in places:
        assert -1e-6 <= place.x <= sheet.page[0] - sheet.width + 1e-6
        assert -1e-6 <= place.y <= sheet.page[1] - sheet.height + 1e-6
    full = list(sheet.places(sheet.count))
    assert sheet.page[0] - full[-1].x - sheet.width == pytest.approx(full[0].x, abs=1e-6)
    assert sheet.page[1] - full[-1].y - sheet.height == pytest.approx(full[0].y, abs=1e-6)
    for one, other in combinations((p for p in places if p.page == 0), 2):
        beside = abs(one.x - other.x) >= sheet.width - 1e-6
        below = abs(one.y - other.y) >= sheet.height - 1e-6
        assert beside or below


@pytest.mark.parametrize("name", SHEETS)
def test_a_full_sheet_and_one_more(name: str) -> None:
    sheet = SHEETS[name]
    _check(sheet, sheet.count + 1)
    assert sheet.count == int(name.split("-")[1])
    assert [p.page for p in sheet.places(sheet.count + 1)][-2:] == [0, 1]
    assert sheet.page == (A4 if name.startswith("a4") else LETTER)


@pytest.mark.parametrize("name", SHEETS)
def test_what_is_printed_is_inside_the_label_and_what_a_printer_reaches(name: str) -> None:
    sheet, room = SHEETS[name], SHEETS[name].room
    assert room.x > 0 < room.y
    assert room.x + room.width < sheet.width
    assert room.y + room.height < sheet.height
    for place in sheet.places(sheet.count):
        x, y = place.x + room.x, place.y + room.y
        assert min(x, y) >= UNPRINTED - 1e-6
        assert x + room.width <= sheet.page[0] - UNPRINTED + 1e-6
        assert y + room.height <= sheet.page[1] - UNPRINTED + 1e-6


lengths = st.floats(5, 120)
gaps = st.floats(0, 20)


@given(st.integers(1, 5), st.integers(1, 8), lengths, lengths, gaps, gaps, st.integers(1, 90))
def test_any_sheet_that_can_be_made(
    columns: int, rows: int, width: float, height: float, gap_x: float, gap_y: float, copies: int
) -> None:
    across = columns * width + (columns - 1) * gap_x
    down = rows * height + (rows - 1) * gap_y
    if across > A4[0] + 1e-6 or down > A4[1] + 1e-6:
        with pytest.raises(ValueError, match="do not fit"):
            Sheet(A4, columns, rows, width, height, gap_x, gap_y)
    elif across < A4[0] - 1e-6 and down < A4[1] - 1e-6:
        _check(Sheet(A4, columns, rows, width, height, gap_x, gap_y), copies)


def test_an_unknown_sheet_lists_the_known() -> None:
    with pytest.raises(WrongUse, match=r"a4-24 70 × 37 mm"):
        sheet_named("a5-3")


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_begun_before_is_gone_on_with(name: str) -> None:
    sheet = SHEETS[name]
    whole = list(sheet.places(sheet.count + 2))
    assert list(sheet.places(4, start=3)) == whole[2:6]
    assert [p.page for p in sheet.places(3, start=sheet.count)] == [0, 1, 1]
    for start in (0, sheet.count + 1):
        with pytest.raises(WrongUse, match=f"1 to {sheet.count}"):
            list(sheet.places(1, start=start))
