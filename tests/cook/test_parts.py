"""What a recipe consists of besides its stages."""

import pytest
from pydantic import ValidationError

from assistant.cook.parts import AnyRule, Mash, ShareOf, Targets, tags


def test_unknown_keys_are_errors() -> None:
    with pytest.raises(ValidationError, match="Extra inputs"):
        ShareOf.model_validate({"rule": "share_of_base", "share": 1, "colour": "red"})


@pytest.mark.parametrize("share", [0, -1, 20.1])
def test_a_share_is_more_than_none_and_no_more_than_twenty(share: float) -> None:
    with pytest.raises(ValidationError):
        ShareOf.model_validate({"rule": "share_of_base", "share": share})


def test_what_the_cloth_keeps_goes_up() -> None:
    body = {"kind": "mash", "pulp_low": 0.7, "pulp_high": 0.3, "litres_per_kilo": 1.2}
    with pytest.raises(ValidationError, match="pulp_low must not be above pulp_high"):
        Mash.model_validate(body)


def test_a_target_may_leave_the_low_end_open() -> None:
    assert Targets(brix=60, ph_high=3.6).ph_low == 2.5


def test_every_rule_goes_by_a_name_of_its_own() -> None:
    names = tags(AnyRule, "rule")
    assert len(set(names)) == len(names) == 5
