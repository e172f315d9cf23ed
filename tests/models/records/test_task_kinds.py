"""Every kind of work has its facts, and they do not contradict one another."""

from typing import get_args

import pytest

from models.records import TASK_KINDS, Effect, Task, TaskKind

KINDS: tuple[TaskKind, ...] = get_args(TaskKind)


def task(kind: TaskKind = "inspect", effect: Effect = "none") -> Task:
    return Task(
        id="S/t", surface_id="S", kind=kind, title="t", earliest_min=0, due_min=60,
        latest_min=60, duration_min=10, people=1, effect=effect,
    )  # fmt: skip


def test_every_kind_is_in_the_table_in_the_order_of_its_keys() -> None:
    assert tuple(TASK_KINDS) == KINDS


def test_no_two_kinds_share_a_verb() -> None:
    verbs = [facts.verb for facts in TASK_KINDS.values()]
    assert len(set(verbs)) == len(verbs)
    assert all(verb == verb.upper() and len(verb) <= 12 for verb in verbs)


@pytest.mark.parametrize("kind", KINDS)
def test_a_phone_speaks_up_once_or_twice_the_first_time_early(kind: TaskKind) -> None:
    first, *others = TASK_KINDS[kind].alarms_min
    assert first > 0
    assert others in ([], [0])


@pytest.mark.parametrize("kind", KINDS)
def test_facts_go_together(kind: TaskKind) -> None:
    facts = task(kind).facts
    assert facts is TASK_KINDS[kind]
    assert facts.lays or not facts.changes, "what changes a cover lays one"
    assert not (facts.lays and facts.lifts)
    assert not (facts.inspects and (facts.lays or facts.lifts or facts.rewets))


@pytest.mark.parametrize(
    ("effect", "protects", "refills", "seals"),
    [
        ("none", False, False, False),
        ("protect", True, False, False),
        ("wet", True, True, False),
        ("seal", True, False, True),
    ],
)
def test_what_wets_or_seals_protects_too(
    effect: Effect, protects: bool, refills: bool, seals: bool
) -> None:
    of = task(effect=effect)
    assert (of.protects, of.refills, of.seals) == (protects, refills, seals)
