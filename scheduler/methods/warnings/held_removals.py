"""Covers that stay on beyond curing, because the concrete would take a shock."""

from collections.abc import Iterator

from models.records import Finding, SiteInput
from scheduler.methods.case.held import mornings_after
from scheduler.methods.case.protocol import Case
from scheduler.methods.case.shock import Shock
from scheduler.methods.tasks.removal import first_morning


def held_removal(site_input: SiteInput, case: Case) -> Iterator[Finding]:
    """Say what lifting right after curing would do to the face, and how long to wait.

    Where it would do so all week nobody is sent, and what a site can do is said.
    """
    lies = not case.needs_cover
    mornings = mornings_after(
        case.calendar.mornings, case.curing_end_min, case.horizon_min, lies
    )
    first = next(mornings, None)
    shock = case.held.shocks.get(first.from_min) if first else None
    if shock is None:
        return
    until, words = first_morning(case), case.clock.words
    keep = f"{case.surface.label}: keep the {case.cover_name} on"
    would = f"Lifted {words(shock.at_min)}, its face would {_harm(shock, case)}"
    if until is not None:
        said = f"{keep} until {_day_time(case, until.earliest_min)}. {would}"
    else:
        said = (
            f"{keep}; nobody is sent to lift it in this plan. {would}. Loosen it, wait "
            "and measure, or ask the engineer"
        )
    ends_min = until.earliest_min if until else case.horizon_min
    yield Finding(
        kind="temperature",
        words=said,
        starts_at=site_input.horizon.at(shock.at_min),
        ends_at=site_input.horizon.at(max(ends_min, shock.at_min + 1)),
        surface_id=case.surface.id,
    )


def put_off_words(site_input: SiteInput, case: Case) -> Iterator[Finding]:
    """Say which forms and covers stay on beyond the time asked for."""
    for off in case.held.put_off:
        words, shock = case.clock.words, off.shock
        until = "all through this plan"
        if off.until_min is not None:
            until = f"until {_day_time(case, off.until_min)}"
        mend = "" if off.until_min else ". Measure, or ask the engineer"
        yield Finding(
            kind="temperature",
            words=(
                f"{case.surface.label}: keep the {off.what} on {until}. Off "
                f"{words(shock.at_min)} as asked, its face would "
                f"{_harm(shock, case)}{mend}"
            ),
            starts_at=site_input.horizon.at(shock.at_min),
            ends_at=site_input.horizon.at(off.until_min or case.horizon_min),
            surface_id=case.surface.id,
        )


def _day_time(case: Case, minute: int) -> str:
    """Say a time that may lie a week and more ahead."""
    return case.clock.wall.day_time(case.clock.horizon.at(minute))


def _harm(shock: Shock, case: Case) -> str:
    """Say what the face would do, and the limit that it would break."""
    is_k, most = case.kelvin_tenths(shock.is_k), case.kelvin_tenths(shock.most_k)
    does = {
        "hour": f"cool by {is_k} in an hour",
        "day": f"cool by {is_k} in 24 h",
        "core": f"be {is_k} colder than its core",
        "air": f"be {is_k} warmer than the air",
    }
    return f"{does[shock.kind]}; at most {most} ({shock.clause})"
