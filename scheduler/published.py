"""A published roster as the solver is told of it, in minutes of the new week."""

from models.records import Horizon, Published, PublishedVisit, Roster


def published_in(horizon: Horizon, roster: Roster) -> Published:
    """Take the visits of a roster that start within a horizon too."""
    minute = horizon.minute
    from_min = max(0, minute(roster.horizon.starts_at))
    until_min = min(horizon.length_min, minute(roster.horizon.ends_at))
    visits = (
        PublishedVisit(
            task_id=visit.task_id,
            crew_id=visit.crew_id,
            shift_id=visit.shift_id,
            start_min=minute(visit.starts_at),
            water_point_id=visit.water_point_id,
        )
        for visit in roster.visits
    )
    return Published(
        from_min=from_min,
        until_min=until_min,
        visits=tuple(v for v in visits if from_min <= v.start_min < until_min),
        cost=sum(part.cost for part in roster.objective if part.name != "changes"),
    )
