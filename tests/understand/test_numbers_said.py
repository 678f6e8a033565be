"""Any number, said in any of the ways people say it, comes back."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from assistant.understand.meant import Amount
from assistant.understand.parsing import parse
from assistant.understand.words import to_words

_FIGURES = ("oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def amounts(text: str) -> list[Amount]:
    """Every amount the text may mean; nothing may have been repaired."""
    found = parse(to_words(text))
    assert all(p.cost == 0 for p in found), text
    return [p.meant for p in found if isinstance(p.meant, Amount)]


def values(text: str) -> set[Fraction]:
    return {a.value for a in amounts(text)}


def long_words(number: int) -> list[str]:
    """ "Four hundred and eighty", without "and", and with commas and hyphens taken out."""
    text = num2words(number)
    plain = text.replace(",", "").replace("-", " ")
    return [text, plain, plain.replace(" and ", " ")]


def short_words(number: int) -> list[str]:
    """ "Four eighty", "four oh five", "twelve hundred"."""
    head, tail = divmod(number, 100)
    if not 1 <= head <= 19:
        return []
    if tail == 0:
        return [f"{num2words(head)} hundred"] if head < 20 else []
    return [f"{num2words(head)} {num2words(tail) if tail > 9 else 'oh ' + num2words(tail)}"]


@given(st.integers(0, 9999))
def test_a_whole_number_in_words_and_figures(number: int) -> None:
    for text in (*long_words(number), str(number), *short_words(number)):
        assert number in values(text), text


@given(st.integers(0, 99_999))
def test_a_number_with_its_unit_has_one_meaning(number: int) -> None:
    for text in (f"{num2words(number)} grams", f"{number} g", f"{number}g", f"{number:,} g"):
        assert amounts(text) == [Amount(Fraction(number), "g")], text


@given(st.integers(10, 999).filter(lambda n: n % 10 or n > 99))
def test_figures_one_by_one(number: int) -> None:
    """Also the way to tell seventeen from seventy: "one seven", "seven oh"."""
    assert number in values(" ".join(_FIGURES[int(d)] for d in str(number)))


@given(st.integers(0, 999), st.text("0123456789", min_size=1, max_size=3))
def test_decimals_with_point_and_comma(whole: int, decimals: str) -> None:
    number = Fraction(f"{whole}.{decimals}")
    figures = " ".join(_FIGURES[int(d)] for d in decimals)
    said = [f"{num2words(whole)} {mark} {figures} kilos" for mark in ("point", "comma", "dot")]
    typed = [f"{whole}.{decimals} kg", f"{whole}.{decimals}kg"]
    if len(decimals) < 3 or whole == 0:
        typed.append(f"{whole},{decimals} kg")
    for text in (*said, *typed):
        assert amounts(text) == [Amount(number, "kg")], text


@given(st.integers(100, 999).filter(lambda n: n % 100 > 9))
def test_a_point_left_out_of_a_large_unit(hundredths: int) -> None:
    head, tail = divmod(hundredths, 100)
    found = values(f"{num2words(head)} {num2words(tail)} kilos")
    assert found == {Fraction(hundredths), Fraction(hundredths, 100)}


@given(st.integers(15, 80), st.sampled_from(["p h {}", "the p h is {}", "{} p h", "pH {}"]))
def test_ph_with_its_point_and_without(tenths: int, way: str) -> None:
    whole, tenth = divmod(tenths, 10)
    figure = num2words(tenth)
    said = [f"{num2words(whole)} point {figure}", f"{tenths / 10}"]
    if tenth:
        said.append(f"{num2words(whole)} {figure}")
    for number in said:
        assert Amount(Fraction(tenths, 10), "pH", "ph") in amounts(way.format(number))


@given(st.integers(-40, 300), st.sampled_from(["", " degrees", " celsius", " fahrenheit"]))
def test_temperatures_below_and_above_nothing(degrees: int, unit: str) -> None:
    word = num2words(abs(degrees))
    signed = f"minus {word}" if degrees < 0 else word
    assert degrees in values(f"temperature {signed}{unit}")
    assert degrees in values(f"the temperature is {degrees}{unit}")


@given(st.integers(0, 20), st.integers(1, 15), st.sampled_from(["", " ounces"]))
def test_pounds_and_ounces(pounds: int, ounces: int, unit: str) -> None:
    right = Amount(Fraction(pounds) + Fraction(ounces, 16), "lb")
    assert amounts(f"{num2words(pounds)} pounds {num2words(ounces)}{unit}") == [right]
    assert amounts(f"{pounds}lb {ounces}oz") == [right]


@given(st.integers(0, 20), st.integers(10, 999), st.sampled_from(["", "and "]))
def test_kilos_and_grams(kilos: int, grams: int, link: str) -> None:
    right = Amount(Fraction(kilos) + Fraction(grams, 1000), "kg")
    assert right in amounts(f"{num2words(kilos)} kilos {link}{num2words(grams)}")
    assert amounts(f"{num2words(kilos)} kilos {link}{num2words(grams)} grams") == [right]


_PARTS = {"half": "1/2", "a quarter": "1/4", "three quarters": "3/4", "a third": "1/3"}


@pytest.mark.parametrize(("said", "part"), _PARTS.items())
@given(whole=st.integers(1, 99))
def test_parts_of_a_unit(said: str, part: str, whole: int) -> None:
    bare = said.removeprefix("a ")
    mixed = Amount(Fraction(whole) + Fraction(part), "l")
    alone = Amount(Fraction(part), "l")
    assert amounts(f"{said} of a litre") == [alone]
    assert amounts(f"{num2words(whole)} and {said} litres") == [mixed]
    assert amounts(f"{num2words(whole)} litres and {said}") == [mixed]
    assert amounts(f"{whole} {part} l") == [mixed]
    assert bare in said


_LARGE = 10**7


@given(st.integers(_LARGE, _LARGE**2))
def test_a_number_beyond_any_kitchen_is_no_number(number: int) -> None:
    assert amounts(str(number)) == []


@given(st.integers(0, 9999), st.integers(0, 9999), st.sampled_from([" ", ", ", " / ", "-", "  "]))
def test_two_typed_numbers_are_not_one(first: int, second: int, gap: str) -> None:
    """But "4 80" is how a recogniser may write "four eighty", and "7 2" is spelled out."""
    found = values(f"{first}{gap}{second}")
    short = 1 <= first <= 19 and 10 <= second <= 99
    spelled = 1 <= first <= 9 and 0 <= second <= 9
    allowed = {Fraction(100 * first + second), first + Fraction(second, 100)} if short else set()
    if spelled:
        allowed = {Fraction(10 * first + second), first + Fraction(second, 10)}
    assert found <= (allowed if gap.isspace() else set())
