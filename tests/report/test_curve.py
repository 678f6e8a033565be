"""The temperature curve: what is drawn is what was read."""

import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise

import pytest
from batch_maker import Maker
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.base.errors import WrongUse
from assistant.report.curve import HEIGHT, LEFT, WIDTH, curve_svg

SVG = "{http://www.w3.org/2000/svg}"


def _drawn(*readings: tuple[float, float]) -> ET.Element:
    """The picture of a pan with those degrees, each so many seconds after the one before."""
    maker = Maker().up_to("heat")
    for degrees, after_s in readings:
        maker.degrees(degrees, after_s)
    return ET.fromstring(curve_svg(maker.batch))


def _words(picture: ET.Element) -> list[str]:
    return [text.text or "" for text in picture.iter(f"{SVG}text")]


def _places(picture: ET.Element) -> list[tuple[float, float]]:
    return [(float(c.get("cx", 0)), float(c.get("cy", 0))) for c in picture.iter(f"{SVG}circle")]


HELD = ((58, 60), (70, 60), (76, 60), (77, 45), (76, 50))


def test_axes_units_target_and_hold_are_named() -> None:
    words = _words(_drawn(*HELD))
    assert "minutes since the first reading" in words
    assert "temperature, °C" in words
    assert "target 75 °C" in words
    assert "hold: 95 s counted, complete" in words


def test_the_band_spans_the_run_that_counts() -> None:
    picture = _drawn(*HELD)
    band = list(picture.iter(f"{SVG}rect"))[1]
    places = _places(picture)
    left, wide = float(band.get("x", 0)), float(band.get("width", 0))
    assert left == pytest.approx(places[2][0], abs=0.1)
    assert left + wide == pytest.approx(places[4][0], abs=0.2)


def test_a_run_broken_by_cold_is_not_the_band() -> None:
    picture = _drawn((76, 60), (70, 30), (76, 30), (76, 40))
    band = list(picture.iter(f"{SVG}rect"))[1]
    assert float(band.get("x", 0)) == pytest.approx(_places(picture)[2][0], abs=0.1)
    assert "hold: 40 s counted, not complete" in _words(picture)


def test_below_the_target_there_is_no_band() -> None:
    assert len(list(_drawn((40, 60), (60, 60)).iter(f"{SVG}rect"))) == 1


@pytest.mark.parametrize(("gap_s", "dotted"), [(60, False), (61, True)])
def test_a_long_silence_is_dotted(gap_s: float, dotted: bool) -> None:
    words = _words(_drawn((40, 60), (60, gap_s)))
    assert any(w.startswith("dotted:") for w in words) is dotted


def test_one_reading_is_a_picture_and_none_is_not() -> None:
    assert len(_places(_drawn((20, 60)))) == 1
    with pytest.raises(WrongUse, match="no thermometer readings"):
        curve_svg(Maker().up_to("heat").batch)


def test_names_do_not_break_the_picture() -> None:
    maker = Maker().up_to("steep")
    assert ET.fromstring(curve_svg(replace(maker.batch, id='<a&"b">')))


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(-5, 74), st.floats(0, 90_000)), min_size=1, max_size=12))
def test_every_reading_lies_on_the_picture_and_warmer_is_higher(
    readings: list[tuple[float, float]],
) -> None:
    places = _places(_drawn(*readings))
    assert len(places) == len(readings)
    assert all(LEFT - 0.1 <= x <= WIDTH and 0 <= y <= HEIGHT for x, y in places)
    assert [x for x, _ in places] == sorted(x for x, _ in places)
    by_degrees = sorted(zip((t for t, _ in readings), (y for _, y in places), strict=True))
    heights = [y for _, y in by_degrees]
    assert all(a >= b - 0.11 for a, b in pairwise(heights))
