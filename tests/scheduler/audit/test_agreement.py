"""A roster passes only if the audit counted what it claims."""

import re

import pytest

from models.errors import ContradictionError
from models.records import (
    AuditReport,
    DryShare,
    Gap,
    Missed,
    ObjectivePart,
    Roster,
    SurfaceFloor,
)
from scheduler.audit.agreement import disagreements, require_agreement
from tests.scheduler.audit.audit_builders import LENGTH, at, audited, roster, visit

BASE = [visit("lay", 300, 60), visit("rewet", 640, 20)]

#: Counted by hand in test_replay.py: dry from 1140 to 4320 at 1, one walk at 0.6.
GAP = Gap(
    surface_id="P1-top", starts_at=at(1140), ends_at=at(LENGTH), covered=True
)  # fmt: skip
COSTS = {"dry": 3180.0, "travel": 0.6}
#: Placing ends at 300: the first day is over at 1740, 600 minutes into the gap.
SHARES = (
    DryShare(
        bare=False,
        age="24 to 72 h",
        minutes=2580,
        area_time_m2_h=300 * 43,
        cost=2580,
    ),
    DryShare(
        bare=False, age="first 24 h", minutes=600, area_time_m2_h=300 * 10, cost=600
    ),
)
AMOUNTS = {"dry": 3180.0, "travel": 3.0, "water": 440.0, "labour": 140.0}


def parts(costs: dict[str, float]) -> tuple[ObjectivePart, ...]:
    names = (
        "dry",
        "late",
        "missed",
        "call_out",
        "overtime",
        "travel",
        "labour",
        "water",
    )
    return tuple(
        ObjectivePart.model_validate(
            {
                "name": name,
                "amount": AMOUNTS.get(name, 0),
                "unit": "min",
                "cost": costs.get(name, 0),
            }
        )
        for name in names
    )


def claimed(**fields: object) -> Roster:
    base: dict[str, object] = {
        "gaps": (GAP,), "objective": parts(COSTS), "cost": 3180.6,
        "dry_shares": SHARES,
    }  # fmt: skip
    return roster(BASE).model_copy(update=base | fields)


@pytest.fixture(scope="module")
def report() -> AuditReport:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            "scheduler.audit.replayed.loss.cover_loss_kg_m2_h",
            lambda c, *_: 0 * c + 0.1,
        )
        return audited(BASE)


def test_a_true_roster_passes(report: AuditReport) -> None:
    assert disagreements(claimed(), report) == ()
    require_agreement(claimed(), report)


def test_the_last_bits_of_a_sum_do_not_matter(report: AuditReport) -> None:
    assert disagreements(claimed(cost=3180.6 + 1e-4), report) == ()


def test_a_floor_above_what_the_audit_counts_is_told(report: AuditReport) -> None:
    floor = SurfaceFloor(surface_id="P1-top", dry_min=3180)
    assert disagreements(claimed(floors=(floor,)), report) == ()
    higher = floor.model_copy(update={"dry_min": 3181})
    assert disagreements(claimed(floors=(higher,)), report) == (
        "P1 top: no roster could keep it below 3181 dry minutes, says the roster; "
        "3180 in the audit",
    )


def test_a_gap_a_minute_short_is_told_both_ways(report: AuditReport) -> None:
    short = GAP.model_copy(update={"ends_at": at(LENGTH - 1)})
    assert disagreements(claimed(gaps=(short,)), report) == (
        "P1 top: 3179 dry minutes in the roster, 3180 in the audit",
        "P1-top: dry, covered, 2027-05-03T23:00:00+00:00 to "
        "2027-05-06T03:59:00+00:00 only in the roster",
        "P1-top: dry, covered, 2027-05-03T23:00:00+00:00 to "
        "2027-05-06T04:00:00+00:00 only in the audit",
    )


def test_a_gap_of_the_right_length_at_another_time_is_told(report: AuditReport) -> None:
    moved = GAP.model_copy(update={"starts_at": at(1139), "ends_at": at(LENGTH - 1)})
    assert len(disagreements(claimed(gaps=(moved,)), report)) == 2


def test_a_gap_called_bare_is_told(report: AuditReport) -> None:
    bare = GAP.model_copy(update={"covered": False})
    assert len(disagreements(claimed(gaps=(bare,)), report)) == 2


def test_a_part_of_the_cost_and_the_sum_are_told(report: AuditReport) -> None:
    cheap = claimed(objective=parts(COSTS | {"dry": 3000.0}), cost=3000.6)
    assert disagreements(cheap, report) == (
        "dry: costs 3000 in the roster, 3180 in the audit",
        "total: 3000.6 in the roster, 3180.6 in the audit",
    )


def test_an_amount_and_a_share_of_the_dry_minutes_are_told(
    report: AuditReport,
) -> None:
    thirsty = tuple(
        part.model_copy(update={"amount": 400.0}) if part.name == "water" else part
        for part in parts(COSTS)
    )
    assert disagreements(claimed(objective=thirsty), report) == (
        "water: 400 min in the roster, 440 in the audit",
    )
    older = (SHARES[0], SHARES[1].model_copy(update={"age": "later"}))
    assert disagreements(claimed(dry_shares=older), report) == (
        "dry minutes, covered, first 24 h: none in the roster, 600 (3000 m² h, cost "
        "600) in the audit",
        "dry minutes, covered, later: 600 (3000 m² h, cost 600) in the roster, none in "
        "the audit",
    )


def test_a_duty_missed_on_one_side_only_is_told(report: AuditReport) -> None:
    missed = Missed(
        task_id="P1-top/look", surface_id="P1-top", limit="price", words="as it sees it"
    )
    assert disagreements(claimed(missed=(missed,)), report) == (
        "P1-top/look: missed only in the roster",
    )
    counted = report.model_copy(update={"missed_task_ids": ("P1-top/look",)})
    assert disagreements(claimed(), counted) == (
        "P1-top/look: missed only in the audit",
    )
    assert disagreements(claimed(missed=(missed,)), counted) == ()


def test_everything_is_said_at_once_and_nothing_passes() -> None:
    wrong = [visit("lay", 299, 60), *BASE[1:]]
    with pytest.raises(ContradictionError) as raised:
        require_agreement(claimed(cost=1), audited(wrong))
    assert len(raised.value.statements) == 2
    assert re.search(r"window: P1 top \(cover\) starts Mon 10:59", str(raised.value))
