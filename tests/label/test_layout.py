"""The layout: everything on the label, nothing past its edge, nothing too small or on top."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from label_maker import a_text, bottled, changed

from assistant.base.errors import WrongUse
from assistant.label.code import QUIET
from assistant.label.content import label_text
from assistant.label.fonts import ASCENT, DESCENT, MM_PER_PT, width_mm
from assistant.label.layout import LEAST_PT, LEAST_X_MM, MOST_PT, Laid, Piece, lay_out
from assistant.label.sheet import SHEETS

SIDE = 25
TEXT = a_text()
LONG = changed(
    label_text(bottled(True, True, True, count=20), TEXT.made), allergens="nuts (as noted)."
)


X_HEIGHT = 0.547
"""Height of a small x as a share of the size, in Bitstream Vera's own tables."""


def _box(piece: Piece) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of what it may cover. [mm]"""
    em = piece.size_pt * MM_PER_PT
    right = piece.x + width_mm(piece.text, piece.bold, piece.size_pt)
    return piece.x, piece.y - ASCENT * em, right, piece.y + DESCENT * em


def _check(laid: Laid, width: float, height: float, side: int) -> None:
    quiet = QUIET * laid.module_mm
    end = side * laid.module_mm
    assert 0 <= laid.code_x <= width - end + 1e-6
    assert 0 <= laid.code_y <= height - end + 1e-6
    assert laid.rule_y < laid.code_y - quiet + 1e-6
    for piece in laid.pieces:
        left, top, right, bottom = _box(piece)
        assert -1e-6 <= left < right <= width + 1e-6
        assert -1e-6 <= top < bottom <= height + 1e-6
        clear = right <= laid.code_x - quiet + 1e-6 or bottom <= laid.code_y - quiet + 1e-6
        assert clear, piece
        assert piece.size_pt >= LEAST_PT


def _words(labels: tuple[Laid, ...]) -> str:
    return " ".join(piece.text for laid in labels for piece in laid.pieces)


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.parametrize("text", [TEXT, LONG], ids=["short", "long"])
def test_every_sheet_holds_the_label(name: str, text: object) -> None:
    room = SHEETS[name].room
    labels = lay_out(text, room.width, room.height, SIDE)  # type: ignore[arg-type]
    for laid in labels:
        _check(laid, room.width, room.height, SIDE)


@pytest.mark.parametrize("name", SHEETS)
def test_nothing_is_left_out_however_small(name: str) -> None:
    room = SHEETS[name].room
    told = _words(lay_out(LONG, room.width, room.height, SIDE))
    for fact in (*LONG.ingredients, "Blackcurrant", "Best before 29", "Made 11 July", LONG.lot):
        assert all(word in told for word in fact.split()), fact
    for fact in ("7 days", "4 °C", "7 parts", "No promise.", "untasted", "nuts", "500 ml"):
        assert fact in told


def test_a_label_too_small_for_all_becomes_a_front_and_a_back() -> None:
    room = SHEETS["letter-30"].room
    front, back = lay_out(TEXT, room.width, room.height, SIDE)
    assert "Best before" in _words((front,))
    assert "Ingredients:" in _words((back,))
    assert all("Blackcurrant syrup" in _words((one,)) for one in (front, back))


words = st.text("abcdefgimwxé°–½ ", min_size=1, max_size=160).filter(str.strip)


@settings(max_examples=30, deadline=None)
@given(
    name=words,
    stuff=st.lists(words, min_size=1, max_size=6),
    allergens=words,
    width=st.floats(15, 120),
    height=st.floats(10, 90),
    side=st.sampled_from([21, 25, 41]),
)
def test_it_fits_or_is_refused(
    name: str, stuff: list[str], allergens: str, width: float, height: float, side: int
) -> None:
    text = changed(TEXT, name=name, ingredients=tuple(stuff), allergens=allergens)
    try:
        labels = lay_out(text, width, height, side)
    except WrongUse:
        return
    for laid in labels:
        _check(laid, width, height, side)


def test_a_word_longer_than_the_label_is_refused() -> None:
    with pytest.raises(WrongUse, match="does not fit"):
        lay_out(changed(TEXT, name="Blackcurrant" * 12), 95, 63, SIDE)


def test_larger_labels_have_larger_letters() -> None:
    laid = [lay_out(TEXT, w, 0.66 * w, SIDE)[0] for w in (70, 95, 130, 300)]
    sizes = [min(piece.size_pt for piece in one.pieces) for one in laid]
    assert sizes == sorted(sizes)
    assert sizes[0] < sizes[-1] == MOST_PT


def test_the_least_size_keeps_the_least_height() -> None:
    assert LEAST_PT * X_HEIGHT * MM_PER_PT >= LEAST_X_MM
    assert (LEAST_PT - 0.25) * X_HEIGHT * MM_PER_PT < LEAST_X_MM


def test_a_letter_that_the_face_has_not_is_refused() -> None:
    with pytest.raises(WrongUse, match="☃"):
        width_mm("☃ syrup", False, 8.0)
