from typing import get_args

import pytest

from models.profiles.loader import builtin_profile
from models.records import MethodKey
from models.records.rule_family import RuleFamily, RuleKind, kinds_of
from scheduler.methods.case.method_table import methods

METHODS: tuple[MethodKey, ...] = get_args(MethodKey)


def kind_of(method: MethodKey) -> RuleKind:
    return methods()[method].rule_kind


def of(*families: RuleFamily) -> set[MethodKey]:
    return {method for method in METHODS if kind_of(method) in kinds_of(families)}


def test_every_method_is_of_a_kind_and_every_kind_has_a_method() -> None:
    assert {kind_of(method) for method in METHODS} == set(get_args(RuleKind))


def test_wet_sealed_insulated_and_steam_part_all_methods() -> None:
    parts: tuple[RuleFamily, ...] = ("wet", "sealed", "insulated", "steam")
    assert sum(len(of(part)) for part in parts) == len(METHODS)


def test_fabric_is_wet_with_and_without_a_sheet_over_it() -> None:
    assert of("fabric") == of("open_fabric") | of("covered_fabric")
    assert of("fabric") < of("wet")


# CSA A23.1 (from memory): ponding, continuous sprinkling, absorptive mats or fabric
# kept wet, and nothing else.
@pytest.mark.parametrize("method", METHODS)
def test_extended_wet_curing_allows_ponds_sprinkling_and_wet_fabric_only(
    method: MethodKey,
) -> None:
    allowed = method in of("ponding", "sprinkling", "fabric")
    assert builtin_profile("csa_a23_1_extended").allows(kind_of(method)) == allowed
    assert not allowed or method in of("wet")


def test_a_rule_that_says_nothing_allows_everything() -> None:
    rule = builtin_profile("is456")
    assert all(rule.allows(kind_of(method)) for method in METHODS)


def test_what_is_banned_is_banned_though_its_group_is_allowed() -> None:
    rule = builtin_profile("is456").model_copy(
        update={"allowed_families": ("wet", "sealed"), "banned_families": ("sand",)}
    )
    left = {method for method in METHODS if rule.allows(kind_of(method))}
    assert left == of("wet", "sealed") - of("sand")
