"""A published roster in the minutes of the week that is planned."""

from models.records import Horizon, Published, PublishedVisit, Roster, Visit


def published_in(horizon: Horizon, roster: Roster, from_min: int = 0) -> Published:
    """Tell the solver of a published roster, in minutes of the new week.

    Only visits that start within both weeks count, from a minute on.
    """
    minute = horizon.minute
    first = max(from_min, minute(roster.horizon.starts_at))
    until = min(horizon.length_min, minute(roster.horizon.ends_at))
    visits = (published_visit(visit, horizon) for visit in roster.visits)
    return Published(
        from_min=first,
        until_min=until,
        visits=tuple(v for v in visits if first <= v.start_min < until),
        cost=sum(part.cost for part in roster.objective if part.name != "changes"),
    )


def published_visit(visit: Visit, horizon: Horizon) -> PublishedVisit:
    """Give a visit in minutes of a horizon."""
    return PublishedVisit(
        task_id=visit.task_id,
        crew_id=visit.crew_id,
        shift_id=visit.shift_id,
        start_min=horizon.minute(visit.starts_at),
        water_point_id=visit.water_point_id,
    )
