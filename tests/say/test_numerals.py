"""Numbers in words and digits."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from number_reader import read_number

from assistant.say.numerals import in_digits, in_words, portion, portion_sign


@pytest.mark.parametrize(
    ("number", "words"),
    [
        ("0", "zero"),
        ("-0.0", "zero"),
        ("17", "seventeen"),
        ("70", "seventy"),
        ("340", "three hundred and forty"),
        ("1100", "one thousand one hundred"),
        ("1005", "one thousand and five"),
        ("3.20", "three point two"),
        ("-0.5", "minus zero point five"),
        ("-18", "minus eighteen"),
        ("0.05", "zero point zero five"),
    ],
)
def test_words(number: str, words: str) -> None:
    assert in_words(Decimal(number)) == words


@given(st.decimals(-(10**9), 10**9, places=4))
def test_words_read_back_as_the_number(number: Decimal) -> None:
    assert read_number(in_words(number)) == number


@given(st.decimals(-(10**9), 10**9, places=6))
def test_digits_read_back_without_exponent_or_minus_zero(number: Decimal) -> None:
    digits = in_digits(number)
    assert Decimal(digits) == number
    assert "E" not in digits
    assert digits != "-0"
    assert not ("." in digits and digits.endswith("0"))


@pytest.mark.parametrize("number", ["0.125", "0.25", "0.375", "0.5", "0.625", "0.75", "0.875"])
def test_every_portion_has_a_word_and_a_sign(number: str) -> None:
    assert portion(Decimal(number)) is not None
    assert portion_sign(Decimal(number)) is not None


@pytest.mark.parametrize("number", ["1", "0.3", "0.2500001"])
def test_other_numbers_are_no_portion(number: str) -> None:
    assert portion(Decimal(number)) is None
    assert portion_sign(Decimal(number)) is None
