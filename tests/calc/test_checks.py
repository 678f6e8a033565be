"""Every published table that the calculations are held against."""

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


@pytest.mark.parametrize("check", CHECKS, ids=NAMES)
def test_the_check_can_fail(check):
    """A formula off by ten tolerances would be caught."""
    inputs, published = check.rows[0]
    assert abs(check.function(*inputs) + 10 * check.tolerance - published) > check.tolerance
