"""Open covers over a weekend with nobody there: said while there is time to act."""

from collections.abc import Iterator

from models.records import Finding, SiteInput, Stretch
from scheduler.methods.case.method_table import methods
from scheduler.methods.case.protocol import Case
from scheduler.methods.resources.calendar import at_weekend
from scheduler.methods.resources.stretches import clip

#: Shorter absences are those of any night. [min]
_LONG_MIN = 12 * 60


def open_over_weekend(site_input: SiteInput, case: Case) -> Iterator[Finding]:
    """Warn of each long absence at a weekend that an open wet cover lies through.

    The words leave out the surface: the same absence often meets several.
    """
    if not methods()[case.surface.method].open:
        return
    ends_min = min(case.ends_min, case.horizon_min)
    for gap in _absences(case):
        part = clip(gap, max(0, case.ready_min), ends_min)
        if part is None or part.until_min - part.from_min < _LONG_MIN:
            continue
        if at_weekend(case.clock, part.from_min):
            yield Finding(
                kind="missed",
                words=(
                    f"{case.cover_name} unattended "
                    f"{case.clock.span(part.from_min, part.until_min)}; assign "
                    "somebody or set weekend_cover"
                ),
                starts_at=site_input.horizon.at(part.from_min),
                ends_at=site_input.horizon.at(part.until_min),
                surface_id=case.surface.id,
            )


def _absences(case: Case) -> Iterator[Stretch]:
    """Stretches of the plan in which no shift is worked."""
    worked = sorted(
        (shift.stretch.from_min, shift.stretch.until_min)
        for shift in case.calendar.shifts
    )
    there_until_min = 0
    for from_min, until_min in (*worked, (case.horizon_min, case.horizon_min)):
        if from_min > there_until_min:
            yield Stretch(from_min=there_until_min, until_min=from_min)
        there_until_min = max(there_until_min, until_min)
