"""Digits, signs and shorthand in words."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from assistant.understand.parsing import parse
from assistant.understand.words import LONGEST, to_words


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", ""),
        ("Sixty-three degrees.", "sixty three degrees"),
        ("84", "eighty four"),
        ("480", "four hundred and eighty"),
        ("1.2 kg", "one point two kilos"),
        ("845g", "eight hundred and forty five grams"),
        ("845 G", "eight hundred and forty five grams"),
        ("58C", "fifty eight celsius"),
        ("66°C", "sixty six degrees celsius"),
        ("91 ° C", "ninety one degrees celsius"),
        ("78º", "seventy eight degrees"),
        ("162 F", "one hundred and sixty two fahrenheit"),
        ("ph 3.18", "p h three point one eight"),
        ("pH: 3.2", "p h three point two"),
        ("pH3,2", "p h three comma two"),
        ("P.H. is 3.", "p h is three"),
        ("1 1/2 cups", "one and half cups"),
        ("1½ cups", "one and half cups"),
        ("½ tsp", "half teaspoons"),
        ("3/4 l", "three quarters litres"),
        ("1,2 kg", "one comma two kilos"),
        ("1,200 g", "one thousand two hundred grams"),
        ("0,250 kg", "zero comma two five zero kilos"),
        ("3lb 4oz", "three pounds four ounces"),
        ("3 lb. 4 oz.", "three pounds four ounces"),
        ("-18°C", "minus eighteen degrees celsius"),
        ("−18", "minus eighteen"),
        ("9:15", "nine fifteen"),
        ("0.085 g/l", "zero point zero eight five grams a litre"),
        (".5 l", "point five litres"),
        ("10 min", "ten minutes"),
        ("7 x 500 ml bottles", "seven times five hundred millilitres bottles"),
        ("it’s 60!", "it's sixty"),
        ("half-litre bottles", "half litre bottles"),
        ("y", "yes"),
        ("7２", "seven �"),
    ],
)
def test_a_line_in_words(text: str, words: str) -> None:
    assert " ".join(to_words(text)) == words


@pytest.mark.parametrize(
    "text",
    [
        "1.2.3", "1/2/3", "11/2", "5/7", "12345678", "007", "1e5", "0x10", "47²", "47①", "7٢",
        "5-6", "30 1", "100 20", "1 200", "72, 80", "1, 2", "2 1000", "3.1 4",
        "+5", "~5", "£5", "1_000", "10:30:45", "1,20,000", "5..2", "3.", "#7", "7‰",
    ],
)  # fmt: skip
def test_a_figure_that_is_not_plain_is_left_as_it_is(text: str) -> None:
    """Nothing becomes a number that was not written as one; "3." is three at a sentence's end."""
    numbers = [str(getattr(p.meant, "value", "")) for p in parse(to_words(text))]
    assert numbers == (["3"] if text == "3." else [])


def test_a_long_line_is_no_request() -> None:
    assert to_words("seventy " * LONGEST) == ()


@given(st.text(max_size=300))
@example("ﬀ½⅞ 1⁄2 ㎏")
def test_any_text_gives_words_without_spaces(text: str) -> None:
    assert all(word and not any(c.isspace() for c in word) for word in to_words(text))
