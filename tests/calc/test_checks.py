"""Every published table that the calculations are held against."""

from dataclasses import replace

import pytest

from assistant.calc.checks import all_checks

CHECKS = all_checks()
NAMES = [f"{check.formula}, {check.source[:24]}" for check in CHECKS]


@pytest.mark.parametrize("check", CHECKS, ids=NAMES)
def test_the_formula_holds_to_its_table(check):
    assert check.largest_difference() <= check.tolerance


@pytest.mark.parametrize("check", CHECKS, ids=NAMES)
def test_the_check_says_what_it_is(check):
    assert check.rows
    assert check.formula
    assert check.unit
    assert len(check.source) > 20
    assert check.tolerance > 0


@pytest.mark.parametrize("share", [0.95, 1.05])
@pytest.mark.parametrize("check", CHECKS, ids=NAMES)
def test_a_formula_off_by_a_twentieth_is_caught(check, share):
    off = replace(check, function=lambda *inputs: share * check.function(*inputs))
    assert off.largest_difference() > check.tolerance


@pytest.mark.parametrize("check", CHECKS, ids=NAMES)
def test_every_row_of_the_table_is_looked_at(check):
    far = 1e6 * check.tolerance
    for place, (inputs, published) in enumerate(check.rows):
        rows = (*check.rows[:place], (inputs, published + far), *check.rows[place + 1 :])
        assert replace(check, rows=rows).largest_difference() > check.tolerance
